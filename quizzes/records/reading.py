"""Everything that can be asked of the store."""

from datetime import datetime

from quizzes.records import chain, entries, listing
from quizzes.records.checks import NUMBER_LIMIT, aware, checked_owner, whole
from quizzes.records.rows import ChainCheck, Event, Judgement, ResultRow, Sitting
from quizzes.records.store import Store

PAGE_LIMIT = 500  # rows of a list at once


class Reading(Store):
    """The store as one who only reads sees it."""

    def events(self, sitting_id: str, slot: int) -> tuple[Event, ...]:
        """Return what was logged in one case, for the page to replay.

        Parameters
        ----------
        sitting_id : str
            Whose.
        slot : int
            Which case, from 0.

        Returns
        -------
        tuple of Event
            In order; empty before the first.
        """
        with self._session() as session:
            return entries.events_of(session, sitting_id, whole("slot", slot, 0, NUMBER_LIMIT))

    def sitting(self, sitting_id: str) -> Sitting:
        """Return one sitting, or raise `NoSuchSitting`.

        Parameters
        ----------
        sitting_id : str
            Which.

        Returns
        -------
        Sitting
            Without its return code.
        """
        with self._session() as session:
            chain.sitting_row(session, sitting_id)
            found = listing.sitting_of(session, sitting_id)
        assert found is not None
        return found

    def open_sitting(self, owner: str, *, form_id: str | None = None) -> Sitting | None:
        """Return the newest sitting of a browser that is not finished.

        Parameters
        ----------
        owner : str
            SHA-256 of the browser's key.
        form_id : str, optional
            Of this form alone; without it, of any form but practice.

        Returns
        -------
        Sitting or None
            None if there is nothing to take up.
        """
        checked_owner(owner)
        with self._session() as session:
            return listing.open_sitting_of(session, owner, form_id)

    def by_return_code(self, code: str) -> Sitting | None:
        """Return the sitting that a return code opens, finished or not.

        Parameters
        ----------
        code : str
            As typed; small letters, spaces and dashes make no difference.

        Returns
        -------
        Sitting or None
            None if it opens none; the log gets a line without the code.

        Notes
        -----
        Hashes are compared in constant time. Failed tries are logged, not counted: a counter
        could be used to lock a whole class out, and a code has 58.9 bits: at 1000 tries a second
        against 10 000 sittings an even chance of one hit takes over 1000 years.
        """
        with self._session() as session:
            return listing.sitting_of_code(session, code)

    def grades(self, sitting_id: str, *, history: bool = False) -> tuple[Judgement, ...]:
        """Return the grades of a sitting, by case.

        Parameters
        ----------
        sitting_id : str
            Whose.
        history : bool
            True for those that were corrected as well.

        Returns
        -------
        tuple of Judgement
            Without history, one for each case that was handed over.
        """
        with self._session() as session:
            return entries.judgements_of(session, sitting_id, "grade", history=history)

    def outcomes(self, sitting_id: str, *, history: bool = False) -> tuple[Judgement, ...]:
        """Return the outcome of a sitting, as `grades` returns its grades.

        Parameters
        ----------
        sitting_id : str
            Whose.
        history : bool
            True for those that were corrected as well.

        Returns
        -------
        tuple of Judgement
            Empty while it runs; without history, one afterwards.
        """
        with self._session() as session:
            return entries.judgements_of(session, sitting_id, "outcome", history=history)

    def results(
        self,
        *,
        name: str | None = None,
        outcome: str | None = None,
        finished: bool | None = None,
        since: datetime | None = None,
        until: datetime | None = None,
        limit: int = 50,
        offset: int = 0,
    ) -> tuple[ResultRow, ...]:
        """Return a page of the assessor's list, newest first, practice left out.

        Parameters
        ----------
        name : str, optional
            A part of the name; capitals and accents make no difference.
        outcome : str, optional
            The word of the outcome that stands.
        finished : bool, optional
            True or False for one kind only; attempts that were not finished are listed otherwise.
        since, until : datetime, optional
            Begun at `since` or later, and before `until`; with a time zone.
        limit : int
            How many rows, 1 to 500.
        offset : int
            How many to pass over first.

        Returns
        -------
        tuple of ResultRow
            Empty past the end.

        Raises
        ------
        ValueError
            If an argument is out of its bounds.
        """
        whole("limit", limit, 1, PAGE_LIMIT)
        whole("offset", offset, 0, 10**9)
        with self._session() as session:
            return listing.result_rows(
                session,
                name=name,
                outcome=outcome,
                finished=finished,
                since=None if since is None else aware("since", since),
                until=None if until is None else aware("until", until),
                limit=limit,
                offset=offset,
            )

    def verify(self, sitting_id: str) -> ChainCheck:
        """Walk along the chain of a sitting and report the first place that does not fit.

        Parameters
        ----------
        sitting_id : str
            Whose.

        Returns
        -------
        ChainCheck
            With the hash at the head of the chain.

        Notes
        -----
        A sound chain shows that nobody altered, inserted, removed or reordered an entry, or
        altered the sitting's own row, *and left the rest as it was*: a slip, a repair by hand, a
        careless forger. It does not show that nobody made the whole chain anew, cut off its end,
        or removed the sitting altogether; whoever can write the file can do that. Against those
        only a head hash helps that was written down elsewhere at the time (printed, sent,
        signed): compare `head_sha256` and `entries` with it.
        """
        with self._session() as session:
            return chain.checked(session, sitting_id)

"""Everything that can be asked of the store."""

from contextlib import suppress
from datetime import datetime
from typing import Any, Unpack

from sqlalchemy import Connection

from quizzes.records import beginning, chain, checking, entries, listing
from quizzes.records.attachments.apart import words_kept
from quizzes.records.attachments.keeping import content_of, is_that
from quizzes.records.checks import NUMBER_LIMIT, checked_owner, whole
from quizzes.records.decisions.acts import Act, Entered
from quizzes.records.errors import RecordsError
from quizzes.records.rows import (
    ChainCheck,
    Event,
    Judgement,
    Person,
    ResultRow,
    Sitting,
    StoreCheck,
)
from quizzes.records.store import Store

ACTS = frozenset(Act)


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
        with self._reading() as connection:
            return entries.events_of(connection, sitting_id, whole("slot", slot, 0, NUMBER_LIMIT))

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
        with self._reading() as connection:
            return _sitting(connection, sitting_id)

    def kept(self, sitting_id: str) -> dict[str, Any]:
        """Return what was kept when a sitting began: all that it needs.

        Raises
        ------
        NoSuchSitting
            If there is no such sitting.
        RecordsError
            If its first entry cannot be read; the sentence names sitting, place and reason.
        """
        with self._reading() as connection:
            return beginning.kept_of(connection, sitting_id)

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
        with self._reading() as connection:
            return listing.open_sitting_of(connection, owner, form_id)

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
        with self._reading() as connection:
            return listing.sitting_of_code(connection, code)

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
        with self._reading() as connection:
            return entries.judgements_of(connection, sitting_id, "grade", history=history)

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
        with self._reading() as connection:
            return entries.judgements_of(connection, sitting_id, "outcome", history=history)

    def results(self, **asked: Unpack[listing.Asked]) -> tuple[ResultRow, ...]:
        """Return a page of the assessor's list, practice left out; empty past the end.

        Parameters
        ----------
        **asked
            As `listing.Search`, which refuses what is out of bounds with a `ValueError`.
        """
        search = listing.Search(**asked)
        with self._reading() as connection:
            return listing.result_rows(connection, search)

    def how_many_results(self, **asked: Unpack[listing.Asked]) -> int:
        """Return how many sittings a search finds, on all of its pages."""
        search = listing.Search(**asked)
        with self._reading() as connection:
            return listing.how_many(connection, search)

    def persons(self) -> tuple[Person, ...]:
        """Return everybody whose name is kept, by name."""
        with self._reading() as connection:
            return beginning.persons_of(connection)

    def last_sittings(self) -> dict[str, datetime]:
        """Return when each person last began a sitting, practice among them."""
        with self._reading() as connection:
            return listing.last_sittings_of(connection)

    def person_of(self, name: str, number: str = "") -> Person | None:
        """Return the person of this name and number, as typed; None if the store has none."""
        with self._reading() as connection:
            return beginning.person_of(connection, name, number)

    def photograph(self, person_id: str, sha256: str) -> bytes | None:
        """Return a photograph as it was handed in; None if it is gone, or is not that one."""
        with self._reading() as connection:
            content = content_of(connection, person_id, sha256)
        return content if is_that(content, sha256) else None

    def check(self, *, contents: bool = False) -> StoreCheck:
        """Walk along the whole ledger, and hold against it what is beside it.

        Parameters
        ----------
        contents : bool
            Whether photographs are read as well, and held against their digests.

        Returns
        -------
        StoreCheck
            With every place that does not hold.

        Notes
        -----
        A sound ledger shows that nobody altered, inserted, removed or reordered an entry, a
        sitting's row or a name, *and left the rest as it was*: a slip, a repair by hand, a
        careless forger. Whoever can write the file can remake the whole of it, or cut off its
        end. Against those only a head helps that somebody else keeps: see `heads.checking`.
        """
        with self._reading() as connection:
            return checking.checked(connection, contents=contents)

    def acts(self, sitting_id: str) -> tuple[Entered, ...]:
        """Return what people decided about a sitting, in order.

        Raises
        ------
        RecordsError
            If one of them cannot be read; the sentence names its place.
        """
        with self._reading() as connection:
            found = entries.entered_of(connection, sitting_id)
            words = words_kept(connection, entries.whose(connection, sitting_id))
            return tuple(entries.act_of(one, words) for one in found if one.kind in ACTS)

    def acts_of_all(self) -> dict[str, tuple[Entered, ...]]:
        """Return what people decided, by sitting; what cannot be read is left out."""
        gathered: dict[str, list[Entered]] = {}
        with self._reading() as connection:
            words = words_kept(connection)
            for one in entries.entered_of(connection, None):
                if one.kind in ACTS and one.sitting_id:
                    with suppress(RecordsError):
                        gathered.setdefault(one.sitting_id, []).append(entries.act_of(one, words))
        return {sitting: tuple(acts) for sitting, acts in gathered.items()}

    def last_entries(self) -> dict[str, int]:
        """Return the place of the last entry of each sitting."""
        with self._reading() as connection:
            return checking.last_entries_of(connection)

    def verify(self, sitting_id: str) -> ChainCheck:
        """Return what `check` finds of one sitting: its entries, its row, its person's name."""
        with self._reading() as connection:
            return checking.checked_sitting(connection, _sitting(connection, sitting_id))

    def ledger_id(self) -> str:
        """Return the ledger's identity, the same for all its life."""
        with self._reading() as connection:
            return checking.ledger_id_of(connection)

    def ledger(self) -> tuple[str, tuple[bytes, ...]]:
        """Return the ledger's identity and the bytes of each entry, for heads and for auditors."""
        with self._reading() as connection:
            return checking.ledger_of(connection)


def _sitting(connection: Connection, sitting_id: str) -> Sitting:
    """Return one sitting, or raise `NoSuchSitting`."""
    found = listing.sitting_of(connection, sitting_id)
    if found is None:
        chain.sitting_row(connection, sitting_id)  # raises, in words
    assert found is not None
    return found

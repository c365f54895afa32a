"""What is added beside sittings: acts of people about them, people, and a name erased."""

import re
from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any

from quizzes.records import beginning, entries
from quizzes.records.attachments.apart import put_apart
from quizzes.records.attachments.keeping import keep_photograph
from quizzes.records.attachments.photograph import Photograph, photograph
from quizzes.records.canonical import JUDGEMENT_LIMIT_BYTES, canonical
from quizzes.records.checks import aware, person_name, plain_text
from quizzes.records.decisions.acts import ERASABLE, Act, AnyAct
from quizzes.records.reading import Reading
from quizzes.records.room import classes
from quizzes.records.rows import NUMBER_LENGTH, Person, Stated


class Acting(Reading):
    """The store as one who adds to it beside a sitting's own log sees it."""

    def enter(
        self,
        kind: str,
        body: dict[str, Any],
        at: datetime,
        *,
        sitting_id: str | None = None,
        after: int | None = None,
    ) -> int:
        """Add an entry of another kind to the ledger and return its place, from 1.

        Parameters
        ----------
        kind : str
            1 to 20 small letters: `decision`, `withdrawal`; none that the store itself writes.
        body : dict
            Plain JSON, up to 1 MiB.
        at : datetime
            With a time zone.
        sitting_id : str, optional
            Whom it concerns.
        after : int, optional
            Place of the last entry of that sitting that the caller has seen.

        Raises
        ------
        StaleSitting
            If the sitting has a later entry than `after`: somebody else was first.
        """
        if kind in entries.OWN or not re.fullmatch(r"[a-z]{1,20}", kind):
            raise ValueError(f"kind must be 1 to 20 small letters, not one of ours, got {kind!r}")
        spelt, moment = canonical("body", body, JUDGEMENT_LIMIT_BYTES), aware("at", at)
        with self._appending_to() as writer:
            if sitting_id is not None:
                writer.has_sitting(sitting_id)
                if after is not None:
                    entries.refuse_forestalled(writer, sitting_id, after)
            return writer.add(kind, spelt, moment, sitting_id=sitting_id).seq

    def act(self, sitting_id: str, kind: Act, act: AnyAct, at: datetime, *, after: int) -> int:
        """Add what somebody did about a sitting, and return its place in the ledger.

        What is said in free words of the sitting's person is kept beside the ledger, so that it
        can be erased with the name.

        Parameters
        ----------
        sitting_id, kind, act
            About which sitting, what.
        at : datetime
            With a time zone.
        after : int
            As in `enter`.

        Raises
        ------
        NoSuchSitting
            If there is no such sitting.
        StaleSitting
            As in `enter`.
        """
        moment = aware("at", at)
        with self._writing_to() as writer:
            entries.refuse_forestalled(writer, sitting_id, after)
            person_id = entries.whose(writer.connection, sitting_id)
            body = put_apart(writer.connection, person_id, act.body(), ERASABLE[kind])
            spelt = canonical("body", body, JUDGEMENT_LIMIT_BYTES)
            return writer.add(kind.value, spelt, moment, sitting_id=sitting_id).seq

    def keep_photograph(self, person_id: str, content: bytes, name: str) -> Photograph:
        """Keep a photograph of a practical of a person, and return what it is.

        Raises
        ------
        NoPhotographError
            If it is none.
        """
        found = photograph(content, name)
        with self._writing_to() as writer:
            keep_photograph(writer.connection, person_id, found.sha256, content)
        return found

    def entered(self, kind: str) -> tuple[Stated, ...]:
        """Return every entry of a kind that concerns no sitting, in the ledger's order.

        Raises
        ------
        RecordsError
            If one of them cannot be read; the sentence names its place.
        """
        with self._reading() as connection:
            found = entries.entered_of(connection, None, kind)
            return tuple(
                Stated(one.seq, one.at, entries.body_of(one))
                for one in found
                if one.sitting_id is None
            )

    def person(self, name: str, number: str, at: datetime) -> Person:
        """Return the person of this name and number, kept from now on if there was none.

        Parameters
        ----------
        name : str
            As typed, 1 to 80 characters.
        number : str
            Staff or class number, up to 40 characters; may be empty.
        at : datetime
            With a time zone.

        Raises
        ------
        ValueError
            If name or number cannot be.
        """
        called, moment = person_name(name), aware("at", at)
        counted = plain_text("number", number, NUMBER_LENGTH) if number.strip() else ""
        with self._writing_to() as writer:
            found = beginning.person_row(writer, called, counted, moment)
        return Person(found, called, counted)

    def people(self, wanted: Sequence[tuple[str, str]], at: datetime) -> int:
        """Keep many people, all of them or none, and return how many were new.

        Parameters
        ----------
        wanted : sequence of (name, number)
            As `person` takes them.
        at : datetime
            With a time zone.
        """
        moment = aware("at", at)
        checked = [
            (person_name(name), plain_text("number", number, NUMBER_LENGTH) if number else "")
            for name, number in wanted
        ]
        with self._writing_to() as writer:
            before, _ = writer.tail
            for name, number in checked:
                beginning.person_row(writer, name, number, moment)
            return writer.tail[0] - before

    def class_names(self) -> dict[str, str]:
        """Return the name of the newest class of each person who is on the list of one."""
        with self._reading() as connection:
            by_day = sorted(classes.classes(connection), key=lambda one: one.on_day)
            return {
                who.person_id: one.name
                for one in by_day
                for who in classes.members(connection, one.id)
            }

    def erase_name(self, person_id: str, at: datetime | None = None) -> int:
        """Erase the name of a person, all words about them and their photographs.

        Their sittings stay, under the pseudonym, and so does what was decided.

        Parameters
        ----------
        person_id : str
            The pseudonym.
        at : datetime, optional
            When; now, if left out.

        Returns
        -------
        int
            Place of the entry that says so, to be signed for.

        Raises
        ------
        ValueError
            If nothing is kept for it that can be erased.

        Notes
        -----
        SQLite overwrites the bytes in its file, and its log is emptied. Backups and exports are
        not reached from here.
        """
        moment = datetime.now(UTC) if at is None else aware("at", at)
        with self._writing_to() as writer:
            seq = beginning.erase(writer, person_id, moment)
        self._log_emptied()
        if seq is None:
            raise ValueError(
                f"Nobody whose name is kept has the ID {person_id!s:.40}; `people` lists them."
            )
        return seq

"""Everything that can be added to the store. Nothing is changed; only a name can be erased."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from quizzes.records import beginning, entries, listing
from quizzes.records.acting import Acting
from quizzes.records.canonical import JUDGEMENT_LIMIT_BYTES, canonical
from quizzes.records.checks import (
    NUMBER_LIMIT,
    REASON_LIMIT,
    aware,
    plain_text,
    whole,
)
from quizzes.records.codes import new_return_code, return_code_sha256
from quizzes.records.rows import Judgement, Sitting, Start


class Records(Acting):
    """The record store: append-only, one committed transaction for each thing it is told."""

    def begin_sitting(self, start: Start) -> Sitting:
        """Begin a sitting: all that it needs is kept in one transaction, or nothing is.

        Parameters
        ----------
        start : Start
            Who begins what, where and when, and what is kept for it. The same name and number
            find the same person.

        Returns
        -------
        Sitting
            The only one that ever carries the return code.
        """
        code = new_return_code()
        code_sha256 = return_code_sha256(code)
        assert code_sha256 is not None
        with self._writing_to() as writer:
            sitting_id = beginning.begin(writer, start, code_sha256)
            sitting = listing.sitting_of(writer.connection, sitting_id)
        assert sitting is not None
        return replace(sitting, return_code=code)

    def append(  # noqa: PLR0917 - a line of the log, in its order
        self,
        sitting_id: str,
        slot: int,
        step: int,
        action: dict[str, Any],
        observation: dict[str, Any],
        at: datetime,
    ) -> None:
        """Log one action and what was observed; on return it is on the disk.

        Parameters
        ----------
        sitting_id, slot, step : str, int, int
            Whose, which case of the form and which step in it, both from 0: `step` is the
            number of events that the caller has seen in this slot.
        action, observation : dict
            Plain JSON, up to 64 KiB each.
        at : datetime
            With a time zone.

        Raises
        ------
        StaleSitting
            If another window wrote this step, or the case is handed over: reload.
        ValueError
            If an argument cannot be, or the step before was never stored.
        """
        self.append_all(sitting_id, slot, step, [(action, observation, at)])

    def append_all(
        self,
        sitting_id: str,
        slot: int,
        first_step: int,
        lines: Sequence[tuple[dict[str, Any], dict[str, Any], datetime]],
    ) -> None:
        """Log many actions in one transaction: all of them, or none.

        Parameters
        ----------
        sitting_id, slot
            As in `append`.
        first_step : int
            Step of the first line; the others follow it.
        lines : sequence of (action, observation, at)
            Each as in `append`.

        Raises
        ------
        StaleSitting, ValueError
            As in `append`.
        """
        whole("slot", slot, 0, NUMBER_LIMIT)
        whole("step", first_step, 0, NUMBER_LIMIT)
        bodies = [
            (
                (
                    f'{{"action":{canonical("action", action)},'
                    f'"observation":{canonical("observation", observation)}}}'
                ),
                aware("at", at),
            )
            for action, observation, at in lines
        ]
        case = (str(sitting_id), slot)
        if self._followed(case, first_step, bodies):
            return
        with self._appending_to(sitting_id, slot) as writer:
            alone = self._alone
            entries.refuse_late(writer, sitting_id, slot, first_step)
            for step, (body, moment) in enumerate(bodies, start=first_step):
                writer.add("event", body, moment, sitting_id=sitting_id, slot=slot, step=step)
        self._acted = (*case, first_step + len(bodies) - 1, self._seen) if alone else ()

    def finish_case(
        self, sitting_id: str, slot: int, grade: dict[str, Any], at: datetime
    ) -> Judgement:
        """Store the grade of a case; its log is closed from then on.

        Parameters
        ----------
        sitting_id, slot : str, int
            Whose, and which case, from 0.
        grade : dict
            Plain JSON, up to 1 MiB, with the edition of the rules in it.
        at : datetime
            With a time zone.

        Returns
        -------
        Judgement
            As stored.

        Raises
        ------
        StaleSitting
            If it was handed over in another window.
        """
        whole("slot", slot, 0, NUMBER_LIMIT)
        body = f'{{"content":{canonical("grade", grade, JUDGEMENT_LIMIT_BYTES)}}}'
        return self._judge(sitting_id, slot, body, None, at)

    def finish_sitting(self, sitting_id: str, outcome: dict[str, Any], at: datetime) -> Judgement:
        """Store the outcome of a sitting; its log is closed from then on.

        Parameters
        ----------
        sitting_id, at
            As in `finish_case`.
        outcome : dict
            Plain JSON, up to 1 MiB; its `outcome` is the word to list it under.

        Returns
        -------
        Judgement
            As stored.

        Raises
        ------
        StaleSitting
            If it was finished in another window.
        """
        body = f'{{"content":{canonical("outcome", outcome, JUDGEMENT_LIMIT_BYTES)}}}'
        return self._judge(sitting_id, None, body, _outcome_word(outcome), at)

    def _judge(
        self, sitting_id: str, slot: int | None, body: str, word: str | None, at: datetime
    ) -> Judgement:
        moment = aware("at", at)
        kind = "outcome" if slot is None else "grade"
        with self._appending_to(sitting_id, slot) as writer:
            entries.refuse_late(writer, sitting_id, slot, None)
            entry = writer.add(kind, body, moment, sitting_id=sitting_id, slot=slot, outcome=word)
            return entries.judgement(entry)

    def supersede_grade(
        self,
        old: Judgement,
        grade: dict[str, Any],
        *,
        author: str,
        reason: str,
        at: datetime,
    ) -> Judgement:
        """Correct a grade by a new one that points at it; the old one stays.

        Parameters
        ----------
        old, grade : Judgement, dict
            The grade as it was read, and the new one.
        author : str
            Who corrects: an id, since this can never be erased; 1 to 80 characters.
        reason : str
            Why, 1 to 500 characters.
        at : datetime
            With a time zone.

        Returns
        -------
        Judgement
            The new one, as stored.

        Raises
        ------
        StaleSitting
            If somebody corrected it first.
        """
        if old.slot is None:
            raise ValueError("old must be the grade of a case, got the outcome of a sitting")
        return self._supersede(old, grade, None, author=author, reason=reason, at=at)

    def supersede_outcome(
        self,
        old: Judgement,
        outcome: dict[str, Any],
        *,
        author: str,
        reason: str,
        at: datetime,
    ) -> Judgement:
        """Correct the outcome of a sitting, as `supersede_grade` corrects a grade.

        Parameters
        ----------
        old, outcome, author, reason, at
            As there; the word to list it under is the new outcome's `outcome`.

        Returns
        -------
        Judgement
            The new one, as stored.
        """
        if old.slot is not None:
            raise ValueError(f"old must be the outcome of a sitting, got the grade of {old.slot}")
        return self._supersede(
            old, outcome, _outcome_word(outcome), author=author, reason=reason, at=at
        )

    def _supersede(
        self,
        old: Judgement,
        content: dict[str, Any],
        word: str | None,
        *,
        author: str,
        reason: str,
        at: datetime,
    ) -> Judgement:
        correction = {
            "author": plain_text("author", author),
            "reason": plain_text("reason", reason, REASON_LIMIT),
            "content": content,
        }
        body, moment = canonical("content", correction, JUDGEMENT_LIMIT_BYTES), aware("at", at)
        with self._writing_to() as writer:
            entries.refuse_corrected(writer.connection, old)
            entry = writer.add(
                "outcome" if old.slot is None else "grade",
                body,
                moment,
                sitting_id=old.sitting_id,
                slot=old.slot,
                outcome=word,
                supersedes=old.position,
            )
            return entries.judgement(entry)


def _outcome_word(outcome: dict[str, Any]) -> str:
    word = outcome.get("outcome") if isinstance(outcome, dict) else None
    return plain_text("outcome['outcome']", word)

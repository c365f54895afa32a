"""What a stored outcome is worth: computed again, and never good where something broke."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from quizzes.records import Records, RecordsError, ResultRow, Sitting
from quizzes.records.auditing.audit import Audit, audited_lately
from quizzes.records.decisions.acts import Entered
from quizzes.records.decisions.state import Stage, State, state_of

from .export import exported
from .replay import BadExportError, replay_export

UNTRUSTED = "not to be trusted"
NOT_GOOD = "The outcome in this file counts for nothing."
LOST = "unless one of the entries that are missing or changed said otherwise"
NOBODY = "and no signed head vouches for it"


@dataclass(frozen=True, slots=True)
class Standing:
    """The outcome of a sitting as it may be shown.

    Parameters
    ----------
    word : str or None
        What follows from the log, `UNTRUSTED` where that cannot be said; None while it is open.
    trouble : str
        What does not hold, a whole sentence; empty if all of it holds.
    """

    word: str | None
    trouble: str = ""


class Standings:
    """The outcomes of a store, each held against the ledger, the signed heads and its own log.

    Parameters
    ----------
    store : Records
        The store; it is walked through once, here.

    Notes
    -----
    What a signed head vouches for was computed from the log when it was signed, and nobody
    without the key can have changed it since. Everything else is graded again, which takes some
    tenths of a second, and remembered for the hash of the outcome's entry.
    """

    _graded: dict[tuple[str, str], Standing] = {}  # noqa: RUF012 - for the whole process

    def __init__(self, store: Records, audit: Audit | None = None) -> None:
        self._store = store
        self.audit = audit or audited_lately(store)

    def of(self, sitting: ResultRow | Sitting, *, again: bool = False) -> Standing:
        """Return the outcome of a sitting as it may be shown; `again` to grade it in any case."""
        sitting_id = sitting.sitting_id if isinstance(sitting, ResultRow) else sitting.id
        broken = self.audit.broken_of(sitting_id, sitting.person_id)
        if broken is not None:
            place = f"entry {broken.position}: " if broken.position else ""
            return Standing(UNTRUSTED, f"The record was changed, {place}{broken.reason}.")
        try:
            outcomes = self._store.outcomes(sitting_id)
            if not outcomes:
                return Standing(None)
            last = outcomes[-1]
            word = str(last.content.get("outcome"))
            vouched = self.audit.was_signed(last.position, last.at)
            if last.supersedes is not None and not vouched:
                return Standing(UNTRUSTED, f"Entry {last.position} corrects the outcome, {NOBODY}.")
            if last.supersedes is not None or (vouched and not again):
                return Standing(word)
            key = (sitting_id, last.sha256)  # the chain holds, so it stands for all before it
            if key not in self._graded:
                self._graded[key] = self._again(sitting_id)
        except (RecordsError, BadExportError) as error:
            return Standing(UNTRUSTED, str(error))
        return self._graded[key]

    def state(self, acts: Iterable[Entered]) -> State:
        """Return where a sitting stands after the acts for which the house signed.

        It signs a head for each act, which ends with its entry. An act without one was added by
        hand, or the key was away: it is listed, and counts for nothing until it is done again.
        """
        signed: list[Entered] = []
        others: list[Entered] = []
        for one in acts:
            (signed if self.audit.was_signed(one.seq, one.at) else others).append(one)
        return replace(state_of(signed), unsigned=tuple(others))

    def decided(self, state: State, standing: Standing) -> str:
        """Return what was decided and stands, in words; empty while nobody has, or nothing counts.

        A decision that no signed head vouches for says so itself, until somebody decides.
        """
        if standing.trouble:
            return ""
        if state.verdict is None:
            claimed = state.claimed if state.stage is Stage.OPEN else None
            return f"{claimed.value}, {NOBODY}" if claimed else ""
        return state.verdict.value if self.vouches(state) else f"{state.verdict.value}, {LOST}"

    def vouches(self, state: State) -> bool:
        """Return whether what stands is all that was signed for, and nobody claims anything else.

        Where a head disagrees, entries are missing or are others than were signed; whose they
        were cannot be told any more, so each sitting may have lost what was decided about it last.
        """
        if state.standing is None:
            return state.stage is not Stage.OPEN or state.claimed is None
        return self.audit.heads.sound

    def _again(self, sitting_id: str) -> Standing:
        replayed = replay_export(exported(self._store, sitting_id, self.audit))
        if replayed.same:
            return Standing(replayed.word)
        differing = [case for case in replayed.cases if case.same is False]
        said = [f"case {case.number}: {'; '.join(case.lines)}" for case in differing]
        said += [*replayed.outcome, *replayed.questions, *replayed.ledger]
        return Standing(
            UNTRUSTED, f"What is kept does not follow from the log: {' · '.join(said)}."
        )

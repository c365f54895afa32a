"""What people decided about a sitting, in words: who, in what role, when, why."""

from collections.abc import Mapping

from quizzes.records.decisions.acts import (
    CIRCUMSTANCES,
    Act,
    Circumstances,
    Decision,
    Entered,
    Issued,
    Seat,
    Statement,
)
from quizzes.records.decisions.practical import Practical, Seen
from quizzes.records.decisions.state import Stage, State
from widgets.brake.days import day_words

ERASED = "name erased"
_SEATS = {
    Seat.FIRST: "decided",
    Seat.SECOND: "decided without seeing the first decision",
    Seat.SETTLEMENT: "settled the difference",
    Seat.CORRECTION: "corrected the decision",
}
_HIDDEN = (
    "A first assessor has decided. What and why is shown once the second assessor, who "
    "must judge by the evidence alone, has decided too."
)
_NOTHING = (
    "an entry of the kind “{kind}” counts for nothing, since no signed head vouches for it. "
    "Whoever meant it does it again."
)
UNSEEN = (
    "A first observer has kept a sheet of a practical. It is shown once the second observer, who "
    "must mark by what the candidate does alone, has kept one too."
)


def history(state: State, names: Mapping[str, str]) -> list[str]:
    """Return what was decided, a sentence an act, in order; a first’s only when it may be seen.

    Parameters
    ----------
    state : State
        Where the sitting stands.
    names : mapping
        Names of people by pseudonym, as far as they are kept.
    """
    lines = [_line(one, names) for one in state.shown()]
    if state.observers.awaited:
        lines.append(UNSEEN)
    lines += [f"{_when(one)}: {_NOTHING.format(kind=one.kind.value)}" for one in state.unsigned]
    return [*lines, _HIDDEN] if state.stage is Stage.SECOND else lines


def _when(one: Entered) -> str:
    return f"{day_words(one.at)} {one.at:%H:%M} UTC"


def _line(one: Entered, names: Mapping[str, str]) -> str:
    act, when = one.act, _when(one)
    if isinstance(act, Issued):
        return f"{when}: the record {act.record_id[:8]} was signed and handed out."
    who = names.get(act.person_id, ERASED)
    if isinstance(act, Practical):
        shown = sum(seen is Seen.SHOWN for seen in act.seen.values())
        return (
            f"{when}: {who}, {act.role}, observed a practical on {act.size_name}, {act.hoist}: "
            f"{shown} of {len(act.seen)} elements shown. {act.notes}"
        )
    if isinstance(act, Circumstances):
        told = "; ".join(f"{CIRCUMSTANCES[name]}: {words}" for name, words in act.facts.items())
        return f"{when}: {who} stated the circumstances. {told or 'Nothing was stated'}."
    if isinstance(act, Decision):
        apart = (
            "" if act.verdict.value == act.proposed else f" The grading proposed {act.proposed}."
        )
        return (
            f"{when}: {who}, {act.role}, {_SEATS[act.seat]}: {act.verdict.value}. "
            f"Reasons: {act.reasons}{apart}"
        )
    return f"{when}: {who}, {act.role}, {_said(one.kind, act)} {act.words}"


def _said(kind: Act, act: Statement) -> str:
    if kind is Act.APPEAL:
        return "entered an appeal:"
    if kind is Act.RULING:
        return "upheld the appeal:" if act.upheld else "rejected the appeal:"
    if kind is Act.WAIVER:
        return "allowed the next attempt at any time:"
    return "withdrew the outcome:"

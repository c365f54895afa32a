"""A sitting as whoever decides about it finds it, and why nobody may find competent on it."""

import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from quizzes.grading.outcome import COMPETENT, NOT_YET
from quizzes.grading.words import TITLES
from quizzes.records import Records, Sitting
from quizzes.records.decisions.practical import CRITICAL, Practical
from quizzes.records.decisions.state import State
from quizzes.sittings.in_force import COUNTING_PLACES
from quizzes.sittings.standing import Standing, Standings

PRACTICAL = "GAL_PRACTICAL"  # `required`: competent needs an observed practical too


@dataclass(frozen=True, slots=True)
class Dossier:
    """A sitting as whoever decides about it finds it.

    Parameters
    ----------
    sitting : Sitting
        Whose.
    standing : Standing
        What its outcome is worth.
    proposed : dict
        The outcome that the grading proposes; empty while the sitting is open.
    state : State
        What people have decided.
    critical : int
        Cases with a critical error.
    last_seq : int
        Place of its last entry, so that nobody decides on less than there is.
    missed : tuple of str
        Critical elements that were not shown in each case that called for them.
    """

    sitting: Sitting
    standing: Standing
    proposed: dict[str, Any]
    state: State
    critical: int
    last_seq: int
    missed: tuple[str, ...] = ()


def dossier(store: Records, sitting_id: str) -> Dossier:
    """Return a sitting with what is behind it and what was decided about it.

    Raises
    ------
    RecordsError
        If there is no such sitting, or the store cannot be used.
    """
    sitting = store.sitting(sitting_id)
    standings = Standings(store)
    standing = standings.of(sitting, again=True)
    outcomes = store.outcomes(sitting_id) if standing.word else ()
    grades = [one.content for one in store.grades(sitting_id)] if standing.word else []
    return Dossier(
        sitting,
        standing,
        outcomes[-1].content if outcomes else {},
        standings.state(store.acts(sitting_id)),
        sum(bool(grade.get("critical")) for grade in grades),
        standings.audit.last_of.get(sitting_id, 0),
        _missed(grades),
    )


def _missed(grades: Iterable[Mapping[str, Any]]) -> tuple[str, ...]:
    shown = [one for grade in grades for one in grade.get("elements", ())]
    lacking = {one["id"] for one in shown if not one["reached"]}
    return tuple(name for name in CRITICAL if name in lacking)


def not_competent(found: Dossier) -> str:  # noqa: PLR0911 (one a reason)
    """Return why nobody may decide competent on a sitting, a whole sentence; empty if they may."""
    if found.standing.word is None:
        return "The sitting is not finished, so nobody can be found competent on it."
    if found.standing.trouble:
        return f"Nothing is decided on a record that does not hold. {found.standing.trouble}"
    if found.sitting.place not in COUNTING_PLACES:
        return "It was made where the candidate controls the kernel: it is a self-check only."
    if found.proposed.get("outcome") not in {COMPETENT, NOT_YET}:
        return "Its form is an exercise and shows too little: nobody can be found competent on it."
    if why := _by_practical(found.state):
        return why
    if found.critical:
        return (
            f"There is a critical error in {found.critical} of its cases, and no score or reason "
            "makes up for one. Decide not yet, or ask for more evidence."
        )
    if found.missed:
        names = "; ".join(TITLES[name] for name in found.missed)
        return (
            f"Critical, and not shown each time a case called for it: {names}. A record needs "
            "each of them every time. Decide not yet, or ask for more evidence."
        )
    return ""


def _by_practical(state: State) -> str:
    if state.observers.awaited:
        return (
            "A second observer of the practical has yet to keep a sheet. If nobody can, the first "
            "observer keeps the sheet again and asks for no second."
        )
    sheets = [one.act for one in state.practicals if isinstance(one.act, Practical)]
    if not sheets and os.environ.get(PRACTICAL) == "required":
        return (
            "This organisation asks for an observed practical on a real brake, and none is joined."
        )
    for sheet in sheets:
        if sheet.missed:
            names = ", ".join(TITLES[name] for name in sheet.missed[:4])
            return f"The observed practical lacks what a record needs: {names}."
    return ""

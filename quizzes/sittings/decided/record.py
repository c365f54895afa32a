"""The competency record of a decided sitting, put together from what was kept."""

import datetime as dt
import re
import uuid
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from quizzes.analysis.people.retention import due_date
from quizzes.analysis.people.sequential import SequentialTest
from quizzes.analysis.people.sequential import run as run_test
from quizzes.analysis.people.statement import statement
from quizzes.grading.words import TITLES, sentence
from quizzes.records import Records
from quizzes.records.credentials.record import (
    Basis,
    CompetencyRecord,
    ElementShown,
    Outcome,
    Person,
    Scope,
    StatusPlace,
)
from quizzes.records.decisions.acts import Decision, Entered, Seat, Verdict
from quizzes.records.decisions.practical import CRITICAL, Practical, Seen
from quizzes.records.decisions.state import State
from quizzes.sittings.run import SittingRun
from quizzes.sittings.what_now import mastery_of, what_now
from widgets.brake.days import day_words

SCHEME = "Inspecting, adjusting and re-lining spring-applied hoist brakes"
DESIGN = "Spring-applied, electromagnetically released disc brake on a hoist motor"
MOST_MONTHS = 12  # a record is good for at most so long; a choice of this scheme
MOST_SAID = 6  # different things said of one element; the rest is counted
_TASKS = {
    "reading": "decide on readings",
    "bench": "inspect and measure",
    "work order": "adjust and re-line",
}
SHOWS_NOT = (
    "It does not show work on brakes of another design, at height, or on a loaded hoist.",
    "Feel in the fingers cannot be shown on a screen.",
)
_NO_PRACTICAL = "No practical on a real brake was observed."
_NAMES = uuid.UUID("0c7a52d5-91a0-5bb5-8f5e-3f0f1f3f9a11")  # this suite's own space of names


class NoRecordError(ValueError):
    """A sitting of which there is no competency record: why, in one sentence."""


def record_id(sitting_id: str) -> str:
    """Return the identity of a sitting's record: always the same one."""
    return str(uuid.uuid5(_NAMES, sitting_id))


def competency_record(
    store: Records, sitting_id: str, state: State, head: str, status: StatusPlace | None = None
) -> CompetencyRecord:
    """Return the record of a sitting on which a decision stands.

    Parameters
    ----------
    store : Records
        Where it is kept.
    sitting_id : str
        Which.
    state : State
        What people decided.
    head : str
        Code of the ledger's head after the decision.
    status : StatusPlace, optional
        Where a withdrawal would show.

    Raises
    ------
    NoRecordError
        If nothing stands, or nothing that a record could say.
    RecordsError
        If the sitting cannot be read.
    """
    standing = state.standing
    if standing is None or not isinstance(standing.act, Decision):
        raise NoRecordError(f"There is no competency record of it: {state.stage.value}.")
    if standing.act.verdict is Verdict.MORE:
        raise NoRecordError("There is no competency record of it: more evidence is needed.")
    sitting = store.sitting(sitting_id)
    run = SittingRun(store, sitting)
    outcome = Outcome(standing.act.verdict.value)
    now = what_now(run.cases, run.grades, standing.at.date())
    names = {one.id: one.name for one in store.persons()}
    mastery = mastery_of(run.cases, run.grades)
    test = SequentialTest()
    rights = [grade["standing"] == "right" for grade in run.grades]
    shows = now.shows or statement(mastery, test, run_test(test, rights))
    return CompetencyRecord(
        id=record_id(sitting_id),
        holder=Person(sitting.person_id, names.get(sitting.person_id, "name erased"), "candidate"),
        assessor=_person(standing.act, names),
        second=_second(state, standing, names),
        outcome=outcome,
        scheme=SCHEME,
        scheme_edition=run.kept.grading_edition,
        criteria=(
            f"Form {run.kept.blueprint.title}, {len(run.cases)} cases and {len(run.questions)} "
            f"questions, by edition {run.kept.grading_edition} of the rules: no critical error, "
            "and a person’s decision on the evidence."
        ),
        scope=Scope(
            DESIGN,
            tuple(sorted({case.size.name for case in run.cases}, key=_counted)),
            tuple(dict.fromkeys(_TASKS[str(grade["depth"])] for grade in run.grades)),
        ),
        elements=tuple(_elements(run.grades)),
        basis=Basis(
            sitting.id,
            sitting.form_id,
            sitting.form_edition,
            run.kept.grading_edition,
            f"{run.kept.sheet.title}"[:200],
            sitting.place,
            head,
            _practical(state, names),
        ),
        shows=tuple(line[:1000] for line in shows) or ("Nothing yet.",),
        shows_not=SHOWS_NOT if state.practicals else (_NO_PRACTICAL, *SHOWS_NOT),
        reasons=standing.act.reasons,
        decided_at=standing.at,
        valid_until=_until(standing.at, now.again_on),
        status=status if outcome is Outcome.COMPETENT else None,
    )


def _counted(name: str) -> list[tuple[str, int]]:
    """Return by what names of sizes are put in order: the numbers in them as numbers."""
    return [(words.casefold(), int(part or 0)) for words, part in re.findall(r"(\D*)(\d*)", name)]


def _practical(state: State, names: Mapping[str, str]) -> str:
    """Return when, on what and by whom the practicals were observed; empty if none was."""
    told: list[str] = []
    if state.observers.awaited:  # the second observer must not read it here either
        return ""
    for one in state.practicals:
        sheet = one.act
        if isinstance(sheet, Practical):
            shown = sum(seen is Seen.SHOWN for seen in sheet.seen.values())
            who = names.get(sheet.person_id, "name erased")
            told.append(
                f"{day_words(one.at)}, {sheet.size_name}, {sheet.hoist}: {shown} of "
                f"{len(sheet.seen)} elements shown, observed by {who}, {sheet.role}."
            )
    return " ".join(told)[:1000]


def _until(decided: dt.datetime, again_on: dt.date | None) -> dt.datetime:
    """Return when it ends: when the evidence has faded, and in a year at the latest."""
    latest = due_date(decided.date(), MOST_MONTHS)
    day = min(again_on or latest, latest)
    ends = dt.datetime.combine(day, dt.time(23, 59, 59), dt.UTC)
    return max(ends, decided + dt.timedelta(seconds=1))


def _person(decision: Decision, names: Mapping[str, str]) -> Person:
    return Person(decision.person_id, names.get(decision.person_id, "name erased"), decision.role)


def _second(state: State, standing: Entered, names: Mapping[str, str]) -> Person | None:
    """Return the second assessor, where both decided the same and that stands."""
    first, second = state.seat(Seat.FIRST), state.seat(Seat.SECOND)
    agreed = first and second and first.verdict is second.verdict and standing.act is first
    return _person(second, names) if second and agreed else None


def _elements(grades: Sequence[Mapping[str, Any]]) -> Iterable[ElementShown]:
    shown: dict[str, list[Mapping[str, Any]]] = {}
    for grade in grades:
        for element in grade["elements"]:
            shown.setdefault(element["id"], []).append(element)
    for name in (one for one in TITLES if one in shown):
        found = shown[name]
        said: dict[str, int] = {}
        for element in found:
            for line in element["lines"]:
                words = sentence(line)
                said[words] = said.get(words, 0) + 1
        often = sorted(said.items(), key=lambda pair: -pair[1])
        lines = [f"{words} ({count} times)" if count > 1 else words for words, count in often]
        if len(lines) > MOST_SAID:
            lines[MOST_SAID:] = [f"And {len(lines) - MOST_SAID} other things, in the log."]
        yield ElementShown(
            name,
            TITLES[name],
            sum(bool(element["reached"]) for element in found),
            len(found),
            tuple(line[:1000] for line in lines),
            critical=name in CRITICAL,
        )

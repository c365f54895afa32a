"""The debrief of a class: what it has not understood yet, from its sittings, without names."""

import logging
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import fmean
from typing import Any

from quizzes.grading.evidence.gathering import AlteredLogError, gather
from quizzes.grading.outcome import named_over
from quizzes.records import Records, RecordsError
from quizzes.records.room.rows import SchoolClass
from quizzes.records.room.store import RoomStore
from quizzes.sittings.run import SittingRun
from widgets.instruments.written import GAP_U_MM

_LOG = logging.getLogger("gap_and_lining")
MOST = 6  # cases and questions that are worth an hour of talk


@dataclass(frozen=True, slots=True)
class HardCase:
    """A case that went badly: which brake it was, how it ended, where the Stage shows it.

    Parameters
    ----------
    title, size : str
        What kind of case, and the brake's size.
    standing : str
        The code of how it ended.
    score : float
        Mean over its elements, 0 to 1.
    critical : int
        Critical errors in it.
    address : str
        Of the Stage with this brake; empty while the sitting is not finished, since the Stage
        shows no brake of one.
    """

    title: str
    size: str
    standing: str
    score: float
    critical: int
    address: str


@dataclass(frozen=True, slots=True)
class Debrief:
    """What a class showed.

    Parameters
    ----------
    school_class : SchoolClass
        Which.
    people, sat, finished : int
        On the list, who began, who finished.
    outcomes : mapping
        How many sittings ended with each word.
    elements : sequence
        Id, mean score 0 to 1, and in how many cases it came up; weakest first.
    misunderstandings : sequence
        Name, and in how many people's work it showed; most first.
    deviations : sequence
        Place, degrees, and reading minus truth, mm.
    cases : sequence of HardCase
        Worst first.
    questions : sequence
        Text, answer, mean share 0 to 1, how often answered; worst first.
    """

    school_class: SchoolClass
    people: int
    sat: int
    finished: int
    outcomes: Mapping[str, int]
    elements: Sequence[tuple[str, float, int]]
    misunderstandings: Sequence[tuple[str, int]]
    deviations: Sequence[tuple[float, float]]
    cases: Sequence[HardCase]
    questions: Sequence[tuple[str, str, float, int]]

    def facts(self) -> dict[str, Any]:
        """Return what the sheet shows, its figure among it."""
        return {"debrief": self, "figure": self._figure()}

    def _figure(self) -> Any | None:  # noqa: ANN401 (late import)
        if not self.deviations:
            return None
        from widgets.charts.class_readings import class_readings  # noqa: PLC0415 (late: slow)

        return class_readings(self.deviations, GAP_U_MM)


def debrief(records: Records, room: RoomStore, one: SchoolClass) -> Debrief:
    """Return the debrief of a class: of every case that was handed over, whoever finished.

    Parameters
    ----------
    records : Records
        Where the sittings are.
    room : RoomStore
        Where the class is.
    one : SchoolClass
        Which.

    Raises
    ------
    RecordsError
        If the store cannot be used. A sitting that cannot be read is left out, and logged.
    """
    progress = room.progress(one.id)
    runs = [run for found in progress if (run := _run(records, found.sitting_id)) is not None]
    grades = [grade for run in runs for grade in run.grades]
    return Debrief(
        school_class=one,
        people=len(room.members(one.id)),
        sat=len({found.owner for found in progress}),
        finished=len({found.owner for found in progress if found.finished}),
        outcomes=Counter(found.outcome for found in progress if found.outcome),
        elements=_elements(grades),
        misunderstandings=_misunderstandings(runs),
        deviations=_deviations(runs),
        cases=_hard_cases(runs),
        questions=_questions(runs),
    )


def _run(records: Records, sitting_id: str) -> SittingRun | None:
    try:
        return SittingRun(records, records.sitting(sitting_id))
    except RecordsError as error:
        _LOG.error("left out of the debrief: %s", error)
        return None


def _elements(grades: Sequence[Mapping[str, Any]]) -> list[tuple[str, float, int]]:
    scores: dict[str, list[float]] = defaultdict(list)
    for grade in grades:
        for element in grade["elements"]:
            scores[element["id"]].append(element["score"])
    found = [(name, fmean(each), len(each)) for name, each in scores.items()]
    return sorted(found, key=lambda each: (each[1], each[0]))


def _misunderstandings(runs: Sequence[SittingRun]) -> list[tuple[str, int]]:
    showed: dict[str, set[str]] = defaultdict(set)
    for run in runs:
        for named in named_over(run.grades):
            showed[named["name"]].add(run.sitting.person_id)
    return sorted(
        ((n, len(who)) for n, who in showed.items()), key=lambda each: (-each[1], each[0])
    )


def _deviations(runs: Sequence[SittingRun]) -> list[tuple[float, float]]:
    found = []
    for run in runs:
        for slot in range(len(run.grades)):
            try:
                judged = gather(run.cases[slot], run.events(slot)).gaps
            except (RecordsError, AlteredLogError, ValueError) as error:
                _LOG.error("no readings for the debrief: %s", error)
                continue
            own = [one for one in judged if not (one.given or one.struck)]
            found += [(one.reading.angle_deg, one.z * one.reading.u_mm) for one in own]
    return found


def _hard_cases(runs: Sequence[SittingRun]) -> list[HardCase]:
    cases = [_hard_case(run, slot, grade) for run in runs for slot, grade in enumerate(run.grades)]
    worst = sorted(cases, key=lambda one: (-one.critical, one.score, one.address))
    return [one for one in worst if one.critical or one.score < 1][:MOST]


def _hard_case(run: SittingRun, slot: int, grade: Mapping[str, Any]) -> HardCase:
    case, address = run.cases[slot], f"stage.ipynb?sitting={run.sitting.id}&case={slot + 1}"
    scores = [element["score"] for element in grade["elements"]]
    return HardCase(
        title=case.work_order,
        size=case.size.name,
        standing=grade["standing"],
        score=fmean(scores) if scores else 1.0,
        critical=len(grade["critical"]),
        address=address if run.finished else "",
    )


def _questions(runs: Sequence[SittingRun]) -> list[tuple[str, str, float, int]]:
    shares: dict[str, list[float]] = defaultdict(list)
    said: dict[str, tuple[str, str]] = {}
    for run in runs:
        for one in (run.questions_grade or {}).get("questions", ()):
            shares[one["item"]].append(one["share"])
            said.setdefault(one["item"], (one.get("text", ""), one["answer"]))
    found = [(*said[item], fmean(each), len(each)) for item, each in shares.items()]
    worst = sorted(found, key=lambda each: (each[2], each[0]))
    return [one for one in worst if one[2] < 1][:MOST]

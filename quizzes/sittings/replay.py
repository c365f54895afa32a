"""An exported sitting graded again: the same, or which case differs and in what.

The export is one JSON object::

    {
      "kind": "gap-and-lining sitting",
      "version": 1,
      "rules_edition": "2",             # edition that the kept grades are of
      "sheet_mark": "0123456789ab",     # 12 hex digits: the limits sheet of the sitting
      "form": {"id": "full", "edition": "full/2", "key": "<hex>" or null},
      "cases": [                        # in the order of the form
        {
          "family": "oiled", "size": "Cedar-47", "depth": "bench",
          "seed": "<hex, 32 to 128 digits>",
          "stratum": null,              # band of distance, where the form asked for one
          "part": [0, 1],               # number and count of the part of its range
          "events": [{"action": {...}, "observation": {...}}, ...],
          "grade": {...}                # CaseGrade.to_json(), as it was kept; null if not graded
        }
      ]
    }

A form's key, if given, takes the place of the seeds: then the cases are drawn by the
caller. Unknown keys are let be, so that an export may carry names and times beside it.
"""

import hashlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from quizzes.cases.case import Case
from quizzes.grading.comparison import differing_lines
from quizzes.grading.editions import EDITIONS
from quizzes.grading.evidence.gathering import AlteredLogError
from quizzes.grading.grade import CaseGrade, grade_case
from widgets.bench.session import Event
from widgets.brake.sizes.sheet import LimitsSheet

KIND, VERSION = "gap-and-lining sitting", 1
MOST_CASES, MOST_EVENTS = 200, 5_000  # no sitting has more; a larger export is refused unread
Draw = Callable[[Mapping[str, Any], int], Case]
Remark = Callable[[Mapping[str, Any]], tuple[str, ...] | None]


class BadExportError(ValueError):
    """An export that cannot be graded again; its text names the place and the reason."""


@dataclass(frozen=True, slots=True)
class ReplayedCase:
    """One case graded again: whether the grade is the same, and what differs."""

    number: int
    family: str
    same: bool | None  # None: nothing was kept to compare with
    lines: tuple[str, ...]
    grade: CaseGrade


@dataclass(frozen=True, slots=True)
class Replayed:
    """A whole export graded again."""

    edition: str
    cases: tuple[ReplayedCase, ...]
    questions: tuple[str, ...] | None = None  # what differs in their marks; None: there are none

    @property
    def same(self) -> bool:
        """Whether every kept grade came out the same."""
        return not self.questions and all(case.same is not False for case in self.cases)

    def sentences(self) -> Iterator[str]:
        """Yield a sentence for each case and one for the whole."""
        for case in self.cases:
            said = "the same, line by line" if case.same else "; ".join(case.lines)
            yield f"Case {case.number}: {'no grade was kept' if case.same is None else said}."
        if self.questions is not None:
            yield f"Questions: {'; '.join(self.questions) or 'the same, mark by mark'}."
        differ = sum(case.same is False for case in self.cases) + bool(self.questions)
        whole = "Every grade is the same"
        if differ:
            whole = "1 grade differs" if differ == 1 else f"{differ} grades differ"
        yield f"{whole}, by edition {self.edition} of the rules."

    def to_json(self) -> dict[str, Any]:
        """Return the outcome as plain JSON."""
        return {
            "edition": self.edition,
            "same": self.same,
            "cases": [
                {
                    "case": case.number,
                    "same": case.same,
                    "differs": list(case.lines),
                    "standing": case.grade.standing.value,
                }
                for case in self.cases
            ],
            "questions": None
            if self.questions is None
            else {"same": not self.questions, "differs": list(self.questions)},
        }


def sheet_mark(sheet: LimitsSheet) -> str:
    """Return the mark by which a sitting knows its limits sheet, 12 hex digits."""
    return hashlib.sha256(repr(sheet.sizes).encode()).hexdigest()[:12]


def replay_export(
    export: object,
    sheet: LimitsSheet,
    draw: Draw | None = None,
    edition: str | None = None,
    remark: Remark | None = None,
) -> Replayed:
    """Return an exported sitting graded again on the brakes of its own cases.

    Parameters
    ----------
    export : object
        The JSON object of this module's docstring, as `json.load` gives it.
    sheet : LimitsSheet
        The sheet that the sitting was begun with.
    draw : callable, optional
        From the export and the place of a case, from 0, to the case; from the
        case's own seed, if not given.
    edition : str, optional
        Rules to grade by; those of the export, if not given.
    remark : callable, optional
        From the export to what differs in the marks of its questions, or None where it
        holds none; ValueError where they cannot be marked again.

    Raises
    ------
    BadExportError
        If it is no export, belongs to another sheet, or was edited; the sentence
        names the case and the line.
    """
    whole = _checked(export, sheet)
    rules = edition or whole["rules_edition"]
    cases = [
        _again(whole, number, draw or drawer(sheet), rules) for number in range(len(whole["cases"]))
    ]
    return Replayed(rules, tuple(cases), _remarked(whole, remark))


def _remarked(whole: Mapping[str, Any], remark: Remark | None) -> tuple[str, ...] | None:
    try:
        return remark(whole) if remark else None
    except (KeyError, ValueError, TypeError, AttributeError) as error:
        raise BadExportError(f"Questions: they cannot be marked again: {_reason(error)}") from None


def drawer(sheet: LimitsSheet) -> Draw:
    """Return what draws a case of an export from its own seed."""

    def draw(whole: Mapping[str, Any], place: int) -> Case:
        from quizzes.cases.case import Depth  # noqa: PLC0415 (late: slow to import)
        from quizzes.cases.drawing import draw_case  # noqa: PLC0415 (late: slow to import)
        from quizzes.cases.strata import Part  # noqa: PLC0415 (late: slow to import)

        entry = whole["cases"][place]
        number, of = entry.get("part") or (0, 1)
        return draw_case(
            entry["family"],
            sheet.size(entry["size"]),
            bytes.fromhex(entry["seed"]),
            Depth(entry["depth"]),
            stratum=entry.get("stratum"),
            part=Part(number, of),
        )

    return draw


def _again(whole: Mapping[str, Any], place: int, draw: Draw, rules: str) -> ReplayedCase:
    entry, number = whole["cases"][place], place + 1
    try:
        case = draw(whole, place)
    except (KeyError, ValueError, TypeError, AttributeError) as error:
        raise BadExportError(f"Case {number}: it cannot be drawn: {_reason(error)}") from None
    events = [
        Event(line, dict(event["action"]), dict(event["observation"]))
        for line, event in enumerate(entry["events"])
    ]
    try:
        grade = grade_case(case, events, rules)
    except AlteredLogError as error:
        raise BadExportError(f"Case {number}: {error}.") from None
    return _compared(entry, number, case, grade)


def _compared(entry: Mapping[str, Any], number: int, case: Case, grade: CaseGrade) -> ReplayedCase:
    kept = entry.get("grade")
    if kept is None:
        return ReplayedCase(number, case.family, None, (), grade)
    again = grade.to_json()
    if kept == again:
        return ReplayedCase(number, case.family, same=True, lines=(), grade=grade)
    try:
        lines = tuple(differing_lines(kept, again))
    except (KeyError, TypeError, AttributeError):
        raise BadExportError(f"Case {number}: its kept grade is no grade.") from None
    lines = lines or (f"Kept by edition {kept.get('edition')}, graded by {grade.edition}.",)
    return ReplayedCase(number, case.family, same=False, lines=lines, grade=grade)


def _reason(error: Exception) -> str:
    words = str(error) or type(error).__name__
    return f"there is no {words}" if isinstance(error, KeyError) else words


def _checked(export: object, sheet: LimitsSheet) -> Mapping[str, Any]:
    """Return an export whose outline is as it must be.

    Raises
    ------
    BadExportError
        In one sentence, for the first thing that is not.
    """
    if not isinstance(export, Mapping) or export.get("kind") != KIND:
        raise BadExportError(f"This is no export of a sitting: its kind is not “{KIND}”.")
    if export.get("version") != VERSION:
        raise BadExportError(
            f"version: this program reads {VERSION}, the export says {export.get('version')!r:.20}."
        )
    if export.get("rules_edition") not in EDITIONS:
        raise BadExportError(
            f"rules_edition: known are {', '.join(EDITIONS)}, "
            f"the export says {export.get('rules_edition')!r:.20}."
        )
    mark = sheet_mark(sheet)
    if export.get("sheet_mark") != mark:
        raise BadExportError(
            f"sheet_mark: the sitting was made on sheet {export.get('sheet_mark')!r:.20}, "
            f"this is sheet {mark}."
        )
    cases = export.get("cases")
    if not isinstance(cases, Sequence) or isinstance(cases, str) or not cases:
        raise BadExportError("cases: there are none.")
    if len(cases) > MOST_CASES:
        raise BadExportError(f"cases: at most {MOST_CASES}, the export has {len(cases)}.")
    for number, entry in enumerate(cases, start=1):
        _check_case(number, entry)
    return export


def _check_case(number: int, entry: object) -> None:
    if not isinstance(entry, Mapping):
        raise BadExportError(f"Case {number}: it is no object.")
    events = entry.get("events")
    if not isinstance(events, Sequence) or isinstance(events, str):
        raise BadExportError(f"Case {number}: it has no list of events.")
    if len(events) > MOST_EVENTS:
        raise BadExportError(f"Case {number}: at most {MOST_EVENTS} events, it has {len(events)}.")
    for line, event in enumerate(events, start=1):
        parts = (
            [event.get(part) for part in ("action", "observation")]
            if isinstance(event, Mapping)
            else []
        )
        if len(parts) != 2 or not all(isinstance(part, Mapping) for part in parts):
            raise BadExportError(
                f"Case {number}: line {line} of the log has no action and observation."
            )
    grade = entry.get("grade")
    if grade is not None and not isinstance(grade, Mapping):
        raise BadExportError(f"Case {number}: its kept grade is no object.")

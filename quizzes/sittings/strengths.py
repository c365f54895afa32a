"""What went well in a sitting and what cost most, each with the lesson and drill that help."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

MOST = 3
FULL = 0.995  # of a score: nothing worth a word was lost
_WHOLE = "a whole job"
_OPEN = "“measure, decide, adjust: the brake is safe and open”"
_BODY_OFF = "“fit a new disc: the magnet body is off”"
_SAFE = ("07_making_safe.ipynb", "Lesson 7: making safe", _WHOLE)
_LINING = ("04_what_is_left_of_the_lining.ipynb", "Lesson 4: what is left of the lining", _OPEN)
_READING = ("05_what_a_reading_is_worth.ipynb", "Lesson 5: what a reading is worth", _OPEN)
_SCREWS = ("08_three_screws_one_gap.ipynb", "Lesson 8: three screws, one gap", _OPEN)
_NEW_DISC = ("09_a_new_disc.ipynb", "Lesson 9: a new disc", _BODY_OFF)
_PROVED = ("10_proved.ipynb", "Lesson 10: proving", _WHOLE)
_RECORD = ("11_until_when.ipynb", "Lesson 11: the record and the next date", _WHOLE)
_PLACES = ("06_how_many_places.ipynb", "Lesson 6: how many places", _OPEN)
_LIMITS = ("03_why_the_gap_has_two_limits.ipynb", "Lesson 3: why the gap has two limits", _OPEN)

# Which lesson teaches an element, and what to choose at the practice bench.
HELP: Mapping[str, tuple[str, str, str]] = {
    "S1": _SAFE, "S2": _SAFE, "S3": _SAFE, "S4": _LINING, "S5": _LINING,
    "K3": _LIMITS, "M1": _READING, "M2": _PLACES, "M3": _SCREWS, "M4": _LINING, "M5": _PROVED,
    "D1": _READING, "D2": _LINING, "D3": _LINING,
    "A1": _SCREWS, "A2": _SCREWS, "A3": _SCREWS,
    "R1": _NEW_DISC, "R2": _NEW_DISC, "R3": _NEW_DISC, "R4": _NEW_DISC,
    "T1": _PROVED, "T2": _PROVED, "W1": _RECORD, "W2": _RECORD,
}  # fmt: skip

# Lines of an element that say what was lacking, beside every check that was not kept.
_LACKING = frozenset({
    "load.never-landed", "load.still-hanging", "area.not-barred", "clear.pressed-again",
    "supply.no-lock", "supply.start-not-tried", "supply.not-locked", "supply.not-proved",
    "supply.on-while-closing", "cover.unprotected", "dust.left-in", "dust.in-the-air",
    "body.not-held", "body.jammed", "faces.solvent", "faces.oil-not-wiped", "brake.never-opened",
    "row.guessed", "row.none", "row.wrong", "disc.by-rule", "disc.one-side-left-out",
    "gap.one-side-left-out", "gap.shaft-not-turned", "coil.leads-on", "value.not-as-shown",
    "reading.struck", "reading.never-measured", "reading.not-as-felt", "reading.off",
    "reading.rather-off", "ahead.not-heeded", "decision.supported", "decision.none",
    "decision.arguable", "findings.not-named", "findings.not-there", "findings.kept-unseen",
    "screws.not-touched", "screws.not-turned", "setting.uneven", "lock.wrong-torque",
    "lock.ring-loose", "lock.wrench-untried", "lock.started-crossed", "lock.in-one-go",
    "disc.not-replaced", "release.not-tried", "shaft.not-felt", "run.not-done",
    "run.after-the-load", "hold.could-have-tested", "hold.not-stopped", "hold.not-shown",
    "due.neither", "due.no-date",
})  # fmt: skip
_ALL_LACKING = ("spoilt.", "fitted-badly.", "left.")  # how the codes of more such lines begin


@dataclass(frozen=True, slots=True)
class Shown:
    """One element over a sitting.

    Attributes
    ----------
    element : str
        Which, by its id.
    right, of : int
        Cases in which nothing of it was lost, of those in which it came up.
    lost : float
        Score lost over all of them, 0 to `of`.
    lines : tuple
        What was done in the case that lost most, as the grade keeps it; what was lacking first.
    page, lesson, drill : str
        File and name of the lesson; what to choose at the practice bench.
    """

    element: str
    right: int
    of: int
    lost: float
    lines: tuple[Any, ...]
    page: str
    lesson: str
    drill: str


def strengths(grades: Sequence[Mapping[str, Any]]) -> tuple[tuple[Shown, ...], tuple[Shown, ...]]:
    """Return up to three elements that went well, and up to three that cost most.

    Parameters
    ----------
    grades : sequence of mapping
        `CaseGrade.to_json()` of each case.

    Returns
    -------
    well : tuple of Shown
        Nothing lost; those that came up most often first.
    cost : tuple of Shown
        Something lost; the largest loss first.
    """
    found = [_over(grades, name) for name in HELP]
    seen = [one for one in found if one.of]
    well = sorted((one for one in seen if one.right == one.of), key=lambda one: -one.of)
    cost = sorted((one for one in seen if one.right < one.of), key=lambda one: -one.lost)
    return tuple(well[:MOST]), tuple(cost[:MOST])


def _lines(element: Mapping[str, Any]) -> tuple[Any, ...]:
    """Return the lines of an element; where it lost something, what was lacking comes first."""
    lost = float(element["score"]) < FULL
    return tuple(sorted(element["lines"], key=_is_kept) if lost else element["lines"])


def _is_kept(line: Any) -> bool:  # noqa: ANN401 (a line of a grade, as it is kept)
    """Return False for a line that says what was lacking, so that it comes before the others."""
    if not isinstance(line, Mapping):
        return True
    code, facts = line["code"], line["facts"]
    lacking = code in _LACKING or code.startswith(_ALL_LACKING) or facts.get("way", "on") != "on"
    return not lacking and facts.get("kept", True) is not False


def _over(grades: Sequence[Mapping[str, Any]], name: str) -> Shown:
    came = [one for grade in grades for one in grade["elements"] if one["id"] == name]
    scores = [float(one["score"]) for one in came]
    worst = min(came, key=lambda one: float(one["score"]), default={"score": 1.0, "lines": ()})
    return Shown(
        element=name,
        right=sum(score >= FULL for score in scores),
        of=len(scores),
        lost=sum(1.0 - score for score in scores),
        lines=_lines(worst),
        page=HELP[name][0],
        lesson=HELP[name][1],
        drill=HELP[name][2],
    )

"""What shows over the cases of a sitting and in none by itself: habits, and what never came up."""

from collections.abc import Mapping, Sequence
from typing import Any

from widgets.brake.judgement.remark import Remark, remark

from .editions import PASS
from .elements.deciding import KEPT_UNSEEN
from .elements.scoring import ELEMENTS
from .faults import BEYOND_LIMIT, IN_GUARD_BAND, TOO_LITTLE, TOO_TIGHT, WILL_NOT_LAST

MOST_SLIPS = 1  # of one kind: once may be a slip of the pen; a choice of this scheme
_AGAIN = {
    IN_GUARD_BAND: "again.in-guard-band",
    WILL_NOT_LAST: "again.will-not-last",
    TOO_TIGHT: "again.too-tight",
    TOO_LITTLE: "again.too-little",
}
_OF_A_DATE = frozenset({"due.date", "due.no-date"})  # lines of who put a hoist into service
Grades = Sequence[Mapping[str, Any]]


def habits(grades: Grades) -> list[Remark]:
    """Say what came up again and again that a single time is a slip."""
    codes = [
        code
        for grade in grades
        for code in {fault["what"]["code"] for fault in grade.get("faults", ())}
    ]
    again = [
        remark("sitting.again", times=codes.count(code), what=remark(what))
        for code, what in _AGAIN.items()
        if codes.count(code) > MOST_SLIPS
    ]
    beyond = codes.count(BEYOND_LIMIT)  # no slip of the pen: by no rule is such a brake fit
    return [remark("sitting.beyond-limit", times=beyond), *again] if beyond else again


def never_looked(grades: Grades) -> list[Remark]:
    """Name each place at which nobody looked on more than one brake that was kept in use."""
    unseen = [
        place
        for grade in grades
        for element in grade["elements"]
        for line in element.get("lines", ())
        if line["code"] == KEPT_UNSEEN
        for place in line["facts"]["places"]
    ]
    return [
        remark("sitting.never-looked", place=place, times=unseen.count(place))
        for place in dict.fromkeys(unseen)
        if unseen.count(place) > MOST_SLIPS
    ]


def never_shown(grades: Grades, promised: Sequence[str]) -> list[Remark]:
    """Name each element that the form promises to see at a brake and that was not shown once.

    Whoever refers what they may do loses a case by it; a skill that nobody saw is not shown.
    A date and a tag stand under one element and are two things: neither makes up for the other.
    """
    best: dict[str, dict[bool, float]] = {}
    for grade in grades:
        for element in grade["elements"]:
            ways = best.setdefault(element["id"], {})
            dated = any(line["code"] in _OF_A_DATE for line in element.get("lines", ()))
            ways[dated] = max(element["score"], ways.get(dated, 0.0))
    return [
        remark("sitting.never-shown", element=name)
        for name in promised
        if name in ELEMENTS and min(best.get(name, {}).values(), default=0.0) < PASS
    ]

"""What shows over the cases of a sitting and in none by itself: habits, and what never came up."""

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from widgets.brake.judgement.remark import Remark, remark

from .editions import PASS
from .elements.deciding import KEPT_UNSEEN, NOT_NAMED
from .elements.measuring import LOOKED_OVER, OF_SEVERAL
from .elements.scoring import ELEMENTS
from .faults import (
    BEYOND_LIMIT,
    DISC_KEPT,
    IN_GUARD_BAND,
    TOO_LITTLE,
    TOO_TIGHT,
    UNHEEDED,
    WILL_NOT_LAST,
)

MOST_SLIPS = 1  # of one kind: once may be a slip of the pen; a choice of this scheme
MOST_UNNAMED = 3  # brakes on which something found may be missing under the decision; a choice
# Chance, for somebody who picks nothing, of so many thickest readings among those written, under
# which it is no chance; a choice of this scheme.
NO_CHANCE = 0.003
_AGAIN = {
    IN_GUARD_BAND: "again.in-guard-band",
    WILL_NOT_LAST: "again.will-not-last",
    TOO_TIGHT: "again.too-tight",
    TOO_LITTLE: "again.too-little",
    DISC_KEPT: "again.disc-kept",
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
    again += _unheeded(grades)
    beyond = codes.count(BEYOND_LIMIT)  # no slip of the pen: by no rule is such a brake fit
    return [remark("sitting.beyond-limit", times=beyond), *again] if beyond else again


def _unheeded(grades: Grades) -> Iterator[Remark]:
    """Name each finding of which nothing was made again and again."""
    times = Counter(
        finding
        for grade in grades
        for fault in grade.get("faults", ())
        if fault["what"]["code"] == UNHEEDED
        for finding in fault["what"]["facts"]["findings"]
    )
    for finding, count in times.items():
        if count > MOST_SLIPS:
            yield remark("sitting.unheeded", finding=finding, times=count)


def carelessly_written(grades: Grades) -> Iterator[Remark]:
    """Say what came up in line after line: instruments unseen, names missing, readings picked."""
    lines = [
        [line for element in grade["elements"] for line in element.get("lines", ())]
        for grade in grades
    ]
    unseen = sum(
        any(line["code"] == LOOKED_OVER and not line["facts"]["kept"] for line in one)
        for one in lines
    )
    if unseen > MOST_SLIPS:
        yield remark("sitting.tools-unseen", times=unseen)
    unnamed = sum(any(line["code"] == NOT_NAMED for line in one) for one in lines)
    if unnamed > MOST_UNNAMED:
        yield remark("sitting.not-named", times=unnamed)
    several = [line["facts"] for one in lines for line in one if line["code"] == OF_SEVERAL]
    thickest = sum(one["thickest"] for one in several)
    thinnest = sum(one["thinnest"] for one in several)
    if chance_of_thickest(thickest, thinnest) < NO_CHANCE:
        yield remark("sitting.thickest", thickest=thickest, thinnest=thinnest)


def chance_of_thickest(thickest: int, thinnest: int) -> float:
    """Return the chance that at least so many of either come out the thickest, picked by nobody.

    Notes
    -----
    The one-sided sign test (Arbuthnott, 1710): either is as likely.

    Examples
    --------
    >>> chance_of_thickest(3, 0), chance_of_thickest(0, 5)
    (0.125, 1.0)
    """
    made = thickest + thinnest
    return float(sum(math.comb(made, more) for more in range(thickest, made + 1)) / 2**made)


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

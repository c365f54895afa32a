"""What a case costs and is worth: minutes on the screen, chance of a borderline candidate."""

import tomllib
from functools import cache
from pathlib import Path
from statistics import NormalDist

from quizzes.cases.case import Depth
from quizzes.cases.families import FAMILIES
from quizzes.cases.family import Family
from quizzes.cases.strata import STRATA, WHOLE, Part
from widgets.brake.judgement import least_distance

MINUTES = Path(__file__).with_name("minutes.toml")
# A choice of this scheme until sittings have been timed, as the next is.
READING_MINUTES = 1.0
QUESTION_MINUTES = 1.0
# The borderline candidate: reads twice as coarsely as a competent one, misses three of ten faults
# that the gap does not show and three of twenty of the others. A choice of this scheme.
BORDERLINE_U = 2.0
SEEN_IN_GAP, HIDDEN, SEVERAL = 0.85, 0.70, 0.65
_STANDARD = NormalDist()


def borderline_chance(family: str, stratum: int | None, part: Part = WHOLE) -> float:
    """Return the chance of the borderline candidate at a case, 0 to 1.

    Near a limit the readings decide: the chance that an error of `BORDERLINE_U` leaves the
    reading on the side of d* where it is. Elsewhere a figure for each sort of fault.
    """
    kind = FAMILIES[family]
    if stratum is None or not kind.near:
        return _plain_chance(kind)
    band = STRATA[stratum]
    distance = band.low + (part.number + 0.5) / part.of * (band.high - band.low)
    return _STANDARD.cdf(abs(distance - least_distance()) / BORDERLINE_U)


def _plain_chance(kind: Family) -> float:
    if len(kind.faults) > 1:
        return SEVERAL
    return HIDDEN if kind.gap_normal and kind.faults else SEEN_IN_GAP


@cache
def _table() -> dict[str, dict[str, float]]:
    return tomllib.loads(MINUTES.read_text(encoding="utf-8"))


def expected_minutes(family: str, depth: Depth) -> float:
    """Return how long a careful person takes at a case on the screen, minutes.

    Notes
    -----
    A reading case takes `READING_MINUTES`. The others stand in a table, made by letting the
    careful candidate work each of them with `python -m quizzes minutes`; sizes and distances
    from a limit change them by less than the forms' tolerance of time.

    Raises
    ------
    KeyError
        If the family cannot be asked at this depth.
    """
    return READING_MINUTES if depth is Depth.READING else _table()[depth.value][family]

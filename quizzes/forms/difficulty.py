"""What a case costs and is worth: minutes on the screen, chance of a borderline candidate."""

from functools import lru_cache
from statistics import NormalDist

from quizzes.candidates.worker import work
from quizzes.cases.case import Case, Depth
from quizzes.cases.drawing import draw_case
from quizzes.cases.families import FAMILIES, Family
from quizzes.cases.strata import STRATA, WHOLE, Part
from widgets.bench.actions import Action
from widgets.bench.machine import take
from widgets.bench.observed import Observation
from widgets.bench.starts import at_start
from widgets.brake.judgement import least_distance
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.brake.sizes.size import BrakeSize

# What takes six minutes with a brake in front of one takes about one on the screen. A choice of
# this scheme until sittings have been timed, as the next two are.
BRAKE_OVER_SCREEN = 6.0
READING_MINUTES = 1.0
QUESTION_MINUTES = 1.0
# The borderline candidate: reads twice as coarsely as a competent one, misses three of ten faults
# that the gap does not show and three of twenty of the others. A choice of this scheme.
BORDERLINE_U = 2.0
SEEN_IN_GAP, HIDDEN, SEVERAL = 0.85, 0.70, 0.65
_STANDARD = NormalDist()
_REFERENCE_SEED = bytes(range(32))


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


@lru_cache(maxsize=2048)
def expected_minutes(family: str, depth: Depth, size: BrakeSize, stratum: int | None) -> float:
    """Return how long a careful person takes at a case on the screen, minutes.

    Notes
    -----
    A reading case is told by `READING_MINUTES`. For the others the careful candidate works
    one case of a fixed seed; the durations are those of the bench's own list.
    """
    if depth is Depth.READING:
        return READING_MINUTES
    case = draw_case(family, size, _REFERENCE_SEED, depth, stratum=stratum)
    return _seconds_of(case) / 60.0 / BRAKE_OVER_SCREEN


def _seconds_of(case: Case) -> float:
    setup = case.setup()
    state = at_start(setup)

    def act(action: Action) -> Observation:
        nonlocal state
        state, observation = take(setup, state, action)
        return observation

    work(act, LimitsSheet(case.size.name, case.size.invented, (case.size,)), order=case.order)
    return state.elapsed_s

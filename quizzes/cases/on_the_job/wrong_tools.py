"""Cases whose instruments are wrong: whoever looks them over first decides right."""

from dataclasses import replace

from quizzes.cases.case import Depth
from quizzes.cases.family import ON_THE_JOB, Drawn, Family
from quizzes.cases.sound_brakes import between, disc_at, gap_at, gap_too_large
from quizzes.cases.strata import Part, bin_of
from widgets.brake.draws import Draws
from widgets.brake.judgement.rules import Outcome
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.tools import Tools
from widgets.instruments.written import DISC_U_MM, GAP_U_MM

BY_HAND = frozenset({Depth.BENCH, Depth.WORK_ORDER})
# How far beyond its limit the brake lies, in uncertainties of a reading, and how far within it
# the wrong instrument puts it: both are clear. Choices of this scheme.
BEYOND_U = 3.4
WITHIN_U = 3.0
# Share of its setting at which a wrench clicks that was dropped or left under load; invented.
WEAK_WRENCH = (0.55, 0.75)


def _bent_leaves(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
    """Return a gap beyond its largest that bent leaves read as good."""
    share = part.share(draws, "dose")
    kink_mm = (BEYOND_U + WITHIN_U) * GAP_U_MM
    brake = gap_at(draws.child("brake"), size, -BEYOND_U)
    brake = replace(brake, tools=Tools(leaf_kink_mm=kink_mm))
    return Drawn(brake, ("gap-at-limit",), None, bin_of(share))


def _caliper_off(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
    """Return a disc under its least that a caliper off at zero reads as good."""
    share = part.share(draws, "dose")
    zero_mm = (BEYOND_U + WITHIN_U) * DISC_U_MM
    brake = disc_at(draws.child("brake"), size, -BEYOND_U)
    brake = replace(brake, tools=Tools(caliper_zero_mm=round(zero_mm, 2)))
    return Drawn(brake, ("disc-spent-gap-set",), None, bin_of(share))


def _weak_wrench(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
    """Return a gap too large, and a wrench that leaves its screws short of their torque."""
    share = part.share(draws, "dose")
    brake = gap_too_large(draws.child("brake"), size, share)
    weak = round(between(draws, "wrench", *WEAK_WRENCH), 2)
    return Drawn(
        replace(brake, tools=Tools(wrench_share=weak)), ("gap-too-large",), None, bin_of(share)
    )


WRONG_TOOLS = (
    Family("bent leaves, gap too large", _bent_leaves, frozenset({Outcome.ADJUST}),
           gap_normal=False, depths=BY_HAND, faults=("gap-at-limit",)),
    Family("caliper off at zero, disc worn", _caliper_off, frozenset({Outcome.REPLACE}),
           gap_normal=True, depths=BY_HAND, faults=("disc-spent-gap-set",)),
    Family("weak wrench, gap too large", _weak_wrench, frozenset({Outcome.ADJUST}),
           gap_normal=False, depths=ON_THE_JOB, faults=("gap-too-large",)),
)  # fmt: skip

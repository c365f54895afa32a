"""Cases whose hoist decides before the brake is opened: a load that hangs, a brake that is hot."""

from collections.abc import Callable
from dataclasses import replace

from widgets.brake.condition import Condition
from widgets.brake.draws import Draws
from widgets.brake.judgement.rules import Outcome
from widgets.brake.sizes.size import BrakeSize

from .case import Depth
from .family import Drawn, Family
from .sound_brakes import between, gap_too_large, in_limits
from .strata import Part, bin_of

ON_THE_JOB = frozenset({Depth.WORK_ORDER})
# °C of a brake that has just worked hard: cover and disc, and its coil; common practice, no source.
HOT_SURFACE_C, HOT_COIL_C = (90.0, 160.0), (70.0, 105.0)
_STUCK_WORDS = "A load hangs on the hook. The operator says: “It hums, and will not come down.”"
_HOT_WORDS = "It has worked hard until a minute ago."


def _stuck(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
    """Return a brake in order but for its coil, open, with a load on the hook."""
    share = part.share(draws, "dose")
    condition = replace(in_limits(draws.child("brake"), size, share), coil_open=True)
    faults = ("coil-high-or-open",)
    return Drawn(condition, faults, None, bin_of(share), words=_STUCK_WORDS, load_hangs=True)


def _hot(
    make: Callable[[Draws, BrakeSize, float | None], Condition], *faults: str
) -> Callable[[Draws, BrakeSize, int | None, Part], Drawn]:
    def draw(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
        share = part.share(draws, "dose")
        hot = replace(
            make(draws.child("brake"), size, share),
            surface_c=between(draws, "surface", *HOT_SURFACE_C),
            coil_c=between(draws, "coil", *HOT_COIL_C),
        )
        return Drawn(hot, faults, None, bin_of(share), words=_HOT_WORDS)

    return draw


AT_THE_HOIST = (
    Family("load that cannot be landed", _stuck, frozenset({Outcome.REFER}), gap_normal=True,
           depths=ON_THE_JOB, faults=("coil-high-or-open",), untouched=True),
    Family("hot, in limits", _hot(in_limits), frozenset({Outcome.FIT}), gap_normal=True,
           depths=ON_THE_JOB),
    Family("hot, gap too large", _hot(gap_too_large, "gap-too-large"),
           frozenset({Outcome.ADJUST}), gap_normal=False, depths=ON_THE_JOB,
           faults=("gap-too-large",)),
)  # fmt: skip

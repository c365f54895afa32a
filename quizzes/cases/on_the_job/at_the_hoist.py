"""Cases whose hoist decides before the brake is opened: a load that hangs, a brake that is hot."""

from collections.abc import Callable
from dataclasses import replace

from quizzes.cases.family import ON_THE_JOB, OR_ON_NOTES, Drawn, Family
from quizzes.cases.sound_brakes import between, gap_too_large, in_limits
from quizzes.cases.strata import Part, bin_of
from widgets.brake.condition import Condition
from widgets.brake.draws import Draws
from widgets.brake.faults import Dose, apply, fault
from widgets.brake.judgement.rules import Outcome
from widgets.brake.sizes.size import BrakeSize

# °C of a brake that has just worked hard: cover and disc, and its coil; common practice, no source.
HOT_SURFACE_C, HOT_COIL_C = (90.0, 160.0), (70.0, 105.0)
_STUCK_WORDS = "A load hangs on the hook. The operator says: “It hums, and will not come down.”"
_PRESSED_WORDS = (
    "The foreman stands beside you: “One lift, half the load, then you can have it back.”"
)
ROOM_LEFT_MM = (0.02, 0.1)  # mm that the hollow screws still go in, where the range is used up
_HOT_WORDS = "It has worked hard until a minute ago."


def _stuck(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
    """Return a brake in order but for its coil, open, with a load on the hook."""
    share = part.share(draws, "dose")
    condition = replace(in_limits(draws.child("brake"), size, share), coil_open=True)
    faults = ("coil-high-or-open",)
    return Drawn(
        condition, faults, None, bin_of(share), words=_STUCK_WORDS,
        on_order=lambda order: replace(order, load_hangs=True),
    )  # fmt: skip


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


def _pressed(*faults: str) -> Callable[[Draws, BrakeSize, int | None, Part], Drawn]:
    """Return a draw of a brake with a fault or none, and somebody who wants it back."""

    def draw(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
        share = part.share(draws, "dose")
        brake = in_limits(draws.child("brake"), size, share)
        for one in faults:
            row = fault(one)
            brake = apply(row, size, brake, Dose(row.amount.typical, 77.0, 2))
        return Drawn(brake, faults, None, bin_of(share), words=_PRESSED_WORDS)

    return draw


def _not_to_be_set(
    spoil: Callable[[Draws, Condition], Condition],
) -> Callable[[Draws, BrakeSize, int | None, Part], Drawn]:
    """Return a draw of a gap too large that cannot be set for what shows only at the screws."""

    def draw(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
        share = part.share(draws, "dose")
        brake = spoil(draws, gap_too_large(draws.child("brake"), size, share))
        return Drawn(brake, ("gap-too-large",), None, bin_of(share))

    return draw


def _home(draws: Draws, brake: Condition) -> Condition:
    return replace(brake, screw_room_mm=between(draws, "room", *ROOM_LEFT_MM))


def _torn(draws: Draws, brake: Condition) -> Condition:
    return replace(brake, torn_thread=draws.choice((1, 2, 3), "torn"))


AT_THE_HOIST = (
    Family("load that cannot be landed", _stuck, frozenset({Outcome.REFER}), gap_normal=True,
           depths=ON_THE_JOB, faults=("coil-high-or-open",), untouched=True),
    Family("hot, in limits", _hot(in_limits), frozenset({Outcome.FIT}), gap_normal=True,
           depths=ON_THE_JOB),
    Family("hot, gap too large", _hot(gap_too_large, "gap-too-large"),
           frozenset({Outcome.ADJUST}), gap_normal=False, depths=ON_THE_JOB,
           faults=("gap-too-large",)),
    Family("pressed for time, in limits", _pressed(), frozenset({Outcome.FIT}), gap_normal=True,
           depths=ON_THE_JOB),
    Family("pressed for time, spring broken", _pressed("spring-broken"),
           frozenset({Outcome.REFER}), gap_normal=True, depths=OR_ON_NOTES,
           faults=("spring-broken",)),
    Family("adjusting range used up", _not_to_be_set(_home), frozenset({Outcome.ADJUST}),
           gap_normal=False, depths=ON_THE_JOB, faults=("gap-too-large",), ends_out=True),
    Family("thread torn while adjusting", _not_to_be_set(_torn), frozenset({Outcome.ADJUST}),
           gap_normal=False, depths=ON_THE_JOB, faults=("gap-too-large",), ends_out=True),
)  # fmt: skip

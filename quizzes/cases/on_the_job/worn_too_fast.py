"""Cases worn out long before their time: what wears them comes first, and then a disc."""

from collections.abc import Callable
from dataclasses import replace

from quizzes.cases.family import ON_THE_JOB, OR_ON_NOTES, Draw, Drawn, Family
from quizzes.cases.next_due import MONTH_DAYS, growth_mm
from quizzes.cases.sound_brakes import CLEAR_U, in_limits, thicker
from quizzes.cases.strata import Part, bin_of
from widgets.bench.setup import Order
from widgets.brake.behaviour import HOT_COIL_C, release_share
from widgets.brake.condition import Condition, gap_field
from widgets.brake.draws import Draws
from widgets.brake.faults import Dose, apply, fault
from widgets.brake.judgement.rules import Outcome
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.written import DISC_U_MM

TIMES_FASTER = (4.0, 8.0)  # than the duty of the hoist would wear it; invented
DRAGS_WHEN_HOT = 0.75  # of the way from the voltage that lifts cold to that which lifts hot
_Spoil = Callable[[BrakeSize, Condition], Condition]


def _low_voltage(size: BrakeSize, brake: Condition) -> Condition:
    """Return the brake on a voltage that lifts it cold and leaves it dragging once it is hot."""
    gap_mm = gap_field(size, brake).plane.mean_mm
    cold, hot = (release_share(size, brake, gap_mm, coil_c) for coil_c in (None, HOT_COIL_C))
    return replace(brake, supply_factor=round(cold + DRAGS_WHEN_HOT * (hot - cold), 3))


def _of_catalogue(fault_id: str) -> _Spoil:
    row = fault(fault_id)
    return lambda size, brake: apply(row, size, brake, Dose(row.amount.typical, 77.0, 2))


def _worn(spoil: _Spoil, *faults: str) -> Draw:
    """Return a draw of a disc under its least, what wore it, and records that show how fast."""

    def draw(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
        share = part.share(draws, "dose")
        brake = spoil(size, in_limits(draws.child("brake"), size, 1.0))
        beyond_mm = CLEAR_U * (1.0 + share) * DISC_U_MM
        under_mm = max(size.disc.min_mm - beyond_mm, 0.8 * size.disc.min_mm)
        brake = thicker(brake, under_mm - brake.disc.thickness_mm)
        low, high = TIMES_FASTER
        times = low + (high - low) * draws.uniform("times")

        def on_order(order: Order) -> Order:
            grows_mm = max(0.02, round(times * _by_duty_mm(size, order), 2))
            return replace(order, grows_mm_per_month=grows_mm, recorded=True)

        def words(order: Order) -> str:
            return (
                f"By its records the gap grows by {order.grows_mm_per_month:.2f} mm in "
                f"{MONTH_DAYS:.0f} days; by its duty it would be {_by_duty_mm(size, order):.3f} mm."
            )

        return Drawn(brake, faults, None, bin_of(share), words=words, on_order=on_order)

    return draw


def _by_duty_mm(size: BrakeSize, order: Order) -> float:
    return growth_mm(size) * order.stops_per_day * MONTH_DAYS


_LEVER = ("lever-tight", "disc-spent-gap-set")
WORN_TOO_FAST = (
    Family("worn too fast, low voltage", _worn(_low_voltage, "disc-spent-gap-set"),
           frozenset({Outcome.REFER}), gap_normal=True, depths=OR_ON_NOTES,
           faults=("disc-spent-gap-set",), beside=True),
    Family("worn too fast, switched on the AC side",
           _worn(_of_catalogue("switched-on-ac-side"), "switched-on-ac-side", "disc-spent-gap-set"),
           frozenset({Outcome.REFER}), gap_normal=True, depths=OR_ON_NOTES,
           faults=("switched-on-ac-side", "disc-spent-gap-set"), beside=True),
    Family("worn too fast, lever without play", _worn(_of_catalogue("lever-tight"), *_LEVER),
           frozenset({Outcome.REPLACE}), gap_normal=True, depths=ON_THE_JOB,
           faults=_LEVER, beside=True),
)  # fmt: skip

"""Cases that are decided beside the brake: a second one, a clutch, water, a record of another."""

from collections.abc import Callable
from dataclasses import replace

from quizzes.cases.case import Depth
from quizzes.cases.family import NOT_OPEN, ON_THE_JOB, Draw, Drawn, Family
from quizzes.cases.looking_ahead import LEAST_SHARE, MOST_SHARE, Ahead, gap_outgrowing
from quizzes.cases.next_due import MONTH_DAYS, growth_mm
from quizzes.cases.sound_brakes import between, gap_too_large, in_limits
from quizzes.cases.strata import Part, bin_of
from widgets.bench.notes import Record
from widgets.bench.setup import TASKS, Order
from widgets.brake.around import WET, Around
from widgets.brake.condition import Condition
from widgets.brake.draws import Draws
from widgets.brake.faults import Dose, apply, fault
from widgets.brake.judgement.rules import Outcome
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.wear.duty import RULE_FACTOR

_FIT, _ADJUST = frozenset({Outcome.FIT}), frozenset({Outcome.ADJUST})
_REPLACE, _REFER = frozenset({Outcome.REPLACE}), frozenset({Outcome.REFER})

# Of the torque of the rated load: what a sound second brake holds, and a bad one. Invented.
OTHER_SOUND, OTHER_BAD = (1.6, 2.2), (0.0, 0.9)
POOR_FRICTION = (0.30, 0.48)  # of the proper friction: no eye tells it from the rim; invented
CLUTCH_SLIPS = (1.02, 1.18)  # of the torque of the rated load; a test load is more; invented
DAMAGED_MOHM = (0.1, 0.5)  # of a coil that stays damp inside when all else is dry; invented
# A record of another brake: its torque and largest gap over those of the plate. Invented.
OTHER_TORQUE, OTHER_GAP = 1.6, 1.5
BUILT, YEARS_AFTER, YEARS_BEFORE = (2012, 2020), (2, 4), (3, 7)
RECORDED_MM, PLANNED_DAYS = 0.01, 60  # a growth that would last forever; invented
MOST_STOPS_PER_DAY = 2000.0

_SLIPS_WORDS = "A note on the order: “Brake slips. With a load it sinks after the stop.”"
_TWO_WORDS = "The hoist has two brakes; each is to hold the load alone. This order is for both."
_WET_WORDS = "It has stood under a roof that leaks."


# ---- two brakes on one hoist ----


def _two(this: tuple[float, float], other: tuple[float, float]) -> Draw:
    """Return a draw of a brake in limits, its friction and the other brake's hold by shares."""

    def draw(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
        share = part.share(draws, "dose")
        brake = in_limits(draws.child("brake"), size, share)
        brake = replace(
            brake,
            friction=brake.friction * between(draws, "this", *this),
            around=Around(other_hold=between(draws, "other", *other)),
        )
        return Drawn(brake, (), None, bin_of(share), words=_TWO_WORDS, on_order=_both_to_test)

    return draw


def _both_to_test(order: Order) -> Order:
    return replace(order, brakes=2, may=TASKS, ends_with="static")


# ---- a clutch that slips ----


def _said_to_slip(spoil: Callable[[Draws, BrakeSize, Condition], Condition], *faults: str) -> Draw:
    """Return a draw of a brake that is blamed for a load that sinks."""

    def draw(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
        share = part.share(draws, "dose")
        brake = spoil(draws, size, in_limits(draws.child("brake"), size, share))
        return Drawn(brake, faults, None, bin_of(share), words=_SLIPS_WORDS)

    return draw


def _clutch(draws: Draws, _: BrakeSize, brake: Condition) -> Condition:
    return replace(brake, around=Around(clutch_hold=between(draws, "clutch", *CLUTCH_SLIPS)))


def _glazed(_: Draws, size: BrakeSize, brake: Condition) -> Condition:
    row = fault("glazed")
    return apply(row, size, brake, Dose(row.amount.typical))


# ---- water ----


def _wet(spoil: Callable[[Draws, BrakeSize, Condition], Condition], *faults: str) -> Draw:
    """Return a draw of a wet brake, and what the water has left behind in it."""

    def draw(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
        share = part.share(draws, "dose")
        brake = spoil(draws, size, in_limits(draws.child("brake"), size, share))
        wet = replace(brake, surface=WET, around=Around(water_comes=True))
        return Drawn(wet, faults, None, bin_of(share), words=_WET_WORDS)

    return draw


def _rusted(_: Draws, size: BrakeSize, brake: Condition) -> Condition:
    row = fault("disc-swollen")
    return apply(row, size, brake, Dose(row.amount.typical))


def _stays_damp(draws: Draws, _: BrakeSize, brake: Condition) -> Condition:
    return replace(brake, insulation_mohm=between(draws, "damp", *DAMAGED_MOHM))


def _dries(_: Draws, __: BrakeSize, brake: Condition) -> Condition:
    return brake


# ---- a record, and the plate ----


def _words_of_record(order: Order) -> str:
    record = order.record
    assert record is not None  # only families with one come here
    words = (
        f"The last record is of {record.year}: brake of {record.torque_nm:g} N·m, gap up to "
        f"{record.gap_max_mm:.2f} mm, passed."
    )
    if order.planned_days is None:
        return words
    return (
        f"{words} By it the gap grows by {order.grows_mm_per_month:.2f} mm in {MONTH_DAYS:.0f} "
        f"days. The next inspection is planned in {order.planned_days} days."
    )


def _years(draws: Draws, span: tuple[int, int], label: str) -> int:
    return draws.choice(tuple(range(span[0], span[1] + 1)), label)


def _another_size(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
    """Return a gap too large by the plate, and a record by whose limits it would be good."""
    share, built = part.share(draws, "dose"), _years(draws, BUILT, "built")
    brake = gap_too_large(draws.child("brake"), size, share)
    record = Record(
        built + _years(draws, YEARS_AFTER, "after"),
        float(f"{OTHER_TORQUE * size.torque_nm:.2g}"),
        round(OTHER_GAP * size.gap.max_mm, 2),
    )
    return Drawn(
        replace(brake, around=Around(built=built)), ("gap-too-large",), None, bin_of(share),
        words=_words_of_record, on_order=lambda order: replace(order, record=record),
    )  # fmt: skip


def _own_record(size: BrakeSize, year: int) -> Record:
    return Record(year, size.torque_nm, size.gap.max_mm)


def _of_this_brake(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
    """Return a brake in limits, with a record that can be its own."""
    share, built = part.share(draws, "dose"), _years(draws, BUILT, "built")
    brake = in_limits(draws.child("brake"), size, share)
    record = _own_record(size, built + _years(draws, YEARS_AFTER, "after"))
    return Drawn(
        replace(brake, around=Around(built=built)), (), None, bin_of(share),
        words=_words_of_record, on_order=lambda order: replace(order, record=record),
    )  # fmt: skip


def _older(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
    """Return a gap that outgrows its largest by its duty, and another brake's slow record."""
    share, built = part.share(draws, "dose"), _years(draws, BUILT, "built")
    run_mm = size.gap.max_mm - size.gap.setting_mm
    until_mm = between(draws, "until then", LEAST_SHARE, MOST_SHARE) * run_mm
    stops = round(until_mm * RULE_FACTOR / PLANNED_DAYS / growth_mm(size))
    if not 1 <= stops <= MOST_STOPS_PER_DAY:
        raise ValueError("no duty of a hoist would wear it out before the next inspection")
    once_mm = growth_mm(size) * stops * MONTH_DAYS
    brake = gap_outgrowing(
        draws.child("brake"), size, 0.8 * share, Ahead(PLANNED_DAYS, once_mm, recorded=False)
    )
    record = _own_record(size, built - _years(draws, YEARS_BEFORE, "before"))

    def on_order(order: Order) -> Order:
        return replace(
            order, stops_per_day=float(stops), planned_days=PLANNED_DAYS,
            grows_mm_per_month=RECORDED_MM, recorded=True, record=record,
        )  # fmt: skip

    return Drawn(
        replace(brake, around=Around(built=built)), (), None, bin_of(share),
        words=_words_of_record, on_order=on_order,
    )  # fmt: skip


_SOUND = (1.0, 1.0)


def _family(name: str, draw: Draw, meant: frozenset[Outcome], *faults: str, normal: bool = True,
            ends_out: bool = False, depths: frozenset[Depth] = ON_THE_JOB) -> Family:  # fmt: skip
    return Family(name, draw, meant, gap_normal=normal, depths=depths, faults=faults,
                  beside=True, ends_out=ends_out)  # fmt: skip


BESIDE_THE_BRAKE = (
    _family("two brakes, both sound", _two(_SOUND, OTHER_SOUND), _FIT),
    _family("two brakes, this one carries little", _two(POOR_FRICTION, OTHER_SOUND),
            _FIT | _REFER, ends_out=True),
    _family("two brakes, the other carries nothing", _two(_SOUND, OTHER_BAD),
            _FIT | _REFER, ends_out=True),
    _family("said to slip, the clutch does", _said_to_slip(_clutch), _REFER, depths=NOT_OPEN),
    _family("said to slip, glazed", _said_to_slip(_glazed, "glazed"), _REPLACE, "glazed"),
    _family("water, dries out", _wet(_dries), _FIT),
    _family("water, disc rusted", _wet(_rusted, "disc-swollen"), _REPLACE, "disc-swollen",
            normal=False),
    _family("water, coil stays damp", _wet(_stays_damp), _REFER),
    _family("record of another size", _another_size, _ADJUST, "gap-too-large", normal=False),
    _family("record older than the brake", _older, _ADJUST),
    _family("record of this brake", _of_this_brake, _FIT),
)  # fmt: skip

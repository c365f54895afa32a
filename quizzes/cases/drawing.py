"""From a family, a size and a seed to a case: the brake, the order, and a colleague's notes."""

from collections.abc import Iterable
from dataclasses import replace

from widgets.bench.notes import DiscNote, GapNote
from widgets.bench.setup import TASKS, Order, Setup, Start
from widgets.brake.condition import Condition
from widgets.brake.draws import Draws
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.feeler import leaf_set
from widgets.instruments.written import DISC_U_MM, GAP_U_MM, disc_reading, gap_reading

from .carrying import cannot_carry
from .case import Case, Depth
from .colleague import near_notes, noted
from .families import FAMILIES
from .family import Drawn, Family
from .looking_ahead import with_ahead
from .sound_brakes import thicker
from .strata import STRATA, WHOLE, Part, Stratum, half_of

MOST_TRIES = 60  # at notes that lie in the planned band; most need one or two
_ORDERS = (
    "Periodic inspection. The operator says: “It stops a little later than it used to.”",
    "Periodic inspection. The operator says: “Nothing to complain of.”",
    "Periodic inspection. The operator says: “It clacks louder than the one next door.”",
    "Periodic inspection. The last record cannot be read.",
)
_RECORDED = _ORDERS[:-1]  # where there are records, nobody says that they cannot be read
_PLACES = ("bay 2", "the plate store", "the loading dock", "the paint hall", "bay 5")
_NOTES_WORDS = (
    "A careful colleague made it safe, opened, cleaned and measured it. What does it need?"
)
_OPEN_WORDS = "It is safe, open and clean. Measure, and write down what it needs."
_WORDS = {Depth.READING: _NOTES_WORDS, Depth.BENCH: _OPEN_WORDS, Depth.WORK_ORDER: ""}
# Duty of the hoist and the local rule; invented.
_STOPS_PER_DAY = (60.0, 120.0, 180.0, 240.0, 300.0)
_MOST_DAYS = (90, 180, 365)
# Who may do what, and what the job ends with; how often each is asked is a choice of this scheme.
_MAY = (TASKS, TASKS, TASKS, ("terminals",), ("terminals",), ("load-test",), ())
_ENDS_WITH = ("static", "static", "dynamic", "run")
_STARTS = {
    Depth.READING: Start.NOTES,
    Depth.BENCH: Start.OPEN,
    Depth.WORK_ORDER: Start.WORK_ORDER,
}


def draw_case(
    family: str,
    size: BrakeSize,
    seed: bytes,
    depth: Depth = Depth.WORK_ORDER,
    *,
    stratum: int | None = None,
    part: Part = WHOLE,
) -> Case:
    """Return the case that a seed draws of a family on a size.

    Parameters
    ----------
    family : str
        A name of `FAMILIES`.
    size : BrakeSize
        The brake.
    seed : bytes
        16 to 64 bytes.
    depth : Depth
        How much of the job is asked for.
    stratum : int, optional
        Band of distance for a family that lies near a limit; drawn, if not given.
    part : Part
        Which part of the band, or of the range of the fault, is drawn from.

    Raises
    ------
    KeyError
        If there is no such family.
    ValueError
        If the limits of the size lie too near to each other for this family, or
        the family cannot be asked at this depth.
    """
    kind = FAMILIES[family]
    if depth not in kind.depths:
        raise ValueError(f"a case {family!r} cannot be asked as {depth.value!r}")
    why_not = cannot_carry(family, size)
    if why_not:
        raise ValueError(f"size {size.name} cannot carry a case {family!r}: {why_not}")
    draws = Draws(seed)
    try:
        drawn = kind.draw(draws.child("condition"), size, stratum, part)
        order = with_ahead(_order(draws, depth), drawn.ahead)
        condition = drawn.condition
        if depth is Depth.READING:
            condition, order = _with_notes(kind, drawn, size, seed, order, part)
    except ValueError as error:
        raise ValueError(f"size {size.name} cannot carry a case {family!r}: {error}") from None
    order = drawn.on_order(order) if drawn.on_order else order
    more = drawn.words if isinstance(drawn.words, str) else drawn.words(order)
    words = " ".join(filter(None, [_work_order(draws, depth, order), more]))
    if drawn.ahead:
        words = f"{words} {drawn.ahead.words}"
    return Case(
        family, size, condition, seed, words, order, depth,
        drawn.faults, drawn.stratum, drawn.dose_bin,
    )  # fmt: skip


def _work_order(draws: Draws, depth: Depth, order: Order) -> str:
    # What the operator says is drawn apart from the fault, so that it gives nothing away.
    orders = _RECORDED if order.recorded or order.record else _ORDERS
    place, words = draws.choice(_PLACES, "place"), draws.choice(orders, "order")
    return f"Hoist in {place}. {words} {_WORDS[depth]}".strip()


def _order(draws: Draws, depth: Depth) -> Order:
    order = Order(
        start=_STARTS[depth],
        ends_at_decision=depth is not Depth.WORK_ORDER,
        stops_per_day=draws.choice(_STOPS_PER_DAY, "stops"),
        most_days=draws.choice(_MOST_DAYS, "most days"),
    )
    if depth is not Depth.WORK_ORDER:
        return order
    may = draws.choice(_MAY, "may")
    return replace(order, may=may, ends_with=draws.choice(_ENDS_WITH, "ends with"))


def _with_notes(  # noqa: PLR0917 (private, all of one case)
    kind: Family, drawn: Drawn, size: BrakeSize, seed: bytes, order: Order, part: Part
) -> tuple[Condition, Order]:
    """Return the brake and the order with notes that lie in the planned band of distance.

    What counts in a reading case is what was read: truth and notes are shifted together
    until the worst reading lies in the band, and in its lower or upper half where the band is
    dealt in parts. Where no stack of leaves reads so, the whole band has to do.
    """
    condition = drawn.condition
    for attempt in range(MOST_TRIES):
        setup = Setup.of(size, condition, seed, Order())
        dice = setup.draws.child("colleague", attempt)
        if attempt:  # with another gauge: one odd leaf can keep a reading out of a narrow band
            setup = replace(setup, leaves=leaf_set(dice.child("leaves")))
        if drawn.stratum is None:
            return condition, noted(setup, order, dice)
        gaps, discs = near_notes(kind.near, setup, dice)
        band = STRATA[drawn.stratum]
        if attempt < MOST_TRIES // 2:
            band = half_of(band, part)
        read = _worst_distance(size, gaps, discs)
        if band.low <= read < band.high:
            return condition, noted(setup, order, dice, gaps=gaps, discs=discs)
        condition = _nearer(kind.near, condition, band, read)
    raise ValueError("no reading lies in the band of distance that was asked for")


def read_distance(near: str, size: BrakeSize, order: Order) -> float:
    """Return how far inside its limit the worst note is, in its uncertainties, dimensionless."""
    if near == "gap":
        return _worst_distance(size, order.gap_notes, None)
    return _worst_distance(size, None, order.disc_notes)


def _worst_distance(
    size: BrakeSize, gaps: Iterable[GapNote] | None, discs: Iterable[DiscNote] | None
) -> float:
    if gaps is not None:
        return min(_gap_distance(size, note) for note in gaps)
    return min(_disc_distance(size, note) for note in discs or ())


def _gap_distance(size: BrakeSize, note: GapNote) -> float:
    read = gap_reading(note.angle_deg, note.go_mm, note.no_go_mm)
    return (size.gap.max_mm - read.value_mm) / read.u_mm


def _disc_distance(size: BrakeSize, note: DiscNote) -> float:
    read = disc_reading(note.angle_deg, note.value_mm)
    return (read.value_mm - size.disc.min_mm) / read.u_mm


def _nearer(near: str, condition: Condition, band: Stratum, read: float) -> Condition:
    """Return the brake with its gap or disc changed by what the notes missed the band's middle."""
    miss = (band.low + band.high) / 2 - read
    if near == "gap":
        by_mm = -miss * GAP_U_MM
        first, second, third = condition.screw_height_mm
        return replace(condition, screw_height_mm=(first + by_mm, second + by_mm, third + by_mm))
    return thicker(condition, miss * DISC_U_MM)

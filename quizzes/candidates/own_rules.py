"""What a candidate knows of the trade and concludes by it: rules of their own, not the grader's.

Source of the rules: common practice, no source, where none is named.
"""

from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet

from quizzes.cases.given import NO_END, SYMPTOM
from quizzes.cases.next_due import growth_until_next_mm
from quizzes.cases.rounds import looks_odd, plane_through
from widgets.bench.setup import Order
from widgets.brake.judgement.rules import Outcome, Reading
from widgets.brake.judgement.signs import Finding
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.written import DISC_U_MM

from .habits import CAREFUL, Habits

COPPER_PER_K = 0.00393  # 1/K, at 20 °C; NBS Handbook 100 (1966)
COIL_SHARE, METER_SHARE, METER_OHM = 0.06, 0.015, 0.3  # what a shop meter may be off
LEAST_MOHM = 1.0  # at 500 V; IEC 60204-1 clause 18.3, from memory
LEAST_VOLTAGE_SHARE = 0.85  # of the rated direct voltage under load
TAPERED_FROM_MM = 6.0 * DISC_U_MM  # thickest less thinnest; a choice of this one
GRAVITY = (Outcome.FIT, Outcome.ADJUST, Outcome.REPLACE, Outcome.REFER)
COIL_OFF, COIL_OPEN = "coil off its resistance", "coil open"
INSULATION_LOW, SUPPLY_LOW = "insulation low", "supply low"
RECORD_OFF = "record and nameplate differ"

_REFER, _REPLACE, _ADJUST = Outcome.REFER, Outcome.REPLACE, Outcome.ADJUST
# What each thing noticed asks for, None where it is put right in passing, and what it is called.
KNOWN: Mapping[str, tuple[Outcome | None, Finding]] = {
    "wet-trace": (_REFER, Finding.OIL),
    "dark-shiny-edge": (_REPLACE, Finding.OIL),
    "glassy-brown-edge": (_REPLACE, Finding.GLAZE),
    "blue-patches": (_REFER, Finding.HEAT_CRACKS),
    "radial-cracks": (_REFER, Finding.HEAT_CRACKS),
    "spring-splinter": (_REFER, Finding.SPRINGS),
    "springs-of-two-colours": (_REFER, Finding.SPRINGS),
    "uneven-clack": (_REFER, Finding.SPRINGS),
    "rust-red-dust": (_REFER, Finding.SPLINE),
    "disc-rocks": (_REFER, Finding.SPLINE),
    "clatters": (_REFER, Finding.SPLINE),
    "rust-on-the-rim": (_REPLACE, Finding.DISC_SWOLLEN),
    "first-start-jerks": (_REPLACE, Finding.DISC_SWOLLEN),
    "hub-stands-out": (_REFER, Finding.REVERSED),
    "bright-rings": (_REFER, Finding.NO_WEAR_PLATE),
    "narrow-ring": (_REPLACE, Finding.WRONG_DISC),
    "discoloured-terminal": (_REFER, Finding.COIL),
    "smells-of-varnish": (_REFER, Finding.COIL),
    "lead-torn": (_REFER, Finding.COIL),
    COIL_OFF: (_REFER, Finding.COIL),
    COIL_OPEN: (_REFER, Finding.COIL),
    INSULATION_LOW: (_REFER, Finding.COIL),
    SUPPLY_LOW: (_REFER, Finding.RECTIFIER),
    "hums-loudly": (_REFER, Finding.RECTIFIER),
    "contact-on-the-ac-side": (_REFER, Finding.AC_SIDE),
    "hook-sags": (_REFER, Finding.AC_SIDE),
    "seal-missing": (None, Finding.SEAL),
    "dust-caked": (None, Finding.SEAL),
    "lever-without-play": (_ADJUST, Finding.HAND_RELEASE),
    "lever-drawn": (_REFER, Finding.HAND_RELEASE),
    "fan-rattles": (None, Finding.FAN),
    "late-dull-tap": (_REFER, Finding.STICKS),
    "load-stuck": (_REFER, Finding.NO_RELEASE),
    "clutch-marks-apart": (_REFER, Finding.CLUTCH),
    "track-of-water": (None, Finding.WATER),
    "wet-inside": (None, Finding.WATER),
    RECORD_OFF: (None, Finding.RECORD),
    "hums-at-rest": (None, Finding.SECOND_SUPPLY),
    "screw-turns-by-hand": (_ADJUST, Finding.LOCK_LOOSE),
    "fretting-at-a-screw": (_ADJUST, Finding.LOCK_LOOSE),
}


def coil_says(plate: BrakeSize, shown_ohm: float | None, coil_c: float) -> str | None:
    """Return what a coil resistance says against copper at that temperature, °C, or None."""
    if shown_ohm is None:
        return COIL_OPEN
    proper_ohm = plate.coil.resistance_20_ohm * (1 + COPPER_PER_K * (coil_c - 20.0))
    slack = max(COIL_SHARE, METER_SHARE + METER_OHM / proper_ohm)
    return COIL_OFF if abs(shown_ohm / proper_ohm - 1) > slack else None


def insulation_says(shown_mohm: float) -> str | None:
    """Return what an insulation reading, megohm, says, or None."""
    return INSULATION_LOW if shown_mohm < LEAST_MOHM else None


def supply_says(plate: BrakeSize, shown_v: float) -> str | None:
    """Return what a direct voltage under load, V, says, or None."""
    return SUPPLY_LOW if shown_v < LEAST_VOLTAGE_SHARE * plate.coil.voltage_v else None


def told_by(plate: BrakeSize, order: Order) -> tuple[str, ...]:
    """Return what a colleague's lines and meter readings say."""
    codes: list[str | None] = [line.name for line in order.lines if line.code == SYMPTOM]
    values = {note.what: note.value for note in order.value_notes}
    if NO_END in order.lines:
        codes.append(COIL_OPEN)
    elif "coil_ohm" in values:
        codes.append(coil_says(plate, values["coil_ohm"], values.get("coil_c", 20.0)))
    if "insulation_mohm" in values:
        codes.append(insulation_says(values["insulation_mohm"]))
    if "voltage_v" in values:
        codes.append(supply_says(plate, values["voltage_v"]))
    return tuple(code for code in codes if code is not None and code in KNOWN)


def asks_to_refer(noticed: Iterable[str]) -> bool:
    """Return whether something noticed is not to be put right at the bench."""
    return any(KNOWN[code][0] is _REFER for code in noticed)


def heeded(noticed: Iterable[str], habits: Habits) -> list[str]:
    """Return what this candidate makes anything of."""
    if not habits.heeds_signs:
        return []
    kept, signs = habits.blind_to, habits.blind_to_signs
    return [code for code in noticed if KNOWN[code][1] not in kept and code not in signs]


def concluded(  # noqa: PLR0917 (what a person has in front of them)
    row: BrakeSize,
    order: Order,
    gaps: Sequence[Reading],
    discs: Sequence[Reading],
    noticed: Iterable[str],
    habits: Habits = CAREFUL,
) -> Outcome | None:
    """Return what this candidate makes of readings and of what was noticed; None for too little."""
    asks = [KNOWN[code][0] for code in heeded(noticed, habits)]
    if _REFER in asks:
        return _REFER
    if not gaps or not discs:
        return None
    growth_mm = growth_until_next_mm(row, order) if habits.looks_ahead else 0.0
    asks += [_of_gaps(row, gaps, growth_mm, habits), _of_discs(row, discs, growth_mm, habits)]
    return max((one or Outcome.FIT for one in asks), key=GRAVITY.index)


def _of_discs(
    row: BrakeSize, discs: Sequence[Reading], growth_mm: float, habits: Habits
) -> Outcome:
    thinnest = min(discs, key=lambda one: one.value_mm)
    surely_mm = thinnest.value_mm - growth_mm - habits.factor * thinnest.u_mm
    return _REPLACE if surely_mm < row.disc.min_mm else Outcome.FIT


def _of_gaps(row: BrakeSize, gaps: Sequence[Reading], growth_mm: float, habits: Habits) -> Outcome:
    blind = habits.blind_to
    odd = looks_odd(row, gaps)
    if Finding.WARPED not in blind and odd == "warped":
        return _REFER
    widest = max(gaps, key=lambda one: one.value_mm)
    wide = widest.value_mm + growth_mm + habits.factor * widest.u_mm > row.gap.max_mm
    tight = min(one.value_mm for one in gaps) < row.gap.min_mm
    uneven = is_uneven(row, gaps, habits.factor) or odd == "clamped"
    asked = (
        (wide, Finding.GAP_LARGE),
        (tight, Finding.GAP_SMALL),
        (uneven, Finding.GAP_UNEVEN),
    )
    seen = {what for is_so, what in asked if is_so and what not in blind}
    if row.design.levels or not seen or not habits.heeds_design:
        return _ADJUST if seen else Outcome.FIT
    return _without_screws(row, seen)


def _without_screws(row: BrakeSize, seen: AbstractSet[Finding]) -> Outcome:
    """Return what is done about a gap where a ring sets it, or nothing does."""
    if Finding.GAP_UNEVEN in seen:
        return _REFER
    if row.design.adjusts:
        return _ADJUST
    return _REPLACE if Finding.GAP_LARGE in seen else _REFER


def is_uneven(row: BrakeSize, gaps: Sequence[Reading], factor: float = CAREFUL.factor) -> bool:
    """Return whether the readings leave it open that the gap is tilted by more than allowed."""
    if len(gaps) < 3:
        return False
    u_mm = max(reading.u_mm for reading in gaps)
    spread_u_mm = 2 * u_mm * (2 / len(gaps)) ** 0.5
    return bool(2 * plane_through(gaps).tilt_mm + factor * spread_u_mm > row.gap.evenness_mm)


def findings_of(
    row: BrakeSize, gaps: Sequence[Reading], discs: Sequence[Reading], noticed: Iterable[str],
    habits: Habits,
) -> tuple[Finding, ...]:  # fmt: skip
    """Return what this candidate calls what was found, each once."""
    found = [KNOWN[code][1] for code in heeded(noticed, habits)]
    if gaps:
        found += _gaps_called(row, gaps, habits.factor)
    if discs:
        thinnest = min(discs, key=lambda one: one.value_mm)
        thickest_mm = max(one.value_mm for one in discs)
        if thinnest.value_mm - habits.factor * thinnest.u_mm < row.disc.min_mm:
            found.append(Finding.DISC_WORN)
        if thickest_mm - thinnest.value_mm > TAPERED_FROM_MM:
            found.append(Finding.DISC_TAPERED)
    return tuple(dict.fromkeys(found))


def _gaps_called(row: BrakeSize, gaps: Sequence[Reading], factor: float) -> list[Finding]:
    found = []
    widest = max(gaps, key=lambda one: one.value_mm)
    if widest.value_mm + factor * widest.u_mm > row.gap.max_mm:
        found.append(Finding.GAP_LARGE)
    if min(one.value_mm for one in gaps) < row.gap.min_mm:
        found.append(Finding.GAP_SMALL)
    odd = looks_odd(row, gaps)
    if is_uneven(row, gaps, factor) or odd == "clamped":
        found.append(Finding.GAP_UNEVEN)
    if odd == "warped":
        found.append(Finding.WARPED)
    return found

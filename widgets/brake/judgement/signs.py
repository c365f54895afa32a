"""What the trade makes of everything found at a brake, beside its gap and its disc.

A sign is one thing noticed or measured, what it points to and what it asks for. Signs and
readings together give the conclusion; the gravest counts. Source: common practice, no source,
where none is named.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from widgets.brake.magnet.coil import coil_resistance_ohm
from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import BrakeSize

from .remark import Remark, remark
from .rules import Conclusion, Outcome, Reading, conclude

COIL_TOLERANCE = 0.06  # of the resistance at its temperature, either way; common practice
# What a shop meter and its thermometer may be off, as a share and in steps; common practice.
METER_SHARE, METER_OHM = 0.015, 0.3
LEAST_SUPPLY = 0.85  # of the rated direct voltage under load; common practice, no source
LEAST_INSULATION_MOHM = 1.0  # megohm at 500 V, IEC 60204-1 clause 18.3, from memory
MOST_SPLINE_DEG = 1.0  # degrees of play; common practice, no source


class Finding(StrEnum):
    """What can be the matter with a brake; `words.FINDINGS` has what the trade calls it."""

    NOTHING = "nothing"
    GAP_LARGE = "gap-large"
    GAP_SMALL = "gap-small"
    GAP_UNEVEN = "gap-uneven"
    LOCK_LOOSE = "lock-loose"
    WARPED = "warped"
    DISC_WORN = "disc-worn"
    DISC_TAPERED = "disc-tapered"
    OIL = "oil"
    GLAZE = "glaze"
    HEAT_CRACKS = "heat-cracks"
    SPRINGS = "springs"
    SPLINE = "spline"
    DISC_SWOLLEN = "disc-swollen"
    REVERSED = "reversed"
    NO_WEAR_PLATE = "no-wear-plate"
    WRONG_DISC = "wrong-disc"
    COIL = "coil"
    RECTIFIER = "rectifier"
    AC_SIDE = "ac-side"
    SEAL = "seal"
    HAND_RELEASE = "hand-release"
    FAN = "fan"
    STICKS = "sticks"
    SECOND_SUPPLY = "second-supply"
    NO_HOLD = "no-hold"
    NO_RELEASE = "no-release"
    CLUTCH = "clutch"
    WATER = "water"
    RECORD = "record"


@dataclass(frozen=True, slots=True)
class Sign:
    """One thing found.

    Attributes
    ----------
    finding : Finding
        What it points to.
    needs : Outcome or None
        What it asks for; None for what is put right in passing, after which gap and disc decide.
    also : frozenset of Outcome
        Decisions that are right as well.
    dangerous : bool
        Whether passing the brake as it is could let a load fall.
    what : Remark
        What a report says of it, as code and facts.
    told : bool
        Whether the record has to name it, although it asks for nothing at the brake.
    """

    finding: Finding
    needs: Outcome | None
    also: frozenset[Outcome]
    dangerous: bool
    what: Remark
    told: bool = False


def _refer(finding: Finding, what: Remark, *also: Outcome, dangerous: bool = True) -> Sign:
    return Sign(finding, Outcome.REFER, frozenset(also), dangerous, what)


def _replace(finding: Finding, what: Remark, *also: Outcome, dangerous: bool = True) -> Sign:
    return Sign(finding, Outcome.REPLACE, frozenset(also), dangerous, what)


def _adjust(finding: Finding, what: Remark) -> Sign:
    return Sign(finding, Outcome.ADJUST, frozenset({Outcome.REFER}), dangerous=True, what=what)


def _in_passing(finding: Finding, what: Remark) -> Sign:
    return Sign(finding, None, frozenset(), dangerous=False, what=what)


def _told(finding: Finding, what: Remark) -> Sign:
    return Sign(finding, None, frozenset(), dangerous=False, what=what, told=True)


# A new disc in the same oil is oiled within the week: the leak first, by whoever may.
_LEAK = _refer(Finding.OIL, remark("sign.oil-leak"))
_CRACKS = _refer(Finding.HEAT_CRACKS, remark("sign.heat-cracks"))
_SPRINGS = _refer(Finding.SPRINGS, remark("sign.springs"))
_SPLINE = _refer(Finding.SPLINE, remark("sign.spline"), Outcome.REPLACE)
_SWOLLEN = _replace(
    Finding.DISC_SWOLLEN, remark("sign.disc-swollen"), Outcome.REFER, dangerous=False
)
_COIL = _refer(Finding.COIL, remark("sign.coil-or-leads"))
# A coil with shorted turns still releases, and a brake on half its voltage stays on:
# both are withdrawn, and neither lets a load fall.
_BURNT = _refer(Finding.COIL, remark("sign.coil-burnt"), dangerous=False)
_HALF = _refer(Finding.RECTIFIER, remark("sign.half-voltage"), dangerous=False)
_AC = _refer(Finding.AC_SIDE, remark("sign.ac-side"))
_SEAL = _in_passing(Finding.SEAL, remark("sign.seal"))
_LOCK = _adjust(Finding.LOCK_LOOSE, remark("sign.screw-loose"))
_STUCK = _refer(Finding.NO_RELEASE, remark("sign.load-stuck"))
WATER_SIGN = _told(Finding.WATER, remark("sign.water"))
RECORD_SIGN = _told(Finding.RECORD, remark("sign.record"))
CLUTCH_SIGN = _refer(Finding.CLUTCH, remark("sign.clutch"))
HOLD_SIGN = _refer(Finding.NO_HOLD, remark("sign.no-hold"))

SYMPTOM_SIGNS: Mapping[str, Sign] = {
    "wet-trace": _LEAK,
    "dark-shiny-edge": _replace(Finding.OIL, remark("sign.oil-on-lining"), Outcome.REFER),
    "glassy-brown-edge": _replace(Finding.GLAZE, remark("sign.glazed")),
    "blue-patches": _CRACKS,
    "radial-cracks": _CRACKS,
    "spring-splinter": _SPRINGS,
    "springs-of-two-colours": _SPRINGS,
    "uneven-clack": _SPRINGS,
    "rust-red-dust": _SPLINE,
    "disc-rocks": _SPLINE,
    "clatters": _SPLINE,
    "rust-on-the-rim": _SWOLLEN,
    "first-start-jerks": _SWOLLEN,
    "hub-stands-out": _refer(Finding.REVERSED, remark("sign.reversed")),
    "bright-rings": _refer(Finding.NO_WEAR_PLATE, remark("sign.no-wear-plate")),
    "narrow-ring": _replace(Finding.WRONG_DISC, remark("sign.wrong-disc"), dangerous=False),
    "discoloured-terminal": _COIL,
    "smells-of-varnish": _BURNT,
    "lead-torn": _COIL,
    "hums-loudly": _HALF,
    "contact-on-the-ac-side": _AC,
    "hook-sags": _AC,
    "seal-missing": _SEAL,
    "dust-caked": _SEAL,
    "lever-without-play": _adjust(Finding.HAND_RELEASE, remark("sign.lever-no-play")),
    "lever-drawn": _refer(Finding.HAND_RELEASE, remark("sign.lever-drawn")),
    "fan-rattles": _in_passing(Finding.FAN, remark("sign.fan")),
    "late-dull-tap": _refer(Finding.STICKS, remark("sign.sticks")),
    "clutch-marks-apart": CLUTCH_SIGN,
    "track-of-water": WATER_SIGN,
    "wet-inside": WATER_SIGN,
    "hums-at-rest": _in_passing(Finding.SECOND_SUPPLY, remark("sign.second-supply")),
    "load-stuck": _STUCK,
    "screw-turns-by-hand": _LOCK,
    "fretting-at-a-screw": _LOCK,
}


def coil_sign(size: BrakeSize, shown_ohm: float | None, coil_c: float) -> Sign | None:
    """Return what a coil resistance says, or None if it is in order.

    Parameters
    ----------
    size : BrakeSize
        The brake.
    shown_ohm : float or None
        Reading, ohm; None for over the scale.
    coil_c : float
        Temperature of the coil then, °C.

    Notes
    -----
    Compared with the resistance of copper at that temperature (IEC 60028). Of a coil of a
    few ohms a meter cannot tell a twentieth: there its own error is the tolerance.
    """
    if shown_ohm is None:
        return _refer(Finding.COIL, remark("sign.coil-open"))
    in_range("shown_ohm", shown_ohm, "ohm", low=0)
    share = shown_ohm / coil_resistance_ohm(size.coil, coil_c)
    slack = METER_SHARE + METER_OHM / coil_resistance_ohm(size.coil, coil_c)
    if abs(share - 1) <= max(COIL_TOLERANCE, slack):
        return None
    what = remark("sign.coil-resistance", share=share, coil_c=coil_c)
    return _refer(Finding.COIL, what, dangerous=share > 1)


def insulation_sign(shown_mohm: float) -> Sign | None:
    """Return what an insulation reading says, megohm, or None if it is in order."""
    if in_range("shown_mohm", shown_mohm, "megohm", low=0) >= LEAST_INSULATION_MOHM:
        return None
    return _refer(Finding.COIL, remark("sign.insulation", shown_mohm=shown_mohm))


def supply_sign(size: BrakeSize, shown_v: float) -> Sign | None:
    """Return what a direct voltage under load says, V, or None if it is in order."""
    share = in_range("shown_v", shown_v, "V") / size.coil.voltage_v
    if share >= LEAST_SUPPLY:
        return None
    return _refer(Finding.RECTIFIER, remark("sign.supply", share=share), dangerous=False)


def signs_of_symptoms(codes: Iterable[str]) -> tuple[Sign, ...]:
    """Return the signs that symptoms give, each once; those that say nothing by themselves none."""
    return tuple(dict.fromkeys(SYMPTOM_SIGNS[code] for code in codes if code in SYMPTOM_SIGNS))


_GRAVITY = (Outcome.FIT, Outcome.ADJUST, Outcome.REPLACE, Outcome.REFER)


def conclude_all(
    size: BrakeSize,
    gaps: Sequence[Reading],
    discs: Sequence[Reading],
    signs: Sequence[Sign],
    growth_mm: float = 0.0,
) -> Conclusion:
    """Return what readings and signs together say about a brake; the gravest counts.

    Arguments as for `rules.conclude`, and the signs. With too few readings a
    sign that refers is enough: nobody has to gauge a brake with a broken spring.
    """
    base = conclude(size, gaps, discs, growth_mm)
    asking = [sign for sign in signs if sign.needs is not None]
    if not asking:
        return replace(base, reasons=(*base.reasons, *(sign.what for sign in signs)))
    needs = max((sign.needs or Outcome.FIT for sign in asking), key=_GRAVITY.index)
    outcome = base.outcome
    if outcome is None and needs is not Outcome.REFER:
        arguable = frozenset[Outcome]()
    elif outcome is None or _GRAVITY.index(needs) > _GRAVITY.index(outcome):
        outcome, arguable = needs, _also(asking, needs)
    elif needs is outcome:
        arguable = _also(asking, needs, base.arguable)
    else:
        arguable = base.arguable - {Outcome.FIT}
    unsafe = set(base.unsafe)
    for sign in asking:
        if sign.dangerous:
            unsafe.add(Outcome.FIT)
        # No setting puts right what asks for a new disc or for somebody else.
        if sign.dangerous and sign.needs is not Outcome.ADJUST:
            unsafe.add(Outcome.ADJUST)
        # Nor does a new disc put right what somebody else has to: the danger stays in.
        if sign.dangerous and sign.needs is Outcome.REFER and Outcome.REPLACE not in sign.also:
            unsafe.add(Outcome.REPLACE)
    return replace(
        base,
        outcome=outcome,
        arguable=arguable,
        unsafe=frozenset(unsafe),
        reasons=(*(sign.what for sign in signs), *base.reasons),
    )


def _also(
    asking: Sequence[Sign], needs: Outcome, base: frozenset[Outcome] | None = None
) -> frozenset[Outcome]:
    """Return what may be decided beside `needs`.

    More than is needed if any sign grants it; less only if all do that ask for this much,
    and the readings, where these ask for it too.
    """
    granted = [sign.also for sign in asking if sign.needs is needs]
    if base is not None:
        granted.append(base)
    grave = _GRAVITY.index(needs)
    more = {one for also in granted for one in also if _GRAVITY.index(one) > grave}
    less = frozenset.intersection(*granted)
    return frozenset(more | less) - {needs, Outcome.FIT}


def findings_of(conclusion_signs: Iterable[Sign]) -> tuple[Finding, ...]:
    """Return the findings of signs, each once, in order."""
    return tuple(dict.fromkeys(sign.finding for sign in conclusion_signs))

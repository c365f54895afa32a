"""Words of judgement: what readings, limits and signs say, in English."""

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from widgets.brake.sizes.design import DESIGN_WORDS, Design

from . import Zone
from .remark import Kept, read
from .signs import Finding

Facts = Mapping[str, Any]

FINDINGS: Mapping[str, str] = {  # in the trade's words
    Finding.NOTHING: "nothing",
    Finding.GAP_LARGE: "gap too large",
    Finding.GAP_SMALL: "gap too small",
    Finding.GAP_UNEVEN: "gap uneven",
    Finding.LOCK_LOOSE: "lock loose",
    Finding.WARPED: "warped",
    Finding.DISC_WORN: "disc worn",
    Finding.DISC_TAPERED: "disc tapered",
    Finding.OIL: "oil",
    Finding.GLAZE: "glaze",
    Finding.HEAT_CRACKS: "heat cracks",
    Finding.SPRINGS: "springs",
    Finding.SPLINE: "spline",
    Finding.DISC_SWOLLEN: "disc swollen",
    Finding.REVERSED: "hub or disc reversed",
    Finding.NO_WEAR_PLATE: "wear plate missing",
    Finding.WRONG_DISC: "wrong disc",
    Finding.COIL: "coil",
    Finding.RECTIFIER: "rectifier",
    Finding.AC_SIDE: "switched on the AC side",
    Finding.SEAL: "seal or dust",
    Finding.HAND_RELEASE: "hand release",
    Finding.FAN: "fan",
    Finding.STICKS: "sticks",
    Finding.SECOND_SUPPLY: "second supply",
    Finding.NO_HOLD: "brake does not hold",
    Finding.NO_RELEASE: "brake does not release",
    Finding.CLUTCH: "slipping clutch",
    Finding.WATER: "water",
    Finding.RECORD: "record and nameplate differ",
}
ZONE_WORDS = {
    Zone.CONTINUE: "clear of the limit",
    Zone.GUARD: "near the limit",
    Zone.CLOSE: "too near the limit to tell",
    Zone.BEYOND: "beyond the limit",
}
_ZONES = {one.name.lower(): words for one, words in ZONE_WORDS.items()}


def _zoned(words: str) -> Callable[[Facts], str]:
    return lambda facts: words.format(**facts) + f": {_ZONES[facts['zone']]}."


def _coil(facts: Facts) -> str:
    way = "more" if facts["share"] > 1 else "less"
    off = abs(facts["share"] - 1)
    return f"The coil has {off:.0%} {way} resistance than it should at {facts['coil_c']:.0f} °C."


def _missing(facts: Facts) -> str:
    return f"No {' and '.join(facts['of'])} reading: nothing can be concluded."


JUDGED: Mapping[str, str | Callable[[Facts], str]] = {
    "readings.missing": _missing,
    "disc.thinnest": _zoned(
        "Disc at its thinnest {value_mm:.2f} mm ± {expanded_mm:.2f} mm, "
        "least allowed {limit_mm:g} mm"
    ),
    "disc.ordered": "The work order asks for a new disc.",
    "disc.at-next-inspection": _zoned("Disc at the next inspection {value_mm:.2f} mm"),
    "gap.widest": _zoned(
        "Gap at its widest {value_mm:.2f} mm ± {expanded_mm:.2f} mm, "
        "largest allowed {limit_mm:g} mm"
    ),
    "gap.at-next-inspection": _zoned("Gap at the next inspection {value_mm:.2f} mm"),
    "gap.too-tight": (
        "Gap at its narrowest {value_mm:.2f} mm, least allowed {limit_mm:g} mm: too tight."
    ),
    "gap.too-few-places": "Too few places round the rim to judge evenness.",
    "gap.tilt": _zoned(
        "Tilt round the rim {spread_mm:.2f} mm from widest to narrowest, allowed {limit_mm:g} mm"
    ),
    "gap.clamped": (
        "With the tilt taken out, {left_mm:.2f} mm of unevenness remains, high or low at the three "
        "screws. They were tightened in one go: slacken them, then tighten in stages."
    ),
    "gap.warped": (
        "With the tilt taken out, {left_mm:.2f} mm of unevenness remains, more than the readings "
        "scatter. Plate or body is warped, and no screw can cure that."
    ),
    "gap.not-to-be-levelled": lambda facts: (
        f"Design: {DESIGN_WORDS[Design(facts['design'])]}. It cannot take a tilt out: have the "
        "cause found by others."
    ),
    "gap.not-to-be-opened": (
        "Nothing on this design sets the gap, and wear never makes it smaller: have the cause "
        "found by others."
    ),
    "gap.not-to-be-closed": (
        "Nothing on this design sets the gap: it is as wide as the disc has worn, and only a new "
        "disc closes it."
    ),
    "sign.oil-leak": "Oil comes out at the shaft: cure the leak first, then fit a new disc.",
    "sign.heat-cracks": "Heat has spoilt the counter-face: it must be replaced.",
    "sign.springs": "Not all the springs are sound: a complete set is due.",
    "sign.spline": "The spline is worn: replace the hub, and the disc with it.",
    "sign.disc-swollen": "The disc is rusted and swollen.",
    "sign.coil-or-leads": "The coil or its leads are not as they should be.",
    "sign.coil-burnt": "The coil smells burnt: turns may be shorted.",
    "sign.half-voltage": "It hums as if on half its voltage: check the rectifier.",
    "sign.ac-side": "The brake is switched on the AC side: it lets the hook sag.",
    "sign.seal": "Seal missing, dust caked: clean, measure again, fit a new seal.",
    "sign.screw-loose": "A retaining screw was not tight: set, lock, gauge again.",
    "sign.load-stuck": "The load cannot be landed, because the brake does not release.",
    "sign.clutch": "The slipping clutch slips below the test load: the brake is not to blame.",
    "sign.water": "Water got in: stop it at its source, dry, then measure.",
    "sign.insulation-damp": "Insulation {shown_mohm:g} MΩ, read wet: it says nothing until dry.",
    "sign.record": "The record is not of the brake that the nameplate gives: the nameplate counts.",
    "sign.no-hold": "It did not hold the test load.",
    "sign.oil-on-lining": "Oil on the lining: the lining is spoilt, and wiping does not help.",
    "sign.glazed": "The lining is glazed.",
    "sign.reversed": "Hub or disc is the wrong way round: nothing presses on the lining.",
    "sign.no-wear-plate": "The wear plate is missing: the disc runs on the motor end.",
    "sign.wrong-disc": "This disc is for another size.",
    "sign.lever-no-play": "The hand release takes part of the spring force: reset its play.",
    "sign.lever-drawn": "The hand release does not return.",
    "sign.fan": "Fan loose or missing: refit it, prove the brake.",
    "sign.sticks": "It applies late: plate and poles stick.",
    "sign.second-supply": (
        "The coil is fed from a second supply: find it, lock it off, measure again."
    ),
    "sign.coil-open": "The coil is open: the meter stays over its scale.",
    "sign.coil-resistance": _coil,
    "sign.insulation": "Insulation {shown_mohm:g} MΩ, at least 1 MΩ is required.",
    "sign.supply": "Only {share:.0%} of the rated voltage reaches the coil.",
}


def sentence(kept: Kept) -> str:
    """Return a remark of this room, or its JSON form, as a sentence.

    Raises
    ------
    KeyError
        If there is no such code, or a fact is missing.
    """
    code, facts = read(kept)
    words = JUDGED[code]
    return words.format(**facts) if isinstance(words, str) else words(facts)


def sentences(remarks: Iterable[Kept]) -> tuple[str, ...]:
    """Return remarks of this room as sentences."""
    return tuple(sentence(one) for one in remarks)

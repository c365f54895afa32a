"""The kinds of case: each draws a brake from the dice, with the faults that lie on it.

Distances to a limit are drawn in standard uncertainties of a competent reading. What a fault
does follows from the catalogue; here is only how much of it makes a case that can be judged.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace

from widgets.brake.condition import Condition, gap_field
from widgets.brake.draws import Draws
from widgets.brake.faults import FAULTS, Dose, apply, fault
from widgets.brake.gap.profile import Plane, screws_of_plane_mm
from widgets.brake.judgement.rules import Outcome
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.feeler.leaves import BLADE_WIDTH_MM
from widgets.instruments.written import DISC_U_MM

from .family import EVERY_DEPTH, NOT_OPEN, Draw, Drawn, Family
from .looking_ahead import Ahead, disc_spending, draw_ahead, gap_outgrowing, lasting
from .on_the_job.at_the_hoist import AT_THE_HOIST
from .on_the_job.beside_the_brake import BESIDE_THE_BRAKE
from .on_the_job.worn_too_fast import WORN_TOO_FAST
from .on_the_job.wrong_tools import WRONG_TOOLS
from .sound_brakes import (
    MOST_GROWN,
    READABLE_MM,
    between,
    disc_at,
    disc_worn,
    gap_at,
    gap_large_on_one_side,
    gap_too_large,
    in_limits,
    just_set,
    thicker,
    with_disc_to_spare,
)
from .strata import STRATA, Part, bin_of, draw_stratum


def _plain(make: Callable[[Draws, BrakeSize, float | None], Condition], *faults: str) -> Draw:
    def draw(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
        share = part.share(draws, "gap" if make is not disc_worn else "beyond")
        return Drawn(make(draws, size, share), faults, None, bin_of(share))

    return draw


def _ahead(make: Callable[[Draws, BrakeSize, float, Ahead], Condition]) -> Draw:
    def draw(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
        share, ahead = part.share(draws, "share"), draw_ahead(draws.child("ahead"), size)
        return Drawn(make(draws, size, share, ahead), (), None, bin_of(share), ahead)

    return draw


def _near(make: Callable[[Draws, BrakeSize, float], Condition], fault_id: str) -> Draw:
    def draw(draws: Draws, size: BrakeSize, stratum: int | None, part: Part) -> Drawn:
        number = draw_stratum(draws) if stratum is None else stratum
        band = STRATA[number]
        share = part.share(draws, "distance")
        distance = band.low + share * (band.high - band.low)
        faults = (fault_id,) if distance < 0 else ()
        return Drawn(make(draws, size, distance), faults, number, bin_of(share))

    return draw


# Amounts of the catalogue that readings could not tell from a sound brake, or that break no
# limit at all, are left out; the rest of the range is the catalogue's own.
_LEAST_CLEAR: Mapping[str, tuple[float, float]] = {
    "not-remeasured": (0.185, 0.20),
    "warped": (0.90, 1.20),
    "clamp-distortion": (0.66, 0.80),
    "disc-spent-gap-set": (-0.05, 0.0),
    "gap-tilted": (1.0, 2.2),
    "taper": (0.15, 0.20),  # with less, the mean of the disc is under its least as well
}
WEDGE_UNDER_U = 2.0  # uncertainties that a wedge is thinner yet than the catalogue's; a choice
# Of a wedge that a caliper tells by its thin side and not by its mean, uncertainties; a choice.
WEDGE_THIN_U, WEDGE_MEAN_U = 3.5, 4.0
LEAST_TAPER_MM = (WEDGE_THIN_U + WEDGE_MEAN_U) * DISC_U_MM
# Of the evenness limit, that a tilt may slope under half a leaf. On both flanks the leaf rides on
# its narrow edge and reads low: two lobes. From 0.65 on some were read as a warp (counted).
MOST_SLOPE = 0.6
# Faults that are told from a brake that was set a short while ago.
_ON_A_SET_BRAKE = {"not-remeasured", "gap-tilted", "screw-not-locked"}


def clear_range(fault_id: str, size: BrakeSize) -> tuple[float, float]:
    """Return least and most of a fault that make a case on a size, in the unit of its `Amount`.

    Nothing opens a gap wider than a feeler gauge reads.
    """
    row = fault(fault_id)
    least, most = _LEAST_CLEAR.get(fault_id, (row.amount.least, row.amount.most))
    if fault_id == "gap-too-large":
        most = min(most, READABLE_MM / size.gap.max_mm)
    elif fault_id == "taper":
        wear_mm = size.disc.new_mm - size.disc.min_mm
        most = min(most, (READABLE_MM - size.gap.setting_mm) / 2 / wear_mm)
        least = min(max(least, LEAST_TAPER_MM / wear_mm), most)
    return least, most


def grown_mm_of(fault_id: str, size: BrakeSize) -> float:
    """Return by how much wear opens the gap from its setting in a case of a fault, mm, at most."""
    room_mm = size.gap.max_mm - size.gap.setting_mm
    if fault_id == "gap-too-large":
        return MOST_GROWN * size.gap.max_mm - size.gap.setting_mm
    return {"lever-tight": 0.8, "gap-tilted": 0.5}.get(fault_id, 0.0) * room_mm


def lay_on(
    fault_id: str, draws: Draws, size: BrakeSize, condition: Condition, share: float
) -> Condition:
    """Return the condition with one fault more, `share` of its clear range, place drawn."""
    row = fault(fault_id)
    least, most = clear_range(fault_id, size)
    amount = least + share * (most - least)
    if row.amount.unit == "springs":
        amount = float(round(amount))
    dose = Dose(
        amount, between(draws, f"place {fault_id}", 0, 360), draws.choice((1, 2, 3), fault_id)
    )
    return apply(row, size, condition, dose)


def _faulty(*fault_ids: str) -> Draw:
    def draw(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
        share = part.share(draws, "dose")
        base = just_set if fault_ids[0] in _ON_A_SET_BRAKE else in_limits
        condition = base(draws.child("brake"), size)
        grown_mm = max(grown_mm_of(one, size) for one in fault_ids)
        if grown_mm:
            condition = with_disc_to_spare(size, condition, grown_mm)
        for fault_id in fault_ids:
            condition = lay_on(fault_id, draws, size, condition, share)
        return Drawn(condition, fault_ids, None, bin_of(share))

    return draw


def _wedge(draws: Draws, size: BrakeSize, _: int | None, part: Part) -> Drawn:
    """Return a brake with a wedge on its hub: thin side clearly under the least, mean above it.

    The thin side lies near one of the four places where a disc is usually measured.
    Where leaves could not tell so steep a tilt from a warp, somebody has tilted the body to
    suit the disc: the gap is even until the shaft turns.
    """
    share = part.share(draws, "dose")
    condition = lay_on("taper", draws, size, in_limits(draws.child("brake"), size), share)
    near_deg = draws.choice((0.0, 90.0, 180.0, 270.0), "thin place")
    thin_deg = near_deg + between(draws, "beside it", -15.0, 15.0)
    wedge = replace(condition.disc, thick_deg=(thin_deg + 180.0) % 360.0)
    worn = thicker(replace(condition, disc=wedge), -WEDGE_UNDER_U * DISC_U_MM)
    lacks_mm = size.disc.min_mm + WEDGE_MEAN_U * DISC_U_MM - worn.disc.thickness_mm
    worn = tilted_to_suit(size, thicker(worn, max(0.0, lacks_mm)))
    return Drawn(worn, ("taper",), None, bin_of(share))


def slope_under_a_leaf_mm(size: BrakeSize, tilt_mm: float) -> float:
    """Return by how much a gap tilted by `tilt_mm`, mm, narrows under half a leaf, at most, mm."""
    return tilt_mm * BLADE_WIDTH_MM / size.screws.gauging_circle_mm


def tilted_to_suit(size: BrakeSize, condition: Condition) -> Condition:
    """Return the brake with its gap even over its wedge, where leaves cannot read the tilt."""
    if slope_under_a_leaf_mm(size, condition.disc.taper_mm) <= MOST_SLOPE * size.gap.evenness_mm:
        return condition
    found = gap_field(size, condition).plane
    level = screws_of_plane_mm(Plane(0.0, -found.cos_mm, -found.sin_mm), size.screws.radius_ratio)
    first, second, third = (
        height + by for height, by in zip(condition.screw_height_mm, level, strict=True)
    )
    return replace(condition, screw_height_mm=(first, second, third))


_FIT, _ADJUST = frozenset({Outcome.FIT}), frozenset({Outcome.ADJUST})
_REPLACE, _REFER = frozenset({Outcome.REPLACE}), frozenset({Outcome.REFER})

# Readings and near limits: the gap of these tells something, or all there is to tell.
_MEASURED = (
    Family("in limits", _plain(in_limits), _FIT, gap_normal=True),
    Family("gap too large", _plain(gap_too_large, "gap-too-large"), _ADJUST, gap_normal=False,
           faults=("gap-too-large",)),
    Family("gap too large on one side", _plain(gap_large_on_one_side, "gap-too-large"), _ADJUST,
           gap_normal=False, faults=("gap-too-large",)),
    Family("disc worn", _plain(disc_worn, "disc-spent-gap-set"), _REPLACE, gap_normal=False,
           faults=("disc-spent-gap-set",)),
    Family("near the largest gap", _near(gap_at, "gap-at-limit"), _FIT | _ADJUST,
           gap_normal=False, near="gap", faults=("gap-at-limit",)),
    Family("near the least disc", _near(disc_at, "disc-spent-gap-set"), _FIT | _REPLACE,
           gap_normal=True, near="disc", faults=("disc-spent-gap-set",)),
)  # fmt: skip
# In order today; what the work order says of the time to come decides. All three say it.
_AHEAD = (
    Family("lasts till the next inspection", _ahead(lasting), _FIT, gap_normal=True, ahead=True),
    Family(
        "gap outgrows its largest before the next inspection",
        _ahead(gap_outgrowing), _ADJUST, gap_normal=True, ahead=True,
    ),
    Family(
        "disc passes its least before the next inspection",
        _ahead(disc_spending), _REPLACE, gap_normal=True, ahead=True,
    ),
)  # fmt: skip

# Faults that have families of their own above.
_TAKEN = {"gap-too-large", "gap-at-limit"}
# What is right where the catalogue leaves it open: a reading to be repeated, a cure in passing.
_RIGHT = {"measured-live": _FIT, "seal-missing": _FIT, "oiled": _REFER, "spline-worn": _REFER}
# An open, isolated brake does not show what only the supply brings out: no case asks for it there.
_DEPTHS = dict.fromkeys(("measured-live", "sticks", "rectifier-half"), NOT_OPEN)


def _family_of(fault_id: str) -> Family:
    row = fault(fault_id)
    return Family(
        fault_id,
        _wedge if fault_id == "taper" else _faulty(fault_id),
        _RIGHT.get(fault_id, frozenset(row.right)),
        gap_normal=row.gap_looks_normal or fault_id == "measured-live",
        depths=_DEPTHS.get(fault_id, EVERY_DEPTH),
        faults=(fault_id,),
    )


# Two faults at once: the one that shows in the gap is not the one that counts, or both count.
_PAIRS: tuple[tuple[str, str, frozenset[Outcome]], ...] = (
    ("gap-too-large", "spring-broken", _REFER),
    ("gap-tilted", "glazed", _REPLACE),
    ("gap-too-large", "spline-worn", _REFER),
    ("seal-missing", "gap-too-large", _ADJUST),
    ("fan-missing", "gap-tilted", _ADJUST),
    ("lever-tight", "disc-spent-gap-set", _REPLACE),
    ("seal-missing", "coil-shorted-turns", _REFER),
    ("fan-missing", "springs-weak", _REFER),
)


def _pair(first: str, second: str, meant: frozenset[Outcome]) -> Family:
    normal = fault(first).gap_looks_normal and fault(second).gap_looks_normal
    draw = _faulty(first, second)
    return Family(f"{first} and {second}", draw, meant, gap_normal=normal, faults=(first, second))


FAMILIES: Mapping[str, Family] = {
    family.name: family
    for family in (
        *_MEASURED,
        *(_family_of(row.id) for row in FAULTS if row.id not in _TAKEN),
        *(_pair(*pair) for pair in _PAIRS),
        *_AHEAD,
        *AT_THE_HOIST,
        *WRONG_TOOLS,
        *BESIDE_THE_BRAKE,
        *WORN_TOO_FAST,
    )
}

# What a competent person finds a brake of each family to need; the grade does not read it.
MEANT: Mapping[str, frozenset[Outcome]] = {name: one.meant for name, one in FAMILIES.items()}

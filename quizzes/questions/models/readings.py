"""Models of questions on readings: round the rim, screws, uncertainty, scales, decisions."""

import math
from statistics import fmean

from widgets.brake.draws import Draws
from widgets.brake.gap.levelling import FLAT_DEG, levelling_turns, turn_for_change_deg
from widgets.brake.gap.profile import SCREW_ANGLES_DEG, Plane, fit_plane
from widgets.brake.gap.reversal import part_that_turns_with_the_disc
from widgets.brake.judgement.chance import guard_band, is_accepted
from widgets.brake.judgement.rules import Outcome, Reading, conclude
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.instruments.feeler.gap_reading import GapReading
from widgets.instruments.written import DISC_U_MM, GAP_U_MM

from .drawn import DrawAgainError, Drawn, Values, apart, collector, worn_disc_mm, worn_gap_mm

MODELS, model = collector()
PLACES_DEG = tuple(range(0, 360, 45))
DISC_PLACES_DEG = (0, 90, 180, 270)
COVERAGE = 2.0  # expanded over standard uncertainty, dimensionless


def _tilted(mean_mm: float, tilt_mm: float, toward_deg: float) -> Plane:
    turn = math.radians(toward_deg)
    return Plane(mean_mm, tilt_mm * math.cos(turn), tilt_mm * math.sin(turn))


def _gauged(plane: Plane, draws: Draws, warp_mm: float = 0.0) -> tuple[Reading, ...]:
    """Return readings at eight places, in steps of 0.01 mm."""
    warp_deg = draws.choice((0.0, 45.0), "warp")
    found = []
    for place in PLACES_DEG:
        gap_mm = plane.at_mm(place) + warp_mm * math.cos(math.radians(2 * (place - warp_deg)))
        seen_mm = gap_mm + 0.005 * draws.normal("hand", place)
        found.append(Reading(float(place), max(0.01, round(seen_mm, 2)), GAP_U_MM))
    return tuple(found)


def _toward_deg(drawn: Drawn) -> float:
    return float(drawn.draws.choice(PLACES_DEG, "toward"))


@model("gap_share", "tilt_share")
def round_the_rim(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return eight gap readings of a tilted body: mean, ends, spread, where it is widest."""
    size = drawn.size
    tilt_mm = drawn["tilt_share"] * size.gap.evenness_mm
    plane = _tilted(worn_gap_mm(drawn), tilt_mm, _toward_deg(drawn))
    gaps = _gauged(plane, drawn.draws)
    values = [reading.value_mm for reading in gaps]
    widest, narrowest = max(values), min(values)
    if values.count(widest) > 1 or values.count(narrowest) > 1:
        raise DrawAgainError("two places are as wide")
    mean_mm, spread_mm = fmean(values), widest - narrowest
    apart(mean_mm, (widest + narrowest) / 2 + spread_mm, least=0.011)
    apart(spread_mm, widest - mean_mm, values[0], least=0.011)
    apart(widest, mean_mm, values[0], least=0.011)
    return {
        "gaps": gaps,
        "mean_mm": mean_mm,
        "widest_mm": widest,
        "narrowest_mm": narrowest,
        "spread_mm": spread_mm,
        "half_spread_mm": widest - mean_mm,
        "first_mm": values[0],
        "widest_deg": gaps[values.index(widest)].angle_deg,
        "narrowest_deg": gaps[values.index(narrowest)].angle_deg,
        "listed": _listed(gaps),
    }


@model("gap_share", "tilt_share")
def levelling(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return turns of the three screws that make a tilted gap even and bring it to its setting."""
    size = drawn.size
    tilt_mm = drawn["tilt_share"] * size.gap.evenness_mm
    gaps = _gauged(_tilted(worn_gap_mm(drawn), tilt_mm, _toward_deg(drawn)), drawn.draws)
    fit = fit_plane([r.angle_deg for r in gaps], [r.value_mm for r in gaps], GAP_U_MM)
    screws = size.screws
    turns = levelling_turns(fit.plane, size.gap.setting_mm, screws.radius_ratio, screws.pitch_mm)
    in_deg = [-turn.turn_deg for turn in turns]
    equal_deg = turn_for_change_deg(fit.plane.mean_mm - size.gap.setting_mm, screws.pitch_mm)
    most = max(in_deg)
    number = in_deg.index(most) + 1
    if sorted(in_deg)[-2] > most - 12 or most <= 15:
        raise DrawAgainError("no screw stands out")
    apart(most, equal_deg, least=6)
    return {
        "gaps": gaps,
        "listed": _listed(gaps),
        "mean_mm": fit.plane.mean_mm,
        "most_screw": number,
        "most_screw_deg": SCREW_ANGLES_DEG[number - 1],
        "most_in_deg": most,
        "equal_in_deg": equal_deg,
        "most_in_mm": -turns[number - 1].change_mm,
        "most_flats": most / FLAT_DEG,
    }


@model("gap_share")
def even_turn(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return the turn, the same at each screw, that brings an even gap to its setting."""
    size, gap_mm = drawn.size, worn_gap_mm(drawn)
    change_mm = gap_mm - size.gap.setting_mm
    turn_deg = turn_for_change_deg(change_mm, size.screws.pitch_mm)
    whole_deg = turn_for_change_deg(gap_mm, size.screws.pitch_mm)
    apart(turn_deg, whole_deg, turn_deg / 3, least=6)
    return {
        "gap_mm": gap_mm,
        "change_mm": change_mm,
        "turn_deg": turn_deg,
        "whole_gap_deg": whole_deg,
        "third_deg": turn_deg / 3,
        "flats": turn_deg / FLAT_DEG,
        "flat_mm": size.screws.pitch_mm / 6,
        "quarter_mm": size.screws.pitch_mm / 4,
        "full_deg": 360,
    }


@model("go_mm", "step_mm")
def bracket(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return a gap between the leaf that goes and the one that does not."""
    go_mm, step_mm = drawn["go_mm"], drawn["step_mm"]
    reading = GapReading(go_mm, round(go_mm + step_mm, 3))
    expanded_mm = COVERAGE * reading.uncertainty_mm
    apart(expanded_mm, step_mm, least=0.004)
    return {
        "go_mm": go_mm,
        "no_go_mm": reading.no_go_mm,
        "step_mm": step_mm,
        "middle_mm": reading.middle_mm,
        "half_step_mm": step_mm / 2,
        "u_mm": reading.uncertainty_mm,
        "expanded_mm": expanded_mm,
    }


@model("inside_um", "u_mm")
def near_limit(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return a reading within its limit by less than its guard band."""
    size, u_mm = drawn.size, drawn["u_mm"]
    reading_mm = round(size.gap.max_mm - drawn["inside_um"] / 1000, 3)
    guard_mm = guard_band(u_mm / COVERAGE)
    if is_accepted(reading_mm, guard_mm, upper=size.gap.max_mm):
        raise DrawAgainError("the reading is clear of the limit")
    return {
        "reading_mm": reading_mm,
        "u_mm": u_mm,
        "guard_mm": guard_mm,
        "highest_ok_mm": size.gap.max_mm - guard_mm,
        "could_be_mm": reading_mm + u_mm,
        "plus_guard_mm": size.gap.max_mm + guard_mm,
    }


@model("body_um", "disc_um")
def reversal(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return two rounds of readings, the shaft turned by half between them."""
    body_mm, disc_mm = drawn["body_um"] / 1000, drawn["disc_um"] / 1000
    mean_mm = drawn.size.gap.setting_mm + 0.2
    first = Plane(mean_mm, body_mm + disc_mm)
    turned = Plane(mean_mm, body_mm - disc_mm)
    body, disc = part_that_turns_with_the_disc(first, turned)
    apart(abs(disc.cos_mm), abs(body.cos_mm), abs(first.cos_mm), least=0.012)
    return {
        "top_one_mm": first.at_mm(0),
        "bottom_one_mm": first.at_mm(180),
        "top_two_mm": turned.at_mm(0),
        "bottom_two_mm": turned.at_mm(180),
        "half_turn_deg": 180,
        "body_spread_mm": 2 * abs(body.cos_mm),
        "disc_spread_mm": 2 * abs(disc.cos_mm),
        "first_spread_mm": 2 * abs(first.cos_mm),
    }


@model("disc_share", "taper_mm")
def disc_places(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return four disc readings of a tapered disc: the thinnest counts, not the mean."""
    middle_mm, half_mm = worn_disc_mm(drawn), drawn["taper_mm"] / 2
    discs = _discs(middle_mm, half_mm, drawn.draws)
    values = [reading.value_mm for reading in discs]
    thinnest, mean_mm = min(values), fmean(values)
    apart(thinnest, mean_mm, values[0], least=0.03)
    return {
        "discs": discs,
        "listed_disc": _listed(discs),
        "thinnest_mm": thinnest,
        "mean_disc_mm": mean_mm,
        "thickest_mm": max(values),
        "first_disc_mm": values[0],
    }


@model("disc_share")
def disc_on_scale(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return a disc thickness between the jaws of a vernier caliper."""
    value_mm = worn_disc_mm(drawn)
    if abs(value_mm - round(value_mm)) < 0.04 or round(value_mm * 10) % 10 in {0, 9}:
        raise DrawAgainError("the vernier would stand at its zero")
    return {"value_mm": value_mm, "half_mm": value_mm / 2}


@model("leaf_mm")
def leaves_on_table(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return the thickness that a stack of leaves makes up."""
    return {"value_mm": round(drawn["leaf_mm"], 2)}


@model("rule_mm")
def length_on_rule(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return a length against a steel rule, in half millimetres."""
    value_mm = round(drawn["rule_mm"] * 2) / 2
    if value_mm == int(value_mm):
        raise DrawAgainError("a whole millimetre shows no mistake")
    return {"value_mm": value_mm}


@model("gap_share", "tilt_share", "warp_share", "disc_share", "wanted")
def brake_readings(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return gap and disc readings of a brake that needs what `wanted` says, beyond argument."""
    size = drawn.size
    plane = _tilted(
        worn_gap_mm(drawn), drawn["tilt_share"] * size.gap.evenness_mm / 2, _toward_deg(drawn)
    )
    warp_mm = drawn["warp_share"] * size.gap.evenness_mm / 2
    gaps = _gauged(plane, drawn.draws, warp_mm)
    discs = _discs(worn_disc_mm(drawn), 0.02, drawn.draws)
    found = conclude(size, gaps, discs)
    if found.outcome != Outcome(str(drawn.numbers["wanted"])) or found.arguable:
        raise DrawAgainError("another decision, or one that can be argued about")
    return {
        "gaps": gaps,
        "discs": discs,
        "listed": _listed(gaps),
        "reasons": " ".join(found.reasons),
    }


def _discs(middle_mm: float, half_mm: float, draws: Draws) -> tuple[Reading, ...]:
    thick_deg = draws.choice(DISC_PLACES_DEG, "thick")
    return tuple(
        Reading(
            float(place),
            round(middle_mm + half_mm * math.cos(math.radians(place - thick_deg)), 2),
            DISC_U_MM,
        )
        for place in DISC_PLACES_DEG
    )


def _listed(readings: tuple[Reading, ...]) -> str:
    return ", ".join(f"{reading.value_mm:.2f}" for reading in readings)


@model("lining_share")
def lining_on_scale(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return one lining between the jaws of a caliper, in tenths of a millimetre."""
    disc = drawn.size.disc
    worn_mm = drawn["lining_share"] * (disc.lining_new_mm - disc.lining_min_mm)
    value_mm = round(disc.lining_new_mm - worn_mm, 1)
    if round(value_mm * 10) % 10 in {0, 1, 9}:
        raise DrawAgainError("the vernier would stand next to its zero")
    return {"value_mm": value_mm, "double_mm": 2 * value_mm}


@model("zero_mm")
def closed_jaws(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return what a caliper shows with its jaws closed."""
    return {"value_mm": drawn["zero_mm"]}


@model("disc_share", "zero_mm")
def zero_error(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return a disc under a caliper that does not show zero with its jaws closed."""
    true_mm, zero_mm = worn_disc_mm(drawn), drawn["zero_mm"]
    return {
        "zero_mm": zero_mm,
        "shown_mm": true_mm + zero_mm,
        "true_mm": true_mm,
        "twice_mm": true_mm + 2 * zero_mm,
    }

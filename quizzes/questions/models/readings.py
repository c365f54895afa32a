"""Models of questions on readings: round the rim, screws, uncertainty, scales, decisions."""

import math
from statistics import fmean

from widgets.brake.draws import Draws
from widgets.brake.gap.levelling import FLAT_DEG, levelling_turns, turn_for_change_deg
from widgets.brake.gap.profile import SCREW_ANGLES_DEG, Plane, fit_plane
from widgets.brake.gap.reversal import part_that_turns_with_the_disc
from widgets.brake.judgement.chance import COVERAGE_FACTOR, ONE_SIDED_95, distance
from widgets.brake.judgement.rules import Outcome, Reading, conclude, tilt_spread_u_mm
from widgets.brake.judgement.words import sentences
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.feeler.gap_reading import GapReading
from widgets.instruments.written import DISC_U_MM, GAP_U_MM

from .drawn import DrawAgainError, Drawn, Values, apart, collector, worn_disc_mm, worn_gap_mm

MODELS, model = collector()
PLACES_DEG = tuple(range(0, 360, 45))
ALIKE_DEG, APART_DEG = 5.0, 10.0  # of a screw: within the doubt of a turn, and well beyond it
DISC_PLACES_DEG = (0, 90, 180, 270)


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
        "mean_mm": round(mean_mm, 3),
        "widest_mm": widest,
        "narrowest_mm": narrowest,
        "spread_mm": round(spread_mm, 2),
        "half_spread_mm": widest - mean_mm,
        "first_mm": values[0],
        "widest_deg": gaps[values.index(widest)].angle_deg,
        "opposite_deg": (gaps[values.index(widest)].angle_deg + 180) % 360,
        "narrowest_deg": gaps[values.index(narrowest)].angle_deg,
        "listed": _listed(gaps),
    }


@model("gap_share", "tilt_share")
def levelling(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return turns of the three screws that make a gap even and bring it to its setting.

    One screw stands out, `most_screw`; another, `asked_screw`, is asked about.
    Its verdict is `more`, `less` or `alike` beside an equal turn at all three.
    """
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
    asked = int(drawn.draws.choice((1, 2, 3), "asked"))
    if tilt_mm and (sorted(in_deg)[-2] > most - 12 or most <= 15):
        raise DrawAgainError("no screw stands out")
    return {
        "gaps": gaps,
        "listed": _listed(gaps),
        "mean_mm": fit.plane.mean_mm,
        "most_screw": number,
        "most_screw_deg": SCREW_ANGLES_DEG[number - 1],
        "most_in_deg": most,
        "equal_in_deg": equal_deg,
        "most_in_mm": -turns[number - 1].change_mm,
        "asked_screw": asked,
        "asked_screw_deg": SCREW_ANGLES_DEG[asked - 1],
        "asked_in_deg": in_deg[asked - 1],
        "verdict": _beside_equal(in_deg, asked, equal_deg),
    }


def _beside_equal(in_deg: list[float], asked: int, equal_deg: float) -> str:
    """Return how the turn of a screw stands to an equal turn at all three."""
    if max(abs(one - equal_deg) for one in in_deg) < ALIKE_DEG:
        return "alike"
    more = in_deg[asked - 1] - equal_deg
    return "more" if more > APART_DEG else "less" if more < -APART_DEG else "unclear"


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
        "change_mm": round(change_mm, 2),
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
    step_u_mm = round(step_mm / math.sqrt(12), 3)
    rest_u_mm = round(math.sqrt(reading.uncertainty_mm**2 - step_mm**2 / 12), 3)
    u_mm = math.hypot(step_u_mm, rest_u_mm)
    expanded_mm = COVERAGE_FACTOR * u_mm
    apart(expanded_mm, step_mm, u_mm, 2 * (step_u_mm + rest_u_mm), least=0.004)
    return {
        "go_mm": go_mm,
        "no_go_mm": reading.no_go_mm,
        "next_mm": round(go_mm + 2 * step_mm, 3),
        "step_mm": step_mm,
        "middle_mm": reading.middle_mm,
        "half_step_mm": step_mm / 2,
        "step_u_mm": step_u_mm,
        "rest_u_mm": rest_u_mm,
        "u_mm": u_mm,
        "expanded_mm": expanded_mm,
        "straight_sum_mm": 2 * (step_u_mm + rest_u_mm),
    }


@model("inside_um", "u_mm")
def near_limit(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return a reading near the largest gap, its expanded uncertainty, and the verdict.

    `clear` of the limit, `near` it, or `beyond` it. Between the one-sided 95 %
    and the expanded uncertainty either can be defended: nobody is asked there.
    """
    size, u_mm = drawn.size, drawn["u_mm"]
    reading_mm = round(size.gap.max_mm - drawn["inside_um"] / 1000, 2)
    inside = distance(reading_mm, u_mm / COVERAGE_FACTOR, upper=size.gap.max_mm)
    if is_arguable(inside):
        raise DrawAgainError("either decision can be defended")
    return {
        "reading_mm": reading_mm,
        "u_mm": u_mm,
        "could_be_mm": round(reading_mm + u_mm, 2),
        "at_least_mm": round(reading_mm - u_mm, 2),
        "inside_mm": round(abs(size.gap.max_mm - reading_mm), 2),
        "verdict": "near" if abs(inside) < ONE_SIDED_95 else "clear" if inside > 0 else "beyond",
    }


def is_arguable(inside: float) -> bool:
    """Return whether a distance to a limit, in standard uncertainties, bears either decision."""
    return ONE_SIDED_95 <= abs(inside) < COVERAGE_FACTOR + 1e-6


@model("body_um", "disc_um")
def reversal(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return two rounds of readings, the shaft turned by half between them, and what is uneven.

    The verdict is `disc` for what turns with the shaft, `body` for what stays,
    `both` if neither is small beside the other.
    """
    body_mm, disc_mm = drawn["body_um"] / 1000, drawn["disc_um"] / 1000
    mean_mm = round(drawn.size.gap.setting_mm + 0.2, 2)
    first = Plane(mean_mm, body_mm + disc_mm)
    turned = Plane(mean_mm, body_mm - disc_mm)
    body, disc = part_that_turns_with_the_disc(first, turned)
    body_spread_mm, disc_spread_mm = 2 * abs(body.cos_mm), 2 * abs(disc.cos_mm)
    apart(disc_spread_mm, body_spread_mm, body_spread_mm + disc_spread_mm, least=0.012)
    return {
        "top_one_mm": round(first.at_mm(0), 2),
        "bottom_one_mm": round(first.at_mm(180), 2),
        "top_two_mm": round(turned.at_mm(0), 2),
        "bottom_two_mm": round(turned.at_mm(180), 2),
        "half_turn_deg": 180,
        "body_spread_mm": round(body_spread_mm, 2),
        "disc_spread_mm": round(disc_spread_mm, 2),
        "first_spread_mm": round(2 * abs(first.cos_mm), 2),
        "verdict": _uneven(body_spread_mm, disc_spread_mm),
    }


def _uneven(body_mm: float, disc_mm: float) -> str:
    if disc_mm > 3 * body_mm:
        return "disc"
    return "body" if body_mm > 3 * disc_mm else "both"


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
        "mean_disc_mm": round(mean_mm, 3),
        "thickest_mm": max(values),
        "first_disc_mm": values[0],
    }


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
    if any(is_arguable(inside) for inside in _distances(size, gaps, discs)):
        raise DrawAgainError("either decision can be defended")
    if found.outcome != Outcome(str(drawn.numbers["wanted"])) or found.arguable:
        raise DrawAgainError("another decision, or one that can be argued about")
    return {
        "gaps": gaps,
        "discs": discs,
        "listed": _listed(gaps),
        "outcome": found.outcome.value,
        "reasons": " ".join(sentences(found.reasons)),
    }


def _distances(
    size: BrakeSize, gaps: tuple[Reading, ...], discs: tuple[Reading, ...]
) -> tuple[float, float, float]:
    """Return how far widest gap, tilt and thinnest disc are inside, in standard uncertainties."""
    fit = fit_plane([r.angle_deg for r in gaps], [r.value_mm for r in gaps], GAP_U_MM)
    return (
        distance(max(r.value_mm for r in gaps), GAP_U_MM, upper=size.gap.max_mm),
        distance(2 * fit.plane.tilt_mm, tilt_spread_u_mm(fit), upper=size.gap.evenness_mm),
        distance(min(r.value_mm for r in discs), DISC_U_MM, lower=size.disc.min_mm),
    )


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

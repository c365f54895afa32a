"""Models of questions on wear and a new disc: lining left, the record, the next inspection."""

import datetime as dt

from widgets.brake.gap.levelling import turn_for_change_deg
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.brake.torque.clamping import clamping_force_n
from widgets.brake.wear.duty import RULE_FACTOR, next_inspection, rule_of_thumb_days
from widgets.brake.wear.growth import (
    RECORD_TOLERANCE_MM,
    Visit,
    adjustments_left,
    check_record,
    recorded_growth_mm,
    stops_until,
)

from .drawn import DrawAgainError, Drawn, Values, apart, collector, worn_disc_mm, worn_gap_mm

MODELS, model = collector()
SAME_DISC_MM = 0.06  # what a caliper may be off, common practice: expanded uncertainty, k = 2
CLEAR_GAP_MM, CLEAR_DISC_MM = 0.04, 0.08  # nearer to a limit than this a forecast decides nothing


@model("disc_share")
def lining_left(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return one lining's thickness from that of the disc: both linings wear."""
    disc, disc_mm = drawn.size.disc, worn_disc_mm(drawn)
    new_mm, lining_new_mm = round(disc.new_mm, 2), round(disc.lining_new_mm, 2)
    worn_mm = round(new_mm - disc_mm, 2)
    lining_mm = round(lining_new_mm - worn_mm / 2, 3)
    one_side_mm = lining_new_mm - worn_mm
    apart(lining_mm, one_side_mm, least=0.12)
    if one_side_mm < 0:
        raise DrawAgainError("nothing would be left of the lining by the wrong way")
    return {
        "disc_mm": disc_mm,
        "disc_new_mm": new_mm,
        "lining_new_mm": lining_new_mm,
        "worn_mm": worn_mm,
        "half_worn_mm": worn_mm / 2,
        "lining_mm": lining_mm,
        "one_side_mm": one_side_mm,
        "both_mm": 2 * lining_mm,
    }


@model("gap_share", "growth_share", "disc_share")
def till_next(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return gap and disc as they will be at the next inspection, and what that asks for today.

    The verdict follows from the numbers as they are printed: `replace` if the
    disc passes its least till then, else `adjust` if the gap outgrows its
    largest, else `fit`.
    """
    size, disc_mm, gap_mm = drawn.size, worn_disc_mm(drawn), worn_gap_mm(drawn)
    growth_mm = round(drawn["growth_share"] * (size.gap.max_mm - size.gap.setting_mm), 2)
    gap_then_mm, disc_then_mm = round(gap_mm + growth_mm, 2), round(disc_mm - growth_mm, 2)
    apart(size.gap.max_mm, gap_then_mm, gap_mm, least=CLEAR_GAP_MM)
    apart(size.disc.min_mm, disc_then_mm, disc_mm, least=CLEAR_DISC_MM)
    if growth_mm < 0.04 or gap_mm > size.gap.max_mm or disc_mm < size.disc.min_mm:
        raise DrawAgainError("nothing grows, or today decides already")
    wide, worn = gap_then_mm > size.gap.max_mm, disc_then_mm < size.disc.min_mm
    return {
        "gap_mm": gap_mm,
        "disc_mm": disc_mm,
        "growth_mm": growth_mm,
        "gap_then_mm": gap_then_mm,
        "disc_then_mm": disc_then_mm,
        "verdict": "replace" if worn else "adjust" if wide else "fit",
    }


@model("disc_share")
def runs_left(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return how many runs from setting to largest gap the disc still has in it."""
    size, disc_mm = drawn.size, worn_disc_mm(drawn)
    spare_mm = round(disc_mm - size.disc.min_mm, 2)
    run_mm = round(size.gap.max_mm - size.gap.setting_mm, 2)
    runs = adjustments_left(disc_mm, size.disc.min_mm, size.gap.setting_mm, size.gap.max_mm)
    wrong = (disc_mm - size.disc.min_mm) / size.gap.max_mm
    apart(runs, wrong, least=0.12)
    return {
        "disc_mm": disc_mm,
        "spare_mm": spare_mm,
        "run_mm": run_mm,
        "runs": runs,
        "runs_by_max": wrong,
        "runs_from_new": adjustments_left(
            size.disc.new_mm, size.disc.min_mm, size.gap.setting_mm, size.gap.max_mm
        ),
    }


@model("gap_share", "growth_um", "stops_per_day", "u_mm")
def days_left(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return days to the next inspection by the growth of the gap."""
    size, gap_mm = drawn.size, worn_gap_mm(drawn)
    growth_mm, per_day, u_mm = drawn["growth_um"] / 1000, drawn["stops_per_day"], drawn["u_mm"]
    if gap_mm + u_mm >= size.gap.max_mm:
        raise DrawAgainError("the gap has no room left")
    stops = stops_until(gap_mm + u_mm, size.gap.max_mm, growth_mm)
    days = rule_of_thumb_days(stops, per_day)
    all_days = rule_of_thumb_days(stops, per_day, factor=1.0)
    no_u = rule_of_thumb_days(stops_until(gap_mm, size.gap.max_mm, growth_mm), per_day)
    code = next_inspection(days, dt.date(2000, 1, 1), confidence=0.95).days
    if code != int(days):
        raise DrawAgainError("the code interval is shorter")
    apart(days, all_days, no_u, least=2.5)
    return {
        "gap_mm": gap_mm,
        "u_mm": u_mm,
        "growth_um": drawn["growth_um"],
        "stops_per_day": per_day,
        "factor": RULE_FACTOR,
        "stops": stops,
        "days": days,
        "all_days": all_days,
        "no_u_days": no_u,
    }


@model("gap_share", "then_share", "days_between")
def growth_rate(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return days until the largest gap, from two readings some days apart."""
    gap, now_mm = drawn.size.gap, worn_gap_mm(drawn)
    then_mm = round(gap.setting_mm + drawn["then_share"] * (gap.max_mm - gap.setting_mm), 2)
    between = drawn["days_between"]
    if now_mm - then_mm < 0.04 or gap.max_mm - now_mm < 0.04:
        raise DrawAgainError("too little growth or room to calculate with")
    days = stops_until(now_mm, gap.max_mm, (now_mm - then_mm) / between)
    from_setting = gap.max_mm - then_mm
    all_days = from_setting / ((now_mm - then_mm) / between)
    apart(days, all_days, between, least=0.12 * days)
    return {
        "then_mm": then_mm,
        "now_mm": now_mm,
        "days_between": between,
        "grown_mm": now_mm - then_mm,
        "room_mm": gap.max_mm - now_mm,
        "days": days,
        "from_then_days": all_days,
    }


@model("found_one_share", "found_two_share", "mismatch_mm")
def record_check(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return what thickness the record leads one to expect, beside the measured one."""
    size = drawn.size
    room_mm = size.gap.max_mm - size.gap.setting_mm
    one_mm, two_mm = (
        round(size.gap.setting_mm + drawn[name] * room_mm, 2)
        for name in ("found_one_share", "found_two_share")
    )
    left_mm = size.gap.setting_mm
    visits = [Visit(one_mm, left_mm), Visit(two_mm, left_mm)]
    growth_mm = round(recorded_growth_mm(left_mm, visits), 2)
    measured_mm = round(size.disc.new_mm - growth_mm + drawn["mismatch_mm"], 2)
    check = check_record(size.disc.new_mm, measured_mm, growth_mm)
    twice_mm = size.disc.new_mm - 2 * growth_mm
    last_mm = size.disc.new_mm - (two_mm - left_mm)
    apart(check.expected_mm, twice_mm, last_mm, least=0.06)
    return {
        "found_one_mm": one_mm,
        "found_two_mm": two_mm,
        "growth_mm": growth_mm,
        "expected_mm": check.expected_mm,
        "measured_mm": measured_mm,
        "twice_mm": twice_mm,
        "last_only_mm": last_mm,
        "tolerance_mm": RECORD_TOLERANCE_MM,
        "mismatch_mm": abs(check.mismatch_mm),
        "verdict": "agrees" if check.agrees else "off",
    }


@model("gap_share", "disc_share")
def new_disc(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return how far the hollow screws come out for a new disc, and the gap if nobody does it."""
    size, gap_mm, disc_mm = drawn.size, worn_gap_mm(drawn), worn_disc_mm(drawn)
    thicker_mm = round(size.disc.new_mm - disc_mm, 2)
    out_mm = round(size.gap.setting_mm - gap_mm + thicker_mm, 2)
    apart(out_mm, thicker_mm, thicker_mm + size.gap.setting_mm, least=0.05)
    out_deg = turn_for_change_deg(out_mm, size.screws.pitch_mm)
    if out_mm < 0.2:
        raise DrawAgainError("the old disc is nearly as thick")
    return {
        "gap_mm": gap_mm,
        "disc_mm": disc_mm,
        "thicker_mm": thicker_mm,
        "out_mm": out_mm,
        "out_deg": out_deg,
        "out_turns": out_deg / 360,
        "setting_more_mm": thicker_mm + size.gap.setting_mm,
    }


@model("shift_mm")
def locking(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return the turn that brings back a gap found too small after locking."""
    size, shift_mm = drawn.size, drawn["shift_mm"]
    if size.gap.setting_mm - shift_mm < 0.05:
        raise DrawAgainError("next to nothing would be left of the gap")
    out_deg = turn_for_change_deg(shift_mm, size.screws.pitch_mm)
    return {
        "shift_mm": shift_mm,
        "locked_mm": round(size.gap.setting_mm - shift_mm, 2),
        "full_deg": 360,
        "out_deg": out_deg,
        "third_deg": out_deg / 3,
        "triple_deg": out_deg * 3,
    }


@model()
def plate_left_out(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return the gap of a brake whose wear plate was left out, the screws as they were."""
    size = drawn.size
    if size.wear_plate_mm < size.gap.max_mm:
        raise DrawAgainError("the plate is thinner than the largest gap")
    return {
        "plate_mm": size.wear_plate_mm,
        "without_mm": size.gap.setting_mm + size.wear_plate_mm,
        "less_mm": size.wear_plate_mm - size.gap.setting_mm,
    }


@model("short_mm")
def odd_disc(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return what a new disc measures beside what its sheet says, and whether it is that disc."""
    disc, short_mm = drawn.size.disc, drawn["short_mm"]
    if short_mm > 0.8 * (disc.new_mm - disc.min_mm):
        raise DrawAgainError("a disc so thin is not a new one at sight")
    if SAME_DISC_MM < abs(short_mm) < 0.2:
        raise DrawAgainError("neither clearly this disc nor clearly another")
    return {
        "short_mm": short_mm,
        "good_to_mm": SAME_DISC_MM,
        "shown_mm": round(disc.new_mm - short_mm, 2),
        "spare_mm": disc.new_mm - short_mm - disc.min_mm,
        "verdict": "right"
        if abs(short_mm) <= SAME_DISC_MM
        else "thin"
        if short_mm > 0
        else "thick",
    }


@model("gap_share", "play_share")
def lever_play(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return what springs push once wear has used up the play of the hand release.

    The verdict is `free` while play is left till the largest gap, `later` if
    it is used up before that, `touches` if it is used up now.
    """
    size, gap_mm = drawn.size, worn_gap_mm(drawn)
    setting_mm = size.gap.setting_mm
    needed_mm = round(size.gap.max_mm - setting_mm, 2)
    growth_mm = round(gap_mm - setting_mm, 2)
    play_mm = round(drawn["play_share"] * needed_mm, 2)
    apart(play_mm, growth_mm, needed_mm, least=0.03)
    over_mm = round(growth_mm - play_mm, 2)
    free_n = round(clamping_force_n(gap_mm, size.springs, setting_mm))
    held_n = clamping_force_n(gap_mm, size.springs, setting_mm, release_lever_play_mm=play_mm)
    if held_n < 0.15 * free_n:
        raise DrawAgainError("the lever carries nearly all of it")
    return {
        "gap_mm": gap_mm,
        "growth_mm": growth_mm,
        "play_mm": play_mm,
        "over_mm": over_mm,
        "needed_play_mm": needed_mm,
        "left_play_mm": -over_mm,
        "left_growth_mm": round(needed_mm - growth_mm, 2),
        "free_n": free_n,
        "held_n": held_n,
        "taken_n": free_n - held_n,
        "taken_percent": 100 * (1 - held_n / free_n),
        "verdict": "touches" if over_mm > 0 else "free" if play_mm > needed_mm else "later",
    }


@model("gap_share")
def set_gap(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return a gap and where it lies: `tight`, `fine`, or `wide` by a quarter of the largest."""
    gap, gap_mm = drawn.size.gap, worn_gap_mm(drawn)
    if gap_mm < 0.02:
        raise DrawAgainError("there is no gap left")
    tight, fine = gap_mm < gap.min_mm - 0.02, gap.min_mm + 0.02 < gap_mm < gap.max_mm - 0.03
    verdict = "tight" if tight else "fine" if fine else "wide"
    if verdict == "wide" and gap_mm < 1.25 * gap.max_mm:
        raise DrawAgainError("neither fine nor clearly wide")
    return {"gap_mm": gap_mm, "verdict": verdict}

"""Models of questions on springs, torque, stops, rows of the sheet and screws that are slack."""

from widgets.brake.sizes.sheet import LimitsSheet
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.torque.braking import braking_torque_nm, holding_ratio, torque_at_gap_nm
from widgets.brake.torque.clamping import clamping_force_n, spring_energy_j
from widgets.brake.torque.friction import uniform_wear_radius_mm
from widgets.brake.torque.load import load_torque_nm
from widgets.brake.torque.stopping import closed_form_stop, stop_case

from .drawn import DrawAgainError, Drawn, Values, apart, collector, digits, worn_gap_mm

MODELS, model = collector()
FAR_MM = 0.09  # mm between the largest gaps of two rows, so that a reading fits between them
STANDARD_GRAVITY_M_PER_S2 = 9.80665  # m/s², ISO 80000-3
PITCH_MM = {  # of coarse threads, ISO 261
    "M4": 0.7, "M5": 0.8, "M6": 1.0, "M8": 1.25, "M10": 1.5, "M12": 1.75, "M16": 2.0, "M20": 2.5,
}  # fmt: skip


def _load_nm(size: BrakeSize) -> float:
    hoist = size.hoist
    return digits(load_torque_nm(hoist.load_kg, hoist.speed_m_per_min, hoist.motor_rpm))


@model("gap_share")
def clamping(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return force and torque at a worn gap, beside those at the setting."""
    size, gap_mm = drawn.size, worn_gap_mm(drawn)
    each_n = round(size.springs.force_each_n, 1)
    rate_n = round(size.springs.rate_each_n_per_mm, 1)
    growth_mm = round(gap_mm - size.gap.setting_mm, 2)
    new_n = round(size.springs.count * each_n)
    force_n = round(size.springs.count * (each_n - rate_n * growth_mm))
    radius_mm = round(
        uniform_wear_radius_mm(size.lining.inner_radius_mm, size.lining.outer_radius_mm), 1
    )
    torque_nm = digits(braking_torque_nm(force_n, size.lining.friction, radius_mm))
    apart(force_n, new_n, round(new_n - rate_n * growth_mm), least=0.02 * force_n)
    return {
        "gap_mm": gap_mm,
        "growth_mm": growth_mm,
        "spring_force_each_n": each_n,
        "spring_rate_each_n_per_mm": rate_n,
        "left_each_n": round(each_n - rate_n * growth_mm, 3),
        "force_n": force_n,
        "force_new_n": new_n,
        "force_up_n": 2 * new_n - force_n,
        "force_one_rate_n": round(new_n - rate_n * growth_mm),
        "faces": size.lining.faces,
        "per_metre_mm": 1000,
        "radius_mm": radius_mm,
        "torque_nm": torque_nm,
        "torque_one_face_nm": torque_nm / size.lining.faces,
        "torque_diameter_nm": braking_torque_nm(force_n, size.lining.friction, 2 * radius_mm),
    }


@model()
def broken_spring(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return torque with one spring gone and the gap at its setting."""
    size = drawn.size
    if size.springs.count < 3:
        raise DrawAgainError("of one or two springs too few are left to ask about")
    whole_nm = torque_at_gap_nm(size, size.gap.setting_mm)
    broken_nm = torque_at_gap_nm(size, size.gap.setting_mm, intact=size.springs.count - 1)
    loss_percent = 100 * (1 - broken_nm / whole_nm)
    return {
        "left_springs": size.springs.count - 1,
        "loss_percent": loss_percent,
        "none_percent": 0.0,
        "half_percent": 50.0,
        "all_percent": 100.0,
    }


@model("friction_low")
def oiled_lining(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return torque of a lining that oil has reached, and what the load asks."""
    size, low = drawn.size, round(drawn["friction_low"], 2)
    dry_nm = digits(torque_at_gap_nm(size, size.gap.setting_mm))
    oiled_nm = digits(dry_nm * low / size.lining.friction)
    load_nm = _load_nm(size)
    return {
        "friction_low": low,
        "dry_nm": dry_nm,
        "oiled_nm": oiled_nm,
        "load_nm": load_nm,
        "oiled_ratio": holding_ratio(oiled_nm, load_nm),
        "left_percent": 100 * oiled_nm / dry_nm,
    }


@model("gap_share")
def load_ratio(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return how many times the brake could hold its rated load, at a worn gap."""
    size, gap_mm = drawn.size, worn_gap_mm(drawn)
    load_nm = _load_nm(size)
    torque_nm = digits(torque_at_gap_nm(size, gap_mm))
    ratio = holding_ratio(torque_nm, load_nm)
    apart(ratio, 1 / ratio, torque_nm - load_nm, least=0.1)
    return {
        "gap_mm": gap_mm,
        "torque_nm": torque_nm,
        "load_nm": load_nm,
        "ratio": round(ratio, 2),
        "inverse_ratio": 1 / ratio,
        "difference_nm": torque_nm - load_nm,
    }


@model("delay_ms", "delay_long_ms")
def stopping(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return how far a lowered load goes after the stop, for a short and a long delay."""
    size = drawn.size
    torque_nm = torque_at_gap_nm(size, size.gap.setting_mm)
    short = closed_form_stop(stop_case(size.hoist, torque_nm, drawn["delay_ms"]))
    long = closed_form_stop(stop_case(size.hoist, torque_nm, drawn["delay_long_ms"]))
    if not (short.held and long.held):
        raise DrawAgainError("the brake does not hold this load")
    speed_mm_per_s = round(size.hoist.speed_m_per_min * 1000 / 60)
    more_ms = drawn["delay_long_ms"] - drawn["delay_ms"]
    at_speed_mm = speed_mm_per_s * more_ms / 1000
    apart(at_speed_mm, long.travel_mm - short.travel_mm, least=0.08 * at_speed_mm)
    return {
        "delay_ms": drawn["delay_ms"],
        "delay_long_ms": drawn["delay_long_ms"],
        "travel_mm": short.travel_mm,
        "travel_long_mm": long.travel_mm,
        "speed_mm_per_s": speed_mm_per_s,
        "more_ms": more_ms,
        "per_second_ms": 1000,
        "at_speed_mm": at_speed_mm,
        "long_delay_mm": speed_mm_per_s * drawn["delay_long_ms"] / 1000,
        "more_mm": long.travel_mm - short.travel_mm,
    }


@model("between_share")
def two_rows(drawn: Drawn, sheet: LimitsSheet) -> Values:
    """Return a reading between the largest gaps of two rows, and its verdict by the plate's row.

    The plate names one of the two; the reading is `within` or `beyond` that one's limit.
    """
    own = drawn.size
    others = [one for one in sheet.sizes if abs(one.gap.max_mm - own.gap.max_mm) > FAR_MM]
    if not others:
        raise DrawAgainError("the sheet has no other row to be taken by mistake")
    other = drawn.draws.choice(others, "other")
    plate = drawn.draws.choice((own, other), "plate")
    low_mm, high_mm = sorted((own.gap.max_mm, other.gap.max_mm))
    reading_mm = round(low_mm + drawn["between_share"] * (high_mm - low_mm), 2)
    apart(reading_mm, low_mm, high_mm, least=0.04)
    return {
        "other_size": other.name,
        "other_gap_max_mm": other.gap.max_mm,
        "reading_mm": reading_mm,
        "plate_size": plate.name,
        "verdict": "beyond" if reading_mm > plate.gap.max_mm else "within",
    }


@model()
def row(_: Drawn, __: LimitsSheet) -> Values:
    """Return nothing of its own: the row of the sheet is there without it."""
    return {}


@model("turn_share")
def slack_screws(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return how far the springs may lift the body when the retaining screws are slackened."""
    size, share = drawn.size, drawn["turn_share"]
    thread = size.screws.retaining_thread
    if thread not in PITCH_MM:
        raise DrawAgainError("the sheet does not name the thread of the retaining screws")
    pitch_mm = PITCH_MM[thread]
    return {
        "thread": thread,
        "retaining_pitch_mm": pitch_mm,
        "turn_share": share,
        "lift_mm": share * pitch_mm,
        "hollow_lift_mm": share * size.screws.pitch_mm,
        "tenth_mm": share * pitch_mm / 10,
        "none_mm": 0.0,
        "shown_mm": size.gap.setting_mm + share * pitch_mm,
    }


@model()
def spring_push(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return what the springs push and hold while the magnet body is still screwed on."""
    size = drawn.size
    setting_mm = size.gap.setting_mm
    force_n = round(clamping_force_n(setting_mm, size.springs, setting_mm))
    return {
        "force_n": force_n,
        "newton_per_kg": STANDARD_GRAVITY_M_PER_S2,
        "hangs_kg": force_n / STANDARD_GRAVITY_M_PER_S2,
        "each_kg": size.springs.force_each_n / STANDARD_GRAVITY_M_PER_S2,
        "energy_j": spring_energy_j(setting_mm, size.springs, setting_mm),
    }


@model("ordered_percent", "ready_percent")
def load_test(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return the load that a test order asks for, the one that is ready, and the verdict."""
    load_kg = digits(drawn.size.hoist.load_kg)
    ordered_kg = digits(load_kg * drawn["ordered_percent"] / 100)
    ready_kg = digits(ordered_kg * drawn["ready_percent"] / 100, 4)
    if load_kg >= 10_000 or 0 < abs(ready_kg - ordered_kg) < 0.05 * ordered_kg:
        raise DrawAgainError("the load is neither the one ordered nor clearly another")
    return {
        "ordered_percent": drawn["ordered_percent"],
        "ordered_kg": ordered_kg,
        "ready_kg": ready_kg,
        "verdict": "more"
        if ready_kg > ordered_kg
        else "less"
        if ready_kg < ordered_kg
        else "as ordered",
    }

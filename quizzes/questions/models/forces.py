"""Models of questions on springs, torque, release and the coil."""

from widgets.brake.behaviour import HOT_COIL_C, LOW_SUPPLY
from widgets.brake.magnet.coil import (
    Rectifier,
    coil_current_a,
    coil_resistance_ohm,
    rectified_voltage_v,
    release_limit_ratio,
    release_voltage_at_v,
    temperature_from_resistance_c,
)
from widgets.brake.magnet.release import release_voltage_v
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.brake.torque.braking import braking_torque_nm, holding_ratio, torque_at_gap_nm
from widgets.brake.torque.clamping import clamping_force_n, spring_energy_j
from widgets.brake.torque.friction import uniform_wear_radius_mm
from widgets.brake.torque.load import load_torque_nm
from widgets.brake.torque.stopping import closed_form_stop, stop_case

from .drawn import DrawAgainError, Drawn, Values, apart, collector, worn_gap_mm

MODELS, model = collector()
COLD_C = 20.0  # °C, at which sheets give the coil's resistance
STANDARD_GRAVITY_M_PER_S2 = 9.80665  # m/s², ISO 80000-3
STATIC_TEST_PERCENT, DYNAMIC_TEST_PERCENT = 125, 110  # of the rated load, ISO 4310, from memory


@model("gap_share")
def clamping(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return force and torque at a worn gap, beside those at the setting."""
    size, gap_mm = drawn.size, worn_gap_mm(drawn)
    force_n = clamping_force_n(gap_mm, size.springs, size.gap.setting_mm)
    new_n = clamping_force_n(size.gap.setting_mm, size.springs, size.gap.setting_mm)
    radius_mm = uniform_wear_radius_mm(size.lining.inner_radius_mm, size.lining.outer_radius_mm)
    torque_nm = torque_at_gap_nm(size, gap_mm)
    new_nm = torque_at_gap_nm(size, size.gap.setting_mm)
    apart(force_n, new_n, least=0.02 * force_n)
    return {
        "gap_mm": gap_mm,
        "growth_mm": gap_mm - size.gap.setting_mm,
        "force_n": force_n,
        "force_new_n": new_n,
        "force_up_n": 2 * new_n - force_n,
        "force_one_rate_n": new_n
        - size.springs.rate_each_n_per_mm * (gap_mm - size.gap.setting_mm),
        "radius_mm": radius_mm,
        "torque_nm": torque_nm,
        "torque_new_nm": new_nm,
        "torque_one_face_nm": torque_nm / size.lining.faces,
        "torque_diameter_nm": braking_torque_nm(force_n, size.lining.friction, 2 * radius_mm),
        "loss_percent": 100 * (1 - torque_nm / new_nm),
    }


@model()
def broken_spring(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return torque with one spring gone and the gap at its setting."""
    size = drawn.size
    if size.springs.count < 2:
        raise DrawAgainError("a brake with one spring has none left")
    whole_nm = torque_at_gap_nm(size, size.gap.setting_mm)
    broken_nm = torque_at_gap_nm(size, size.gap.setting_mm, intact=size.springs.count - 1)
    loss_percent = 100 * (1 - broken_nm / whole_nm)
    return {
        "whole_nm": whole_nm,
        "broken_nm": broken_nm,
        "left_springs": size.springs.count - 1,
        "loss_percent": loss_percent,
        "none_percent": 0.0,
        "half_percent": 50.0,
        "all_percent": 100.0,
    }


@model("friction_low")
def oiled_lining(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return torque of a lining that oil has reached, and what the load asks."""
    size = drawn.size
    dry_nm = torque_at_gap_nm(size, size.gap.setting_mm)
    oiled_nm = torque_at_gap_nm(size, size.gap.setting_mm, friction=drawn["friction_low"])
    load_nm = load_torque_nm(size.hoist.load_kg, size.hoist.speed_m_per_min, size.hoist.motor_rpm)
    return {
        "friction_low": drawn["friction_low"],
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
    load_nm = load_torque_nm(size.hoist.load_kg, size.hoist.speed_m_per_min, size.hoist.motor_rpm)
    torque_nm = torque_at_gap_nm(size, gap_mm)
    ratio = holding_ratio(torque_nm, load_nm)
    apart(ratio, 1 / ratio, torque_nm - load_nm, least=0.1)
    return {
        "gap_mm": gap_mm,
        "torque_nm": torque_nm,
        "load_nm": load_nm,
        "ratio": ratio,
        "inverse_ratio": 1 / ratio,
        "difference_nm": torque_nm - load_nm,
    }


@model("gap_share")
def release_voltage(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return release voltage, cold and hot, at a gap; what low mains still give."""
    size, gap_mm = drawn.size, worn_gap_mm(drawn)
    force_n = clamping_force_n(gap_mm, size.springs, size.gap.setting_mm)
    cold_v = release_voltage_v(gap_mm, force_n, size.magnet, size.coil, COLD_C)
    hot_v = release_voltage_v(gap_mm, force_n, size.magnet, size.coil, HOT_COIL_C)
    apart(hot_v, cold_v, least=0.05 * hot_v)
    return {
        "gap_mm": gap_mm,
        "cold_c": COLD_C,
        "hot_c": HOT_COIL_C,
        "cold_v": cold_v,
        "hot_v": hot_v,
        "low_mains_v": LOW_SUPPLY * size.coil.voltage_v,
        "low_percent": 100 * LOW_SUPPLY,
        "share_percent": 100 * hot_v / size.coil.voltage_v,
    }


@model("gap_share")
def stays_shut(drawn: Drawn, sheet: LimitsSheet) -> Values:
    """Return release voltages of a gap so wide that a hot brake stays shut on low mains."""
    values = release_voltage(drawn, sheet)
    hot_v, low_v, cold_v = (float(str(values[n])) for n in ("hot_v", "low_mains_v", "cold_v"))
    if not cold_v < 0.97 * low_v < 0.97 * hot_v:
        raise DrawAgainError("it opens hot, or not even cold")
    return values


@model("share_percent", "coil_c")
def hot_release(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return a release voltage measured on a cold coil, carried over to the hot one."""
    size, at_c = drawn.size, drawn["coil_c"]
    measured_v = round(drawn["share_percent"] / 100 * size.coil.voltage_v, 1)
    hot_v = release_voltage_at_v(measured_v, at_c, HOT_COIL_C)
    apart(hot_v, measured_v, least=0.06 * hot_v)
    limit_share = release_limit_ratio(at_c, LOW_SUPPLY, HOT_COIL_C)
    return {
        "coil_c": at_c,
        "hot_c": HOT_COIL_C,
        "measured_v": measured_v,
        "hot_v": hot_v,
        "inverse_v": measured_v**2 / hot_v,
        "limit_v": limit_share * size.coil.voltage_v,
        "low_mains_v": LOW_SUPPLY * size.coil.voltage_v,
        "low_percent": 100 * LOW_SUPPLY,
    }


@model("coil_c")
def coil_hot(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return resistance and current of the hot coil."""
    coil, hot_c = drawn.size.coil, drawn["coil_c"]
    hot_ohm = coil_resistance_ohm(coil, hot_c)
    apart(hot_ohm, coil.resistance_20_ohm, least=0.06 * hot_ohm)
    return {
        "coil_c": hot_c,
        "cold_c": COLD_C,
        "hot_ohm": hot_ohm,
        "inverse_ohm": coil.resistance_20_ohm**2 / hot_ohm,
        "cold_a": coil_current_a(coil),
        "hot_a": coil_current_a(coil, temperature_c=hot_c),
        "more_percent": 100 * (hot_ohm / coil.resistance_20_ohm - 1),
        "current_less_percent": 100 * (1 - coil.resistance_20_ohm / hot_ohm),
    }


@model("coil_c")
def coil_temperature(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return how warm a coil is, from its resistance."""
    coil = drawn.size.coil
    digits = 2 if coil.resistance_20_ohm < 100 else 1
    measured_ohm = round(coil_resistance_ohm(coil, drawn["coil_c"]), digits)
    found_c = temperature_from_resistance_c(measured_ohm, coil.resistance_20_ohm)
    rise_k = found_c - COLD_C
    apart(found_c, rise_k, least=6)
    return {
        "cold_c": COLD_C,
        "measured_ohm": measured_ohm,
        "found_c": found_c,
        "rise_k": rise_k,
        "percent_as_c": 100 * (measured_ohm / coil.resistance_20_ohm - 1),
    }


@model("supply_v")
def rectifier(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return voltages behind a bridge, a half-wave rectifier, a bridge with one diode open."""
    supply_v = drawn["supply_v"]
    return {
        "supply_v": supply_v,
        "bridge_v": rectified_voltage_v(supply_v),
        "half_wave_v": rectified_voltage_v(supply_v, Rectifier.HALF_WAVE),
        "open_diode_v": rectified_voltage_v(supply_v, diode_open=True),
        "peak_v": supply_v * 2**0.5,
    }


@model("delay_ms", "delay_long_ms")
def stopping(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return the travel of a lowered load after the stop, for a short and a long delay."""
    size = drawn.size
    torque_nm = torque_at_gap_nm(size, size.gap.setting_mm)
    short = closed_form_stop(stop_case(size.hoist, torque_nm, drawn["delay_ms"]))
    long = closed_form_stop(stop_case(size.hoist, torque_nm, drawn["delay_long_ms"]))
    if not (short.held and long.held):
        raise DrawAgainError("the brake does not hold this load")
    ratio = drawn["delay_long_ms"] / drawn["delay_ms"]
    speed_mm_per_s = size.hoist.speed_m_per_min * 1000 / 60
    apart(long.travel_mm, short.travel_mm, short.travel_mm * ratio, least=0.12 * long.travel_mm)
    return {
        "delay_ms": drawn["delay_ms"],
        "delay_long_ms": drawn["delay_long_ms"],
        "torque_nm": torque_nm,
        "travel_mm": short.travel_mm,
        "travel_long_mm": long.travel_mm,
        "travel_proportional_mm": short.travel_mm * ratio,
        "speed_mm_per_s": speed_mm_per_s,
        "more_ms": drawn["delay_long_ms"] - drawn["delay_ms"],
        "at_speed_mm": speed_mm_per_s * (drawn["delay_long_ms"] - drawn["delay_ms"]) / 1000,
        "long_way_mm": speed_mm_per_s * drawn["delay_long_ms"] / 1000,
        "more_mm": long.travel_mm - short.travel_mm,
    }


@model()
def limits(drawn: Drawn, sheet: LimitsSheet) -> Values:
    """Return the row of the size itself, and another row of the sheet to take for it by mistake."""
    others = [one for one in sheet.sizes if one.gap.max_mm != drawn.size.gap.max_mm]
    if not others:
        raise DrawAgainError("the sheet has no other row to be taken by mistake")
    other = drawn.draws.choice(others, "other")
    return {"other_size": other.name, "other_gap_max_mm": other.gap.max_mm}


@model()
def row(_: Drawn, __: LimitsSheet) -> Values:
    """Return nothing of its own: the row of the sheet is there without it."""
    return {}


@model()
def spring_push(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return what the springs push and hold while the magnet body is still screwed on."""
    size = drawn.size
    setting_mm = size.gap.setting_mm
    force_n = clamping_force_n(setting_mm, size.springs, setting_mm)
    return {
        "force_n": force_n,
        "hangs_kg": force_n / STANDARD_GRAVITY_M_PER_S2,
        "each_kg": size.springs.force_each_n / STANDARD_GRAVITY_M_PER_S2,
        "energy_j": spring_energy_j(setting_mm, size.springs, setting_mm),
    }


@model()
def load_test(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return the test loads that ISO 4310 asks of a hoist of the size's rated load."""
    load_kg = drawn.size.hoist.load_kg
    return {
        "static_percent": STATIC_TEST_PERCENT,
        "dynamic_percent": DYNAMIC_TEST_PERCENT,
        "static_kg": load_kg * STATIC_TEST_PERCENT / 100,
        "dynamic_kg": load_kg * DYNAMIC_TEST_PERCENT / 100,
        "double_kg": 2 * load_kg,
    }

"""Models of questions on release, the coil and its rectifier."""

from dataclasses import replace

from widgets.brake.behaviour import HOT_COIL_C, LOW_SUPPLY
from widgets.brake.magnet.coil import (
    Rectifier,
    coil_current_a,
    coil_resistance_ohm,
    rectified_voltage_v,
    release_voltage_at_v,
    temperature_from_resistance_c,
)
from widgets.brake.magnet.release import release_voltage_v
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.brake.sizes.size import Coil
from widgets.brake.torque.clamping import clamping_force_n

from .drawn import DrawAgainError, Drawn, Values, apart, collector, digits, worn_gap_mm

MODELS, model = collector()
COLD_C = 20.0  # °C, at which sheets give the coil's resistance
CLEAR_SHARE = 0.02  # of the rated voltage: nearer than this two voltages decide nothing


@model("gap_share")
def release_voltage(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return release voltage, cold and hot, at a gap, and the verdict on a hot afternoon.

    The verdict follows from the voltages as they are printed: `opens` also hot
    and on low mains, `stays` shut then, `never` opens hot.
    """
    size, gap_mm = drawn.size, worn_gap_mm(drawn)
    force_n = clamping_force_n(gap_mm, size.springs, size.gap.setting_mm)
    decimals = 0 if size.coil.voltage_v >= 60 else 1
    cold_v, hot_v = (
        round(release_voltage_v(gap_mm, force_n, size.magnet, size.coil, at_c), decimals)
        for at_c in (COLD_C, HOT_COIL_C)
    )
    full_v = size.coil.voltage_v
    low_v = round(LOW_SUPPLY * full_v, decimals)
    apart(hot_v, low_v, full_v, cold_v, least=CLEAR_SHARE * full_v)
    if cold_v > low_v * (1 - CLEAR_SHARE):
        raise DrawAgainError("it does not even open cold on low mains")
    return {
        "gap_mm": gap_mm,
        "cold_c": COLD_C,
        "hot_c": HOT_COIL_C,
        "cold_v": cold_v,
        "hot_v": hot_v,
        "low_mains_v": low_v,
        "full_v": full_v,
        "low_percent": 100 * LOW_SUPPLY,
        "verdict": "opens" if hot_v < low_v else "stays" if hot_v < full_v else "never",
    }


@model("share_percent", "coil_c")
def hot_release(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return a release voltage measured on a cold coil, carried over to the hot one."""
    size, at_c = drawn.size, drawn["coil_c"]
    measured_v = round(drawn["share_percent"] / 100 * size.coil.voltage_v, 1)
    hot_v = release_voltage_at_v(measured_v, at_c, HOT_COIL_C)
    low_v = round(LOW_SUPPLY * size.coil.voltage_v, 1)
    apart(hot_v, measured_v, measured_v**2 / hot_v, least=0.06 * hot_v)
    apart(hot_v, low_v, least=CLEAR_SHARE * size.coil.voltage_v)
    return {
        "coil_c": at_c,
        "hot_c": HOT_COIL_C,
        "measured_v": measured_v,
        "hot_v": hot_v,
        "inverse_v": measured_v**2 / hot_v,
        "low_mains_v": low_v,
        "low_percent": 100 * LOW_SUPPLY,
        "verdict": "opens" if hot_v < low_v else "stays",
    }


def _as_printed(drawn: Drawn) -> Coil:
    """Return the coil with its resistance as it is printed: an estimate has more digits."""
    coil = drawn.size.coil
    return replace(coil, resistance_20_ohm=digits(coil.resistance_20_ohm))


@model("coil_c")
def coil_hot(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return resistance and current of the hot coil."""
    coil, hot_c = _as_printed(drawn), drawn["coil_c"]
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
    coil = _as_printed(drawn)
    decimals = 2 if coil.resistance_20_ohm < 100 else 1
    measured_ohm = round(coil_resistance_ohm(coil, drawn["coil_c"]), decimals)
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


@model("supply_v", "found_percent")
def rectifier(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return voltages behind a bridge, a half-wave rectifier, a bridge with one diode open.

    `found_percent` is what a meter finds, of what a sound bridge gives; the
    verdict is `sound`, `diode` for half of it, or `dead`.
    """
    supply_v = drawn["supply_v"]
    bridge_v = round(rectified_voltage_v(supply_v))
    found_v = round(bridge_v * drawn["found_percent"] / 100)
    return {
        "supply_v": supply_v,
        "bridge_v": bridge_v,
        "half_wave_v": rectified_voltage_v(supply_v, Rectifier.HALF_WAVE),
        "open_diode_v": rectified_voltage_v(supply_v, diode_open=True),
        "peak_v": supply_v * 2**0.5,
        "found_v": found_v,
        "verdict": _behind_a_bridge(found_v / bridge_v),
    }


def _behind_a_bridge(share: float) -> str:
    if share > 0.9:
        return "sound"
    return "diode" if 0.4 < share < 0.6 else "dead" if share < 0.05 else "unclear"


@model("coil_c", "off_percent")
def coil_reading(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return what a coil shows beside what a sound one would at the same temperature."""
    coil, at_c = _as_printed(drawn), drawn["coil_c"]
    sound_ohm = digits(coil_resistance_ohm(coil, at_c))
    found_ohm = digits(sound_ohm * (1 + drawn["off_percent"] / 100))
    off = found_ohm / sound_ohm - 1
    return {
        "cold_c": COLD_C,
        "coil_c": at_c,
        "sound_ohm": sound_ohm,
        "found_ohm": found_ohm,
        "verdict": "low" if off < -0.15 else "high" if off > 0.15 else "sound",
    }

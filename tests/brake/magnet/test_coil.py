"""Facts about the coil: warm copper, shorted turns, rectifiers."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from widgets.brake.magnet.coil import (
    Rectifier,
    coil_ampere_turns,
    coil_current_a,
    coil_power_w,
    coil_resistance_ohm,
    copper_ratio,
    rectified_voltage_v,
    release_limit_ratio,
    release_voltage_at_v,
    temperature_by_iec_60034_c,
    temperature_from_resistance_c,
)
from widgets.brake.sizes.size import Coil

CEDAR = Coil(voltage_v=180.0, resistance_20_ohm=623.0, turns=3940)  # invented, DOMAIN E1
temperatures_c = st.floats(min_value=-40.0, max_value=250.0)


def test_cedar_takes_52_watts_cold_and_under_40_hot():
    """180 V on 623 ohm by hand: 0.2889 A, 52.0 W, 1138 A; 39.6 W at 100 °C (DOMAIN E2)."""
    assert coil_current_a(CEDAR) == pytest.approx(180 / 623, rel=1e-12)
    assert coil_power_w(CEDAR) == pytest.approx(52.0, abs=0.05)
    assert coil_power_w(CEDAR, temperature_c=100.0) == pytest.approx(39.6, abs=0.05)
    assert coil_ampere_turns(CEDAR) == pytest.approx(1138, abs=0.5)
    assert coil_ampere_turns(CEDAR, 0.9 * 180, 100.0) == pytest.approx(779, abs=0.5)


def test_half_voltage_makes_a_quarter_of_the_heat():
    """Heat goes as the square of the voltage: the reason for an economy circuit."""
    assert coil_power_w(CEDAR, 90.0) == pytest.approx(coil_power_w(CEDAR) / 4, rel=1e-12)


@given(temperature_c=temperatures_c, known_c=temperatures_c)
def test_a_temperature_comes_back_from_its_resistance(temperature_c, known_c):
    """Resistance of copper is a thermometer, whatever temperature it is calibrated at."""
    now = coil_resistance_ohm(CEDAR, temperature_c)
    known = coil_resistance_ohm(CEDAR, known_c)

    assert temperature_from_resistance_c(now, known, known_c) == pytest.approx(
        temperature_c, abs=1e-8
    )


@given(temperature_c=st.floats(min_value=0.0, max_value=155.0))
def test_the_two_standards_agree_within_half_a_kelvin(temperature_c):
    """IEC 60028's line and IEC 60034-1's 235 K rule differ by 0.2 % of the rise, no more.

    1/0.00393 - 20 = 234.45 K against 235 K: 0.55 K in 255, times the rise (135 K at most).
    """
    now = coil_resistance_ohm(CEDAR, temperature_c)

    by_rule_c = temperature_by_iec_60034_c(now, CEDAR.resistance_20_ohm)

    assert abs(by_rule_c - temperature_c) <= 0.55 / 254.45 * abs(temperature_c - 20) + 1e-9


@given(share=st.floats(min_value=0.05, max_value=1.0), temperature_c=temperatures_c)
def test_shorted_turns_keep_the_ampere_turns_and_raise_the_heat(share, temperature_c):
    """With a fifth of the turns gone the current rises by a quarter and so does the heat."""
    faults = {"resistance_factor": share, "turns_factor": share}

    sound, shorted = (
        coil_ampere_turns(CEDAR, 180.0, temperature_c),
        coil_ampere_turns(CEDAR, 180.0, temperature_c, **faults),
    )
    heat = coil_power_w(CEDAR, 180.0, temperature_c, resistance_factor=share)

    assert shorted == pytest.approx(sound, rel=1e-12)
    assert heat == pytest.approx(coil_power_w(CEDAR, 180.0, temperature_c) / share, rel=1e-12)


@given(
    volts=st.floats(min_value=0.0, max_value=500.0),
    cold_c=temperatures_c,
    hot_c=temperatures_c,
)
def test_a_release_voltage_carried_there_and_back_is_unchanged(volts, cold_c, hot_c):
    """Carrying a voltage to another coil temperature loses nothing."""
    there = release_voltage_at_v(volts, cold_c, hot_c)

    assert release_voltage_at_v(there, hot_c, cold_c) == pytest.approx(volts, rel=1e-12, abs=1e-12)


def test_a_cold_coil_must_release_well_below_nine_tenths():
    """0.90 U_N at 100 °C asks for 0.6847 U_N at 20 °C, 0.90 itself at 100 °C (DOMAIN C3 Q13)."""
    assert release_limit_ratio() == pytest.approx(0.6847, abs=1e-4)
    assert release_limit_ratio(100.0) == pytest.approx(0.90, rel=1e-12)


def test_an_open_diode_halves_the_bridge():
    """A bridge with one open diode is a half-wave rectifier; that one with its diode open is dead."""
    bridge = rectified_voltage_v(400.0)
    half = rectified_voltage_v(400.0, Rectifier.HALF_WAVE)

    assert rectified_voltage_v(400.0, diode_open=True) == pytest.approx(bridge / 2, rel=1e-12)
    assert half == pytest.approx(bridge / 2, rel=1e-12)
    assert rectified_voltage_v(400.0, Rectifier.HALF_WAVE, diode_open=True) == 0.0


def test_a_thousand_coils_go_through_at_once():
    """Arrays broadcast, and each element is what the scalar call gives."""
    temperatures = np.linspace(-20, 140, 5)[:, np.newaxis]
    volts = np.linspace(0, 200, 3)

    amperes = coil_current_a(CEDAR, volts, temperatures)

    assert amperes.shape == (5, 3)
    assert amperes[4, 2] == pytest.approx(coil_current_a(CEDAR, 200.0, 140.0), rel=1e-14)
    assert isinstance(coil_current_a(CEDAR), float)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: copper_ratio(400.0), "temperature_c must be >= -60 and <= 300 °C, got 400"),
        (lambda: copper_ratio([20.0, math.nan]), r"temperature_c\[1\]"),
        (lambda: coil_resistance_ohm(CEDAR, 20.0, resistance_factor=0.0), "resistance_factor"),
        (lambda: coil_current_a(CEDAR, -1.0), "voltage_v must be >= 0 V, got -1"),
        (lambda: coil_power_w(CEDAR, math.inf), "voltage_v"),
        (lambda: coil_ampere_turns(CEDAR, turns_factor=-0.1), "turns_factor"),
        (lambda: rectified_voltage_v([230.0, -1.0]), r"supply_v\[1\]"),
        (lambda: temperature_from_resistance_c(0.0, 623.0), "resistance_ohm must be > 0 ohm"),
        (lambda: temperature_from_resistance_c(1.0, -1.0), "known_resistance_ohm"),
        (lambda: temperature_by_iec_60034_c(1.0, 1.0, -100.0), "known_temperature_c"),
        (lambda: temperature_by_iec_60034_c(0.0, 1.0), "resistance_ohm"),
        (lambda: release_voltage_at_v(-1.0, 20.0, 100.0), "measured_v"),
        (lambda: release_limit_ratio(supply_ratio=1.2), "supply_ratio"),
    ],
)
def test_an_impossible_coil_is_refused_by_name(call, says):
    """The message names the argument, and the first bad place in an array."""
    with pytest.raises(ValueError, match=says):
        call()

"""Temperature of the disc: one stop, a row of stops, the steady state."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from widgets.brake.torque.heat import (
    Cooling,
    DutyCycle,
    integrated_temperature_c,
    left_after_a_cycle,
    mean_power_w,
    peak_temperatures_c,
    steady_peak_c,
    temperature_rise_k,
)

DISC = Cooling(576.0, running_w_per_k=1.5, standing_w_per_k=0.5, ambient_c=20.0)
DUTIES = st.builds(DutyCycle, stops_per_hour=st.floats(30, 600), running_percent=st.floats(0, 100))
DISCS = st.builds(
    Cooling,
    heat_capacity_j_per_k=st.floats(100, 2000),
    running_w_per_k=st.floats(0.5, 5),
    standing_w_per_k=st.floats(0.2, 2),
    ambient_c=st.floats(-20, 50),
)


def test_the_first_stop_warms_the_disc_by_energy_over_heat_capacity():
    """1152 J into 576 J/K are 2 K above ambient."""
    assert peak_temperatures_c([1152.0], DISC, DutyCycle(180, 40))[0] == pytest.approx(22.0)
    assert temperature_rise_k(1152.0, 1.2) == pytest.approx(2.0)


@given(disc=DISCS, duty=DUTIES, energy_j=st.floats(0, 10_000))
def test_a_row_of_equal_stops_tends_to_the_closed_form(disc, duty, energy_j):
    """After so many stops that nothing of the start is left, the steady peak is reached."""
    left = left_after_a_cycle(disc, duty)
    stops = int(min(20_000, 2 + np.log(1e-9) / np.log(max(left, 1e-300))))
    peaks = peak_temperatures_c(np.full(stops, energy_j), disc, duty)

    assert peaks[-1] == pytest.approx(steady_peak_c(energy_j, disc, duty), rel=1e-6, abs=1e-6)
    assert np.all(np.diff(peaks) >= -1e-9)


@pytest.mark.parametrize("running_percent", [0, 40, 100])
def test_integrating_the_heat_balance_gives_the_peaks_of_the_recursion(running_percent):
    """The numerical course passes through the closed peaks, stop after stop.

    The integration is held to 1e-8, so that 1e-4 K leaves a wide margin.
    """
    duty = DutyCycle(180, running_percent)
    time_s, course_c = integrated_temperature_c(1152.0, DISC, duty, stops=60)
    jumps = np.flatnonzero(np.diff(time_s) == 0) + 1

    assert course_c[jumps] == pytest.approx(
        peak_temperatures_c(np.full(60, 1152.0), DISC, duty), abs=1e-4
    )
    assert time_s[-1] == pytest.approx(60 * 20.0)


def test_the_integrated_course_reaches_the_steady_state_of_the_closed_form():
    """Three hours of 180 stops an hour, 576 J/K and about 0.9 W/K: eighteen time constants."""
    duty = DutyCycle(180, 40)
    _, course_c = integrated_temperature_c(1152.0, DISC, duty, stops=540)
    steady = steady_peak_c(1152.0, DISC, duty)

    assert course_c[-60:].max() == pytest.approx(steady, abs=1e-3)
    trough = 20.0 + (steady - 20.0) * left_after_a_cycle(DISC, duty)
    assert course_c[-1] == pytest.approx(trough, abs=1e-3)


@settings(max_examples=50)
@given(disc=DISCS, duty=DUTIES, energy_j=st.floats(1, 10_000))
def test_heat_in_is_heat_out_at_the_steady_state(disc, duty, energy_j):
    """What a cycle carries off between peak and trough is the energy of one stop."""
    peak = steady_peak_c(energy_j, disc, duty)
    trough = disc.ambient_c + (peak - disc.ambient_c) * left_after_a_cycle(disc, duty)

    assert disc.heat_capacity_j_per_k * (peak - trough) == pytest.approx(energy_j, rel=1e-6)


@given(duty=DUTIES, energy_j=st.floats(1, 5000), more=st.floats(1.01, 3))
def test_more_stops_and_worse_cooling_run_hotter(duty, energy_j, more):
    """Energy, frequency and a missing fan all raise the steady peak."""
    peak = steady_peak_c(energy_j, DISC, duty)
    no_fan = Cooling(576.0, 0.5, 0.5 / more)

    assert steady_peak_c(energy_j * more, DISC, duty) > peak
    oftener = DutyCycle(min(3600, duty.stops_per_hour * more), duty.running_percent)
    assert steady_peak_c(energy_j, DISC, oftener) > peak
    assert steady_peak_c(energy_j, no_fan, duty) > peak


def test_a_warm_start_is_forgotten_bit_by_bit():
    """From 100 °C without any energy the disc only cools, by the same share each time."""
    duty = DutyCycle(180, 40)
    peaks = peak_temperatures_c(np.zeros(4), DISC, duty, start_c=100.0)
    share = left_after_a_cycle(DISC, duty)

    assert peaks == pytest.approx(20 + 80 * share ** np.arange(4))


def test_mean_power_is_energy_times_frequency():
    """1 kJ at 180 stops an hour is 50 W."""
    assert mean_power_w(1000.0, 180.0) == pytest.approx(50.0)


BAD = [
    (lambda: temperature_rise_k(-1.0, 1.0), r"energy_j must be >= 0 J, got -1"),
    (lambda: temperature_rise_k(1.0, [1.0, 0.0]), r"mass_kg\[1\] must be > 0 kg, got 0"),
    (lambda: temperature_rise_k(1.0, 1.0, share=1.5), r"share must be >= 0 and <= 1, got 1\.5"),
    (lambda: Cooling(0.0, 1.0, 1.0), r"heat_capacity_j_per_k must be > 0 J/K, got 0"),
    (lambda: DutyCycle(0, 40), r"stops_per_hour must be > 0 and <= 3600 1/h, got 0"),
    (lambda: DutyCycle(180, 140), r"running_percent must be >= 0 and <= 100 %, got 140"),
    (
        lambda: peak_temperatures_c([1.0, -1.0], DISC, DutyCycle(180, 40)),
        r"energies_j\[1\] must be >= 0 J, got -1",
    ),
    (
        lambda: peak_temperatures_c([[1.0]], DISC, DutyCycle(180, 40)),
        r"energies_j must have one dimension, got 2",
    ),
    (
        lambda: peak_temperatures_c(1.0, DISC, DutyCycle(180, 40)),
        r"energies_j must have one dimension, got 0",
    ),
    (
        lambda: integrated_temperature_c(1.0, DISC, DutyCycle(180, 40), stops=0),
        r"stops must be >= 1 and <= 10000, got 0",
    ),
    (lambda: mean_power_w(1.0, -1.0), r"stops_per_hour must be >= 0 and <= 3600 1/h, got -1"),
]


@pytest.mark.parametrize(("call", "message"), BAD)
def test_impossible_heat_is_refused(call, message):
    """The sentence names the argument, the range and the value."""
    with pytest.raises(ValueError, match=message):
        call()

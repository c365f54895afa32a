"""Emergency stops: balances of energy and momentum, runaway, reversal, monotony, refusals."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from widgets.brake.sizes.sheet import load_sheet
from widgets.brake.torque import (
    StopCase,
    closed_form_stop,
    integrated_stop,
    load_torque_nm,
    reflected_inertia_kgm2,
    stop_case,
    stopping_distance_mm,
)
from widgets.brake.torque.braking import torque_at_gap_nm

CEDAR = load_sheet().size("Cedar-47")
CASES = st.builds(
    StopCase,
    inertia_kgm2=st.floats(0.005, 0.3),
    load_torque_nm=st.floats(1, 60),
    braking_torque_nm=st.floats(70, 200),
    speed_rad_s=st.one_of(st.floats(50, 200), st.floats(-200, -50)),
    delay_s=st.floats(0, 0.5),
    rise_s=st.floats(0, 0.1),
    metres_per_radian=st.floats(1e-4, 2e-3),
)


@settings(max_examples=40, deadline=None)
@given(case=CASES)
def test_friction_takes_the_kinetic_energy_and_what_the_load_gives(case):
    """Energy balance of the stop, to 0.1 %: ½ J ω² plus load torque times angle turned."""
    stop, trace = integrated_stop(case)
    angle = trace.travel_mm[-1] / 1000 / case.metres_per_radian
    given_up = case.inertia_kgm2 * case.speed_rad_s**2 / 2 + case.load_torque_nm * angle

    assert stop.energy_j == pytest.approx(given_up, rel=1e-3, abs=1e-3)


@settings(max_examples=40, deadline=None)
@given(case=CASES)
def test_the_impulse_of_the_torques_takes_the_momentum(case):
    """Momentum balance of the stop, to 0.1 % of the impulse of the load.

    The impulses are added up independently from the trace, by the trapezoidal rule, which
    is exact for a straight rise but not for a jump: the rise is 1 ms at least.
    """
    case = replace(case, rise_s=max(case.rise_s, 0.001))
    _, trace = integrated_stop(case)
    opposing = trace.braking_torque_nm * np.where(trace.speed_rad_s >= 0, 1.0, -1.0)
    opposing[-1] = math.copysign(opposing[-1], opposing[-2])
    time = trace.time_s
    braked = np.sum((opposing[1:] + opposing[:-1]) / 2 * np.diff(time))
    loaded = case.load_torque_nm * time[-1]
    momentum = case.inertia_kgm2 * case.speed_rad_s
    turned = bool(np.any(trace.speed_rad_s > 0)) and case.speed_rad_s < 0

    # Where the motion turns, one step of the trace straddles the change of sign.
    step = np.diff(time).max() * case.braking_torque_nm if turned else 0.0
    assert momentum + loaded - braked == pytest.approx(
        0, abs=1e-3 * (abs(momentum) + loaded) + step
    )


@settings(max_examples=40, deadline=None)
@given(case=CASES)
def test_speed_follows_the_torques_at_every_moment(case):
    """Along the trace, kinetic energy and friction energy change as the load gives."""
    _, trace = integrated_stop(case)
    angle = trace.travel_mm / 1000 / case.metres_per_radian
    kinetic = case.inertia_kgm2 * trace.speed_rad_s**2 / 2
    whole = kinetic + trace.friction_energy_j - case.load_torque_nm * angle

    assert whole == pytest.approx(np.full_like(whole, whole[0]), rel=1e-3, abs=1e-3)


@settings(max_examples=30, deadline=None)
@given(case=CASES.filter(lambda case: case.speed_rad_s > 0), longer_s=st.floats(0.001, 0.3))
def test_a_longer_delay_lengthens_the_way(case, longer_s):
    """Every millisecond of free fall costs way, time and energy."""
    early, late = (
        closed_form_stop(case),
        closed_form_stop(replace(case, delay_s=case.delay_s + longer_s)),
    )

    assert late.travel_mm > early.travel_mm
    assert late.drift_mm > early.drift_mm
    assert late.time_s > early.time_s
    assert late.energy_j > early.energy_j


@given(case=CASES.filter(lambda case: case.speed_rad_s > 0), factor=st.floats(1.01, 2))
def test_a_stronger_brake_shortens_the_way(case, factor):
    """More torque, less slip, and less energy for the lining."""
    weak = closed_form_stop(case)
    strong = closed_form_stop(
        replace(case, braking_torque_nm=case.braking_torque_nm * factor, rise_s=case.rise_s)
    )

    assert strong.travel_mm < weak.travel_mm
    assert strong.energy_j < weak.energy_j


@pytest.mark.parametrize("torque_share", [0.0, 0.6, 1.0])
def test_a_brake_no_stronger_than_the_load_lets_it_run_away(torque_share):
    """The result says so, in both forms and both directions, and nothing is raised."""
    load_nm = load_torque_nm(2500, 8, 1450)
    for hoisting in (False, True):
        case = stop_case(CEDAR.hoist, torque_share * load_nm, 37, hoisting=hoisting)
        for stop in (closed_form_stop(case), integrated_stop(case)[0]):
            assert not stop.held
            assert math.isinf(stop.time_s)
            assert math.isinf(stop.travel_mm)
            assert stop.runaway_rpm_per_s == pytest.approx(
                (1 - torque_share) * load_nm / case.inertia_kgm2 * 30 / math.pi, abs=1e-6
            )
            assert "runs away" in stop.sentence


def test_a_runaway_is_followed_for_as_long_as_asked():
    """After the full torque the trace goes on for the time asked and gains speed evenly."""
    case = stop_case(CEDAR.hoist, 10.0, 37)
    _, trace = integrated_stop(case, watch_s=0.5)

    assert trace.time_s[-1] == pytest.approx(case.delay_s + case.rise_s + 0.5)
    late = trace.time_s > case.delay_s + case.rise_s
    gain = np.diff(trace.speed_rad_s[late]) / np.diff(trace.time_s[late])
    expected = (case.load_torque_nm - 10.0) / case.inertia_kgm2
    assert gain == pytest.approx(np.full_like(gain, expected), rel=1e-6)


def test_a_load_stopped_while_going_up_sags_when_the_brake_is_late():
    """On the AC side it turns before the brake bites and is caught on its way down.

    By hand: 151.8 rad/s against 583 rad/s² is used up after 0.26 s of 0.38 s.
    """
    torque_nm = torque_at_gap_nm(CEDAR, 0.30)
    early = integrated_stop(stop_case(CEDAR.hoist, torque_nm, 37, hoisting=True))
    late = integrated_stop(stop_case(CEDAR.hoist, torque_nm, 364, hoisting=True))

    # Where it comes to rest the integration leaves some 1e-15 rad/s of rounding.
    assert early[1].speed_rad_s.max() <= 1e-12
    assert late[1].speed_rad_s.max() > 30
    assert late[0].held
    assert late[1].travel_mm.min() < late[0].travel_mm - 5
    assert "higher than at power-off" in late[0].sentence


@settings(max_examples=40, deadline=None)
@given(case=CASES)
def test_the_closed_form_ends_close_to_the_integrated_stop(case):
    """Half the rise as a step: exact time; way and energy off by less than the rise can do.

    The straight rise moves the way by at most slowing-down times rise² / 24,
    exactly so where the motion does not turn. Turning during the rise is left out.
    """
    closed, (integrated, trace) = closed_form_stop(case), integrated_stop(case)
    turns_at = -case.speed_rad_s / case.gain_rad_s2
    assume(case.speed_rad_s > 0 or turns_at > case.delay_s + case.rise_s + 1e-3)
    assume(trace.time_s[-1] > case.delay_s + case.rise_s)
    off_rad = case.braking_torque_nm / case.inertia_kgm2 * case.rise_s**2 / 24

    assert integrated.time_s == pytest.approx(closed.time_s, rel=1e-6)
    assert abs(integrated.travel_mm - closed.travel_mm) == pytest.approx(
        1000 * case.metres_per_radian * off_rad, rel=1e-4, abs=1e-5 * abs(closed.travel_mm)
    )


def test_many_stops_at_once_are_the_single_ones():
    """A row of torques against a column of delays, infinite where the brake does not hold."""
    torques, delays = np.array([15.0, 38.0, 47.0]), np.array([[37.0], [364.0]])
    table = stopping_distance_mm(CEDAR.hoist, torques, delays)

    for row, delay in zip(table, delays[:, 0], strict=True):
        single = [closed_form_stop(stop_case(CEDAR.hoist, torque, delay)) for torque in torques]
        assert row == pytest.approx([stop.travel_mm for stop in single])
    assert np.isinf(table[:, 0]).all()


def test_losses_of_the_gear_help_in_lowering_and_hinder_in_hoisting():
    """With 0.8 the held load pulls 80 %, and raising it takes 125 %."""
    ideal = load_torque_nm(1000, 8, 1450)

    assert load_torque_nm(1000, 8, 1450, efficiency=0.8) == pytest.approx(0.8 * ideal)
    assert load_torque_nm(1000, 8, 1450, efficiency=0.8, hoisting=True) == pytest.approx(
        1.25 * ideal
    )


@given(load=st.floats(0, 1e5), speed=st.floats(0.1, 100), rpm=st.floats(100, 6000))
def test_power_at_the_hook_is_power_at_the_shaft(load, speed, rpm):
    """Torque times shaft speed is weight times hook speed; so with the kinetic energies."""
    omega = rpm * 2 * math.pi / 60

    assert load_torque_nm(load, speed, rpm) * omega == pytest.approx(load * 9.80665 * speed / 60)
    assert reflected_inertia_kgm2(load, speed, rpm) * omega**2 == pytest.approx(
        load * (speed / 60) ** 2
    )


def test_a_stop_without_delay_and_rise_begins_at_full_torque():
    """No delay, no rise: constant slowing down from the first moment."""
    stop, trace = integrated_stop(StopCase(0.05, 20.0, 40.0, 150.0, 0.0, 0.0, 1e-3))

    assert "after 375 ms, 28 mm lower than" in stop.sentence
    assert stop.time_s == pytest.approx(0.375)
    assert stop.drift_mm == 0
    assert stop.travel_mm == pytest.approx(150 * 0.375 / 2)
    assert trace.time_s[0] == 0


def test_a_load_at_rest_with_the_brake_off_falls_and_is_caught():
    """Power lost at standstill: 20 N·m on 0.05 kg·m² for 0.1 s gain 40 rad/s."""
    stop, _ = integrated_stop(StopCase(0.05, 20.0, 60.0, 0.0, 0.1, 0.0, 1e-3))

    assert stop.peak_rpm == pytest.approx(40 * 30 / math.pi, rel=1e-6)
    assert stop.travel_mm == pytest.approx(40 * 0.1 / 2 + 40 * 0.05 / 2, rel=1e-6)


BAD = [
    (lambda: load_torque_nm(-1, 8, 1450), r"load_kg must be >= 0 kg, got -1"),
    (lambda: load_torque_nm(1000, 8, 0), r"motor_rpm must be > 0 rev/min, got 0"),
    (
        lambda: load_torque_nm(1000, 8, 1450, efficiency=1.2),
        r"efficiency must be > 0 and <= 1, got 1\.2",
    ),
    (lambda: reflected_inertia_kgm2([1, -2], 8, 1450), r"load_kg\[1\] must be >= 0 kg, got -2"),
    (lambda: stop_case(CEDAR.hoist, -1, 37), r"braking_torque_nm must be >= 0 N·m, got -1"),
    (lambda: stop_case(CEDAR.hoist, 47, -1), r"delay_ms must be >= 0 and <= 10000 ms, got -1"),
    (
        lambda: StopCase(0.0, 1.0, 2.0, 1.0, 0.0, 0.0, 1.0),
        r"inertia_kgm2 must be > 0 kg·m², got 0",
    ),
    (
        lambda: StopCase(1.0, 1.0, 2.0, math.nan, 0.0, 0.0, 1.0),
        r"speed_rad_s must be .* got nan",
    ),
    (
        lambda: stopping_distance_mm(CEDAR.hoist, [47.0, -1.0], 37.0),
        r"braking_torque_nm\[1\] must be >= 0 N·m, got -1",
    ),
    (
        lambda: integrated_stop(stop_case(CEDAR.hoist, 10, 37), watch_s=0),
        r"watch_s must be > 0 and <= 10 s, got 0",
    ),
]


@pytest.mark.parametrize(("call", "message"), BAD)
def test_impossible_hoists_are_refused(call, message):
    """The sentence names the argument, the range and the value."""
    with pytest.raises(ValueError, match=message):
        call()

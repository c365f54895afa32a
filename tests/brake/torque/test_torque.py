"""Friction, radius and torque: laws, surface states, refusals."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from widgets.brake.judgement.standards import Mark
from widgets.brake.sizes.sheet import load_sheet
from widgets.brake.sizes.size import Lining
from widgets.brake.torque.braking import (
    braking_torque_nm,
    gap_at_torque_mm,
    holding_ratio,
    lining_pressure_n_per_mm2,
    static_torque_nm,
    torque_at_gap_nm,
)
from widgets.brake.torque.friction import (
    SURFACES,
    Surface,
    fade_factor,
    friction_coefficient,
    uniform_pressure_radius_mm,
    uniform_wear_radius_mm,
)

SIZES = st.sampled_from(load_sheet().sizes)
RADII_MM = st.tuples(st.floats(0, 200), st.floats(0.1, 100)).map(lambda ring: (ring[0], sum(ring)))


@given(size=SIZES, gap_mm=st.floats(0, 1.5), further_mm=st.floats(0.001, 0.5))
def test_a_wider_gap_brakes_less(size, gap_mm, further_mm):
    """Torque falls all the way, as the springs relax."""
    assert torque_at_gap_nm(size, gap_mm + further_mm) < torque_at_gap_nm(size, gap_mm)


@given(ring=RADII_MM)
def test_even_pressure_acts_further_out_than_even_wear(ring):
    """Both act within the ring; even pressure at 1 to 4/3 of the mean radius."""
    wear, pressure = uniform_wear_radius_mm(*ring), uniform_pressure_radius_mm(*ring)

    assert ring[0] <= wear <= ring[1]
    assert wear * (1 - 1e-12) <= pressure <= wear * 4 / 3 * (1 + 1e-12)


@given(size=SIZES, gap_mm=st.floats(0, 1.5))
def test_the_gap_at_a_torque_leads_back_to_the_gap(size, gap_mm):
    """Torque at a gap and gap at a torque undo each other."""
    torque = torque_at_gap_nm(size, gap_mm)

    assert gap_at_torque_mm(size, torque) == pytest.approx(gap_mm, abs=1e-9)


@given(
    force=st.floats(0, 5000),
    friction=st.floats(0, 1),
    radius=st.floats(1, 200),
    faces=st.integers(1, 8),
)
def test_torque_is_proportional_to_each_of_its_factors(force, friction, radius, faces):
    """Twice the force, half the radius: the same torque; each face brings as much."""
    torque = braking_torque_nm(force, friction, radius, faces=faces)

    assert braking_torque_nm(2 * force, friction, radius / 2, faces=faces) == pytest.approx(torque)
    assert faces * braking_torque_nm(force, friction, radius, faces=1) == pytest.approx(torque)


@given(cold=st.floats(0.05, 0.6), low_c=st.floats(-40, 600), high_c=st.floats(-40, 600))
def test_a_hotter_lining_never_grips_better(cold, low_c, high_c):
    """Fade only takes away."""
    low_c, high_c = sorted((low_c, high_c))

    assert friction_coefficient(cold, temperature_c=high_c) <= friction_coefficient(
        cold, temperature_c=low_c
    )


@given(cold=st.floats(0.05, 0.6), surface=st.sampled_from(sorted(SURFACES)))
def test_a_spoilt_surface_never_grips_better_than_a_sound_one(cold, surface):
    """Glaze on a poor lining does not improve it."""
    assert friction_coefficient(cold, surface=surface) <= cold
    assert friction_coefficient([cold, cold], surface=surface).tolist() == pytest.approx(
        [friction_coefficient(cold, surface=surface)] * 2
    )


def test_surface_states_have_their_coefficients():
    """Of a 0.36 lining: unbedded 70 %, wet 60 % (invented), glazed 0.25 (invented), oiled 0.10 (public table)."""
    expected = {"bedded": 0.36, "unbedded": 0.252, "wet": 0.216, "glazed": 0.25, "oiled": 0.10}

    ours = {name: friction_coefficient(0.36, surface=name) for name in SURFACES}
    assert ours == pytest.approx(expected)


def test_an_invented_coefficient_says_so():
    """Each state carries a source and a mark, and only the oiled one was read somewhere."""
    marks = {name: state.mark for name, state in SURFACES.items()}

    assert marks["glazed"] is Mark.INVENTED
    assert [name for name, mark in marks.items() if mark is Mark.CONFIRMED] == ["oiled"]
    assert all(state.source and state.says for state in SURFACES.values())


def test_fade_begins_at_200_degrees_and_interpolates():
    """1 up to 200 °C, half-way to 0.85 at 225 °C, 0.5 from 400 °C on."""
    hot_c = np.array([-40.0, 20.0, 200.0, 225.0, 400.0, 600.0])

    assert fade_factor(hot_c) == pytest.approx([1, 1, 1, 0.925, 0.5, 0.5])
    assert fade_factor(225.0) == pytest.approx(0.925)


def test_an_impossible_surface_state_cannot_be_built():
    """A coefficient of 1.2 or a factor of 0 is refused."""
    with pytest.raises(ValueError, match=r"surface friction must be > 0 and <= 1, got 1\.2"):
        Surface("sticky", "", 1.2, 1.0, "", Mark.INVENTED)
    with pytest.raises(ValueError, match="surface factor must be > 0 and <= 1, got 0"):
        Surface("gone", "", None, 0.0, "", Mark.INVENTED)


@given(size=SIZES)
def test_pressure_on_the_lining_is_what_such_linings_carry(size):
    """0.05 to 0.3 N/mm² (common practice, no source), from setting to largest gap."""
    force = size.springs.count * size.springs.force_each_n

    assert 0.05 < lining_pressure_n_per_mm2(force, size.lining) < 0.3


def test_static_torque_lies_within_a_fifth_of_dynamic_torque():
    """0.8 to 1.2 (common practice, no source); beyond that the ratio is refused."""
    assert static_torque_nm(50.0, np.array([0.8, 1.0, 1.2])) == pytest.approx([40, 50, 60])
    with pytest.raises(
        ValueError, match=r"static_over_dynamic must be >= 0\.8 and <= 1\.2, got 1\.5"
    ):
        static_torque_nm(50.0, 1.5)


def test_a_brake_that_cannot_reach_a_torque_would_need_a_negative_gap():
    """Asked for twice its torque, the springs would have to be pressed into the magnet."""
    size = load_sheet().size("Cedar-47")

    assert gap_at_torque_mm(size, 2 * size.torque_nm) < 0


def test_the_lever_of_the_hand_release_reaches_the_torque():
    """300 N less of 916.8 N at 0.70 mm: the torque falls in the same proportion."""
    size = load_sheet().size("Cedar-47")
    ratio = torque_at_gap_nm(size, 0.7, release_lever_play_mm=0.3) / torque_at_gap_nm(size, 0.7)

    assert ratio == pytest.approx(616.8 / 916.8)


BAD = [
    (lambda: braking_torque_nm(-1.0, 0.3, 50.0), r"force_n must be >= 0 N, got -1"),
    (lambda: braking_torque_nm(1.0, 1.3, 50.0), r"friction must be >= 0 and <= 1, got 1\.3"),
    (lambda: braking_torque_nm(1.0, 0.3, 0.0), r"radius_mm must be > 0 mm, got 0"),
    (lambda: braking_torque_nm(1.0, 0.3, 50.0, faces=0), r"faces must be >= 1, got 0"),
    (lambda: holding_ratio(40.0, 0.0), r"load_torque_nm must be > 0 N·m, got 0"),
    (lambda: holding_ratio([1.0, float("nan")], 2.0), r"torque_nm\[1\] must be >= 0 N·m, got nan"),
    (lambda: uniform_wear_radius_mm(50.0, 40.0), r"less inner_radius_mm must be > 0 mm, got -10"),
    (lambda: uniform_pressure_radius_mm(-1.0, 40.0), r"inner_radius_mm must be >= 0 mm, got -1"),
    (lambda: friction_coefficient(0.0), r"nominal must be > 0 and <= 1, got 0"),
    (lambda: friction_coefficient(0.3, surface="icy"), r"surface must be one of bedded, .* 'icy'"),
    (lambda: fade_factor(700.0), r"temperature_c must be >= -40 and <= 600 °C, got 700"),
    (
        lambda: lining_pressure_n_per_mm2(-5.0, Lining(40, 60, 0.3)),
        r"force_n must be >= 0 N, got -5",
    ),
]


@pytest.mark.parametrize(("call", "message"), BAD)
def test_impossible_forces_and_frictions_are_refused(call, message):
    """The sentence names the argument, the range and the value."""
    with pytest.raises(ValueError, match=message):
        call()

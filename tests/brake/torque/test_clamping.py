"""Springs: force against gap, broken and weak springs, hand release, stored energy."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from widgets.brake.sizes.size import Springs
from widgets.brake.torque.clamping import clamping_force_n, free_gap_mm, spring_energy_j

SPRINGS = st.builds(
    Springs,
    count=st.integers(3, 12),
    force_each_n=st.floats(20, 500),
    rate_each_n_per_mm=st.floats(5, 200),
)
GAPS_MM = st.floats(0, 5)
EIGHT = Springs(8, 100.0, 50.0)


def test_force_falls_by_the_rate_of_all_springs():
    """Eight springs of 100 N and 50 N/mm, 0.2 mm further: 8 (100 − 10) = 720 N."""
    assert clamping_force_n(0.5, EIGHT, 0.3) == pytest.approx(720.0)


def test_springs_cannot_pull():
    """Beyond its free length (0.3 + 100/50 = 2.3 mm) a spring no longer presses."""
    assert free_gap_mm(EIGHT, 0.3) == pytest.approx(2.3)
    assert clamping_force_n(2.3, EIGHT, 0.3) == pytest.approx(0.0, abs=1e-9)
    assert clamping_force_n(3.0, EIGHT, 0.3) == 0.0
    assert clamping_force_n(np.array([2.0, 4.0]), EIGHT, 0.3) == pytest.approx([120.0, 0.0])


def test_one_broken_spring_of_eight_costs_an_eighth():
    """Seven eighths of 800 N are 700 N, and none of eight is nothing."""
    assert clamping_force_n(0.3, EIGHT, 0.3, intact=7) == pytest.approx(700.0)
    assert clamping_force_n(0.3, EIGHT, 0.3, intact=0) == 0.0


def test_the_hand_release_takes_nothing_until_its_play_is_used_up():
    """Play 0.2 mm, lever 1 kN/mm: nothing at 0.5 mm, 100 N at 0.6 mm (680 − 100)."""
    gaps = np.array([0.3, 0.5, 0.6])
    held = clamping_force_n(
        gaps, EIGHT, 0.3, release_lever_play_mm=0.2, release_lever_rate_n_per_mm=1000.0
    )

    assert held == pytest.approx([800.0, 720.0, 580.0])


def test_a_lever_that_holds_everything_leaves_no_negative_force():
    """Ten kN/mm over 0.5 mm would take 5 kN of 600 N: what is left is nothing."""
    held = clamping_force_n(
        0.8, EIGHT, 0.3, release_lever_play_mm=0.0, release_lever_rate_n_per_mm=10_000.0
    )

    assert held == 0.0


def test_gaps_and_broken_springs_combine_to_a_table():
    """A column of gaps against a row of spring counts gives all combinations."""
    table = clamping_force_n(np.array([[0.3], [0.5]]), EIGHT, 0.3, intact=np.array([8, 4]))

    assert table == pytest.approx(np.array([[800.0, 400.0], [720.0, 360.0]]))


@given(springs=SPRINGS, gap_mm=GAPS_MM, further_mm=st.floats(0, 2))
def test_a_wider_gap_never_clamps_harder(springs, gap_mm, further_mm):
    """Springs relax as the lining wears."""
    near = clamping_force_n(gap_mm, springs, 0.3)

    assert 0.0 <= clamping_force_n(gap_mm + further_mm, springs, 0.3) <= near


@given(springs=SPRINGS, gap_mm=st.floats(0, 0.9), data=st.data())
def test_more_springs_clamp_harder(springs, gap_mm, data):
    """Each spring that still pushes adds its share."""
    fewer = data.draw(st.integers(0, springs.count - 1))
    force = clamping_force_n(gap_mm, springs, 0.3, intact=fewer)
    one_more = clamping_force_n(gap_mm, springs, 0.3, intact=fewer + 1)

    assert one_more >= force
    assert one_more > force or gap_mm >= free_gap_mm(springs, 0.3) - 1e-9


@given(springs=SPRINGS, gap_mm=GAPS_MM, factor=st.floats(0, 2))
def test_weak_springs_clamp_in_proportion(springs, gap_mm, factor):
    """A set of springs at 85 % gives 85 % of the force at every gap."""
    whole = clamping_force_n(gap_mm, springs, 0.3)

    assert clamping_force_n(gap_mm, springs, 0.3, force_factor=factor) == pytest.approx(
        factor * whole
    )


@given(springs=SPRINGS, gaps_mm=st.lists(GAPS_MM, min_size=1, max_size=8))
def test_one_brake_and_many_give_the_same_forces(springs, gaps_mm):
    """The array holds what the single calls give."""
    many = clamping_force_n(gaps_mm, springs, 0.3)

    assert many.tolist() == pytest.approx([clamping_force_n(gap, springs, 0.3) for gap in gaps_mm])


@given(springs=SPRINGS, gap_mm=GAPS_MM)
def test_stored_energy_is_the_work_of_the_springs_out_to_their_free_length(springs, gap_mm):
    """Outside check: scipy.integrate.quad of the force; N·mm are mJ."""
    free = free_gap_mm(springs, 0.3)
    work, _ = quad(lambda gap: clamping_force_n(gap, springs, 0.3), gap_mm, max(gap_mm, free))

    assert spring_energy_j(gap_mm, springs, 0.3) == pytest.approx(work / 1000, rel=1e-6, abs=1e-9)


def test_stored_energy_of_the_sizes_is_a_joule_or_so():
    """F² / 2k of all springs: 1080² / (2 × 408) N·mm = 1.43 J, within 0.4 to 4 J (DOMAIN A5)."""
    assert spring_energy_j(0.3, Springs(8, 135.0, 51.0), 0.3) == pytest.approx(1.4294, abs=1e-4)


BAD = [
    ({"gap_mm": -0.1}, r"gap_mm must be >= 0 mm, got -0\.1"),
    ({"gap_mm": [0.3, float("nan")]}, r"gap_mm\[1\] must be >= 0 mm, got nan"),
    ({"setting_gap_mm": 0.0}, r"setting_gap_mm must be > 0 mm, got 0"),
    ({"intact": 9}, r"intact must be >= 0 and <= 8, got 9"),
    ({"intact": 6.5}, r"intact must be a whole number of springs, got 6\.5"),
    ({"intact": [8, -1]}, r"intact\[1\] must be >= 0 and <= 8, got -1"),
    ({"force_factor": 2.5}, r"force_factor must be >= 0 and <= 2, got 2\.5"),
    ({"release_lever_play_mm": -0.1}, r"release_lever_play_mm must be >= 0 mm"),
    (
        {"release_lever_play_mm": 0.1, "release_lever_rate_n_per_mm": float("inf")},
        r"release_lever_rate_n_per_mm must be >= 0 N/mm, got inf",
    ),
    ({"gap_mm": "wide"}, r"gap_mm must be a number or an array of numbers, got 'wide'"),
]


@pytest.mark.parametrize(("changed", "message"), BAD)
def test_impossible_springs_and_gaps_are_refused(changed, message):
    """The sentence names the argument, the range and the value, of an array the place."""
    arguments = {"gap_mm": 0.5, "springs": EIGHT, "setting_gap_mm": 0.3} | changed

    with pytest.raises(ValueError, match=message):
        clamping_force_n(**arguments)

"""What readings ask for where no screw sets the gap: the right answer follows the design.

Outside check, for the geometry: a plane is fixed by three points and a ring moves it without
tilting it; what a gap that nothing sets has gained is what its disc has lost. The rest is common
practice, no source.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from widgets.brake.condition import gap_field, sound_condition
from widgets.brake.gap.profile import Plane
from widgets.brake.judgement.rules import Outcome, Reading, conclude
from widgets.brake.judgement.words import sentences
from widgets.brake.sizes.sheet import four_designs

HOLLOW, SHIMS, RING, FIXED = four_designs().sizes  # gap 0.30 to 0.80 mm each
U_MM, DISC_U_MM = 0.0086, 0.030
F, A, R, X = Outcome.FIT, Outcome.ADJUST, Outcome.REPLACE, Outcome.REFER


def concluded(size, gap: Plane, disc_mm=10.6, growth_mm=0.0):
    gaps = [Reading(45.0 * n, gap.at_mm(45.0 * n), U_MM) for n in range(8)]
    discs = [Reading(120.0 * n, disc_mm, DISC_U_MM) for n in range(3)]
    return conclude(size, gaps, discs, growth_mm)


@pytest.mark.parametrize(
    ("gap", "growth_mm", "by_design"),
    [
        (Plane(0.50), 0.0, (F, F, F, F)),
        (Plane(0.90), 0.0, (A, A, A, R)),
        (Plane(0.60), 0.3, (A, A, A, R)),  # too large before somebody looks again
        (Plane(0.15), 0.0, (A, A, A, X)),
        (Plane(0.50, 0.10), 0.0, (A, A, X, X)),  # tilted
        (Plane(0.90, 0.10), 0.0, (A, A, X, X)),
    ],
)
def test_the_right_answer_follows_the_design(gap, growth_mm, by_design):
    """Hollow screws, shims, ring, nothing: set, set, set all alike, or a new disc."""
    found = [concluded(size, gap, growth_mm=growth_mm) for size in (HOLLOW, SHIMS, RING, FIXED)]

    assert tuple(one.outcome for one in found) == by_design


def test_to_adjust_what_nothing_sets_could_let_a_load_fall():
    """Its gap stays beyond its largest; where a screw sets it, adjusting is the cure."""
    assert concluded(FIXED, Plane(0.90)).unsafe == {F, A}
    assert concluded(HOLLOW, Plane(0.90)).unsafe == {F}


def test_the_reason_says_so():
    """A person reads why the answer differs from the one next to it."""
    (wide,) = sentences(concluded(FIXED, Plane(0.90)).reasons)[-1:]
    (tilted,) = sentences(concluded(RING, Plane(0.50, 0.10)).reasons)[-1:]

    assert "only a new disc closes it" in wide
    assert "cannot take a tilt out" in tilted


@given(
    mean_mm=st.floats(0.2, 1.2), tilt_mm=st.floats(0.0, 0.1), disc_mm=st.floats(8.5, 11.0),
    growth_mm=st.floats(0.0, 0.3), size=st.sampled_from([RING, FIXED]),
)  # fmt: skip
def test_no_design_makes_a_brake_better_than_screws_would(
    mean_mm, tilt_mm, disc_mm, growth_mm, size
):
    """Never "adjust" where nothing sets; never less unsafe; the outcome itself never unsafe."""
    gap = Plane(mean_mm, min(tilt_mm, mean_mm))
    screws, other = (concluded(one, gap, disc_mm, growth_mm) for one in (SHIMS, size))

    assert other.unsafe >= screws.unsafe - ({A} if disc_mm > 8.8 else set())
    assert other.outcome not in other.unsafe
    assert size is RING or A not in {other.outcome, *other.arguable}


@given(gap_mm=st.floats(0.3, 1.1))
def test_a_gap_that_nothing_sets_is_what_the_disc_has_lost(gap_mm):
    """Height of the body fixed at new: gap and disc together stay what they were."""
    new = sound_condition(FIXED)
    lost_mm = gap_mm - 0.30
    worn = sound_condition(FIXED, gap=Plane(gap_mm), disc=type(new.disc)(11.0 - lost_mm))

    assert worn.screw_height_mm == pytest.approx(new.screw_height_mm, abs=1e-9)
    assert gap_field(FIXED, worn).plane.mean_mm == pytest.approx(gap_mm, abs=1e-9)

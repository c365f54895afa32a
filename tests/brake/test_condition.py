"""The hidden condition: what the parts make of the gap and the disc."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import strategies as any_
from widgets.brake.condition import (
    Condition,
    Disc,
    gap_field,
    locked_stand_off_mm,
    sound_condition,
)
from widgets.brake.gap.profile import Plane
from widgets.brake.gap.reversal import part_that_turns_with_the_disc

CEDAR = any_.SHEET.size("Cedar-47")
TILTS = st.floats(-0.1, 0.1)
GAPS = st.builds(Plane, st.floats(0.3, 1.2), TILTS, TILTS)
DISCS = st.builds(Disc, st.floats(8, 12), st.floats(0, 0.3), st.floats(0, 360))


def parts(plane: Plane) -> tuple[float, float, float]:
    return plane.mean_mm, plane.cos_mm, plane.sin_mm


@given(any_.SIZES, GAPS, DISCS)
def test_a_brake_is_found_with_the_gap_it_was_made_with(size, gap, disc):
    """Locked, whatever disc and thread play stand behind it."""
    condition = sound_condition(size, gap=gap, disc=disc, take_up_mm=(0.01, 0.05, 0.03))

    assert parts(gap_field(size, condition).plane) == pytest.approx(parts(gap), abs=1e-9)


def test_a_sound_brake_is_new_and_on_its_setting():
    """Nothing asked for: new disc, the setting all the way round, all springs, no warp."""
    condition = sound_condition(CEDAR)

    assert gap_field(CEDAR, condition).round_mm(12) == pytest.approx([CEDAR.gap.setting_mm] * 12)
    assert condition.disc.thickness_mm == CEDAR.disc.new_mm
    assert condition.springs_intact == CEDAR.springs.count
    assert condition.warp_mm == 0


@given(st.floats(0, 2))
def test_what_the_disc_loses_the_gap_gains(wear_mm):
    """By hand: the body stands still, so a disc worn by w opens the gap by w."""
    new = sound_condition(CEDAR)
    worn = replace(new, disc=Disc(CEDAR.disc.new_mm - wear_mm))

    assert gap_field(CEDAR, worn).plane.mean_mm == pytest.approx(CEDAR.gap.setting_mm + wear_mm)


def test_a_missing_wear_plate_opens_the_gap_by_its_thickness():
    """Forgotten at the last re-lining."""
    condition = replace(sound_condition(CEDAR), wear_plate_mm=0.0)
    wanted_mm = CEDAR.gap.setting_mm + CEDAR.wear_plate_mm

    assert gap_field(CEDAR, condition).plane.mean_mm == pytest.approx(wanted_mm)


def test_slack_screws_open_the_gap_by_their_thread_play():
    """All three loose, 0.03 mm of play each: 0.03 mm wider."""
    condition = sound_condition(CEDAR, take_up_mm=(0.03, 0.03, 0.03))
    loose = gap_field(CEDAR, condition, condition.screw_height_mm).plane
    locked = gap_field(CEDAR, condition, locked_stand_off_mm(condition)).plane

    assert loose.mean_mm - locked.mean_mm == pytest.approx(0.03)


@given(GAPS, DISCS)
def test_half_a_turn_of_the_shaft_tells_disc_from_body(gap, disc):
    """Reversal: the part that changes sign is the disc's taper, against thick and thin side.

    Outside check: straightedge reversal of length metrology; the gap is least where the
    disc is thickest.
    """
    condition = sound_condition(CEDAR, gap=gap, disc=disc)
    turned = [gap_field(CEDAR, condition, shaft_deg=shaft).plane for shaft in (0.0, 180.0)]
    body, carried = part_that_turns_with_the_disc(*turned)
    thick = math.radians(disc.thick_deg)
    taper = disc.taper_mm

    assert carried.tilt_mm == pytest.approx(taper, abs=1e-9)
    assert carried.cos_mm == pytest.approx(-taper * math.cos(thick), abs=1e-9)
    assert body.cos_mm == pytest.approx(gap.cos_mm + taper * math.cos(thick), abs=1e-9)


@given(DISCS, st.floats(0, 360), st.floats(-360, 360))
def test_the_thick_side_turns_with_the_shaft(disc, angle, shaft):
    """Turned by x, what was at a place is found x further on; no place is thinner than the thinnest."""
    assert disc.at_mm(angle + shaft, shaft) == pytest.approx(disc.at_mm(angle), abs=1e-9)
    assert disc.at_mm(angle) >= disc.thinnest_mm - 1e-9
    assert disc.at_mm(disc.thick_deg) == pytest.approx(disc.thickness_mm + disc.taper_mm)


@given(DISCS, st.floats(-360, 360))
def test_a_full_turn_of_the_shaft_brings_the_same_gap_back(disc, shaft):
    """The gap is a matter of where the disc stands, not of how it came there."""
    condition = sound_condition(CEDAR, disc=disc, gap=Plane(0.6))
    once, again = (gap_field(CEDAR, condition, shaft_deg=s).plane for s in (shaft, shaft + 360))

    assert parts(once) == pytest.approx(parts(again), abs=1e-9)


SOUND = sound_condition(CEDAR)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: Disc(0.0), "disc thickness_mm must be > 0 mm, got 0"),
        (lambda: Disc(math.nan), "disc thickness_mm"),
        (lambda: Disc(10.0, -0.1), "disc taper_mm"),
        (lambda: Disc(10.0, 6.0), "disc taper_mm"),
        (lambda: sound_condition(CEDAR, gap=Plane(0.1, 0.2)), "gap narrowest must be >= 0 mm"),
        (lambda: sound_condition(CEDAR, take_up_mm=(0.0, -0.1, 0.0)), "take_up_mm of screw 2"),
        (lambda: replace(SOUND, dust_mm=-0.1), "dust_mm"),
        (lambda: replace(SOUND, friction=0.0), "friction must be > 0"),
        (lambda: replace(SOUND, friction=math.inf), "friction"),
        (lambda: replace(SOUND, springs_intact=-1), "springs_intact"),
        (lambda: replace(SOUND, spring_force_factor=3.0), "spring_force_factor"),
        (lambda: replace(SOUND, coil_c=1000.0), "coil_c"),
        (lambda: replace(SOUND, supply_factor=-0.1), "supply_factor"),
    ],
)
def test_a_condition_that_cannot_be_is_refused_by_name(call, words):
    """Argument, value and range."""
    with pytest.raises(ValueError, match=words):
        call()


def test_a_condition_cannot_be_changed_in_place():
    """Frozen: a bench that is replayed starts from the same brake."""
    with pytest.raises(AttributeError):
        SOUND.friction = 0.2  # type: ignore[misc]
    assert isinstance(SOUND, Condition)

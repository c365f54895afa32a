"""The living scenes of the work: screws, leaf, caliper and heat show what the model says."""

import numpy as np
import pytest

from quizzes.desks.explorers import living_work
from quizzes.desks.explorers.brake_explorers import lesson_size
from widgets.brake.draws import Draws
from widgets.brake.gap.profile import Plane
from widgets.brake.magnet.transient import Switching
from widgets.brake.torque.disc_cooling import estimated_cooling
from widgets.brake.torque.heat import DutyCycle, integrated_temperature_c
from widgets.charts.living.heat_tables import RUNNING_PERCENT
from widgets.charts.living.screw_tables import (
    levelling_targets_deg,
    screws_field,
)
from widgets.charts.living.tool_tables import MOST_TILT_MM, clamped_disc
from widgets.charts.torque_over_gap import ratio
from widgets.charts.wear_and_energy import stop_energy_j
from widgets.instruments.feeler import PERFECT_HAND, Entry, Leaf, blade_angles_deg, insert

from .living_pages import node

CEDAR = lesson_size("Cedar-47")
DICE = np.random.default_rng(20261128)
SCREWS = ("first_deg", "second_deg", "third_deg")


@node
@pytest.mark.parametrize("parts", ["flat", "warped"])
def test_the_ring_shows_the_models_gap_for_any_turns_slack_or_tight(shown, parts):
    """Round the rim at 20 sets of turns, some of which close the gap: two micrometres."""
    asked = []
    for turn in range(20):
        turns = DICE.uniform(-150, 90, 3).tolist()
        values = dict(zip(SCREWS, turns, strict=True)) | {"parts": parts}
        asked.append({"ask": "gap_round", "values": values, "slack": turn % 2})
    found = shown(living_work.levelling_scene(CEDAR), asked)
    for one, page in zip(asked, found, strict=True):
        turns_deg = tuple(one["values"][name] for name in SCREWS)
        field = screws_field(CEDAR, turns_deg, locked=not one["slack"], warped=parts == "warped")

        assert page["gaps"] == pytest.approx(field.round_mm(72), abs=0.002)


@node
def test_level_it_leaves_an_even_gap_and_equal_turns_leave_the_tilt(shown):
    """By their own turns the screws make the setting all round; alike, only the mean is right.

    Common practice, no source: three screws level any tilt, and equal turns none of it.
    """
    own_deg, alike_deg = levelling_targets_deg(CEDAR)
    asked = [
        {"ask": "gap_round", "values": {**dict(zip(SCREWS, turns, strict=True)), "parts": "flat"}, "slack": 0}
        for turns in (own_deg, alike_deg, (0.0, 0.0, 0.0))
    ]  # fmt: skip
    level, alike, found = shown(living_work.levelling_scene(CEDAR), asked)

    # Whole degrees: half a degree of M10, 1.5 mm a turn, is two micrometres.
    assert level["spread_mm"] < 0.01
    assert level["mean_mm"] == pytest.approx(CEDAR.gap.setting_mm, abs=0.003)
    assert alike["mean_mm"] == pytest.approx(CEDAR.gap.setting_mm, abs=0.003)
    assert alike["spread_mm"] == pytest.approx(found["spread_mm"], abs=1e-6)


@node
def test_a_slack_screw_lifts_the_body_by_pitch_times_turns_and_the_play(shown):
    """Outside check: ISO 261 gives M6 coarse 1.0 mm a turn, M10 coarse 1.5 mm."""
    asked = [
        {"ask": "screw", "values": {"let_off": off, "hollow_deg": turn}}
        for off, turn in ((0.0, 0.0), (0.25, 0.0), (0.5, -60.0), (0.0, 90.0))
    ]
    tight, quarter, half, out = shown(living_work.one_screw_scene(CEDAR), asked)

    assert tight["lift_mm"] == 0
    assert half["lift_mm"] - quarter["lift_mm"] == pytest.approx(0.25 * 1.0)
    assert quarter["lift_mm"] == pytest.approx(0.25 + 0.06)  # and this screw's own play
    assert half["tight_mm"] == pytest.approx(CEDAR.gap.setting_mm - 1.5 / 6)
    assert out["gap_mm"] == pytest.approx(CEDAR.gap.setting_mm + 1.5 / 4)


@node
def test_the_leaf_feels_what_a_perfect_hand_feels(shown):
    """At 120 places, tilts, angles, depths and leaves, away from the edge between two feels."""
    asked = []
    for _ in range(120):
        values = {
            "angle_deg": float(DICE.uniform(0, 355)), "tilt_mm": float(DICE.uniform(0, MOST_TILT_MM)),
            "skew_deg": float(DICE.uniform(0, 10)), "depth_mm": float(DICE.choice([0.3, 0.8, 4.0, 15.0])),
            "leaf_mm": float(DICE.uniform(0.1, 0.5)),
        }  # fmt: skip
        asked.append({"ask": "leaf", "values": values})
    edge_mm, compared = 0.001, 0
    for one, page in zip(asked, shown(living_work.leaf_scene(CEDAR), asked), strict=True):
        at = one["values"]
        plane = Plane(CEDAR.gap.setting_mm, at["tilt_mm"] / 2)
        under = blade_angles_deg(at["angle_deg"], CEDAR.screws.gauging_circle_mm).tolist()
        gaps_mm = [plane.at_mm(angle) for angle in under]
        entry = Entry(skew_deg=at["skew_deg"], depth_mm=at["depth_mm"])
        felt = insert(
            [Leaf(at["leaf_mm"])], gaps_mm, Draws(bytes(16)), entry=entry, hand=PERFECT_HAND
        )
        room_mm = min(gaps_mm) - entry.lost_mm - at["leaf_mm"]
        assert page["smallest_mm"] == pytest.approx(min(gaps_mm), abs=edge_mm)
        assert page["room_mm"] == pytest.approx(room_mm, abs=edge_mm)
        if min(abs(room_mm), abs(room_mm - 0.010)) > edge_mm:
            compared += 1
            assert page["feel"] == felt.feel.value.replace("-", " ")
        assert page["depth_mm"] <= at["depth_mm"]
    assert compared > 80


@node
def test_jaws_out_of_square_span_the_secant(shown):
    """Outside check: secants to four places, CRC Standard Mathematical Tables (from memory)."""
    secants = {0.0: 1.0, 3.0: 1.0014, 5.0: 1.0038, 10.0: 1.0154}
    disc = clamped_disc(CEDAR)
    asked = [
        {"ask": "jaws", "values": {"angle_deg": angle, "square_deg": square}}
        for angle in (0.0, 132.0, 270.0)
        for square in secants
    ]
    for one, page in zip(asked, shown(living_work.jaws_scene(CEDAR), asked), strict=True):
        at = one["values"]
        assert page["thickness_mm"] == pytest.approx(disc.at_mm(at["angle_deg"]), abs=1e-3)
        # Four places of a secant are half a thousandth of ten millimetres.
        assert page["span_mm"] == pytest.approx(
            disc.at_mm(at["angle_deg"]) * secants[at["square_deg"]], abs=2e-3
        )
    assert page["thinnest_mm"] == pytest.approx(disc.thinnest_mm, abs=1e-3)


@node
@pytest.mark.parametrize("side", ["dc", "ac"])
def test_the_faces_warm_as_the_heat_balance_says(shown, side):
    """Just after a stop, at three duties: the heat balance, integrated independently, is at its peak there."""
    cooling = estimated_cooling(CEDAR)
    switching = {"dc": Switching.DC_SIDE, "ac": Switching.AC_SIDE}[side]
    for stops, count in ((30.0, 20), (120.0, 60), (240.0, 200)):
        duty = DutyCycle(stops, RUNNING_PERCENT)
        gap_mm = 0.43
        energy_j = stop_energy_j(CEDAR, gap_mm, switching)
        _, course_c = integrated_temperature_c(energy_j, cooling, duty, count)
        values = {"gap_mm": gap_mm, "side": side, "stops": stops}
        time_s = (count - 1) * duty.cycle_s
        (page,) = shown(
            living_work.heat_scene(CEDAR), [{"ask": "heat", "values": values, "time_s": time_s}]
        )
        peak_k = float(np.max(course_c)) - cooling.ambient_c

        assert page["stop_kj"] == pytest.approx(energy_j / 1000, rel=2e-3)
        # Between two points of the table the course is a curve: less than a line's width.
        assert page["face_c"] - cooling.ambient_c == pytest.approx(peak_k, rel=0.02)
        if page["face_c"] < 200:
            assert page["times_load"] == pytest.approx(ratio(CEDAR, gap_mm, "bedded"), rel=2e-3)
        else:
            assert page["times_load"] < ratio(CEDAR, gap_mm, "bedded")


def test_the_steel_takes_the_heat_of_one_stop_by_its_weight():
    """Outside check: 480 J/(kg·K) and 7850 kg/m3 of plain steel, and the size's own lengths.

    A ring 47 to 76 mm, as thick as passes the flux of 60 cm2 at a mean radius of 60.5 mm, twice.
    """
    thickness_mm = 6000 / (2 * np.pi * 60.5)
    mass_kg = 7850e-9 * np.pi * (76**2 - 47**2) * thickness_mm

    assert estimated_cooling(CEDAR).heat_capacity_j_per_k == pytest.approx(
        2 * mass_kg * 480, rel=1e-6
    )

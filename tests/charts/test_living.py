"""The living cutaway: what a page reads between the points of its tables is what the model says."""

import json
import math

import numpy as np
import pytest
from scipy.integrate import quad

from quizzes.desks.explorers import living
from quizzes.desks.explorers.brake_explorers import lesson_size
from widgets.brake.behaviour import HOT_COIL_C
from widgets.brake.magnet import (
    dropout_voltage_v,
    flux_density_t,
    largest_releasing_gap_mm,
    pull_n,
    release_voltage_v,
)
from widgets.brake.magnet.coil import coil_ampere_turns
from widgets.brake.magnet.transient import Switching, application_transient
from widgets.brake.torque import integrated_stop
from widgets.brake.torque.braking import face_area_mm2
from widgets.brake.torque.clamping import clamping_force_n
from widgets.brake.wear.growth import DEMO_WEAR_MM3_PER_MJ
from widgets.charts.living.load_courses import load_course
from widgets.charts.living.plate_courses import actuator_at, drawn_in_course, power_off_course
from widgets.charts.living.tables import Axis, Course, Table, rounded
from widgets.charts.living.wear_runs import adjusted_table, growth_over_stops, neglected_table
from widgets.charts.stop_courses import StopOf, course_case, how_it_ends
from widgets.charts.torque_over_gap import ratio
from widgets.charts.wear_and_energy import one_run, stop_energy_j

from .living_pages import node

CEDAR = lesson_size("Cedar-47")
SIDES = {"dc": Switching.DC_SIDE, "ac": Switching.AC_SIDE}
DICE = np.random.default_rng(20261128)


def anywhere(count):
    """Return controls of the clack at places that are on no grid point."""
    return [
        {
            "supply": float(DICE.uniform(1, 119)),
            "gap_mm": float(DICE.uniform(0.1, 1.2)),
            "coil_c": float(DICE.uniform(0, 130)),
        }
        for _ in range(count)
    ]


@node
@pytest.mark.parametrize("where", ["disc", "magnet"])
def test_the_clack_shows_the_models_forces_at_many_positions(shown, where):
    """Springs, pull, field and the voltages at which the plate moves, at 150 places off the grid.

    Half a percent of the number (and of the largest pull near nothing): less than a line's width.
    """
    places = anywhere(150)
    plate = {"where": where, "since_s": 0}
    found = shown(
        living.clack_scene(CEDAR), [{"ask": "clack", "values": v, "plate": plate} for v in places]
    )
    rated_v = CEDAR.coil.voltage_v
    for at, page in zip(places, found, strict=True):
        gap_mm, coil_c = at["gap_mm"], at["coil_c"]
        open_mm = 0.0 if where == "magnet" else gap_mm
        force_n = clamping_force_n(gap_mm, CEDAR.springs, CEDAR.gap.setting_mm)
        drive = coil_ampere_turns(CEDAR.coil, at["supply"] / 100 * rated_v, coil_c)
        needed_v = release_voltage_v(gap_mm, force_n, CEDAR.magnet, CEDAR.coil, coil_c)
        closed_n = clamping_force_n(0.0, CEDAR.springs, CEDAR.gap.setting_mm)
        let_go_v = dropout_voltage_v(closed_n, CEDAR.magnet, CEDAR.coil, coil_c)
        spring_n = clamping_force_n(open_mm, CEDAR.springs, CEDAR.gap.setting_mm)

        assert page["open_mm"] == open_mm
        assert page["ampere_turns"] == pytest.approx(drive, rel=2e-3)
        assert page["flux_t"] == pytest.approx(
            flux_density_t(open_mm, drive, CEDAR.magnet), rel=5e-3, abs=2e-3
        )
        assert page["pull_n"] == pytest.approx(
            pull_n(open_mm, drive, CEDAR.magnet), rel=5e-3, abs=6.0
        )
        assert page["spring_n"] == pytest.approx(spring_n, rel=1e-5)
        assert page["needed"] == pytest.approx(100 * needed_v / rated_v, rel=2e-3)
        assert page["let_go"] == pytest.approx(100 * let_go_v / rated_v, rel=2e-3)
        assert page["times_load"] == pytest.approx(float(ratio(CEDAR, gap_mm, "bedded")), rel=1e-5)


@node
@pytest.mark.parametrize("side", SIDES)
def test_a_stop_shows_the_models_course_at_many_gaps_and_times(shown, side):
    """Travel, speed and torque of the load at 40 gaps and times off the grid, one stop solved each."""
    asked = [
        {"ask": "stop", "side": side, "gap_mm": float(gap), "time_s": float(time)}
        for gap, time in zip(DICE.uniform(0.1, 1.2, 40), DICE.uniform(0, 1.0, 40), strict=True)
    ]
    found = shown(living.switching_scene(CEDAR), asked)
    for one, page in zip(asked, found, strict=True):
        case = course_case(CEDAR, StopOf("", one["gap_mm"], switching=SIDES[side]))
        _, trace = integrated_stop(case)
        travel_mm, speed = (
            float(np.interp(one["time_s"], trace.time_s, column))
            for column in (trace.travel_mm, trace.speed_rad_s)
        )
        # A millimetre in a hundred, and a turn of the shaft in a hundred, are not to be seen.
        assert page["travel_mm"] == pytest.approx(travel_mm, rel=0.01, abs=0.1)
        assert 2 * math.pi * page["speed_rev_s"] == pytest.approx(speed, abs=0.01 * 152)


@node
@pytest.mark.parametrize("side", SIDES)
def test_the_plate_crosses_when_the_model_says(shown, side):
    """Position of the plate while it crosses, at 12 gaps off the grid: a hundredth of a millimetre."""
    gaps = DICE.uniform(0.15, 1.15, 12).tolist()
    runs = [application_transient(actuator_at(CEDAR, gap), SIDES[side]) for gap in gaps]
    asked = [
        {
            "ask": "stop",
            "side": side,
            "gap_mm": gap,
            "time_s": run.lift_off_s + 0.7 * (run.landing_s - run.lift_off_s),
        }
        for gap, run in zip(gaps, runs, strict=True)
    ]
    for one, page, run in zip(
        asked, shown(living.switching_scene(CEDAR), asked), runs, strict=True
    ):
        open_mm = float(np.interp(one["time_s"], run.time_s, run.position_mm))

        assert page["phase"] == "crosses"
        assert page["open_mm"] == pytest.approx(open_mm, abs=0.02)


@node
def test_a_life_of_wear_shows_what_the_wear_of_each_stop_adds_up_to(shown):
    """After so many stops the disc has lost the energy of all of them times the wear coefficient.

    Outside check: Archard's law, wear volume proportional to friction energy, summed here by
    quadrature over the gap and not from the table.
    """
    scene = living.wear_runs_scene(CEDAR)
    grown = DICE.uniform(0.05, 0.85, 20).tolist()
    per_mm = face_area_mm2(CEDAR.lining) * 1e6 / DEMO_WEAR_MM3_PER_MJ  # J for a millimetre
    start = CEDAR.gap.setting_mm
    stops = [quad(lambda g: per_mm / stop_energy_j(CEDAR, g), start, start + g)[0] for g in grown]
    found = shown(scene, [{"ask": "wear", "habit": "neglected", "stops": s} for s in stops])
    for lost_mm, page in zip(grown, found, strict=True):
        assert page["gap_mm"] == pytest.approx(start + lost_mm, abs=1e-3)
        assert page["disc_mm"] == pytest.approx(CEDAR.disc.new_mm - lost_mm, abs=1e-3)


# ---- what the tables say themselves ----


def test_copper_asks_for_more_volts_by_its_own_law():
    """A hot coil needs 1 + 0.00393 (T - 20) times the cold voltage at any gap.

    Outside check: temperature coefficient of annealed copper, IEC 60028: 0.00393 per kelvin.
    """
    table = living.still_tables(CEDAR)["release"]
    celsius = table.axes[1].points
    needed = table.columns["release"]
    cold = needed[:, [int(np.argmin(np.abs(celsius - 20)))]]

    assert celsius[np.argmin(np.abs(celsius - 20))] == pytest.approx(20)
    assert needed / cold == pytest.approx(np.tile(1 + 0.00393 * (celsius - 20), (41, 1)), rel=1e-3)


def test_the_drawn_widest_releasing_gap_is_the_models_own():
    """Where the table meets 90 % at 100 °C, the model's root finder puts the widest gap."""
    table = living.still_tables(CEDAR)["release"]
    hot = [
        np.interp(HOT_COIL_C, table.axes[1].points, row)
        for row in table.columns["release"].tolist()
    ]
    meets_mm = float(np.interp(90.0, hot, table.axes[0].points))

    def force_n(gap_mm):
        return clamping_force_n(gap_mm, CEDAR.springs, CEDAR.gap.setting_mm)

    widest_mm = largest_releasing_gap_mm(
        force_n, CEDAR.magnet, CEDAR.coil, 0.9 * CEDAR.coil.voltage_v, HOT_COIL_C
    )
    assert meets_mm == pytest.approx(widest_mm, abs=0.005)


@pytest.mark.parametrize("side", SIDES.values())
def test_while_nothing_holds_it_the_load_falls_by_the_law_of_even_acceleration(side):
    """Before the brake bites the drop is v t + a t²/2; a is the load's weight on all that turns.

    Outside check: Newton's second law, worked here from the sheet's masses and speeds alone.
    """
    hoist = CEDAR.hoist
    rope_m_s, shaft = hoist.speed_m_per_min / 60, hoist.motor_rpm * 2 * math.pi / 60
    metres = rope_m_s / shaft
    mass_kg = hoist.load_kg + hoist.motor_inertia_kgm2 / metres**2
    gain_m_s2 = hoist.load_kg * 9.80665 / mass_kg
    free = load_course(CEDAR, side).phases[0]
    for duration_s, travel_mm in zip(
        free.duration_s.tolist(), free.columns["travel_mm"].tolist(), strict=True
    ):
        time_s = np.linspace(0, duration_s, len(travel_mm))
        fallen_mm = 1000 * (rope_m_s * time_s + gain_m_s2 * time_s**2 / 2)

        # The model takes 9.81 m/s², a third of a thousandth more than the standard value.
        assert np.array(travel_mm) == pytest.approx(fallen_mm, rel=1e-3, abs=0.05)


@pytest.mark.parametrize("side", SIDES.values())
def test_the_linings_get_the_energy_that_the_load_and_the_rotor_lose(side):
    """Friction energy is the weight's fall and the motion at power-off, and nothing else.

    Outside check: conservation of energy, worked from the sheet's masses, heights and speeds.
    """
    hoist = CEDAR.hoist
    rope_m_s, shaft = hoist.speed_m_per_min / 60, hoist.motor_rpm * 2 * math.pi / 60
    moving_j = hoist.load_kg * rope_m_s**2 / 2 + hoist.motor_inertia_kgm2 * shaft**2 / 2
    last = load_course(CEDAR, side).phases[-1]
    fallen_m = last.columns["travel_mm"][:, -1] / 1000

    assert last.columns["energy_j"][:, -1] == pytest.approx(
        moving_j + hoist.load_kg * 9.80665 * fallen_m, rel=2e-3
    )


@pytest.mark.parametrize("side", SIDES.values())
def test_a_course_ends_where_the_lessons_say_it_ends(side):
    """The drop at the setting gap is that of the printed numbers, to a tenth of a millimetre or two."""
    course = load_course(CEDAR, side)
    travel_mm = float(
        np.interp(0.3, course.axis.points, course.phases[-1].columns["travel_mm"][:, -1])
    )
    printed_mm = how_it_ends(CEDAR, StopOf("", 0.3, switching=side)).travel_mm

    assert travel_mm == pytest.approx(printed_mm, rel=0.01)


def test_crossings_begin_on_one_stop_and_end_on_the_other():
    """Drawn in, the plate starts at the gap and ends on the poles; let go, the other way round."""
    to_magnet = drawn_in_course(CEDAR).phases[0].columns["open_mm"]
    gaps = drawn_in_course(CEDAR).axis.points

    assert to_magnet[:, 0] == pytest.approx(gaps, abs=1e-6)
    assert to_magnet[:, -1] == pytest.approx(0, abs=1e-3)
    for side in SIDES.values():
        crosses = power_off_course(CEDAR, side).phases[1].columns["open_mm"]
        assert crosses[:, 0] == pytest.approx(0, abs=1e-3)
        assert crosses[:, -1] == pytest.approx(gaps, abs=1e-3)


def test_a_cut_on_the_ac_side_keeps_its_field_many_times_longer():
    """On the AC side the coil's own current circles on: common practice, no source, says several times."""
    fades = {
        name: float(power_off_course(CEDAR, side).phases[0].duration_s[2])
        for name, side in SIDES.items()
    }

    assert fades["ac"] > 3 * fades["dc"]


def test_each_run_of_an_adjusted_life_is_the_run_of_the_wall_sheet():
    """Stops from setting to largest gap are those of the printed wear figure, run after run."""
    table = adjusted_table(CEDAR)
    _, stops = one_run(CEDAR)
    jumps = np.flatnonzero(np.diff(table.columns["gap_mm"]) < 0)

    assert table.axes[0].points[jumps] == pytest.approx(
        stops[-1] * np.arange(1, jumps.size + 1), rel=1e-3
    )
    assert table.columns["gap_mm"].max() == pytest.approx(CEDAR.gap.max_mm)
    assert table.columns["disc_mm"].min() < CEDAR.disc.min_mm


@pytest.mark.parametrize("make", [adjusted_table, neglected_table])
def test_what_the_disc_loses_the_gap_gains(make):
    """Between two settings gap and disc add up to the same. Common practice, no source: geometry."""
    columns = make(CEDAR).columns
    room_mm = CEDAR.gap.max_mm - CEDAR.gap.setting_mm

    assert columns["gap_mm"] + columns["disc_mm"] + columns["adjusted"] * room_mm == pytest.approx(
        CEDAR.gap.setting_mm + CEDAR.disc.new_mm
    )


def test_growth_quickens_as_the_gap_widens():
    """A wider gap brakes more weakly, so each stop costs more lining."""
    gaps, stops = growth_over_stops(CEDAR, 1.2)

    assert np.all(np.diff(np.diff(gaps) / np.diff(stops)) > 0)


# ---- how a scene is asked for, and what it sends ----

SCENES = [
    living.clack, living.switching, living.four_stops, living.wear_runs, living.levelling,
    living.one_screw, living.leaf, living.jaws, living.heat,
]  # fmt: skip
each = pytest.mark.parametrize("make", SCENES, ids=lambda make: make.__name__)


@each
@pytest.mark.parametrize("name", ["Alder-11", "Cedar-47"])
def test_one_line_gives_a_scene_that_sends_tables_and_then_courses(make, name):
    """Everything is plain, finite and small enough for one message each."""
    panel, sent = make(name), []
    panel.send = sent.append
    panel._hear({"ask": "tables"})
    panel._hear({"ask": "courses"})

    assert sent[0]["scene"]
    assert sent[0]["caption"]
    assert sent[0]["controls"]
    assert all("start" in control for control in sent[0]["controls"])
    assert list(sent[1]) == ["courses"]
    assert all(len(json.dumps(one, allow_nan=False)) < 400_000 for one in sent)


@each
@pytest.mark.parametrize(
    "junk", [{}, {"ask": "truth"}, {"ask": ["tables"]}, {"set": {"gap_mm": 9}}, {"ask": None}]
)
def test_a_scene_answers_nothing_else(make, junk):
    """What is not a question of its own gets no answer, and changes nothing."""
    panel, sent = make(), []
    panel.send = sent.append
    panel._hear(junk)

    assert not sent


def test_a_table_of_the_wrong_shape_is_refused():
    """A column must have a number for each place of the grid, and an axis must not fall."""
    with pytest.raises(ValueError, match="column 'a' must have shape"):
        Table((Axis("x", "mm", np.array([0.0, 1.0])),), {"a": np.zeros(3)})
    with pytest.raises(ValueError, match="never fall"):
        Axis("x", "mm", np.array([1.0, 0.0]))
    with pytest.raises(ValueError, match="two or more"):
        Axis("x", "mm", np.array([1.0]))


def test_what_is_infinite_is_sent_as_nothing():
    """JSON has no infinity: the page reads a hole as one."""
    assert rounded([1.23456789, math.inf, math.nan]) == [1.23457, None, None]
    assert Course(Axis("x", "", np.array([0.0, 1.0])), ()).plain()["phases"] == []

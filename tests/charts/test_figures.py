"""Figures: every one has words that say the same, numbers of the model, and marks beside colour."""

import datetime as dt
import functools
import importlib
import inspect
import math
import pkgutil
import re
import typing
import xml.etree.ElementTree as ET
from itertools import combinations

import numpy as np
import pytest
from scipy.stats import norm

import widgets.charts
from widgets.brake.gap.profile import GapField, Plane
from widgets.brake.judgement.rules import Reading
from widgets.brake.magnet import largest_releasing_gap_mm
from widgets.brake.magnet.transient import Switching
from widgets.brake.sizes.sheet import INVENTED, load_sheet
from widgets.brake.torque.clamping import clamping_force_n
from widgets.brake.wear.trend import DatedGap
from widgets.charts import (
    marks,
    near_a_limit,
    picture,
    set_by_design,
    stop_courses,
    torque_over_gap,
)
from widgets.charts.brake_stack import brake_stack
from widgets.charts.class_readings import class_readings
from widgets.charts.decision_map import LOOKS, decision_map
from widgets.charts.force_and_pull import force_and_pull
from widgets.charts.gap_round import gap_round
from widgets.charts.levelling_turns import levelling_turns_figure
from widgets.charts.lining_section import lining_section
from widgets.charts.next_look import next_look_figure
from widgets.charts.own_hand import own_hand_figure
from widgets.charts.picture import Picture
from widgets.charts.places_round import places_figure, seen_at
from widgets.charts.readings_round import readings_round
from widgets.charts.release_over_gap import (
    release_delay_ms,
    release_time_figure,
    release_voltage_figure,
    releasing_gap_mm,
)
from widgets.charts.reversal_test import reversal_figure
from widgets.charts.set_by_design import set_by_design_figure
from widgets.charts.stop_courses import StopOf, how_it_ends, stop_figure
from widgets.charts.torque_over_gap import friction_figure, ratio, torque_figure
from widgets.charts.wear_and_energy import energy_figure, one_run, stop_energy_j, wear_figure
from widgets.charts.wear_trend import trend_figure
from widgets.instruments.feeler import GapReading

CEDAR = {size.name: size for size in load_sheet(INVENTED).sizes}["Cedar-47"]
ROUND = [
    Reading(45.0 * place, 0.60 + 0.08 * math.cos(math.radians(45 * place)), 0.0086)
    for place in range(8)
]
TURNED = [Reading(r.angle_deg, 1.2 - r.value_mm, r.u_mm) for r in ROUND]
SADDLE = GapField(Plane(0.6, 0.05, 0.04), 0.10, 45.0)
DAYS = [0, 60, 120, 180, 240]
HISTORY = [
    DatedGap(dt.date(2026, 1, 1) + dt.timedelta(days=day), 0.30 + 0.001 * day, 0.01) for day in DAYS
]
CLASS_READINGS = [(0.0, 0.01), (0.0, 0.01), (90.0, -0.02), (225.0, 0.05), (315.0, -0.04)]
BRACKETS = [
    [GapReading(0.50, 0.55), GapReading(0.45, 0.50)],
    [GapReading(0.55, 0.60), GapReading(0.45, 0.50)],
]

FIGURES = {
    "brake_stack": lambda: brake_stack(CEDAR),
    "bracket_figure": lambda: near_a_limit.bracket_figure(GapReading(0.30, 0.35)),
    "chance_figure": lambda: near_a_limit.chance_figure(0.0086, 0.0163, 0.8),
    "class_readings": lambda: class_readings(CLASS_READINGS, 0.0163),
    "decision_map": lambda: decision_map(
        CEDAR, gap_u_mm=0.0163, disc_u_mm=0.03, reading=(0.5, 10.0)
    ),
    "energy_figure": lambda: energy_figure(CEDAR),
    "force_and_pull": lambda: force_and_pull(CEDAR, 0.5),
    "friction_figure": lambda: friction_figure(CEDAR, 0.5, 250.0, "glazed"),
    "gap_round": lambda: gap_round(SADDLE, ROUND, CEDAR.gap, "A gap"),
    "levelling_turns_figure": lambda: levelling_turns_figure(CEDAR, ROUND),
    "lining_section": lambda: lining_section(CEDAR, 9.5),
    "near_limit_figure": lambda: near_a_limit.near_limit_figure(0.78, 0.0163, 0.8),
    "next_look_figure": lambda: next_look_figure(0.4, 0.033, 0.001, 0.8, 180),
    "own_hand_figure": lambda: own_hand_figure([0.0, 120.0], BRACKETS, [0.53, 0.48]),
    "places_figure": lambda: places_figure(SADDLE, CEDAR.gap),
    "readings_round": lambda: readings_round(ROUND, TURNED, Plane(0.6, 0.08), CEDAR.gap, "A gap"),
    "release_time_figure": lambda: release_time_figure(CEDAR, 0.7),
    "release_voltage_figure": lambda: release_voltage_figure(CEDAR, 0.9),
    "reversal_figure": lambda: reversal_figure(ROUND, TURNED),
    "set_by_design_figure": lambda: set_by_design_figure(CEDAR, Plane(0.7, 0.12, 0.05)),
    "stop_figure": lambda: stop_figure(CEDAR),
    "torque_figure": lambda: torque_figure(CEDAR, 0.5),
    "trend_figure": lambda: trend_figure(HISTORY, 0.8),
    "wear_figure": lambda: wear_figure(CEDAR, stops_per_day=240),
}


@functools.cache
def drawn(name: str) -> Picture:
    """Draw a figure once; not at import, which every worker pays for."""
    return FIGURES[name]()


def figure_functions() -> set[str]:
    """Return the names of all functions of the charts that give a picture."""
    found = set()
    for info in pkgutil.iter_modules(widgets.charts.__path__):
        module = importlib.import_module(f"widgets.charts.{info.name}")
        for name, function in inspect.getmembers(module, inspect.isfunction):
            ours = function.__module__ == module.__name__ and not name.startswith("_")
            if ours and typing.get_type_hints(function).get("return") is Picture:
                found.add(name)
    return found - {"picture"}


def test_every_figure_is_looked_at_here():
    """A function that gives a picture stands in the table above, and so in all tests below."""
    assert figure_functions() == set(FIGURES)


@pytest.mark.parametrize("name", FIGURES)
def test_a_figure_is_a_sound_svg_that_asks_for_nothing(name):
    """It is well-formed, has a size, holds no script, and names no place but its namespaces."""
    text = drawn(name).svg.decode()
    root = ET.fromstring(text)
    addresses = set(re.findall(r"https?://[^\s\"'<>]+", text))

    assert root.tag.endswith("svg")
    assert root.get("viewBox")
    assert "<script" not in text
    assert all(
        re.match(r"http://(www\.w3\.org|purl\.org|creativecommons\.org|matplotlib)", a)
        or a == "https://matplotlib.org/"
        for a in addresses
    ), addresses


@pytest.mark.parametrize("name", FIGURES)
def test_the_words_say_what_the_figure_shows(name):
    """The text alternative is a sentence or more, ends as one, and holds numbers with units."""
    alt = drawn(name).alt

    assert len(alt) > 60
    assert alt.rstrip().endswith(".")
    assert re.search(r"\d", alt)
    assert "nan" not in alt.lower()
    assert " inf" not in alt


@pytest.mark.parametrize("name", FIGURES)
def test_a_figure_is_the_same_each_time(name):
    """The same numbers give the same picture, byte for byte: nothing in it is left to chance."""
    assert FIGURES[name]() == drawn(name)


@pytest.mark.parametrize("name", FIGURES)
def test_a_figure_is_small_enough_to_be_sent(name):
    """Under 250 kB, so that a slider on a phone is answered at once."""
    assert len(drawn(name).svg) < 250_000


def test_a_figure_without_words_is_refused():
    """Blank words are not a text alternative."""
    with pytest.raises(ValueError, match="alt must say"):
        picture.picture(picture.new_figure(1.0, 1.0), " \n")


def luminance(colour: str) -> float:
    """Return the relative luminance of WCAG 2.1 (definition "relative luminance")."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.03928 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize(
    "colour", [picture.INK, picture.PENCIL, picture.ACCENT, picture.DANGER, marks.OCHRE]
)
def test_letters_and_lines_stand_out_on_paper(colour):
    """Contrast of 4.5 to 1 or more on the figure's paper (WCAG 2.1, success criterion 1.4.3)."""
    contrast = (luminance(marks.PAPER) + 0.05) / (luminance(colour) + 0.05)

    assert contrast >= 4.5


@pytest.mark.parametrize(
    "looks",
    [
        list(stop_courses.LOOKS),
        list(torque_over_gap.LOOKS.values()),
        list(set_by_design.LOOKS.values()),
    ],
)
def test_lines_are_told_apart_without_their_colour(looks):
    """No two lines of a figure share a dash: printed in black they still differ."""
    assert all(one[1] != other[1] for one, other in combinations(looks, 2))


def test_fields_of_the_map_are_told_apart_without_their_colour():
    """Each outcome has a hatch and a word of its own."""
    assert len({hatch for _, hatch, _ in LOOKS.values()}) == len(LOOKS)
    assert len({word for _, _, word in LOOKS.values()}) == len(LOOKS)


# An independent calculation of the invented size from its data (see tests/outside): Cedar-47.
# Release time at the setting, cold: 88 ms. Widest gap released at 0.9 U, 100 °C: 0.96 mm.
# Stops from lowering: 28.7 mm and 1129 J (setting, DC side), 175.8 mm (setting, AC side).
def test_the_release_figures_rest_on_the_known_times():
    """Release time and widest gap agree with the independent calculation to its last digit."""
    assert release_delay_ms(CEDAR, 0.30) == pytest.approx(88, abs=1)
    assert releasing_gap_mm(CEDAR, 0.9, 100.0) == pytest.approx(0.96, abs=0.005)
    assert "0.3 mm: 88 ms cold" in drawn("release_time_figure").alt
    assert "0.96 mm" in drawn("release_time_figure").alt


@pytest.mark.parametrize("share", [0.3, 0.8, 0.9, 1.0, 1.2])
@pytest.mark.parametrize("coil_c", [20.0, 100.0])
def test_the_widest_gap_is_the_one_that_brents_method_finds(share, coil_c):
    """Halving agrees with scipy.optimize.brentq on pull less springs, an equation of another form."""

    def push_n(gap_mm):
        return clamping_force_n(gap_mm, CEDAR.springs, CEDAR.gap.setting_mm)

    voltage_v = share * CEDAR.coil.voltage_v
    found = largest_releasing_gap_mm(push_n, CEDAR.magnet, CEDAR.coil, voltage_v, coil_c)

    assert releasing_gap_mm(CEDAR, share, coil_c) == pytest.approx(found, abs=1e-6)


def test_a_brake_that_cannot_release_never_does():
    """Just inside the widest gap the plate lifts late, just beyond it never."""
    widest = releasing_gap_mm(CEDAR, 0.9, 100.0)

    assert math.isfinite(release_delay_ms(CEDAR, widest - 0.002, 0.9, 100.0))
    assert math.isinf(release_delay_ms(CEDAR, widest + 0.002, 0.9, 100.0))


def test_the_stop_figure_rests_on_the_known_ways():
    """Travel and energy agree with the independent calculation to its last digit."""
    dc = how_it_ends(CEDAR, StopOf("", 0.30))
    ac = how_it_ends(CEDAR, StopOf("", 0.30, Switching.AC_SIDE))

    assert dc.travel_mm == pytest.approx(28.7, abs=0.1)
    assert ac.travel_mm == pytest.approx(175.8, abs=0.5)
    assert stop_energy_j(CEDAR, 0.30) == pytest.approx(1129, abs=3)


def test_the_stop_figure_says_when_the_load_runs_away():
    """Oiled faces do not hold, and the words say so."""
    assert "runs away" in stop_figure(CEDAR, [StopOf("oiled", 0.3, surface="oiled")]).alt


def test_a_figure_of_stops_refuses_a_fifth():
    """Four dashes are told apart; a fifth stop is refused with a reason."""
    with pytest.raises(ValueError, match="at most 4, got 5"):
        stop_figure(CEDAR, [StopOf("", 0.3)] * 5)


def test_a_run_of_wear_takes_fewer_stops_than_one_at_the_setting_would():
    """Energy grows with the gap, so wear quickens.

    Outside: 0.5 mm at 11.00 nm a stop, the growth at the setting by an independent calculation,
    would be 45 400 stops; at the largest gap each stop costs 1.40 / 1.13 as much.
    """
    grown_mm, stops = one_run(CEDAR)

    assert grown_mm[-1] == pytest.approx(0.5)
    assert 45_400 / 1.26 < stops[-1] < 45_400
    assert np.all(np.diff(stops) > 0)


@pytest.mark.parametrize(("surface", "expected"), [("bedded", 2.19), ("oiled", 0.61)])
def test_the_torque_figure_rests_on_the_known_ratios(surface, expected):
    """Ratios to the load agree with the independent calculation at the setting."""
    assert float(ratio(CEDAR, 0.30, surface)) == pytest.approx(expected, abs=0.005)


def test_the_levelling_figure_names_the_turns_of_a_fourier_sum():
    """Outside: mean and first harmonic by numpy's FFT, not by our least squares.

    Then each screw's height from the plane at its own angle, and the turn from its pitch.
    """
    wave = np.fft.rfft([reading.value_mm for reading in ROUND]) / len(ROUND)
    mean, cos, sin = wave[0].real, 2 * wave[1].real, -2 * wave[1].imag
    rho = CEDAR.screws.gauging_circle_mm / CEDAR.screws.pitch_circle_mm
    for screw, angle in enumerate(np.radians([0, 120, 240]), start=1):
        change = 0.30 - mean - (cos * np.cos(angle) + sin * np.sin(angle)) / rho
        degrees = 360 * change / CEDAR.screws.pitch_mm
        assert f"screw {screw}: {abs(degrees):.0f}° in" in drawn("levelling_turns_figure").alt


def test_readings_after_locking_replace_the_promise():
    """With a second round the words speak of what was read, not of what was promised."""
    after = [Reading(reading.angle_deg, 0.31, reading.u_mm) for reading in ROUND]
    alt = levelling_turns_figure(CEDAR, ROUND, after).alt

    assert "Read again after locking: 0.310 to 0.310 mm" in alt


def test_the_reversal_figure_parts_body_from_disc():
    """A tilt that changes sign with the shaft is the disc's, and all of it (0.16 mm) is."""
    alt = drawn("reversal_figure").alt

    assert "tilt of the magnet body: 0.00 mm" in alt
    assert "goes round with the disc: 0.16 mm" in alt


def test_the_trend_figure_looks_ahead_no_further_than_the_line_allows():
    """0.54 mm and 0.1 mm in a hundred days leave 260 days; the upper bound takes some of them."""
    alt = drawn("trend_figure").alt
    found = re.search(r"Inspect by (\d+ \w+ \d{4})", alt)
    due = dt.datetime.strptime(found[1], "%d %B %Y").date()

    assert "0.100 mm in a hundred days" in alt
    assert HISTORY[-1].on + dt.timedelta(days=200) < due < HISTORY[-1].on + dt.timedelta(days=260)


@pytest.mark.parametrize(
    ("reading", "outcome"),
    [
        ((0.5, 10.0), "fit"),
        ((0.95, 10.0), "adjust"),
        ((0.10, 10.0), "adjust"),
        ((0.5, 8.9), "replace the disc"),
    ],
)
def test_the_decision_map_ends_in_the_trades_decision(reading, outcome):
    """Limits 0.20, 0.80 and 9.0 mm: inside fit, gap out adjust, disc out replace (common practice)."""
    alt = decision_map(CEDAR, gap_u_mm=0.0163, disc_u_mm=0.03, reading=reading).alt

    assert alt.endswith(f": {outcome}.")


def test_the_near_limit_figure_names_the_chance_of_a_normal_law():
    """Outside: scipy.stats.norm for a reading of 0.78 mm, u 0.0163 mm, limit 0.80 mm."""
    chance = norm.cdf((0.80 - 0.78) / 0.0163)

    assert f"is {100 * chance:.1f} %" in drawn("near_limit_figure").alt


def test_three_places_take_a_saddle_for_a_tilt():
    """Two lobes at three places look like one: nothing is left over, and a false tilt is found.

    Outside: sampled at 120° the second harmonic folds onto the first (Shannon), with its amplitude.
    """
    saddle = GapField(Plane(0.6), 0.06, 45.0)

    assert seen_at(saddle, 3).tilt_spread_mm == pytest.approx(0.12)
    assert seen_at(saddle, 3).left_over_mm == pytest.approx(0.0, abs=1e-9)
    assert seen_at(saddle, 8).tilt_spread_mm == pytest.approx(0.0, abs=1e-9)
    assert seen_at(saddle, 8).left_over_mm == pytest.approx(0.12)


def test_the_section_says_when_nothing_is_left():
    """A disc below its least has nothing left to wear."""
    assert "nothing is left" in lining_section(CEDAR, 8.9).alt


def test_a_round_that_lacks_a_place_is_refused():
    """Two places and one bracket do not go together; the sentence says which round."""
    with pytest.raises(ValueError, match="round 1 must hold 2 brackets"):
        own_hand_figure([0.0, 120.0], [[GapReading(0.5, 0.55)]])

"""Outside checks: what the trade knows about one brake, and numbers of standards."""

import pytest

from quizzes.cases.case import Case
from quizzes.grading.grade import Standing, grade_case
from tests import strategies as any_
from widgets.bench.handlers import proving
from widgets.bench.session import Session
from widgets.bench.standing import gap_now
from widgets.brake.condition import Disc, sound_condition
from widgets.brake.gap.levelling import levelling_changes_mm
from widgets.brake.gap.profile import Plane, fit_plane
from widgets.brake.judgement.rules import Outcome, Reading, conclude
from widgets.brake.sizes.sheet import load_sheet
from widgets.brake.sizes.size import DYNAMIC_TEST, ISO_COARSE_PITCH_MM, STATIC_TEST
from widgets.instruments import caliper, feeler

# Common practice, no source: a limits chart of three columns and one line of it. The gap is set
# to 0.4 mm and may grow to 1.0 mm; the lining is worn out at 10 mm.
THREE_COLUMNS = """
title = "One line of a chart"
[[size]]
name = "One brake"
gap_setting_mm = 0.4
gap_max_mm = 1.0
disc_min_mm = 10.0
"""
EIGHT = [45.0 * place for place in range(8)]
GAP_U_MM = feeler.budget(0.01, leaves=2).combined
DISC_U_MM = caliper.budget().combined


@pytest.fixture
def sheet(tmp_path):
    """A sheet of the three columns, filled up by the suite."""
    path = tmp_path / "chart.toml"
    path.write_text(THREE_COLUMNS, encoding="utf-8")
    return load_sheet(path)


def gaps(*values_mm: float) -> list[Reading]:
    return [Reading(angle, mm, GAP_U_MM) for angle, mm in zip(EIGHT, values_mm, strict=True)]


def discs(value_mm: float) -> list[Reading]:
    return [Reading(angle, value_mm, DISC_U_MM) for angle in (0.0, 90.0, 180.0, 270.0)]


TOO_WIDE = (1.21, 1.24, 1.22, 1.17, 1.12, 1.09, 1.11, 1.16)


def test_a_wide_gap_over_15_mm_of_lining_is_adjusted_and_nothing_replaced(sheet):
    """Least lining 10 mm, 15 mm measured, gap beyond 1.0 mm: adjust. Common practice, no source."""
    found = conclude(sheet.sizes[0], gaps(*TOO_WIDE), discs(15.0))

    assert found.outcome is Outcome.ADJUST
    assert Outcome.REPLACE not in found.arguable
    assert Outcome.FIT in found.unsafe


def test_the_gap_is_adjusted_back_to_0_4_mm_all_the_way_round(sheet):
    """The three turns leave 0.4 mm at every place, within the reading scatter of the figures.

    Common practice, no source. The figures above scatter by less than 0.01 mm about their plane.
    """
    size = sheet.sizes[0]
    plane = fit_plane(EIGHT, TOO_WIDE).plane
    changes = levelling_changes_mm(plane, size.gap.setting_mm, size.screws.radius_ratio)
    condition = sound_condition(size, gap=plane, disc=Disc(15.0))
    setup = Case("trade", size, condition, bytes(32), "").setup()
    session = Session(setup)
    heights = [a + b for a, b in zip(session.state.stand_off_mm(), changes, strict=True)]
    from widgets.brake.condition import gap_field

    after = gap_field(size, condition, tuple(heights))

    assert size.gap.setting_mm == 0.4
    assert all(mm == pytest.approx(0.4, abs=0.01) for mm in after.round_mm())


def test_the_careful_candidate_does_what_the_trade_does(sheet):
    """The whole job on that brake: adjust, into service, 0.4 mm left at every place.

    Within 0.03 mm, the step of the thinnest leaf. Common practice, no source.
    """
    from quizzes.candidates.worker import work

    size = sheet.sizes[0]
    condition = sound_condition(size, gap=Plane(1.17, 0.06, 0.05), disc=Disc(15.0))
    case = Case("trade", size, condition, bytes(range(32)), "Inspect.")
    session = Session(case.setup())
    work(session.act, sheet)
    grade = grade_case(case, session.events)
    left = gap_now(session.setup, session.state)

    assert session.state.decision == "adjust"
    assert session.state.into_service
    assert all(mm == pytest.approx(0.4, abs=0.03) for mm in left.round_mm(24))
    assert grade.standing is Standing.RIGHT


@pytest.mark.parametrize("disc_mm", [9.0, 9.9, 10.0])
@pytest.mark.parametrize("gap_mm", [0.4, 0.7, 1.2])
def test_a_lining_at_its_least_is_replaced_whatever_the_gap(sheet, disc_mm, gap_mm):
    """At or below 10 mm the gap no longer matters. Common practice, no source."""
    found = conclude(sheet.sizes[0], gaps(*[gap_mm] * 8), discs(disc_mm))

    assert found.outcome is Outcome.REPLACE
    assert {Outcome.FIT} <= found.unsafe or disc_mm == 10.0


def test_between_setting_and_largest_nothing_is_done(sheet):
    """A gap of 0.7 mm over 15 mm is fit for service. Common practice, no source."""
    assert conclude(sheet.sizes[0], gaps(*[0.7] * 8), discs(15.0)).outcome is Outcome.FIT


def test_three_columns_are_enough_and_the_rest_is_marked_as_estimated(sheet):
    """What the chart gives is not marked; everything else of the brake is."""
    estimated = sheet.sizes[0].estimated

    assert not estimated & {"name", "gap_setting_mm", "gap_max_mm", "disc_min_mm"}
    assert {"torque_nm", "friction", "spring_count", "coil_turns", "screw_pitch_mm"} <= estimated
    assert not sheet.sizes[0].invented


# ISO 261, coarse series, mm. From memory; any table of metric threads has it.
ISO_261 = {"M4": 0.7, "M5": 0.8, "M6": 1.0, "M8": 1.25, "M10": 1.5, "M12": 1.75, "M16": 2.0}


@pytest.mark.parametrize(("thread", "pitch_mm"), ISO_261.items())
def test_pitches_are_those_of_the_coarse_series(thread, pitch_mm):
    """ISO 261."""
    assert ISO_COARSE_PITCH_MM[thread] == pitch_mm


@pytest.mark.parametrize("size", any_.SHEET.sizes, ids=lambda size: size.name)
def test_the_invented_sizes_use_threads_of_the_coarse_series(size):
    """ISO 261."""
    assert size.screws.pitch_mm == ISO_261[size.screws.thread]


def test_the_static_test_load_is_a_quarter_over_the_rated_one():
    """ISO 4310:2009 has 125 % for the static test, 110 % for the dynamic one, from memory."""
    assert STATIC_TEST == 1.25
    assert DYNAMIC_TEST == 1.10


def test_the_test_load_separates_a_brake_that_holds_it_from_one_that_does_not():
    """A brake with 1.26 times the load's torque holds 125 %, one with 1.24 does not."""
    from dataclasses import replace

    from widgets.bench import actions as do

    size = any_.SHEET.size("Cedar-47")
    sound = sound_condition(size)
    setup = Case("x", size, sound, bytes(32), "").setup()
    ratio = proving.holding_ratio_now(setup, Session(setup).state)
    holds = []
    for wanted in (1.26, 1.24):
        weak = replace(sound, friction=sound.friction * wanted / ratio)
        session = Session(Case("x", size, weak, bytes(32), "").setup())
        session.act(do.LandLoad())
        holds.append(session.act(do.TestHold()).facts["holds"])

    assert holds == [True, False]


# 29 CFR 1910.1001, Appendix F (written for vehicle brakes, taken as the model): enclosed vacuum
# and wet methods are described, dry brushing and blowing are not. (f)(1)(ix), from memory: no
# compressed air. Mask, eyes and gloves before the cover: common practice, no source.
DUST_METHODS = {"vacuum": True, "damp_wipe": True, "air_blast": False, "dry_brush": False}


@pytest.mark.parametrize(("method", "allowed"), DUST_METHODS.items())
def test_dust_is_bound_and_neither_blown_nor_brushed(method, allowed):
    """29 CFR 1910.1001, Appendix F: what it does not describe puts dust in the air here."""
    from widgets.bench import actions as do
    from widgets.bench.machine import Bench

    bench = Bench(any_.SHEET.sizes[0], sound_condition(any_.SHEET.sizes[0]), bytes(16))
    bench.replay((do.LandLoad(), do.Isolate(), do.OpenBox(), do.ProveDead(), *any_.OPENED))
    seen = bench.act(do.Clean(method=method))

    assert seen.done
    assert (seen.alarm == "") is allowed

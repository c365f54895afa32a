"""A trainer's own limits sheets, plain and hard: every job, form and question holds on them too."""

import json
import re
from functools import lru_cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quizzes.candidates.adjusting import is_set
from quizzes.candidates.job import Job
from quizzes.candidates.people.everybody import ALL_HABITS, HONEST
from quizzes.candidates.people.stranger import Stranger, acting
from quizzes.candidates.rehearsal import CAREFUL as CAREFUL_ONE
from quizzes.candidates.rehearsal import Plan, candidate_of, sit
from quizzes.candidates.rehearsed.report import UNSAFE
from quizzes.candidates.setting import turn
from quizzes.candidates.worker import CAREFUL, HABITS, work
from quizzes.cases.carrying import cannot_carry
from quizzes.cases.case import Case, Depth
from quizzes.cases.drawing import draw_case
from quizzes.cases.families import FAMILIES, MEANT
from quizzes.cases.sound_brakes import draw_sound
from quizzes.forms.blueprint import READY, BlueprintError, load_blueprint
from quizzes.forms.drawing import QuestionSlot, draw_form
from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.grade import CaseGrade, Standing, grade_evidence
from quizzes.questions.bank import the_bank
from quizzes.questions.choosing import NoQuestionError, choose_all
from quizzes.questions.posing import QuestionError, draw_question
from widgets.bench import actions as do
from widgets.bench.handlers.proving import holding_ratio_now, release_share_now
from widgets.bench.machine import Bench
from widgets.bench.observed import Observation
from widgets.bench.setup import Order, Start
from widgets.bench.standing import gap_now
from widgets.brake.condition import sound_condition
from widgets.brake.draws import Draws
from widgets.brake.faults import FAULTS, apply
from widgets.brake.gap.profile import Plane
from widgets.brake.judgement.rules import Reading
from widgets.brake.sizes.sheet import LimitsSheet, load_sheet
from widgets.brake.sizes.size import BrakeSize

README = Path(__file__).parents[2] / "README.md"
TEST_LOAD = 1.25  # of the rated load, static; ISO 4310:2009, from memory
LOW_MAINS, HOT_C = 0.9, 100.0  # DIN VDE 0580 band, from memory; common practice, no source
PLAIN = "gap_setting_mm = 0.3\ngap_max_mm = 0.8\ndisc_min_mm = 9.0\n"


def of(*rows: str) -> str:
    """Return a sheet of these rows, named after their place unless they name themselves."""
    sizes = [
        "[[size]]\n" + (row if "name =" in row else f'name = "No. {number}"\n{row}')
        for number, row in enumerate(rows, start=1)
    ]
    return "\n".join(['title = "Hard"', *sizes])


# What made trouble once, or lies at the edge of what a feeler, a caliper and a hoist allow.
SHEETS = {
    "the README's": re.findall(r"```toml\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)[
        0
    ],
    "narrow": of("gap_setting_mm = 0.15\ngap_max_mm = 0.27\ndisc_min_mm = 4.0\n"),
    "wide": of(
        "gap_setting_mm = 0.6\ngap_max_mm = 1.7\ndisc_min_mm = 22.0\ndisc_new_mm = 27.0\n",
        "gap_setting_mm = 0.5\ngap_max_mm = 1.48\ndisc_min_mm = 10.0\n",
        "gap_setting_mm = 0.58\ngap_min_mm = 0.35\ngap_max_mm = 1.6\ndisc_min_mm = 10.8\n"
        "gap_evenness_mm = 0.2\n",
    ),
    "without wear plates": of(
        PLAIN + "wear_plate_mm = 0.0\n",
        PLAIN + "wear_plate_mm = 0\ngap_evenness_mm = 0.2\n",
    ),
    "least gap only": of(
        "gap_min_mm = 0.25\ngap_max_mm = 0.86\ndisc_min_mm = 17.7\n",
        "gap_setting_mm = 0.25\ngap_min_mm = 0.22\ngap_max_mm = 0.86\ndisc_min_mm = 17.7\n"
        "gap_evenness_mm = 0.2\n",
    ),
    "fine": of(
        PLAIN + "gap_evenness_mm = 0.04\n",
        PLAIN + "gap_evenness_mm = 0.05\ndisc_new_mm = 10.2\n",
    ),
    "little lining": of(PLAIN + "disc_new_mm = 9.8\n", PLAIN + "disc_new_mm = 10.4\n"),
    "weak and strong": of(
        PLAIN + "torque_nm = 2.0\ncoil_voltage_v = 24.0\n",
        PLAIN + "torque_nm = 1000.0\ncoil_voltage_v = 24.0\ndisc_new_mm = 14.0\n",
        PLAIN + "hoist_load_kg = 10000.0\nhoist_speed_m_per_min = 12.5\ncoil_voltage_v = 207.0\n",
    ),
    "very small": of(
        "gap_setting_mm = 0.12\ngap_max_mm = 0.25\ndisc_min_mm = 3.4\ndisc_new_mm = 4.2\n"
        "torque_nm = 1.5\n",
        "gap_setting_mm = 0.15\ngap_max_mm = 0.35\ndisc_min_mm = 4.5\ntorque_nm = 5.0\n",
    ),
    "odd names": of(
        *(
            f"name = {json.dumps(name, ensure_ascii=False)}\n{PLAIN}"
            for name in ("0.4", "nan", "Größe Ü 3½", "Кран 起重機 🚀", "C:\\yard {size}", "x" * 80)
        )
    ),
}
ON_EACH = pytest.mark.parametrize("name", SHEETS)


@pytest.fixture(scope="module")
def paths(tmp_path_factory) -> dict[str, Path]:
    """Return the file of each sheet."""
    folder = tmp_path_factory.mktemp("sheets")
    for number, text in enumerate(SHEETS.values()):
        (folder / f"{number}.toml").write_text(text, encoding="utf-8")
    return {name: folder / f"{number}.toml" for number, name in enumerate(SHEETS)}


@lru_cache(maxsize=32)
def sheet_of(path: Path) -> LimitsSheet:
    """Return a sheet, read once."""
    return load_sheet(path)


def worked(
    case: Case, sheet: LimitsSheet, who: Stranger = HONEST[CAREFUL_ONE]
) -> tuple[Recorder, CaseGrade]:
    """Return a case worked by somebody, and its grade."""
    recorder = Recorder(case)
    work(acting(recorder.act, case, who.instead), sheet, who.habits, case.order)
    return recorder, grade_evidence(recorder.evidence())


def dangers(recorder: Recorder) -> list[str]:
    """Return what makes a brake that was handed over unsafe, from its true state."""
    setup, end = recorder.setup, recorder.state
    limits, gap_mm = setup.size.gap, gap_now(setup, end).round_mm(360)
    checks = {
        "does not hold": holding_ratio_now(setup, end) >= TEST_LOAD,
        "does not release hot": release_share_now(setup, end, HOT_C) <= LOW_MAINS,
        "gap too large": max(gap_mm) <= limits.max_mm,
        "disc too thin": end.brake.disc.thinnest_mm >= setup.size.disc.min_mm,
        "lock loose": min(end.lock_nm) >= 0.85 * setup.size.screws.retaining_torque_nm,
    }
    return [name for name, good in checks.items() if not good] if end.into_service else []


def cases_of(sheet: LimitsSheet, turn: int) -> list[Case]:
    """Return a case of every family that a size can carry: sizes, seeds and depths in turn.

    Every other one is a whole job.
    """
    cases = []
    for number, (family, kind) in enumerate(FAMILIES.items(), start=turn):
        able = [size for size in sheet.sizes if not cannot_carry(family, size)]
        depth = Depth.WORK_ORDER
        if number % 2:
            depth = sorted(kind.depths)[number // 2 % len(kind.depths)]
        for size in able[number % len(able) :][:1] if able else ():
            cases.append(draw_case(family, size, number.to_bytes(20), depth))
    return cases


@ON_EACH
def test_every_fault_lies_on_every_size(paths, name):
    """At its usual amount and at one that is drawn, on a brake of any wear."""
    for size in sheet_of(paths[name]).sizes:
        for number, row in enumerate(FAULTS):
            dice = Draws(number.to_bytes(16))
            apply(row, size, draw_sound(dice, size))
            apply(row, size, draw_sound(dice, size), dice)


@pytest.mark.long
@ON_EACH
def test_the_careful_one_is_right_on_it(paths, name):
    """What the family means, nothing critical, no danger left behind, nobody hurt.

    Near a limit the truth may lie beyond it by what nobody could read: no verdict then.
    """
    sheet = sheet_of(paths[name])
    for case in cases_of(sheet, list(SHEETS).index(name)):
        recorder, grade = worked(case, sheet)
        where = (case.family, case.size.name, case.depth, grade.faults)
        near = bool(FAMILIES[case.family].near)

        assert recorder.state.handed_over, where
        assert not grade.critical, where
        assert grade.standing is Standing.RIGHT or (near and grade.standing == "no verdict"), where
        assert grade.decided in MEANT[case.family], where
        assert near or not dangers(recorder), where
        assert not any(step.observation.alarm for step in recorder.steps), where


@pytest.mark.long
@ON_EACH
def test_nobody_who_leaves_a_danger_is_right_on_it(paths, name):
    """Whole jobs of two that always leave one; all unsafe habits are dealt out over the sheets."""
    sheet, turn_of_sheet = sheet_of(paths[name]), list(SHEETS).index(name)
    habits = ("worn-disc-kept", "lock-not-to-torque", *UNSAFE[turn_of_sheet :: len(SHEETS)])
    left = []
    for number, habit in enumerate(dict.fromkeys(habits)):
        size = sheet.sizes[number % len(sheet.sizes)]
        for family in ("gap too large", "disc worn", "spring-broken"):
            case = draw_case(family, size, bytes([number + 1]) * 16)
            recorder, grade = worked(case, sheet, ALL_HABITS[habit])
            if dangers(recorder):
                left.append((habit, family, size.name, grade.standing))

    assert {"worn-disc-kept", "lock-not-to-torque"} <= {one[0] for one in left}
    assert [one for one in left if one[-1] is not Standing.NOT_YET] == []


# A form of each kind, each sheet once: every family is worked on every sheet above.
SAT = [(name, "self_check") for name in SHEETS if name not in {"fine", "narrow", "wide"}]
SAT += [("fine", "class_exercise"), ("narrow", "full"), ("wide", "full")]
A_CAREFUL_ONE = next(number for number in range(20) if candidate_of(number) == CAREFUL_ONE)


@pytest.mark.long
@pytest.mark.parametrize(("name", "form"), SAT)
def test_the_ready_forms_can_be_drawn_and_sat_on_it(paths, name, form):
    """A careful person decides all of it right; the next sittings have other cases."""
    plan, blueprint = Plan(READY[form], paths[name], bytes(16)), load_blueprint(READY[form])
    sat = sit(plan, A_CAREFUL_ONE)
    had = frozenset[str]()

    assert (sat.candidate, sat.critical, sat.right) == (CAREFUL_ONE, 0, sat.made)
    # Two sizes are enough for three sittings, one is enough for one.
    for number in range(3 if len(sheet_of(paths[name]).sizes) > 1 else 1):
        drawn = draw_form(blueprint, sheet_of(paths[name]), plan.key(number), had)
        assert had.isdisjoint(drawn.fingerprints)
        had |= drawn.fingerprints


@ON_EACH
def test_no_question_is_chosen_that_the_sheet_cannot_ask(paths, name):
    """Where a question asks for two rows or a weak coil, the next one takes its place."""
    sheet = sheet_of(paths[name])
    elements = sorted({item.element for item in the_bank()})
    for number, element in enumerate(elements):
        places = [QuestionSlot(element, (0.0, 1.0), bytes([number, n]) * 8) for n in range(4)]
        try:
            chosen = choose_all(the_bank(), places, sheet)
        except NoQuestionError:
            continue
        for item, key in chosen:
            assert draw_question(item, key, sheet).shown["text"]


def test_a_question_on_two_rows_is_passed_over_on_a_sheet_of_one(paths):
    """On its own it is refused by name; among others another one is asked."""
    sheet = sheet_of(paths["narrow"])
    item = the_bank().item("row-of-this-size")
    places = [QuestionSlot(item.element, (0.0, 1.0), bytes([n]) * 16) for n in range(3)]

    with pytest.raises(QuestionError, match="no other row"):
        draw_question(item, bytes(16), sheet)
    assert item not in [one for one, _ in choose_all(the_bank(), places, sheet)]


def test_a_wide_gap_gauged_with_care_is_gauged_well(paths):
    """Three leaves have two films between them, 8 µm on the mean: no fault of the hand.

    With these gauges the films and the leaves err the same way.
    """
    sheet = sheet_of(paths["wide"])
    for number in (34, 66, 140, 195, 196, 209):
        case = draw_case("gap too large", sheet.sizes[1], number.to_bytes(16), Depth.BENCH)
        _, grade = worked(case, sheet)
        (gauged,) = (element for element in grade.elements if element.id == "M2")
        assert gauged.reached, gauged.lines


def test_a_wedge_on_very_small_brakes_is_told_by_its_least_place_and_not_by_its_mean(paths):
    """No leaf takes it for a warp: the careful one replaces the disc, a mean is found out.

    Where the gap over it was tilted, whoever judges by the mean was right to refer one in three.
    """
    size = sheet_of(paths["very small"]).sizes[1]
    for number in range(40):
        case = draw_case("taper", size, number.to_bytes(16), Depth.BENCH)
        _, careful = worked(case, sheet_of(paths["very small"]))
        _, by_mean = worked(case, sheet_of(paths["very small"]), ALL_HABITS["mean-disc-not-least"])

        assert (careful.decided, careful.standing) == ("replace", Standing.RIGHT)
        assert "mean-not-least" in {error.code for error in by_mean.critical}


def test_a_family_that_no_size_can_carry_is_left_out_or_refused(paths, tmp_path):
    """Left out where others are named beside it; alone it is refused, with line, size and why."""
    sheet = sheet_of(paths["without wear plates"])
    text = READY["self_check"].read_text(encoding="utf-8")
    both, alone = tmp_path / "both.toml", tmp_path / "alone.toml"
    two = 'families = ["wear-plate-missing", "oiled"]'
    both.write_text(text.replace('group = "normal gap"', two), encoding="utf-8")
    one = 'families = ["wear-plate-missing"]'
    alone.write_text(text.replace('group = "normal gap"', one), encoding="utf-8")

    for number in range(8):
        form = draw_form(load_blueprint(both), sheet, bytes([number]) * 16)
        assert "wear-plate-missing" not in {case.family for case in form.cases}
    with pytest.raises(BlueprintError, match=r"cases 3: .*size No. 1: .*no wear plate"):
        draw_form(load_blueprint(alone), sheet, bytes(16))


def test_no_dial_falls_below_nothing(paths):
    """Over so wide a gap the springs are slack, and next to no voltage lifts the plate."""
    size = sheet_of(paths["the README's"]).sizes[0]
    order = Order(start=Start.OPEN)
    for number in range(12):
        slack = sound_condition(size, gap=Plane(6.0))
        bench = Bench(size, slack, number.to_bytes(16), order)
        assert bench.act(do.FindRelease()).facts["percent"] >= 0


def test_a_gap_is_not_set_while_a_reading_lies_under_its_least(paths):
    """On its mean and even as it may be: who looks at every place goes on, who averages stops."""
    size = sheet_of(paths["least gap only"]).sizes[1]  # set to 0.25, at least 0.22 mm
    gaps = [Reading(45.0 * place, 0.25, 0.009) for place in range(7)]
    tight = [*gaps, Reading(315.0, 0.21, 0.009)]

    assert is_set(size, [*gaps, Reading(315.0, 0.25, 0.009)])
    assert not is_set(size, tight)
    assert is_set(size, tight, by_mean=True)


@pytest.mark.parametrize("turn_deg", [30.0, 720.0, 1500.0, -1500.0])
def test_a_long_way_is_turned_to_its_end(paths, turn_deg):
    """A key is turned by no more than two turns at a time: the rest follows."""
    sheet, turned = sheet_of(paths["wide"]), [0.0, 0.0, 0.0]

    def act(action: do.TurnScrew) -> Observation:
        turned[action.screw - 1] += action.turn_deg
        return Observation(True, "hollow-screw.turned")

    turn(Job(act, sheet, CAREFUL, Order(), *sheet.sizes[:2]), [turn_deg] * 3)
    assert turned == pytest.approx([turn_deg] * 3)


@st.composite
def rows(draw: st.DrawFn) -> str:
    """Return a row as a chart might have it: three columns, and now and then some more."""
    setting_mm = round(draw(st.floats(0.15, 0.6)), 2)
    largest_mm = round(min(1.7, setting_mm * draw(st.floats(1.8, 4.0))), 2)
    least_mm = round(draw(st.floats(4.0, 20.0)), 1)
    more = {
        "gap_evenness_mm": st.floats(0.04, 0.2),
        "disc_new_mm": st.floats(least_mm + 0.8, least_mm + 5.0),
        "torque_nm": st.floats(2.0, 1000.0),
        "coil_voltage_v": st.sampled_from([24.0, 104.0, 180.0, 207.0]),
        "wear_plate_mm": st.sampled_from([0.0, 1.5, 2.0]),
    }
    chosen = draw(st.lists(st.sampled_from(sorted(more)), max_size=4, unique=True))
    fields = [
        f"gap_setting_mm = {setting_mm}",
        f"gap_max_mm = {max(largest_mm, setting_mm + 0.12)}",
    ]
    fields.append(f"disc_min_mm = {least_mm}")
    fields += [f"{field} = {round(draw(more[field]), 2)}" for field in chosen]
    return "\n".join(fields) + "\n"


@settings(max_examples=12)
@given(rows(), st.sampled_from(sorted(FAMILIES)), st.binary(min_size=16, max_size=16))
def test_a_plausible_row_carries_a_case_or_says_why_not(tmp_path_factory, row, family, seed):
    """Loaded, drawn, worked by the careful one with nothing critical; or a sentence with the size."""
    path = tmp_path_factory.mktemp("row") / "row.toml"
    path.write_text(of(row), encoding="utf-8")
    sheet = load_sheet(path)
    size: BrakeSize = sheet.sizes[0]
    if cannot_carry(family, size):
        with pytest.raises(ValueError, match=r"size No. 1 cannot carry a case"):
            draw_case(family, size, seed)
        return
    recorder, grade = worked(draw_case(family, size, seed), sheet)

    assert HABITS["careful"] == CAREFUL
    assert recorder.state.handed_over
    assert not grade.critical
    assert FAMILIES[family].near or not dangers(recorder)

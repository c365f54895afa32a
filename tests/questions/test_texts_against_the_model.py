"""Sentences of lessons, glossary and bank that say something of the model, held against it."""

import json
import math
import re
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest

from quizzes.cases.next_due import next_days
from quizzes.questions.answers import right_answer, right_json
from quizzes.questions.bank import the_bank
from quizzes.questions.posing import draw_question
from tests import strategies as any_
from widgets.bench import actions as do
from widgets.bench.machine import Bench
from widgets.bench.orders.catalogue import ORDERS
from widgets.bench.orders.getting_in import in_front_of
from widgets.bench.setup import Order
from widgets.bench.words import said
from widgets.brake.condition import Disc, gap_field, sound_condition
from widgets.brake.gap.profile import Plane
from widgets.brake.judgement.rules import Outcome, Reading
from widgets.brake.judgement.signs import SYMPTOM_SIGNS
from widgets.brake.sizes.sheet import four_designs
from widgets.brake.tools import Tools
from widgets.instruments.written import gap_reading

ROOT = Path(__file__).parents[2]


def lesson(number: int) -> str:
    (page,) = (ROOT / "lessons").glob(f"{number:02}_*.ipynb")
    cells = json.loads(page.read_text(encoding="utf-8"))["cells"]
    return "\n".join("".join(cell["source"]) for cell in cells)


def test_springs_are_some_millimetres_short_of_their_free_length():
    """Their force over their rate at the setting: two to four on every size, and not many.

    Outside check: the table of sizes gives force and rate of each spring; length is force by rate.
    """
    short_mm = [size.springs.force_each_n / size.springs.rate_each_n_per_mm
                for size in any_.SHEET.sizes]  # fmt: skip

    assert all(1.5 < mm < 4.5 for mm in short_mm)
    assert "only a few millimetres short of their free length" in lesson(1)


def test_the_rule_on_controllers_is_not_quoted_for_landing_a_load():
    """29 CFR 1910.179(l)(2), from memory: location, controllers off, main switch locked, signs."""
    source = the_bank().item("load-before-cover").source

    assert source.startswith("common practice, no source")


def test_the_glossary_says_of_a_missing_wear_plate_what_the_gap_shows():
    """Too wide by its thickness while nothing is turned; once set away it cannot be seen."""
    path = ROOT / "quizzes" / "desks" / "glossary" / "glossary.toml"
    terms = tomllib.loads(path.read_text(encoding="utf-8"))["term"]
    means = next(one["means"] for one in terms if one["term"] == "wear plate")

    assert "as long as the screws stay as they were" in means
    assert "nothing in it shows that the plate is missing" in means


# ---- questions whose text or key was wrong once, each against the model ----

CEDAR = any_.SHEET.size("Cedar-47")
KEYS = tuple(bytes([number]) * 16 for number in range(8))


def asked(name: str, key: bytes = KEYS[0], size: str = "") -> tuple[dict, str, list[float]]:
    """Return what is hidden of a draw, its text, and the numbers in it."""
    posed = draw_question(the_bank().item(name), key, any_.SHEET, size)
    text = str(posed.shown["text"])
    plain = text.replace(size, "") if size else text
    return posed.hidden, text, [float(one) for one in re.findall(r"\d+(?:\.\d+)?", plain)]


@pytest.mark.parametrize("key", KEYS)
def test_a_lock_comes_off_only_a_hoist_that_is_proved(key):
    """`somebody-needs-it`. Outside: 29 CFR 1910.147(e)(3), from memory; a broken spring refers."""
    hidden, text, _ = asked("somebody-needs-it", key)
    right = right_answer(hidden)

    assert SYMPTOM_SIGNS["spring-splinter"].needs is Outcome.REFER
    assert right.startswith("Take the lock off") is ("all tests are passed" in text)
    assert right.startswith("Keep the lock on") is ("still broken" in text)


def test_without_its_wear_plate_the_gap_is_wider_by_its_thickness():
    """`plate-left-out`, and lesson 9: the same disc and screws, one part less in the stack."""
    hidden, _, (setting_mm, plate_mm) = asked("plate-left-out", size="Cedar-47")
    stack = replace(sound_condition(CEDAR, take_up_mm=(0.0,) * 3), wear_plate_mm=0.0)

    assert (setting_mm, plate_mm) == (CEDAR.gap.setting_mm, CEDAR.wear_plate_mm)
    assert right_json(hidden)["value"] == pytest.approx(
        gap_field(CEDAR, stack).plane.mean_mm, abs=0.005
    )


def test_the_sixth_step_of_opening_is_the_seal_and_no_step_comes_before_the_fan():
    """`order-of-opening`: the bench keeps cover, fan and seal in this order and in no other."""
    steps = the_bank().item("order-of-opening").body.steps

    assert steps[5] == ORDERS["opening"].step("seal").words
    assert in_front_of("seal") == ("cover", "fan")


@pytest.mark.parametrize("key", KEYS[:3])
def test_two_doubts_add_as_squares_and_are_doubled(key):
    """`step-is-not-exact`. By hand, GUM 5.1.2 and 6.2; a step is even, so its half over root 3."""
    hidden, _, (go_mm, no_go_mm, step_u_mm, rest_u_mm, _k) = asked("step-is-not-exact", key)
    expanded_mm = 2 * math.sqrt(step_u_mm**2 + rest_u_mm**2)

    assert step_u_mm == pytest.approx((no_go_mm - go_mm) / 2 / math.sqrt(3), abs=0.001)
    assert math.hypot(step_u_mm, rest_u_mm) == pytest.approx(
        gap_reading(0.0, go_mm, no_go_mm).u_mm, abs=0.001
    )
    assert right_json(hidden)["value"] == pytest.approx(expanded_mm, abs=0.0015)


def asked_on_four_designs(name: str) -> set[str]:
    """Return the texts of a question on the sheet whose coil and load are estimated."""
    keys = (bytes([number]) * 16 for number in range(16))
    posed = [draw_question(the_bank().item(name), key, four_designs()) for key in keys]
    return {str(one.shown["text"]) for one in posed}


def test_one_number_of_notches_comes_nearest_and_no_other_as_near():
    """`notches-of-the-ring`. By hand: 0.50 mm at 0.04 mm a notch is 12.5: twelve or thirteen."""
    for text in asked_on_four_designs("notches-of-the-ring"):
        step_mm, gap_mm, setting_mm = map(float, re.findall(r"(?:by|at|be) (\d+\.\d+) mm", text))
        notches = (gap_mm - setting_mm) / step_mm

        assert abs(notches - round(notches)) < 0.45, text


@pytest.mark.parametrize(
    ("name", "of"), [("hot-coil-ohms", "Ω"), ("what-the-ohms-say", "Ω"), ("test-load-ready", "kg")]
)
def test_an_estimate_is_printed_as_a_chart_would_print_it(name, of):
    """Four figures at most: nobody reads 675.399 Ω or 2211.96 kg off a sheet or a meter."""
    printed = {
        number
        for text in asked_on_four_designs(name)
        for number in re.findall(rf"([\d.]+) {of}", text)
    }

    assert printed
    assert not [number for number in printed if len(number.replace(".", "").strip("0")) > 4]


def test_a_load_that_will_not_come_down_is_locked_as_the_grading_asks():
    """S2 counts a locked switch there; an order that leaves the lock out would teach a loss."""
    order = ORDERS["a load that cannot be landed"]

    assert [act for act in order.step("lock").acts if act.kind == "isolate" and act.lock]
    assert order.names.index("send-away") < order.names.index("lock")
    assert order.step("lock").words in the_bank().item("order-of-a-stuck-load").body.steps


@pytest.mark.parametrize("key", KEYS)
def test_what_is_needed_for_a_date_is_what_moves_the_date(key):
    """`enough-for-the-interval`: gap for the gap, disc for the disc, growth for both; no torque."""
    hidden, text, _ = asked("enough-for-the-interval", key)
    slow, fast = (Order(grows_mm_per_month=mm, recorded=True) for mm in (0.05, 0.1))
    gap, wider = Reading(0.0, 0.5, 0.01), Reading(0.0, 0.6, 0.01)
    disc, thinner = Reading(0.0, 9.2, 0.01), Reading(0.0, 9.1, 0.01)
    locked = replace(CEDAR, screws=replace(CEDAR.screws, retaining_torque_nm=5.0))
    moves = {
        "Today’s widest gap": (([gap], []), ([wider], [])),
        "Today’s thinnest place": (([], [disc]), ([], [thinner])),
    }
    needed = right_answer(hidden)

    assert ("Today’s widest gap" in needed) is ("the gap will reach" in text)
    assert ("Today’s thinnest place" in needed) is ("the disc will reach" in text)
    assert "The growth of the gap" in needed
    assert "torque" not in needed
    for readings, worse in moves.values():
        days = next_days(CEDAR, slow, *readings)
        assert next_days(CEDAR, slow, *worse) < days > next_days(CEDAR, fast, *readings)
        assert next_days(locked, slow, *readings) == days


def test_what_changes_sides_turns_with_the_shaft():
    """`moved-to-the-other-side`: a wedge at the bench, half a turn: top and bottom change places."""
    wedge = replace(sound_condition(CEDAR), disc=Disc(10.0, 0.1, 0.0))
    before, after = (gap_field(CEDAR, wedge, shaft_deg=deg) for deg in (0.0, 180.0))
    tilted = sound_condition(CEDAR, gap=Plane(0.4, 0.1, 0.0))
    stood, stands = (gap_field(CEDAR, tilted, shaft_deg=deg) for deg in (0.0, 180.0))

    assert before.at_mm(0.0) == pytest.approx(after.at_mm(180.0), abs=1e-6)
    assert stood.at_mm(0.0) == pytest.approx(stands.at_mm(0.0), abs=1e-6)


@pytest.mark.parametrize("name", ["jaws-closed", "caliper-off-at-zero"])
def test_a_caliper_off_at_zero_is_changed_in_every_text_and_at_the_bench(name):
    """One advice: correct the old reading, measure on with another; what it shows, shows too much."""
    why = the_bank().item(name).why
    bench = Bench(
        CEDAR, replace(sound_condition(CEDAR), tools=Tools(caliper_zero_mm=0.2)), bytes(16)
    )

    assert "another" in why
    assert bench.act(do.CheckTool("caliper")).facts["zero_mm"] == 0.2
    assert "Another caliper" in said(bench.act(do.ChangeTool("caliper")))
    assert bench.act(do.CheckTool("caliper")).facts["zero_mm"] == 0.0


def test_the_record_keeps_the_bracket_and_the_sum_goes_by_its_middle():
    """`middle-of-the-bracket` and lesson 5 say the same, and a reading is that middle."""
    hidden, _, (go_mm, no_go_mm) = asked("middle-of-the-bracket")
    middle_mm = gap_reading(0.0, go_mm, no_go_mm).value_mm

    assert right_json(hidden)["value"] == pytest.approx(middle_mm, abs=0.0005)
    assert "Write the bracket as you felt it, go and no-go" in lesson(5)
    assert "its middle is the best guess" in lesson(5)


def test_who_opens_the_terminal_box_is_asked_where_it_is_taught():
    """`who-opens-the-terminal-box` stands in lesson 7's check, where the lesson speaks of it."""
    assert 7 in the_bank().item("who-opens-the-terminal-box").lessons
    assert "the work order says who may open it" in lesson(7)


def test_the_terminals_are_behind_no_cover_but_their_own():
    """At the bench: closed brake, open box: tested. Open brake, closed box: refused."""
    bench = Bench(CEDAR, sound_condition(CEDAR), bytes(16))
    bench.replay((do.LandLoad(), do.Isolate()))
    assert bench.act(do.ProveDead()).code == "terminals.box-shut"
    bench.act(do.OpenBox())

    assert bench.act(do.ProveDead()).code == "tester.dead"
    assert bench.state.cover_on

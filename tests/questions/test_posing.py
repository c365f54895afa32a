"""What a drawn question shows, what it keeps, and that the same key draws it again."""

import json
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.questions.answers import right_answer
from quizzes.questions.bank import the_bank
from quizzes.questions.items import Order, Scale
from quizzes.questions.posing import QuestionError, draw_question, filled, number_of
from tests.questions.bank_texts import KEY, ORDER, OWN_SHEET, SHEET, SINGLE, TURN, item_of
from widgets.brake.sizes.design import Design
from widgets.brake.sizes.sheet import four_designs, load_sheet

ROOT = Path(__file__).parents[2]
BANK = the_bank()
KEYS = st.binary(min_size=16, max_size=64)
ITEMS = st.sampled_from(list(BANK))


@given(ITEMS, KEYS)
def test_a_question_is_plain_json(item, key):
    """What goes to the page survives the wire unchanged, and no number in it has a long tail."""
    shown = dict(draw_question(item, key, SHEET).shown)

    assert not re.search(r"\d\.\d{5}", json.dumps([shown["text"], shown.get("options", [])]))
    assert json.loads(json.dumps(shown, allow_nan=False)) == json.loads(json.dumps(shown))
    assert shown["text"]


@given(ITEMS, KEYS)
def test_the_same_key_draws_the_same_question(item, key):
    """A question of a sitting can be looked at again years later."""
    one, two = (draw_question(item, key, SHEET) for _ in range(2))

    assert one.shown == two.shown
    assert one.hidden.values == two.hidden.values
    assert right_answer(one.hidden) == right_answer(two.hidden)


def test_another_process_draws_the_same_questions():
    """Nothing depends on the order of sets or the salt of Python's own hashes."""
    script = (
        "import hashlib, json\n"
        "from quizzes.questions.bank import the_bank\n"
        "from quizzes.questions.posing import draw_question\n"
        "from widgets.brake.sizes.sheet import load_sheet\n"
        "s = load_sheet()\n"
        "t = [json.dumps(draw_question(i, bytes(range(32)), s).shown) for i in the_bank()]\n"
        "print(hashlib.sha256(''.join(t).encode()).hexdigest())"
    )
    printed = {
        subprocess.run(
            [sys.executable, "-c", script],
            cwd=ROOT, env={"PYTHONHASHSEED": salt, "PATH": ""},
            capture_output=True, text=True, check=True,
        ).stdout
        for salt in ("1", "2")
    }  # fmt: skip

    assert len(printed) == 1


def test_keys_draw_different_questions():
    """Neighbours get other numbers: of twenty keys at least ten texts differ."""
    item = BANK.item("turn-even-gap")
    texts = {draw_question(item, bytes([n]) * 16, SHEET).shown["text"] for n in range(20)}

    assert len(texts) >= 10


def test_what_is_shown_does_not_hang_on_which_option_is_right(tmp_path):
    """Two questions that differ in their right answer alone look alike to the page."""
    other = SINGLE.replace(
        'text = "The springs"\nright = true', 'text = "The springs"\ncatches = "No."'
    ).replace(
        'text = "The load"\ncatches = "Believes that the load brakes."',
        'text = "The load"\nright = true',
    )
    one, two = (draw_question(item_of(text, tmp_path), KEY, SHEET) for text in (SINGLE, other))

    assert one.shown == two.shown
    assert right_answer(one.hidden) != right_answer(two.hidden)


@given(ITEMS, KEYS)
def test_reason_source_and_mistakes_stay_in_the_kernel(item, key):
    """Neither why, nor catches, nor difficulty or model is in what the page gets."""
    told = json.dumps(draw_question(item, key, SHEET).shown)

    assert not {"why", "catches", "right", "difficulty", "model", "answer"} & set(json.loads(told))
    assert item.why[:40] not in told
    assert not any(one.why and one.why[:40] in told for one in item.situations)


@given(st.sampled_from([item for item in BANK if isinstance(item.body, Scale)]), KEYS)
def test_a_drawn_scale_holds_its_value_in_marks_only(item, key):
    """No text and no number of the message is the reading itself."""
    posed = draw_question(item, key, SHEET)
    value = number_of(posed.hidden.item.body.answer, posed.hidden.values)
    shapes = posed.shown["figure"]["shapes"]
    texts = [shape["text"] for shape in shapes]
    numbers = [number for shape in shapes for number in shape["at"]]

    assert not [text for text in texts if text and float(text) == pytest.approx(value, abs=1e-6)]
    assert value not in numbers
    assert f"{value:g}" not in posed.shown["text"]


def test_options_come_in_every_order():
    """Over many keys the right option stands in each place about as often: 5 sigma of n = 300."""
    item = BANK.item("few-places")
    at = [0, 0, 0]
    for number in range(300):
        posed = draw_question(item, number.to_bytes(16, "big"), SHEET)
        right = next(a for a, one in enumerate(posed.hidden.item.body.options) if one.right)
        letter = next(letter for letter, own in posed.hidden.places.items() if own == right)
        at["abc".index(letter)] += 1

    assert all(60 < count < 140 for count in at)  # 100 each, binomial sigma 8.2


@pytest.mark.parametrize(
    "item", [item for item in BANK if item.kind == "single"], ids=lambda item: item.id
)
def test_each_option_is_right_as_often_as_any_other(item):
    """The situation is drawn by what is right there: 5 sigma of n = 60 keys."""
    options = range(len(item.body.options))
    counts = dict.fromkeys(options, 0)
    for number in range(60):
        body = draw_question(item, number.to_bytes(16, "big"), SHEET).hidden.item.body
        counts[next(at for at in options if body.options[at].right)] += 1
    share = 1 / len(counts)

    assert all(abs(n - 60 * share) < 5 * (60 * share * (1 - share)) ** 0.5 for n in counts.values())


def test_neither_options_nor_places_tell_which_situation_was_drawn():
    """Only the text differs from one situation to the next: the options are the same."""
    for item in BANK:
        if item.kind == "single" and not item.parametric:
            shown = {
                frozenset(
                    one["text"]
                    for one in draw_question(item, bytes([n]) * 16, SHEET).shown["options"]
                )
                for n in range(8)
            }
            assert len(shown) == 1, item.id


@given(KEYS)
def test_steps_are_never_shown_in_their_own_order(key):
    """A question that stands answered already asks nothing."""
    item = BANK.item("order-of-adjusting")
    posed = draw_question(item, key, SHEET)

    assert isinstance(item.body, Order)
    assert [one["text"] for one in posed.shown["steps"]] != list(item.body.steps)


def test_a_sheet_of_three_columns_does_for_every_question(tmp_path):
    """A trainer's own sizes, the rest estimated, can be asked about as well."""
    path = tmp_path / "own.toml"
    path.write_text(OWN_SHEET, encoding="utf-8")
    sheet = load_sheet(path)
    of_screws = [one for one in BANK if one.parametric and Design.HOLLOW_SCREWS in one.designs]
    names = {draw_question(item, KEY, sheet).hidden.size.name for item in of_screws}

    assert names <= {"Own-1", "Own-2", "Own-3"}


def test_what_a_design_asks_is_drawn_on_a_size_of_that_design(tmp_path):
    """On the sheet's own where it has one, else on an invented one that the text names in full.

    What depends on hollow screws and is looked up on the sheet is left out where there are none.
    """
    path = tmp_path / "own.toml"
    path.write_text(
        OWN_SHEET.replace('name = "Own-2"', 'name = "Own-2"\ndesign = "shims"'), "utf-8"
    )
    mixed, plain = load_sheet(path), SHEET
    item = BANK.item("shims-to-take-out")
    rings = replace(mixed, sizes=(four_designs().sizes[2],))

    assert draw_question(item, KEY, mixed).hidden.size.name == "Own-2"
    assert draw_question(item, KEY, plain).hidden.size.name == "Maple-40"
    assert draw_question(BANK.item("turn-even-gap"), KEY, mixed).hidden.size.name != "Own-2"
    with pytest.raises(QuestionError, match="no size of the sheet has hollow screws"):
        draw_question(BANK.item("turn-even-gap"), KEY, rings)


def test_a_size_may_be_kept_to():
    """A lesson on one size asks about that size."""
    item = BANK.item("turn-even-gap")
    sizes = {
        draw_question(item, bytes([n]) * 16, SHEET, "Elm-140").hidden.size.name for n in range(9)
    }

    assert sizes == {"Elm-140"}


def test_a_question_that_no_draw_makes_is_refused_with_place_size_and_reason(tmp_path):
    """At the setting there is nothing to turn: every draw of this range is refused."""
    none = TURN.replace("from = 0.4, to = 1.2", "from = 0.0, to = 0.0")

    with pytest.raises(QuestionError, match=r"some\.toml, question 1, the-item.*size "):
        draw_question(item_of(none, tmp_path), KEY, SHEET)


def test_a_placeholder_that_the_model_does_not_give_is_refused(tmp_path):
    """A misspelt name in a text becomes a sentence, not an empty place on the page."""
    misspelt = TURN.replace("{gap_mm:.2f}", "{gpa_mm:.2f}")

    with pytest.raises(QuestionError, match="gpa_mm"):
        draw_question(item_of(misspelt, tmp_path), KEY, SHEET)


def test_a_placeholder_reaches_no_further_than_its_name():
    """Braces with anything but a name stay text: a bank cannot look into objects."""
    assert filled("{size.__class__} {size}", {"size": "Own-1"}) == "{size.__class__} Own-1"


def test_a_minus_is_written_as_one():
    """A negative number has the minus of printing, and a name keeps its hyphen."""
    told = filled("{a:.1f} {size}", {"a": -2.0, "size": "Elm-140"})

    assert told == "−2.0 Elm-140"


def test_a_short_key_is_refused():
    """A key that could be guessed draws nothing."""
    with pytest.raises(ValueError, match="16 to 64 bytes"):
        draw_question(BANK.item("turn-even-gap"), b"short", SHEET)


def test_steps_of_the_test_bank_are_lettered(tmp_path):
    """Letters say nothing of the order in which steps belong."""
    posed = draw_question(item_of(ORDER, tmp_path), KEY, SHEET)

    assert [one["id"] for one in posed.shown["steps"]] == list("abcde")

"""Marks: right answers are right, known mistakes are named, and nothing that is sent breaks it."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.questions.answers import right_answer, right_outcome, right_places, wrong_numbers
from quizzes.questions.bank import the_bank
from quizzes.questions.items import Choice, Decide, Mark, Numeric, Order, Scale
from quizzes.questions.marking import FIELDS, Marked, mark
from quizzes.questions.posing import Hidden, draw_question, number_of
from tests.questions.bank_texts import (
    DECIDE,
    EVERY_KIND,
    KEY,
    MARK,
    MULTIPLE,
    NUMERIC,
    ORDER,
    SHEET,
    SINGLE,
    item_of,
)

BANK = the_bank()
ITEMS = st.sampled_from(list(BANK))
KEYS = st.binary(min_size=16, max_size=32)
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=30),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=12,
)  # fmt: skip


def letters(hidden: Hidden, *places: int) -> list[str]:
    """Return the letters under which options or steps, from 0, are shown."""
    by_place = {place: letter for letter, place in hidden.places.items()}
    return [by_place[place] for place in places]


def right_one(hidden: Hidden) -> dict:
    """Return the answer of somebody who knows."""
    match hidden.item.body:
        case Choice(options, several):
            right = letters(hidden, *(at for at, one in enumerate(options) if one.right))
            return {"choices": right} if several else {"choice": right[0]}
        case Order(steps):
            return {"order": letters(hidden, *range(len(steps)))}
        case Mark():
            return {"place": right_places(hidden)[0]}
        case Decide():
            return {"choice": right_outcome(hidden)}
        case Numeric(answer=answer) | Scale(answer=answer):
            return {"value": number_of(answer, hidden.values)}


def drawn(text, tmp_path) -> Hidden:
    return draw_question(item_of(text, tmp_path), KEY, SHEET).hidden


@given(ITEMS, KEYS)
def test_the_right_answer_is_right_whatever_is_drawn(item, key):
    """Who knows gets the whole mark and a reason, and is told of no mistake."""
    hidden = draw_question(item, key, SHEET).hidden
    marked = mark(hidden, right_one(hidden))

    assert marked.taken
    assert marked.right
    assert marked.share == 1.0
    assert marked.caught == ()
    assert len(marked.words.split()) >= 4
    assert marked.answer


@given(ITEMS, KEYS, JSON)
def test_whatever_is_sent_gets_a_mark_or_a_sentence(item, key, sent):
    """No answer from outside raises; what is not an answer has no mark."""
    hidden = draw_question(item, key, SHEET).hidden
    marked = mark(hidden, sent)

    assert isinstance(marked, Marked)
    assert marked.words
    assert 0 <= marked.share <= 1
    assert marked.taken or (marked.share, marked.right, marked.answer) == (0.0, False, "")


@given(ITEMS, JSON)
def test_a_field_of_the_right_name_may_hold_anything(item, sent):
    """Hostile values in the very field that is read still raise nothing."""
    hidden = draw_question(item, KEY, SHEET).hidden
    marked = mark(hidden, {FIELDS[item.kind]: sent, "confidence": sent})

    assert isinstance(marked, Marked)
    assert marked.words


@pytest.mark.parametrize("kind", EVERY_KIND)
def test_an_answer_of_another_kind_is_no_answer(kind, tmp_path):
    """An empty answer and one for another kind get a sentence and no mark."""
    hidden = drawn(EVERY_KIND[kind], tmp_path)
    other = "value" if FIELDS[kind] != "value" else "place"

    for sent in ({}, None, [], "a", {other: "a"}, {FIELDS[kind]: None}):
        marked = mark(hidden, sent)
        assert not marked.taken
        assert marked.words.endswith(".")


def test_a_wrong_choice_says_what_is_behind_it(tmp_path):
    """The mistake that a wrong option stands for is named."""
    hidden = drawn(SINGLE, tmp_path)
    (magnet,) = letters(hidden, 1)
    marked = mark(hidden, {"choice": magnet})

    assert (marked.taken, marked.right, marked.share) == (True, False, 0.0)
    assert marked.caught == ("Believes that the magnet brakes.",)
    assert marked.answer == "The springs"


def test_several_choices_are_marked_one_by_one(tmp_path):
    """Of three boxes one is ticked wrongly: two of three are as they should be."""
    hidden = drawn(MULTIPLE, tmp_path)
    marked = mark(hidden, {"choices": letters(hidden, 0, 2)})

    assert marked.share == pytest.approx(2 / 3)
    assert not marked.right
    assert marked.caught == ("Believes that the load brakes.",)
    assert not mark(hidden, {"choices": []}).taken
    assert not mark(hidden, {"choices": letters(hidden, 0) * 2}).taken


@pytest.mark.parametrize("typed", ["12.5", "12,5", " 12.5 ", 12.5, "12.3", "12.7", "+12.6"])
def test_a_number_may_be_typed_with_point_or_comma(typed, tmp_path):
    """Tolerance 0.2 either way of 12.5, both ends included, as typed in any country."""
    assert mark(drawn(NUMERIC, tmp_path), {"value": typed}).right


@pytest.mark.parametrize("typed", ["12.29", "12.71", "-12.5", 0, 12])
def test_a_number_outside_the_tolerance_is_wrong(typed, tmp_path):
    """Just outside is outside."""
    marked = mark(drawn(NUMERIC, tmp_path), {"value": typed})

    assert marked.taken
    assert not marked.right
    assert marked.answer == "12.5 mm"


@pytest.mark.parametrize("typed", ["", "nan", "inf", "1e3", "0x10", "1_0", "12.5 mm", True, math.nan, math.inf, 1e300, "9" * 30, "1.2.3"])  # fmt: skip
def test_what_is_no_number_of_a_gauge_is_no_answer(typed, tmp_path):
    """Words, infinities and endless digits get a sentence and no mark."""
    marked = mark(drawn(NUMERIC, tmp_path), {"value": typed})

    assert not marked.taken
    assert marked.words.startswith("Type a number")


def test_a_number_that_a_known_mistake_gives_names_the_mistake(tmp_path):
    """Twice the answer was foreseen, three times was not."""
    hidden = drawn(NUMERIC, tmp_path)

    assert mark(hidden, {"value": 25}).caught == ("Doubles it.",)
    assert mark(hidden, {"value": 37.5}).caught == ()


@given(st.sampled_from([i for i in BANK if isinstance(i.body, Numeric | Scale)]), KEYS)
def test_every_foreseen_number_is_wrong_and_named(item, key):
    """A mistake's number is never within the tolerance of the right one."""
    hidden = draw_question(item, key, SHEET).hidden
    for value, catches in wrong_numbers(hidden):
        marked = mark(hidden, {"value": value})
        assert not marked.right
        assert marked.caught  # the first of those that lie as near
        assert catches in {words for number, words in wrong_numbers(hidden)}


def test_steps_whose_order_does_not_matter_may_be_changed(tmp_path):
    """Lock and tag in either order is right."""
    hidden = drawn(ORDER, tmp_path)

    assert mark(hidden, {"order": letters(hidden, 0, 2, 1, 3, 4)}).right


def test_a_slip_in_the_order_is_named_and_costs_its_pairs(tmp_path):
    """Opening before proving dead turns round one of the nine pairs that matter (10 less 1 free)."""
    hidden = drawn(ORDER, tmp_path)
    marked = mark(hidden, {"order": letters(hidden, 0, 1, 2, 4, 3)})

    assert marked.share == pytest.approx(8 / 9)
    assert marked.caught == ("Opens before proving dead.",)


def test_a_slip_that_nobody_foresaw_has_the_general_word(tmp_path):
    """Another mix-up gets the sentence for all others."""
    hidden = drawn(ORDER, tmp_path)

    assert mark(hidden, {"order": letters(hidden, 1, 0, 2, 3, 4)}).caught == ("Mixes the order.",)
    assert not mark(hidden, {"order": letters(hidden, 0, 1)}).taken


def test_a_wrong_place_says_what_is_behind_it(tmp_path):
    """A place with a sentence of its own, one without, and one of another group."""
    hidden = drawn(MARK, tmp_path)

    assert mark(hidden, {"place": "fan-gap"}).caught == ("Takes the gap at the fan.",)
    assert mark(hidden, {"place": "disc-plate-side"}).caught == ("Takes another gap.",)
    assert not mark(hidden, {"place": "coil"}).taken  # a part, and gaps were asked for


def test_how_sure_one_is_is_kept_where_it_was_asked(tmp_path):
    """Confidence is kept with the answer; a word that is none is refused."""
    asked = draw_question(
        item_of(SINGLE.replace('kind = "single"', 'kind = "single"\nconfidence = true'), tmp_path),
        KEY, SHEET,
    )  # fmt: skip
    answer = right_one(asked.hidden)

    assert asked.shown["confidence"] == [
        ("sure", "sure"),
        ("think", "think so"),
        ("guess", "guess"),
    ]
    assert mark(asked.hidden, {**answer, "confidence": "guess"}).confidence == "guess"
    assert not mark(asked.hidden, {**answer, "confidence": "certain"}).taken
    assert mark(drawn(SINGLE, tmp_path), {**answer, "confidence": "sure"}).confidence == ""


@given(ITEMS, KEYS)
def test_marking_twice_gives_the_same(item, key):
    """A mark is a function of question and answer alone."""
    hidden = draw_question(item, key, SHEET).hidden
    answer = right_one(hidden)

    assert mark(hidden, answer).to_json() == mark(hidden, answer).to_json()


def test_a_decision_is_marked_by_the_rule_of_the_day_on_which_it_was_drawn(tmp_path, monkeypatch):
    """What was right is kept with the question: another rule tomorrow changes no mark."""
    posed = draw_question(item_of(DECIDE, tmp_path), KEY, SHEET)
    monkeypatch.setattr("quizzes.questions.answers.conclude", lambda *_: 1 / 0)

    assert mark(posed.hidden, {"choice": "adjust"}).right
    assert mark(posed.hidden, {"choice": "refer"}).caught == ("Gives it away.",)
    assert right_answer(posed.hidden) == "Adjust"

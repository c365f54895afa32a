"""What the suite's own bank holds: enough of each, short, plain, and given away by nothing."""

import re
from collections.abc import Iterator
from statistics import fmean

import pytest

from quizzes.questions.bank import the_bank
from quizzes.questions.items import ELEMENTS, KINDS, LESSONS, Choice, Item
from quizzes.questions.lint import _texts

LEAST_OF_KIND = {
    "single": 40,
    "multiple": 15,
    "numeric": 20,
    "order": 10,
    "mark": 8,
    "scale": 8,
    "decide": 12,
}
MOST_WORDS_IN_A_SENTENCE = 30
MOST_WORDS_IN_A_QUESTION = 50
NO_TRICKS = re.compile(
    r"(?i)all of the above|none of the above|both of these|all of these|always true"
)
NEGATIVE = re.compile(r"\b(not|never|cannot|except)\b")
DEFERS = re.compile(r"maker|code|authori|licen[cs]|local rule|responsible")
BANK = the_bank()
SINGLES = [item for item in BANK if item.kind == "single"]
CHOICES = [item for item in BANK if isinstance(item.body, Choice)]


def _all_texts(item: Item) -> Iterator[str]:
    """Give all that a person reads of a question, what a wrong answer gets told included."""
    yield from (words for _, words in _texts(item))


def _sentences(text: str) -> list[str]:
    plain = re.sub(r"\{[^{}]*\}", "1", text)
    return [one for one in re.split(r"(?<=[.?!:;])”?\s+", plain) if one]


def test_the_bank_is_large_enough_to_draw_from():
    """Enough that two sittings seldom meet, and half of it new at each draw."""
    items = list(BANK)

    assert len(items) >= 130
    assert sum(item.parametric for item in items) >= 60


@pytest.mark.parametrize("element", ELEMENTS)
def test_each_element_has_its_questions(element):
    """Every part of the competency can be asked about four times without a repeat."""
    assert sum(item.element == element for item in BANK) >= 4


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_is_well_used(kind):
    """No way of asking is there for show only."""
    assert sum(item.kind == kind for item in BANK) >= LEAST_OF_KIND[kind]


@pytest.mark.parametrize("lesson", LESSONS)
def test_each_lesson_has_a_check_that_can_be_done_at_one_sitting(lesson):
    """Four to six questions, of several kinds, at least one of them new at each draw."""
    items = BANK.of_lesson(lesson)

    assert 4 <= len(items) <= 6
    assert len({item.kind for item in items}) >= 4
    assert any(item.parametric for item in items)


def test_difficulties_spread_from_hard_to_easy():
    """Estimates lie where a question tells something, and not all at one place."""
    shares = sorted(item.difficulty for item in BANK)

    assert 0.35 <= shares[0] <= 0.40
    assert 0.85 <= shares[-1] <= 0.95
    assert shares[len(shares) // 4] <= 0.55
    assert shares[3 * len(shares) // 4] >= 0.70


@pytest.mark.parametrize("item", list(BANK), ids=lambda item: item.id)
def test_a_question_can_be_read_by_whoever_works(item):
    """Short sentences and a short question: plain English, STYLE.md's own rule for words."""
    for text in _all_texts(item):
        for sentence in _sentences(text):
            assert len(sentence.split()) <= MOST_WORDS_IN_A_SENTENCE, sentence
    assert len(item.text.split()) <= MOST_WORDS_IN_A_QUESTION


def test_sentences_are_short_on_the_whole():
    """Common practice for instructions: some fifteen words on average at most, no source."""
    lengths = [
        len(sentence.split())
        for item in BANK
        for text in (item.text, item.why)
        for sentence in _sentences(text)
    ]

    assert fmean(lengths) <= 15


def test_no_question_is_asked_twice():
    """Neither the same words nor the same options under two names."""
    texts = [item.text.casefold() for item in BANK]
    options = [frozenset(one.text.casefold() for one in item.body.options) for item in CHOICES]

    assert len(set(texts)) == len(texts)
    assert len(set(options)) == len(options)


def test_the_right_option_is_not_known_by_its_length():
    """On average it is no longer than the wrong ones, and seldom the longest or the shortest.

    As often as luck allows: one in three options, plus two sigma of so many questions.
    """
    right, wrong, longest, shortest = [], [], 0, 0
    for item in SINGLES:
        (good,) = (len(one.text) for one in item.body.options if one.right)
        bad = [len(one.text) for one in item.body.options if not one.right]
        right.append(good)
        wrong.append(fmean(bad))
        longest += good > max(bad)
        shortest += good < min(bad)
    by_luck = 1 / 3 + 2 * (2 / 9 / len(SINGLES)) ** 0.5

    assert fmean(right) <= fmean(wrong)
    assert longest / len(SINGLES) <= by_luck
    assert shortest / len(SINGLES) <= by_luck


def test_the_right_options_of_a_list_are_no_longer_either():
    """Whoever ticks the long ones gets nothing for it."""
    options = [one for item in CHOICES if item.kind == "multiple" for one in item.body.options]

    assert fmean(len(one.text) for one in options if one.right) <= 1.05 * fmean(
        len(one.text) for one in options if not one.right
    )


@pytest.mark.parametrize("item", list(BANK), ids=lambda item: item.id)
def test_no_question_is_a_trick(item):
    """No catch-all option, and a question that asks for what is not so says NOT."""
    assert not any(NO_TRICKS.search(text) for text in _all_texts(item))
    for sentence in re.split(r"(?<=[.?!])\s+", item.text):
        if sentence.endswith("?") and re.match(r"(Which|What|Where)\b", sentence):
            assert not NEGATIVE.search(sentence), sentence


@pytest.mark.parametrize("item", list(BANK), ids=lambda item: item.id)
def test_what_a_wrong_answer_gets_told_is_a_sentence(item):
    """It begins with a capital and ends with a full stop, and says more than “wrong”."""
    for name, text in _texts(item):
        if name.startswith("catches") and text:
            assert len(text.split()) >= 2, text
            assert text[0].isupper(), text
            assert text.endswith("."), text


@pytest.mark.parametrize("letter", ["S", "T"])
def test_safety_and_tests_defer_to_those_who_decide_at_a_real_hoist(letter):
    """In every third reason at least the maker, the code or an authority comes first."""
    reasons = [item.why for item in BANK if item.element.startswith(letter)]

    assert sum(bool(DEFERS.search(why)) for why in reasons) >= len(reasons) / 3


def test_confidence_is_asked_where_it_teaches():
    """Being sure and wrong matters most in safety, decisions and the record: each asks for it."""
    asked = {item.element[0] for item in BANK if item.confidence}

    assert {"S", "D", "W"} <= asked

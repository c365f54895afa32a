"""What the suite's own bank holds: enough of each, short, plain, and given away by nothing."""

import re
from collections.abc import Iterator
from statistics import fmean

import pytest

from quizzes.questions.bank import the_bank
from quizzes.questions.items import KINDS, Choice, Item
from quizzes.questions.lint import texts_of
from quizzes.questions.scheme import ELEMENTS, LESSONS
from widgets.brake.sizes.design import Design

LEAST_OF_KIND = {
    "single": 100,
    "multiple": 30,
    "numeric": 20,
    "order": 20,
    "mark": 8,
    "scale": 4,
    "decide": 12,
}
MOST_WORDS_IN_A_SENTENCE = 30
MOST_WORDS_IN_A_QUESTION = 55
NO_TRICKS = re.compile(
    r"(?i)all of the above|none of the above|both of these|all of these|always true"
)
NEGATIVE = re.compile(r"\b(not|never|cannot|except)\b")
DEFERS = re.compile(r"maker|code|authori|licen[cs]|local rule|responsible")
# Failing one of these fails the assessment, DOMAIN A3; safety as a whole besides.
CRITICAL = {
    "K3", "K5", "S1", "S2", "S3", "S4", "S5", "M4", "D1", "A2", "A3", "R3", "T2", "W1", "W2",
}  # fmt: skip
BANK = the_bank()
CHOICES = [item for item in BANK if isinstance(item.body, Choice)]


def _all_texts(item: Item) -> Iterator[str]:
    """Give all that a person reads of a question, what a wrong answer gets told included."""
    yield from (words for _, words in texts_of(item))


def _sentences(text: str) -> list[str]:
    plain = re.sub(r"\{[^{}]*\}", "1", text)
    return [one for one in re.split(r"(?<=[.?!:;])”?\s+", plain) if one]


def test_the_bank_is_large_enough_to_draw_from():
    """Enough that two sittings seldom meet, and most of it new at each draw."""
    items = list(BANK)

    assert len(items) >= 220
    assert sum(item.varies for item in items) >= 0.75 * len(items)


def test_half_of_the_bank_asks_for_judgement_in_a_situation():
    """In at least half of it the situation decides what is right, and not the words."""
    assert sum(item.situational for item in BANK) >= len(BANK) / 2


@pytest.mark.parametrize("kind", ["single", "decide"])
def test_what_is_right_is_drawn_wherever_one_option_is(kind):
    """No question with one right option has it for good: who has met it once must still think."""
    assert [item.id for item in BANK if item.kind == kind and not item.situations] == []


@pytest.mark.parametrize("element", ELEMENTS)
def test_each_element_has_its_questions(element):
    """Every part can be asked about five times without a repeat, a critical one ten times."""
    least = 10 if element in CRITICAL else 5

    assert sum(item.element == element for item in BANK) >= least


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_is_well_used(kind):
    """No way of asking is there for show only."""
    assert sum(item.kind == kind for item in BANK) >= LEAST_OF_KIND[kind]


@pytest.mark.parametrize("lesson", LESSONS)
def test_each_lesson_has_a_check_that_can_be_done_at_one_sitting(lesson):
    """Four to six questions, of several kinds, at least one of them new at each draw."""
    items = BANK.of_lesson(lesson, [Design.HOLLOW_SCREWS])

    assert 4 <= len(items) <= 6
    assert len({item.kind for item in items}) >= 4
    assert any(item.parametric for item in items)


@pytest.mark.parametrize("design", list(Design))
def test_the_check_on_setting_a_gap_follows_the_design_of_the_sheet(design):
    """Lesson 8 asks in which order this design is set, lesson 9 in which it is fitted, and of no other."""
    for lesson, start in ((8, "order-"), (9, "fitting-")):
        own = {item.id for item in BANK.of_lesson(lesson, [design]) if item.id.startswith(start)}
        other = {one for one in own if set(BANK.item(one).designs) & {design} == set()}
        assert not other
        assert own or design is Design.HOLLOW_SCREWS


def test_difficulties_spread_from_hard_to_easy():
    """Estimates lie where a question tells something, and not all at one place."""
    shares = sorted(item.difficulty for item in BANK)

    assert 0.35 <= shares[0] <= 0.40
    assert 0.80 <= shares[-1] <= 0.95
    assert shares[len(shares) // 4] <= 0.55
    assert shares[3 * len(shares) // 4] >= 0.60


@pytest.mark.parametrize("item", list(BANK), ids=lambda item: item.id)
def test_a_question_can_be_read_by_whoever_works(item):
    """Short sentences and a short question: plain English, STYLE.md's own rule for words."""
    for text in _all_texts(item):
        for sentence in _sentences(text):
            assert len(sentence.split()) <= MOST_WORDS_IN_A_SENTENCE, sentence
    for one in item.settled():
        assert len(one.text.split()) <= MOST_WORDS_IN_A_QUESTION


def test_sentences_are_short_on_the_whole():
    """Common practice for instructions: some fifteen words on average at most, no source."""
    lengths = [
        len(sentence.split())
        for item in BANK
        for one in item.settled()
        for text in (one.text, one.why)
        for sentence in _sentences(text)
    ]

    assert fmean(lengths) <= 15


def test_no_question_is_asked_twice():
    """Neither the same words nor the same options under two names."""
    texts = [item.text.casefold() for item in BANK]
    options = [frozenset(one.text.casefold() for one in item.body.options) for item in CHOICES]

    assert len(set(texts)) == len(texts)
    assert len(set(options)) == len(options)


@pytest.mark.parametrize("item", list(BANK), ids=lambda item: item.id)
def test_no_question_is_a_trick(item):
    """No catch-all option, and a question that asks for what is not so says NOT."""
    assert not any(NO_TRICKS.search(text) for text in _all_texts(item))
    settled = [one.text for one in item.settled()]
    for sentence in re.split(r"(?<=[.?!])\s+", " ".join(settled)):
        if sentence.endswith("?") and re.match(r"(Which|What|Where)\b", sentence):
            assert not NEGATIVE.search(sentence), sentence


@pytest.mark.parametrize("item", list(BANK), ids=lambda item: item.id)
def test_what_a_wrong_answer_gets_told_is_a_sentence(item):
    """It begins with a capital and ends with a full stop, and says more than “wrong”."""
    for name, text in texts_of(item):
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

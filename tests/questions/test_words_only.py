"""Who looks at words only does no better than dice, and would if the words gave it away."""

import random

import pytest

from quizzes.questions.bank import the_bank
from tests.questions.words_only import Read, as_read, score_lists, score_singles

READS = as_read(the_bank())


def test_words_do_not_tell_the_right_option():
    """A rule trained on the other questions stays within the 95 % interval of dice."""
    score = score_singles(READS)

    assert score.questions >= 140
    assert score.by_chance, score


def test_words_do_not_tell_the_right_ones_of_a_list():
    """Ranked by such a rule, right and wrong options of a list lie as dice would lay them."""
    score = score_lists(READS)

    assert score.questions >= 30
    assert score.by_chance, score


def test_words_do_not_tell_the_right_ones_of_a_list_that_has_them_for_good():
    """The same for the lists alone whose right options are never drawn."""
    score = score_lists([one for one in READS if one.fixed])

    assert score.by_chance, score


def _made(number: int, dice: random.Random, right: str, wrong: str, *, several: bool) -> Read:
    words = [f"{right} part {number}", *(f"{wrong} part {number} {n}" for n in range(3))]
    dice.shuffle(words)
    return Read(
        f"made-{number}", several, True, "What do you do?", tuple(words),
        tuple(word.startswith(right) for word in words), 1.0,
    )  # fmt: skip


@pytest.mark.parametrize(("several", "score"), [(False, score_singles), (True, score_lists)])
@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("Tag it and refer the", "Run it with the"),
        ("Take the much longer and the much more carefully worded", "Take the"),
        ("Leave the, because it is", "Leave the"),
    ],
)
def test_words_that_give_it_away_are_found(several, score, right, wrong):
    """Caution, length or a reason given in every right option: the rule learns it, and is caught."""
    dice = random.Random(7)
    bank = [_made(number, dice, right, wrong, several=several) for number in range(60)]
    found = score(bank)

    assert found.rule > 0.9
    assert not found.by_chance

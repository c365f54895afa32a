"""Questions that draw their situation: what is read, settled and drawn; what is refused."""

import pytest

from quizzes.questions.from_file.unfit import BankError
from quizzes.questions.items import SITUATION
from quizzes.questions.lint import lint
from quizzes.questions.marking import mark
from quizzes.questions.posing import draw_question
from quizzes.questions.printed import wrong_sums
from tests.questions.bank_texts import HEAD, KEY, MARK, NUMERIC, SHEET, TURN, item_of

DRAWN = (
    HEAD.replace("What is asked here of a person?", "You stand there. {situation} What now?")
    + """
kind = "single"
option = [
  { text = "Go on", catches = "Goes on." },
  { text = "Stop", catches = "Stops." },
  { text = "Ask", catches = "Asks." },
]
situation = [
  { text = "All is well.", right = [1] },
  { text = "It smokes.", right = [2], why = "Smoke is heat.", catches.3 = "Asks a fire." },
  { text = "It hums.", right = [3] },
]
"""
)
LIST = DRAWN.replace('kind = "single"', 'kind = "multiple"').replace("[1] }", "[1, 3] }")
PLACES = (
    MARK.replace(
        "What is asked here of a person?", "The brake is tried. {situation} Where is the gap?"
    )
    .replace('right = ["air-gap"]', 'right = ["air-gap", "disc-plate-side"]')
    .split("[[question.place]]")[0]
    + """
place = [{ ids = ["air-gap"], catches = "Takes the gap." }]
situation = [
  { text = "Off.", places = ["air-gap"] },
  { text = "On.", places = ["disc-plate-side"] },
]
"""
)
FAULTS = {
    "a right option that is not there": (DRAWN, "[2]", "[4]", "right", "from 1 to 3"),
    "two right options where one is asked for": (DRAWN, "[2]", "[2, 3]", "right", "one number"),
    "a list of which all is right": (LIST, "[1, 3]", "[1, 2, 3]", "right", "not all"),
    "no word on what is right": (DRAWN, ", right = [3]", "", "right", "one number"),
    "an option that is right nowhere": (DRAWN, "[3]", "[1]", "situation", "option 3 is right"),
    "an option with an answer of its own": (
        DRAWN, 'catches = "Goes on."', "right = true", "option 1, right", "no such",
    ),
    "a single situation": (
        DRAWN.split("situation = [")[0] + 'situation = [{ text = "So.", right = [1] }]\n',
        "[1]", "[1]", "situation", "2 to 24",
    ),
    "no place for the situation": (DRAWN, "{situation} ", "", "text", "is to stand"),
    "a place for no situation": (
        NUMERIC, "What is asked", "{situation} What is asked", "text", "is to stand",
    ),
    "situations of a number": (
        NUMERIC, "unit =", 'situation = [{ text = "a" }, { text = "b" }]\nunit =',
        "situation", "may change",
    ),
    "a verdict without a model": (DRAWN, "[3] }", '[3], when = "hot" }', "when", "no model"),
    "a misspelt field": (DRAWN, "why =", "whi =", "whi", "no such"),
    "a place that the question does not name": (
        PLACES, 'places = ["air-gap"]', 'places = ["fan-gap"]', "places", "own",
    ),
    "situations that do not differ": (
        PLACES, 'places = ["disc-plate-side"]', 'places = ["air-gap"]', "situation", "differ",
    ),
}  # fmt: skip


@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_is_told_with_its_field_and_what_was_expected(fault, tmp_path):
    """Whoever writes a situation finds the place from the sentence alone."""
    text, good, bad, field, expected = FAULTS[fault]
    assert good in text
    with pytest.raises(BankError) as caught:
        item_of(text.replace(good, bad), tmp_path)

    assert field in str(caught.value)
    assert expected in caught.value.expected


@pytest.mark.parametrize("text", [DRAWN, LIST, PLACES])
def test_a_good_question_that_draws_its_situation_has_no_finding(text, tmp_path):
    """The linter looks at each situation, and is content."""
    assert lint([item_of(text, tmp_path)], SHEET, draws=5) == []


def test_each_situation_has_its_text_its_answer_and_its_reason(tmp_path):
    """Settled, a question is one like any other: nothing of the draw is left open."""
    item = item_of(DRAWN, tmp_path)
    settled = item.settled()

    assert item.situational
    assert [one.text for one in settled] == [
        f"You stand there. {text} What now?" for text in ("All is well.", "It smokes.", "It hums.")
    ]
    assert [[o.right for o in one.body.options] for one in settled] == [
        [True, False, False], [False, True, False], [False, False, True],
    ]  # fmt: skip
    assert settled[1].why == "Smoke is heat. Because the brake is built so."
    assert settled[1].body.options[2].catches == "Asks a fire."
    assert settled[0].body.options[2].catches == "Asks."
    assert all(one.settled() == (one,) and SITUATION not in one.text for one in settled)


def test_a_place_that_is_right_here_catches_nothing_here(tmp_path):
    """What a wrong place shows is told only where the place is wrong."""
    off, on = item_of(PLACES, tmp_path).settled()

    assert off.body.caught == {}
    assert on.body.caught == {"air-gap": "Takes the gap."}


def test_an_answer_is_marked_by_the_situation_that_was_shown(tmp_path):
    """The same words are right in one situation and wrong in the next."""
    item = item_of(DRAWN, tmp_path)
    seen = {}
    for number in range(40):
        posed = draw_question(item, bytes([number]) * 16, SHEET)
        letters = {one["text"]: one["id"] for one in posed.shown["options"]}
        marked = mark(posed.hidden, {"choice": letters["Stop"]})
        seen[posed.shown["text"]] = (marked.right, marked.caught)

    assert len(seen) == 3
    assert seen["You stand there. It smokes. What now?"] == (True, ())
    assert seen["You stand there. It hums. What now?"] == (False, ("Stops.",))


def test_a_question_that_draws_its_situation_can_be_had_anew(tmp_path):
    """The page offers another draw, as it does where a model draws numbers."""
    posed = draw_question(item_of(DRAWN, tmp_path), KEY, SHEET)

    assert posed.shown["another"] is True
    assert not posed.hidden.item.situations


def test_a_number_that_is_printed_rounded_is_found(tmp_path):
    """Who works with what is printed must come to the key: one decimal less is found."""
    rounded = TURN.replace("{gap_mm:.2f} mm", "{gap_mm:.1f} mm")
    found = lint([item_of(rounded, tmp_path)], SHEET)

    assert any("prints" in one.words for one in found)


@pytest.mark.parametrize(
    ("told", "wrong"),
    [
        ("0.80 − 0.30 = 0.50 mm", False),
        ("0.80 − 0.30 = 0.51 mm", True),
        ("360° × 0.30 / 1.5 = 72°", False),
        ("2 × 0.36 × 1080 × 60.5 / 1000 = 47.04 N·m", False),
        ("11.0 + 0.3 − 9.0 − 0.70 = 1.60 mm", False),
        ("11.0 + 0.3 − 9.0 − 0.70 = 1.59 mm", True),
        ("47.05 / 21.53 = 2.19 times", False),
        ("The gap is 0.30 mm, and 3 − 1 is two.", False),
    ],
)
def test_a_sum_must_come_out_with_the_numbers_that_it_prints(told, wrong):
    """By hand, half of the last printed digit allowed."""
    assert bool(list(wrong_sums(told))) is wrong

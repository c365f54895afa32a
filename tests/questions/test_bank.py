"""The bank: what is in it, and what a file that is wrong gets told."""

import pytest

from quizzes.questions.bank import load_bank, load_file, the_bank
from quizzes.questions.from_file.unfit import BankError
from quizzes.questions.items import KINDS
from quizzes.questions.models import MODELS
from tests.questions.bank_texts import (
    DECIDE,
    EVERY_KIND,
    MARK,
    NUMERIC,
    ORDER,
    SINGLE,
    TURN,
    WORK,
    item_of,
)

FAULTS = {
    "a kind that is none": (SINGLE, 'kind = "single"', 'kind = "singel"', "kind", "single"),
    "an unknown element": (SINGLE, '"K1"', '"K9"', "element", "K1"),
    "a difficulty above one": (SINGLE, "= 0.5", "= 1.5", "difficulty", "0 to 1"),
    "a difficulty in words": (SINGLE, "= 0.5", '= "easy"', "difficulty", "0 to 1"),
    "an empty reason": (SINGLE, "Because the brake is built so.", " ", "why", "a text"),
    "no source": (SINGLE, 'source = "common practice, no source"', "", "source", "a text"),
    "an id with spaces": (SINGLE, "the-item", "The Item", "id", "small letters"),
    "a wrong option that catches nothing": (
        SINGLE, 'catches = "Believes that the load brakes."', "",
        "option 3, catches", "believes",
    ),
    "two right options": (
        SINGLE, 'catches = "Believes that the load brakes."', "right = true",
        "option", "exactly one",
    ),
    "a misspelt field": (SINGLE, 'element = "K1"', 'element = "K1"\nlesons = [1]', "lesons", "no such"),
    "a lesson that is not there": (
        SINGLE, 'element = "K1"', 'element = "K1"\nlessons = [13]', "lessons", "1 to 12",
    ),
    "no tolerance": (NUMERIC, "tolerance = 0.2", "", "tolerance", "above 0"),
    "no known mistake": (NUMERIC, "[[question.wrong]]", "[question.wrong]", "wrong", "[[question.wrong]]"),
    "a misspelt table": (NUMERIC, "[[question.wrong]]", "[[question.slop]]", "slop", "no such"),
    "a number of thousands of digits": (SINGLE, "= 0.5", "= 0x" + 9000 * "f", "difficulty", "0 to 1"),
    "a number too large to be one": (NUMERIC, "12.5", "1" + 400 * "0", "answer", "a number"),
    "a wrong answer without a number": (NUMERIC, "value = 25.0", "value = true", "wrong 1, value", "a number"),
    "a name without a model": (NUMERIC, "answer = 12.5", 'answer = "gap_mm"', "answer", "a number"),
    "a number beside a model": (TURN, 'answer = "turn_deg"', "answer = 12.5", "answer", "the name"),
    "a model that is none": (TURN, '"even_turn"', '"even_turnip"', "model", "even_turn"),
    "a parameter left out": (
        TURN, "draw.gap_share = { from = 0.4, to = 1.2, step = 0.1 }", "",
        "draw.gap_share", "even_turn uses it",
    ),
    "a parameter nobody uses": (
        TURN, "draw.gap_share =", "draw.tilt_share = [1.0]\ndraw.gap_share =",
        "draw.tilt_share", "one of",
    ),
    "a range upside down": (TURN, "from = 0.4, to = 1.2", "from = 1.4, to = 1.2", "draw.gap_share", "from <= to"),
    "a range without a step": (TURN, ", step = 0.1", "", "step", "a number"),
    "an order of work that is none": (
        WORK, '"locking"', '"lacking"', "work", "locking",
    ),
    "a step that the work does not have": (WORK, '"half", "full"]', '"hlaf", "full"]', "steps", "half"),
    "a slip to a step that is not asked": (
        WORK, 'later = "half"', 'later = "mark"', "slip 1, later", "touch, half, full",
    ),
    "a slip of work backwards": (
        WORK, 'later = "half"', 'later = "touch"', "slip 1, later", "come after touch",
    ),
    "a slip backwards": (ORDER, "later = 5", "later = 2", "slip 1, later", "after step 4"),
    "free steps that are not neighbours": (ORDER, "[[2, 3]]", "[[2, 4]]", "free", "neighbouring"),
    "a drawing that is none": (MARK, '"section"', '"sektion"', "drawing", "section"),
    "a place that is none": (MARK, '["air-gap"]', '["air-hole"]', "right", "air-gap"),
    "a group that is none": (MARK, '["gaps"]', '["holes"]', "targets", "gaps"),
    "an outcome left out": (DECIDE, 'catches.refer = "Gives it away."', "", "catches.refer", "a text"),
    "a decision without readings": (
        DECIDE, 'model = "brake_readings"', "", "draw", "a model",
    ),
}  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_can_be_read(kind, tmp_path):
    """A good question of each kind is read as what it is."""
    item = item_of(EVERY_KIND[kind], tmp_path)

    assert item.kind == kind
    assert isinstance(item.body, KINDS[kind])
    assert item.place == "some.toml, question 1"


@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_is_told_with_file_question_field_and_what_was_expected(fault, tmp_path):
    """Whoever writes the bank finds the place from the sentence alone."""
    text, good, bad, field, expected = FAULTS[fault]
    assert good in text
    with pytest.raises(BankError) as caught:
        item_of(text.replace(good, bad), tmp_path)

    said = str(caught.value)
    assert said.startswith("some.toml, question '")
    assert field in caught.value.field or f"{field!r}" in said or field in said
    assert expected in caught.value.expected


def test_a_folder_without_questions_is_refused(tmp_path):
    """A bank that is not there is not without fault."""
    for folder in (tmp_path, tmp_path / "not there"):
        with pytest.raises(BankError, match="a folder with"):
            load_bank(folder)


def test_two_questions_of_one_id_are_refused(tmp_path):
    """An id is a name forever: records hold it."""
    for name in ("one.toml", "two.toml"):
        (tmp_path / name).write_text(SINGLE, encoding="utf-8")

    with pytest.raises(BankError, match=r"two\.toml.*one\.toml, question 1 has it"):
        load_bank(tmp_path)


@pytest.mark.parametrize("raw", [b"[[question]", b"\xff\xfe", b'title = "x"', b"question = 3"])
def test_a_file_that_is_no_bank_is_refused_in_words(raw, tmp_path):
    """Torn TOML, another encoding, another content: each is one sentence."""
    path = tmp_path / "some.toml"
    path.write_bytes(raw)

    with pytest.raises(BankError, match=r"some\.toml"):
        load_file(path)


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (
            "\n[[question]]\ndifficulty = 0,5\n",
            "some.toml, line 3, column 15: expected a decimal point, 0.5, found '0,5'",
        ),
        (
            "\ufeff[[question]]\n",
            "line 1, column 1: expected text in UTF-8 without a byte order mark",
        ),
        ("[[question]]\nid =\n", "some.toml, line 2, column 5: expected TOML"),
        ('[[question]]\nid = "', "some.toml, the end: expected TOML"),
        ("question = 3", "some.toml, question: expected [[question]] tables and nothing else"),
    ],
)
def test_the_line_of_a_fault_in_the_text_is_named(raw, said, tmp_path):
    """With what office programs write in place of TOML; nothing is said of a question."""
    path = tmp_path / "some.toml"
    path.write_text(raw, encoding="utf-8")

    with pytest.raises(BankError) as refused:
        load_file(path)
    assert said in str(refused.value)


def test_a_file_that_is_gone_is_refused_in_words(tmp_path):
    """A missing file is a sentence, not a traceback of the system's."""
    with pytest.raises(BankError, match="can be read"):
        load_file(tmp_path / "gone.toml")


def test_a_question_that_is_not_there_is_named():
    """Asking for an unknown id says which."""
    with pytest.raises(ValueError, match="no-such-question"):
        the_bank().item("no-such-question")


def test_the_bank_covers_every_kind():
    """Each way of asking is used, so each is looked at by the tests of the pages."""
    assert {item.kind for item in the_bank()} == set(KINDS)


def test_many_numbers_have_a_model_behind_them():
    """Fifteen models and more compute what parametric questions show."""
    assert len(MODELS) >= 15

"""A trainer's own questions: good ones join the bank, each bad one is said and left out."""

import os

import pytest

from quizzes.__main__ import main
from quizzes.forms.blueprint import BlueprintError, load_blueprint
from quizzes.forms.draft import DraftError
from quizzes.forms.drawing import QuestionSlot
from quizzes.forms.offered import offers
from quizzes.forms.preview import check
from quizzes.questions.bank import the_bank
from quizzes.questions.choosing import choose_all
from quizzes.questions.own import bank_in_force, own_questions
from tests.questions.bank_texts import NUMERIC, SINGLE
from tests.questions.test_lint import CHOICE
from widgets.brake.sizes.sheet import INVENTED, load_sheet

SHEET = load_sheet(INVENTED)
GOOD = SINGLE.replace("the-item", "own-springs")
OURS = next(iter(the_bank().items))
# What is wrong with a question, its text, and what the sentence says.
BAD = {
    "no text": (SINGLE.replace('text = "What is asked here of a person?"\n', ""), "'text'"),
    "misspelt field": (SINGLE + "\nhint = 3\n", "no such field"),
    "no right option": (SINGLE.replace("right = true", ""), "option 1"),
    "unknown element": (SINGLE.replace('"K1"', '"Z9"'), "element"),
    "as hard as can be": (NUMERIC.replace("difficulty = 0.5", "difficulty = 1.0"), "difficulty"),
    "an id of ours": (SINGLE.replace("the-item", OURS), "the suite’s own bank has it"),
    "a fault of its draws": (
        CHOICE.replace("{whole_gap_deg:.0f}", "{turn_deg:.2f}"), "could be right",
    ),
    "a value of no model": (CHOICE.replace("{whole_gap_deg:.0f}", "{wealth:.0f}"), "wealth"),
}  # fmt: skip


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.setenv("GAL_QUESTIONS", str(tmp_path))
    (tmp_path / "good.toml").write_text(GOOD, encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize("kind", BAD)
def test_a_bad_question_is_said_and_the_rest_is_used(folder, kind, capsys):
    """File, question and what was expected; the good one of the same file is asked."""
    text, words = BAD[kind]
    (folder / "mixed.toml").write_text(text + NUMERIC.replace("the-item", "own-number"), "utf-8")
    found = own_questions(SHEET)

    assert [item.id for item in found.items] == ["own-springs", "own-number"]
    assert len(found.bad) == 1
    assert found.bad[0].startswith("mixed.toml, ")
    assert words in found.bad[0]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"\xff\xfe", "UTF-8"),
        (b"[[question]\n", "TOML"),
        (b"title = 1\n", "[[question]] tables and nothing else"),
        (b"#" * 1_000_001, "bytes"),
    ],
)
def test_a_file_that_is_none_leaves_the_others(folder, content, words, capsys):
    """One sentence with the file's name; the command ends with an error and no traceback."""
    (folder / "bad.toml").write_bytes(content)

    assert [item.id for item in own_questions(SHEET).items] == ["own-springs"]
    assert main(["lint", str(folder)]) == 1
    said = capsys.readouterr().out
    assert "bad.toml, " in said
    assert words in said
    assert "1 question of your own can be asked." in said


def test_a_pipe_a_device_and_a_key_without_end_are_refused_at_once(folder):
    """None of them holds the reader up: a pipe would wait, a device never ends."""
    os.mkfifo(folder / "a.toml")
    (folder / "b.toml").symlink_to("/dev/zero")
    (folder / "c.toml").write_text(".".join(["a"] * 100_000) + " = 1", encoding="utf-8")
    (folder / "d.toml").symlink_to("/etc/passwd")
    found = own_questions(SHEET)

    assert [item.id for item in found.items] == ["own-springs"]
    words = ["a plain file", "a plain file", "keys of a usual length", "TOML"]
    assert all(word in said for word, said in zip(words, found.bad, strict=True))
    assert "root" not in found.bad[3]


def test_own_questions_are_drawn_for_forms_and_ours_stay(folder):
    """Where only they fit, they are asked; without the folder the bank is ours alone."""
    bank = bank_in_force(SHEET)
    everything = range(len(bank.of_element("K1")))
    places = [QuestionSlot("K1", (0.0, 1.0), bytes([n]) * 32) for n in everything]
    asked = [item.id for item, _ in choose_all(bank, places, SHEET)]

    assert len(bank) == len(the_bank()) + 1
    assert "own-springs" in asked
    assert all(offer.draw(SHEET, b"k" * 32).items for offer in [offers()["class_exercise"]])


FORM = """id = "own_form"
title = "With a question of ours"
edition = "1"
minutes = 40
[[cases]]
depth = "reading"
count = 2
group = "normal gap"
[[questions]]
elements = ["K3"]
count = 2
difficulty = [0.2, 0.9]
always = ["own-springs"]
"""


def test_a_form_asks_everybody_the_question_that_it_names(folder, tmp_path_factory, monkeypatch):
    """Whatever its element and difficulty; the rest of the row is drawn, and none comes twice."""
    forms = tmp_path_factory.mktemp("forms")
    (forms / "own_form.toml").write_text(FORM, encoding="utf-8")
    monkeypatch.setenv("GAL_BLUEPRINTS", str(forms))
    offer = offers()["own_form"]
    drawn = [[item.id for item in offer.draw(SHEET, bytes([n]) * 32).items] for n in range(5)]

    assert all(ids[0] == "own-springs" and len(set(ids)) == 2 for ids in drawn)
    assert len({ids[1] for ids in drawn}) > 1


@pytest.mark.parametrize(
    ("was", "becomes", "words"),
    [
        ('"own-springs"', '"own-sprigs"', "there is no question 'own-sprigs'"),
        ('"own-springs"', '"a", "b", "c"', "2 ids or fewer"),
        ('"own-springs"', '"a", "a"', "each only once"),
        ('["own-springs"]', "[7]", "always"),
    ],
)
@pytest.mark.usefixtures("folder")
def test_a_question_that_a_form_cannot_have_is_said(tmp_path_factory, was, becomes, words):
    """Mistyped, more than the row has places, twice, or no id: one sentence with the row."""
    path = tmp_path_factory.mktemp("forms") / "own_form.toml"
    path.write_text(FORM.replace(was, becomes), encoding="utf-8")
    with pytest.raises((DraftError, BlueprintError), match=words):
        check(load_blueprint(path), SHEET)


def test_a_folder_that_is_not_there_is_said(folder, monkeypatch):
    """A mistyped path is not an empty folder."""
    monkeypatch.setenv("GAL_QUESTIONS", str(folder / "gone"))

    assert own_questions(SHEET).bad == (
        f"{folder / 'gone'}: expected a folder of questions, there is none.",
    )

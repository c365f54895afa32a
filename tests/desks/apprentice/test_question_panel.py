"""The panel of questions: feedback in a lesson, none in an assessment, and nothing breaks it."""

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.desks.apprentice.question_panel import (
    MOST_IN_A_CHECK,
    NOT_KEPT,
    QuestionPanel,
    chosen_for_check,
    lesson_check,
)
from quizzes.questions.answers import right_answer
from quizzes.questions.bank import the_bank
from quizzes.questions.marking import mark
from widgets.brake.sizes.sheet import load_sheet

ROOT = Path(__file__).parents[3]
TESTS = Path(__file__).with_name("js")
SHEET = load_sheet()
BANK = the_bank()
KEY = b"k" * 32
NAMES = ["few-places", "turn-even-gap", "where-the-leaf-goes", "order-of-adjusting"]
node = pytest.mark.skipif(shutil.which("node") is None, reason="node is not installed")


class Told(list):
    """Messages that a panel sent to the page, in order."""

    @property
    def last(self) -> dict:
        return self[-1]


def panel(names=NAMES, **options) -> tuple[QuestionPanel, Told]:
    """Return a panel and what it sends."""
    made = QuestionPanel([BANK.item(name) for name in names], SHEET, KEY, **options)
    told = Told()
    made.send = lambda content, buffers=None: told.append(content)
    return made, told


def tell(made: QuestionPanel, content: object) -> None:
    """Send what the browser sends, off the wire."""
    made._handle_msg({"content": {"data": {"method": "custom", "content": content}}, "buffers": []})


def right_place(made: QuestionPanel) -> dict:
    """The right answer of question 3, the place on the drawing."""
    return {"at": 2, "answer": {"place": "air-gap"}}


def test_a_page_that_opens_gets_the_questions_and_no_answers():
    """Everything that the page gets at the start, as one text, holds no reason and no mistake."""
    made, told = panel()
    tell(made, {"ask": "questions"})
    text = json.dumps(told.last)

    assert [one["id"] for one in told.last["questions"]] == NAMES
    for asked in made._asked:
        assert asked.item.why[:30] not in text
    assert "Does not see that" not in text
    assert '"marked"' not in text


def test_a_lesson_answers_at_once_with_the_reason():
    """Mark, mistake, right answer, reason and source come back with the answer."""
    made, told = panel()
    tell(made, {"at": 2, "answer": {"place": "fan-gap"}})
    marked = told.last["marked"]

    assert (told.last["at"], marked["right"]) == (2, False)
    assert marked["caught"] == ["Takes the clearance of the fan for the air gap."]
    assert marked["answer"] == "between the pressure plate and the magnet body"
    assert marked["words"].startswith("The air gap is")
    assert marked["source"] == "common practice, no source"


def test_a_lesson_lets_one_answer_again():
    """After a wrong answer the right one still counts."""
    made, told = panel()
    tell(made, {"at": 2, "answer": {"place": "fan-gap"}})
    tell(made, right_place(made))

    assert told.last["marked"]["right"]
    assert [one.marked.right for one in made.answers] == [True]


def test_another_one_has_other_numbers_and_no_answer_yet():
    """A fresh draw takes the place of the old one, and the old answer is gone with it."""
    made, told = panel()
    tell(made, {"ask": "questions"})
    before = told.last["questions"][1]["text"]
    tell(made, {"at": 1, "answer": {"value": "12"}})
    texts = set()
    for _ in range(6):
        tell(made, {"another": 1})
        texts.add(told.last["question"]["text"])

    assert len(texts - {before}) >= 3
    assert made.answers == ()
    assert "given" not in told.last["question"]


def test_a_question_without_numbers_has_no_other_one():
    """What does not depend on a draw is not drawn again."""
    made, told = panel()
    tell(made, {"another": 2})

    assert told.last == {"reply": {"words": "There is no other version of this question."}}


def test_an_assessment_says_nothing_of_right_and_wrong():
    """From the first message to the last nothing depends on whether an answer was right."""
    logs = []
    for place in ("air-gap", "fan-gap"):
        made, told = panel(feedback=False)
        tell(made, {"ask": "questions"})
        tell(made, {"at": 2, "answer": {"place": place}})
        tell(made, {"another": 1})
        tell(made, {"hand_in": True, "sure": True})
        logs.append(list(told))

    assert logs[0] == logs[1]
    assert logs[0][1] == {"at": 2, "kept": True}
    assert "question" not in logs[0][2]  # nobody draws until an easy one comes


def test_an_assessment_gives_its_answers_with_their_marks_at_the_end():
    """The caller gets item, draw, answer and mark of each; open questions are asked about once."""
    got = []
    made, told = panel(feedback=False, on_finish=got.append)
    tell(made, right_place(made))
    tell(made, {"hand_in": True})
    asked = told.last
    tell(made, {"hand_in": True, "sure": True})
    (answers,) = got

    assert asked["open"].startswith("3 questions are unanswered")
    assert [(one.item, one.answer, one.marked.right) for one in answers] == [
        ("where-the-leaf-goes", {"place": "air-gap"}, True)
    ]
    assert "finished" in told.last


def test_after_the_hand_in_nothing_can_be_changed():
    """An answer that comes late is told so, and the answers stay."""
    got = []
    made, told = panel(feedback=False, on_finish=got.append)
    tell(made, {"hand_in": True, "sure": True})
    tell(made, right_place(made))
    tell(made, {"hand_in": True, "sure": True})

    assert made.answers == ()
    assert len(got) == 1
    assert "finished" in told.last


def test_a_lesson_cannot_be_handed_in():
    """A message for the other mode does nothing."""
    made, told = panel()
    tell(made, {"hand_in": True, "sure": True})

    assert told == []


def test_an_answer_that_could_not_be_kept_is_not_given():
    """What the store refuses has not happened, and the page says so without a mark."""

    def full(_, __):
        raise OSError("disk full")

    for feedback in (True, False):
        made, told = panel(feedback=feedback, on_answer=full)
        tell(made, right_place(made))

        assert told.last == {"at": 2, "refused": NOT_KEPT}
        assert made.answers == ()


def test_an_answer_is_kept_before_the_page_is_told():
    """The caller hears of it while the page has heard nothing yet."""
    heard = []
    made, told = panel(on_answer=lambda at, one: heard.append((at, one.item, len(told))))
    tell(made, right_place(made))

    assert heard == [(2, "where-the-leaf-goes", 0)]


def test_a_page_that_was_lost_finds_its_answers_again():
    """Loading the page again shows what was answered; so does a new kernel with the same key."""
    made, told = panel(feedback=False)
    tell(made, right_place(made))
    tell(made, {"ask": "questions"})
    again, seen = panel(feedback=False)
    again.restore({2: {"place": "air-gap"}, 3: {"order": "nonsense"}, 99: {}})
    tell(again, {"ask": "questions"})

    assert told.last["questions"][2]["given"] == {"place": "air-gap"}
    assert told.last == seen.last


def test_only_what_the_kind_uses_is_kept_of_an_answer():
    """Whatever else rides along in a message goes no further."""
    kept = []
    made, _ = panel(on_answer=lambda _, one: kept.append(one.answer))
    tell(made, {"at": 2, "answer": {"place": "air-gap", "order": ["x"], "<b>": "y"}})

    assert kept == [{"place": "air-gap"}]


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(
        st.sampled_from(["at", "answer", "another", "ask", "choice", "value", "order", "place"])
        | st.text(max_size=6), inner, max_size=4,
    ),
    max_leaves=12,
)  # fmt: skip


@given(st.lists(JSON, max_size=5), st.booleans())
def test_nothing_that_arrives_breaks_the_panel(messages, feedback):
    """After any messages the panel still shows its questions and takes a right answer."""
    made, told = panel(feedback=feedback)
    for message in messages:
        tell(made, message)
    tell(made, {"ask": "questions"})
    shown = len(told.last["questions"])
    tell(made, right_place(made))

    assert shown == len(NAMES)
    assert told.last["at"] == 2


def test_the_panel_shares_no_trait_of_its_own():
    """State may be asked for and never set; nothing of a question is in it."""
    made, _ = panel()
    text = json.dumps({k: str(v) for k, v in made.get_state().items() if k not in {"_esm", "_css"}})

    assert set(made.class_traits(sync=True)) - set(QuestionPanel.__mro__[1].class_traits(sync=True)) <= {"_esm", "_css", "_anywidget_id"}  # fmt: skip
    assert KEY.hex() not in text
    assert "few-places" not in text


def test_a_question_that_the_sheet_cannot_pose_is_left_out(tmp_path):
    """On a sheet of one size there is no other row to take by mistake: the rest is asked."""
    from dataclasses import replace

    from quizzes.questions.items import Numeric, WrongNumber

    item = replace(
        BANK.item("turn-even-gap"),
        model="two_rows", draw={"between_share": (0.5,)}, text="Size {size}?",
        body=Numeric("gap_max_mm", "mm", 0.01, 0, 2, (WrongNumber("other_gap_max_mm", "x"),)),
    )  # fmt: skip
    alone = replace(SHEET, sizes=SHEET.sizes[:1])
    made = QuestionPanel([item, BANK.item("few-places")], alone, KEY)

    assert [asked.item.id for asked in made._asked] == ["few-places"]


# ---- the check of a lesson ----


@pytest.mark.parametrize("lesson", [4, 6])
def test_a_lessons_check_has_three_to_six_questions_of_several_kinds(lesson):
    """Enough to find out, few enough to be done."""
    asked = [one.item for one in lesson_check(lesson, KEY)._asked]

    assert 3 <= len(asked) <= MOST_IN_A_CHECK
    assert all(lesson in item.lessons for item in asked)
    assert len({item.kind for item in asked}) >= 3


def test_a_check_takes_each_kind_before_any_comes_twice():
    """Of many questions the six chosen show as many ways of asking as there are."""
    items = BANK.of_lesson(4)
    kinds = {item.kind for item in items}
    for number in range(20):
        chosen = chosen_for_check(items, number.to_bytes(16, "big"))
        assert len({item.kind for item in chosen}) == min(len(kinds), MOST_IN_A_CHECK)


def test_two_people_get_different_checks():
    """Fresh keys draw fresh numbers."""
    texts = [json.dumps([a.posed.shown for a in lesson_check(4)._asked]) for _ in range(3)]

    assert len(set(texts)) == 3


def test_a_right_answer_is_told_in_the_same_words_as_it_is_marked():
    """What the panel calls right is what marking takes."""
    made, _ = panel()
    hidden = made._asked[1].posed.hidden
    words = right_answer(hidden).rstrip("°")

    assert mark(hidden, {"value": words}).right


def test_a_page_opens_without_the_slow_libraries():
    """Neither scipy nor matplotlib is imported with the panel, so that a lesson opens fast."""
    script = (
        "import sys, quizzes.desks.apprentice.question_panel as q; q.lesson_check(4);"
        "print(sorted({'scipy', 'matplotlib', 'sqlalchemy.orm'} & set(sys.modules)))"
    )
    run = subprocess.run(
        [sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True
    )

    assert "scipy" not in run.stdout
    assert "matplotlib" not in run.stdout


# ---- the script ----


@node
def test_the_joined_script_is_one_module_with_a_render_function(tmp_path):
    """Node takes what the browser gets; nothing in it waits for a neighbour."""
    module = tmp_path / "panel.mjs"
    module.write_text(str(QuestionPanel._esm), encoding="utf-8")
    script = f"import part from '{module.as_uri()}'; if (typeof part.render !== 'function') throw 1"
    run = subprocess.run(["node", "--input-type=module", "-e", script], capture_output=True)

    assert run.returncode == 0, run.stderr
    assert str(QuestionPanel._esm).count("const from_dom =") == 1


@node
def test_the_pure_parts_pass_their_own_tests(tmp_path):
    """Node's test runner finds no fault in the order of steps and what an answer lacks."""
    for folder in ("quizzes/desks/apprentice", "tests/desks/apprentice/js"):
        copy = tmp_path / folder
        copy.mkdir(parents=True)
        for path in [
            *(ROOT / folder).glob("question_*.js"),
            *(ROOT / folder).glob("question*.mjs"),
        ]:
            shutil.copy(path, copy)
    (tmp_path / "package.json").write_text('{"type": "module"}', encoding="utf-8")
    files = sorted((tmp_path / "tests/desks/apprentice/js").glob("*.mjs"))
    run = subprocess.run(["node", "--test", *files], capture_output=True, text=True)

    assert files
    assert run.returncode == 0, run.stdout[-3000:]

"""Forms of short cases, work orders and questions, sat from the first press to the outcome."""

import itertools
import logging
import re

import pytest

from quizzes.cases.case import Depth
from quizzes.desks.apprentice.assessment import Assessment
from quizzes.desks.apprentice.question_panel import NOT_KEPT, QuestionPanel
from quizzes.questions.posing import QuestionError, draw_question
from quizzes.sittings.pace import minutes_worked
from quizzes.sittings.run import QUESTIONS_SLOT, SittingRun
from tests.desks.pages import (
    HOSTILE,
    KEY,
    answer_all,
    begins,
    bench_of,
    questions_of,
    right_answers,
    spoil,
    tell,
    tell_panel,
    words_of,
    work_case,
    work_cases,
)
from widgets.bench.view.parts import EndView, Tray

WITH_BREAK = """
id = "with_break"
title = "With a break"
edition = "1"
minutes = 90
break_minutes = 10
avoid_last = 2

[[cases]]
depth = "reading"
count = 1
group = "normal gap"

[[cases]]
depth = "bench"
count = 1
group = "normal gap"

[[cases]]
depth = "work order"
count = 2
families = ["gap too large", "disc worn", "oiled"]

[[questions]]
elements = ["K3", "S1"]
count = 2
"""

SHORT = """
id = "short"
title = "One case, two questions"
edition = "1"
minutes = 5

[[cases]]
depth = "reading"
count = 1
group = "normal gap"

[[questions]]
elements = ["K3", "S1"]
count = 2
"""


@pytest.fixture
def own_forms(tmp_path, monkeypatch):
    """A trainer's folder with one form in it: every depth, a break, two questions."""
    folder = tmp_path / "forms"
    folder.mkdir()
    (folder / "with_break.toml").write_text(WITH_BREAK, encoding="utf-8")
    (folder / "short.toml").write_text(SHORT, encoding="utf-8")
    monkeypatch.setenv("GAL_BLUEPRINTS", str(folder))
    return folder


@pytest.fixture
def assessment(store_file, own_forms, sent) -> Assessment:
    """An assessment just opened in a browser that has no sitting."""
    page = Assessment()
    tell(page, {"ask": "form", "browser_key": KEY, "at_work": False})
    return page


@pytest.fixture
def told(monkeypatch) -> list[dict]:
    """Messages that the questions send to the page, in order."""
    messages = []
    monkeypatch.setattr(QuestionPanel, "send", lambda _, content, **__: messages.append(content))
    return messages


def again() -> Assessment:
    """Return the page loaded once more in the same browser, in the tab that was at work."""
    page = Assessment()
    tell(page, {"ask": "form", "browser_key": KEY, "at_work": True})
    return page


@pytest.mark.parametrize(
    "form",
    [
        "self_check",
        "class_exercise",
        pytest.param("full", marks=pytest.mark.overnight),  # the next test works one
        "with_break",
    ],
)
def test_a_form_is_sat_from_its_first_case_to_its_outcome(assessment, sent, told, store, form):
    """All right with every answer right: the store holds the outcome, the sheet says what it shows."""
    tell(assessment, begins(form))
    work_cases(assessment)
    items = [one.hidden.item for one in assessment._run.questions]
    answer_all(assessment)
    (row,) = store.results()
    sheet = assessment.page.children[0].value

    assert row.form_id == form
    assert row.content["decisions"]["right"] == row.content["cases"] == row.content["cases_asked"]
    assert row.content["questions"] == 1.0
    assert store.verify(row.sitting_id).sound
    for_oneself = form == "self_check"
    assert ("What this shows, and what it does not" in sheet) is not for_oneself
    assert any(w in sheet for w in ("Come back as soon", "Be assessed again")) is not for_oneself
    assert not for_oneself or "competent" not in sheet.split("A result from this suite")[0]
    assert not for_oneself or f"{row.content['cases']} of {row.content['cases']} right" in sheet
    assert (
        form != "full" or "Be assessed again by" in sheet
    )  # a few decisions may carry no day at all
    assert "What to practise next" in sheet
    assert ("How sure you were" in sheet) is any(item.confidence for item in items)
    assert {"forget": True} in sent


@pytest.mark.long
@pytest.mark.overnight
def test_a_full_form_worked_carefully_ends_competent(assessment, told, store):
    """All cases and questions right: competent; five cases of a self-check are too few to tell."""
    for form in ("full", "self_check"):
        tell(assessment, begins(form, f"Ada {form}"))
        work_cases(assessment)
        answer_all(assessment)
        tell(assessment, {"send": "new"})
    outcomes = {row.form_id: row for row in store.results()}

    assert outcomes["full"].outcome == "competent"
    assert outcomes["self_check"].outcome == "practised"
    assert any(
        one["code"] == "sitting.too-few-cases" for one in outcomes["self_check"].content["reasons"]
    )


def test_nothing_of_how_it_went_is_told_before_the_end(assessment, sent, told):
    """No mark, standing or right answer in any message while cases or questions are open."""
    sent.clear()  # before it begins, a person reads with which words each form ends
    tell(assessment, begins("with_break"))
    work_cases(assessment)
    panel = questions_of(assessment)
    tell_panel(panel, {"ask": "questions"})
    for content in right_answers(panel):
        tell_panel(panel, content)
    right = [asked.answered.marked.answer for asked in panel._asked]
    said = " ".join(map(words_of, sent))

    assert not re.search(r"competent|false alarm|not yet|\bright\b|marks", said)
    assert [set(message) for message in told[1:]] == [{"at", "kept"}] * len(right)
    assert all("marked" not in question for question in told[0]["questions"])
    assert not re.search(r"'(right|why|caught|share|marked)'", repr(told))


@pytest.mark.parametrize("depth", list(Depth), ids=lambda depth: depth.value)
def test_the_page_says_what_a_case_asks_and_where_it_ends(assessment, sent, depth):
    """A short case ends with the decision and says so; only a brake at hand has tools and tray."""
    tell(assessment, begins("with_break"))
    while assessment._run.case.depth is not depth:
        work_case(assessment)
        tell(assessment, {"send": "next"})
    said = words_of(sent[-1])
    parts = list(every_part(assessment.page))
    at_a_brake = [kind for kind in (EndView, Tray) if any(isinstance(one, kind) for one in parts)]

    assert ("ends with your decision" in said) is (depth is not Depth.WORK_ORDER)
    assert at_a_brake == ([] if depth is Depth.READING else [EndView, Tray])


def every_part(widget):
    yield widget
    for child in getattr(widget, "children", ()):
        yield from every_part(child)


def test_the_next_case_is_one_press_away_and_the_page_says_how_far_one_is(assessment, sent):
    """One key, which has the focus; cases done of all, minutes so far, minutes expected."""
    tell(assessment, begins("with_break"))
    work_case(assessment)
    shown = sent[-1]["form"]
    tell(assessment, {"send": "next"})

    assert [name for name, _ in shown["buttons"]] == ["next"]
    assert shown["focus"] == "key"
    assert (shown["progress"]["done"], shown["progress"]["of"]) == (1, 4)
    assert re.match(
        r"1 of 4 cases done, (less than a minute|\d+ minutes?) so far; about \d+",
        shown["progress"]["words"],
    )
    assert sent[-1]["form"]["title"].startswith("Case 2 of 4")


def test_a_pause_longer_than_a_thought_is_no_work():
    """A night between two presses does not make a sitting of 900 minutes."""
    import datetime as dt

    start = dt.datetime(2024, 5, 2, 16, 0)
    moments = [start + dt.timedelta(minutes=at) for at in (0, 3, 3 + 15 * 60, 8 + 15 * 60)]

    assert minutes_worked(moments) == pytest.approx(3 + 5)
    assert minutes_worked([]) == 0


# ---- lost and taken up ----


def test_a_break_is_taken_up_as_a_break_and_ends_with_one_press(assessment, sent, store):
    """The page closed in the break says break again; after one action it is over for good."""
    tell(assessment, begins("with_break"))
    work_case(assessment)
    tell(assessment, {"send": "next"})
    work_case(assessment)
    first = words_of(sent[-1])
    second = again()
    resumed = words_of(sent[-1])
    tell(second, {"send": "next"})
    session = bench_of(second)
    session.wish({"kind": "land_load"})
    third = again()

    assert "It is time for the break, 10 minutes" in first
    assert resumed == first
    assert bench_of(third).state.load_landed
    assert len(third._run.grades) == 2


def test_a_lost_page_goes_on_at_the_same_questions_with_its_answers(assessment, told):
    """One answer given, the page lost: the same questions, that answer in it, the other open."""
    tell(assessment, begins("short"))
    work_cases(assessment)
    panel = questions_of(assessment)
    answers = right_answers(panel)
    tell_panel(panel, answers[1])
    taken_up = questions_of(again())
    told.clear()
    tell_panel(taken_up, {"ask": "questions"})
    shown = told[0]["questions"]

    assert [one["text"] for one in shown] == [asked.posed.shown["text"] for asked in panel._asked]
    assert "given" not in shown[0]
    assert shown[1]["given"] == answers[1]["answer"]


def test_each_answer_is_in_the_store_before_the_page_is_told(assessment, told, store, monkeypatch):
    """When the page hears "kept", another program can read the answer already."""
    tell(assessment, begins("short"))
    work_cases(assessment)
    (row,) = store.results()
    panel, seen = questions_of(assessment), []

    def heard(_, content, **__):
        if content.get("kept"):
            seen.append(len(store.events(row.sitting_id, QUESTIONS_SLOT)))

    monkeypatch.setattr(QuestionPanel, "send", heard)
    for content in right_answers(panel):
        tell_panel(panel, content)

    assert seen == [1, 2]


def test_a_store_lost_in_mid_question_costs_a_sentence_and_no_answer(
    assessment, told, store, store_file
):
    """The answer that could not be kept is said to be so, and does not count as given."""
    tell(assessment, begins("short"))
    work_cases(assessment)
    panel = questions_of(assessment)
    answers = right_answers(panel)
    tell_panel(panel, answers[0])
    whole = store_file.read_bytes()
    spoil(store_file, assessment._store, store)
    tell_panel(panel, answers[1])
    refused = told[-1]
    tell_panel(panel, {"hand_in": True, "sure": True})
    unkept = told[-1]
    store_file.write_bytes(whole)

    assert refused == {"at": 1, "refused": NOT_KEPT}
    assert unkept["reply"]["words"] == NOT_KEPT
    assert len(panel.answers) == 1
    assert not panel._finished


def test_questions_handed_in_twice_count_once(assessment, told, store):
    """Two windows hand in: one grade, one outcome, and both show it."""
    tell(assessment, begins("short"))
    work_cases(assessment)
    other = again()
    answer_all(assessment)
    tell_panel(questions_of(other), {"hand_in": True, "sure": True})
    tell_panel(questions_of(other), {"hand_in": True, "sure": True})
    (row,) = store.results()
    grades = [one for one in store.grades(row.sitting_id) if one.slot == QUESTIONS_SLOT]

    assert len(grades) == len(store.outcomes(row.sitting_id)) == 1
    assert grades[0].content["points"] == grades[0].content["asked"] == 2
    assert other.page.children[0].value == assessment.page.children[0].value


def test_an_answer_kept_in_another_window_counts(assessment, told, store):
    """What the store holds is graded, not what one window happens to know."""
    tell(assessment, begins("short"))
    work_cases(assessment)
    other = again()
    for content in right_answers(questions_of(other)):
        tell_panel(questions_of(other), content)
    tell_panel(questions_of(assessment), {"hand_in": True, "sure": True})
    (row,) = store.results()

    assert row.content["questions"] == 1.0


def test_a_question_that_cannot_be_drawn_is_nobodys_mistake(assessment, told, store, monkeypatch):
    """On a sheet that lacks what it needs it is left out, and does not count as missed."""
    count = itertools.count()

    def drawn(item, *rest):
        if next(count) == 0:
            raise QuestionError("no size has two linings")
        return draw_question(item, *rest)

    monkeypatch.setattr("quizzes.sittings.question_marks.draw_question", drawn)
    tell(assessment, begins("short"))
    work_cases(assessment)
    answer_all(assessment)
    (row,) = store.results()
    (grade,) = (one for one in store.grades(row.sitting_id) if one.slot == QUESTIONS_SLOT)

    assert (grade.content["asked"], grade.content["safety_missed"]) == (1, 0)
    assert row.content["questions"] == 1.0


def test_a_case_handed_over_in_another_window_is_gone_on_from(assessment, sent):
    """The second window says what happened, and its key leads on from where the first one is."""
    tell(assessment, begins("with_break"))
    other = again()
    work_case(assessment)
    session = bench_of(other)
    session.wish({"kind": "decide", "outcome": "fit", "row": "Cedar-47", "why": "x", "found": []})
    tell(other, {"send": "hand in"})

    assert sent[-1]["form"]["title"].startswith("Case 2 of 4")
    assert len(other._run.grades) == 1


@pytest.mark.parametrize("content", HOSTILE, ids=lambda content: repr(content)[:40])
def test_nothing_that_arrives_in_mid_sitting_moves_it(assessment, store, caplog, content):
    """At a case and at the break: no error inside, no grade, no second sitting, nobody is moved on."""
    tell(assessment, begins("with_break"))
    (row,) = store.results()
    with caplog.at_level(logging.WARNING):
        tell(assessment, content)
    broken = [record for record in caplog.records if record.exc_info]

    assert not broken
    assert [one.sitting_id for one in store.results()] == [row.sitting_id]
    assert store.grades(row.sitting_id) == ()


HOSTILE_ANSWERS = [
    {"at": 10**400, "answer": {}},
    {"at": True, "answer": {"choice": "a"}},
    {"at": 0},
    {"at": 0, "answer": None},
    {"at": 0, "answer": {"choice": "\ud800"}},
    {"at": 0, "answer": {"value": float("nan")}},
    {"at": -1, "answer": {"choice": "a"}},
    {"another": 0},
    {"hand_in": 1},
    {"hand_in": True},
    {"hand_in": "yes", "sure": "yes"},
    {"answer": {"at": 0}},
]


@pytest.mark.parametrize("content", HOSTILE_ANSWERS, ids=lambda content: repr(content)[:40])
def test_nothing_that_arrives_breaks_the_questions(assessment, told, store, caplog, content):
    """Neither an answer nor a hand-in comes of it."""
    tell(assessment, begins("short"))
    work_cases(assessment)
    (row,) = store.results()
    caplog.clear()
    with caplog.at_level(logging.WARNING):
        tell_panel(questions_of(assessment), content)

    assert not [record for record in caplog.records if record.exc_info]
    assert store.events(row.sitting_id, QUESTIONS_SLOT) == ()
    assert row.finished_at is None


# ---- the next sitting of the same person ----


def test_a_second_sitting_shares_no_case_with_the_last_ones(assessment, told, store):
    """Another form of theirs counts as well; somebody else may get the same."""
    had = []
    for form in ("self_check", "class_exercise", "self_check"):
        tell(assessment, begins(form, "Ada Quern" if had else "ada quern"))
        had.append({case.fingerprint for case in assessment._run.cases})
        avoided = set(assessment._run.kept.avoided)
        assert avoided == set().union(*had[:-1])
        assert not had[-1] & avoided
        assessment._run = None
    tell(assessment, begins("self_check", "Ada Querne"))

    assert assessment._run.kept.avoided == ()


def test_a_form_that_cannot_be_drawn_begins_no_sitting(assessment, own_forms, sent, store):
    """A size that the sheet does not have: a sentence, and no open sitting stays behind."""
    bad = WITH_BREAK.replace("avoid_last = 2", 'sizes = ["Nowhere-1"]').replace("with_b", "bad_b")
    (own_forms / "bad.toml").write_text(bad, encoding="utf-8")
    page = Assessment()
    tell(page, {"ask": "form", "browser_key": KEY, "at_work": False})
    tell(page, begins("bad_break"))

    assert "Nowhere-1" in words_of(sent[-1])
    assert store.results() == ()


def test_a_form_that_is_changed_or_gone_changes_no_sitting_that_was_begun(
    assessment, own_forms, store
):
    """A sitting keeps its own blueprint and its own cases."""
    tell(assessment, begins("with_break"))
    (row,) = store.results()
    (own_forms / "with_break.toml").unlink()
    run = SittingRun(store, store.sitting(row.sitting_id))

    assert run.kept.blueprint.edition == "1"
    assert run.cases == assessment._run.cases

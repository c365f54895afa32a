"""What went well and what cost most, over the kept grades of a sitting."""

import datetime as dt

import pytest

from quizzes.cases.case import Case
from quizzes.grading.words import TITLES
from quizzes.grading.words.lines import LINES
from quizzes.grading.words.work import WORK
from quizzes.server.serving import LESSONS
from quizzes.sittings.strengths import _LACKING, HELP, MOST, strengths
from quizzes.sittings.what_now import mastery_of, what_now
from tests import strategies as any_
from tests.grading.jobs import brake
from widgets.bench.setup import Order

CEDAR = any_.SHEET.size("Cedar-47")
DAY = dt.date(2026, 11, 28)


def element(name, score):
    return {"id": name, "score": score, "lines": [f"line {name} {score}"]}


def grade(**scores):
    return {"elements": [element(name, score) for name, score in scores.items()]}


def test_what_lost_most_comes_first_with_its_worst_line():
    """Added by hand: M2 loses 0.5 and 1.0, A1 loses 0.6, S1 nothing twice, T1 nothing once."""
    well, cost = strengths([grade(M2=0.5, S1=1.0, A1=0.4), grade(M2=0.0, S1=1.0, T1=1.0)])

    assert [one.element for one in cost] == ["M2", "A1"]
    assert (cost[0].right, cost[0].of, cost[0].lost) == (0, 2, pytest.approx(1.5))
    assert cost[0].lines == ("line M2 0.0",)
    assert [one.element for one in well] == ["S1", "T1"]


def test_what_was_lacking_is_said_before_what_was_done():
    """Of an element that cost something, the line that says why comes first; the rest keeps its order."""
    step = {"code": "leaves.step", "facts": {"widest_mm": 0.01}}
    zero = {"code": "tool.looked-over", "facts": {"tool": "caliper", "kept": False}}
    _, (cost,) = strengths([{"elements": [{"id": "M1", "score": 0.7, "lines": [step, zero]}]}])

    assert cost.lines == (zero, step)


@pytest.mark.parametrize(
    ("code", "facts"),
    [
        ("setting.uneven", {}),
        ("setting.mean", {"way": "wider", "setting_mm": 0.3}),
        ("fitted-badly.fan-without-key", {}),
        ("left.wet", {}),
    ],
)
def test_how_a_brake_was_left_comes_before_how_often_it_was_turned(code, facts):
    """Nobody is told "changed 3 times" where a gap left uneven is what cost the marks."""
    turned = {"code": "screws.turned", "facts": {"times": 3, "step": 169}}
    even = {"code": "setting.even", "facts": {}}
    on = {"code": "setting.mean", "facts": {"way": "on", "setting_mm": 0.3}}
    lack = {"code": code, "facts": facts}
    lines = [turned, on, even, lack]
    _, (cost,) = strengths([{"elements": [{"id": "A1", "score": 0.5, "lines": lines}]}])

    assert cost.lines == (lack, turned, on, even)


def test_each_line_named_as_a_lack_is_one_that_can_be_said():
    """A code that was renamed would sort nothing."""
    assert {*LINES, *WORK} >= _LACKING


def test_there_are_never_more_than_three():
    """Three is what a person remembers; a choice of this suite."""
    well, cost = strengths([grade(**dict.fromkeys(list(HELP)[:12], 1.0))])
    none, many = strengths([grade(**dict.fromkeys(list(HELP)[:12], 0.2))])

    assert (len(well), len(cost)) == (MOST, 0)
    assert (len(none), len(many)) == (0, MOST)


def test_without_a_case_there_is_nothing_to_say():
    """A sitting of questions alone has neither."""
    assert strengths([]) == ((), ())


def test_each_element_has_a_lesson_that_exists():
    """Every element that can be graded has help, and every page named is there."""
    assert set(HELP) == set(TITLES)
    assert all((LESSONS / page).is_file() for page, _, _ in HELP.values())


# ---- what was let through ----

WORN = Case("worn", CEDAR, brake(0.30, 8.5), bytes(range(16)), "Look at it.", order=Order())
SOUND = Case("sound", CEDAR, brake(0.30, 10.5), bytes(range(16)), "Look at it.", order=Order())


def decided(outcome, *critical):
    return {
        "standing": "not yet",
        "decided": outcome,
        "critical": [{"code": code} for code in critical],
    }


@pytest.mark.parametrize(
    ("case", "grade", "missed"),
    [
        (WORN, decided("fit", "unsafe-decision"), 1),
        (WORN, decided("replace", "left-dangerous"), 1),
        (WORN, decided("replace", "unsafe-decision"), 0),  # stopped, on too few readings
        (WORN, decided("replace", "not-isolated"), 0),  # stopped; how it was done is another matter
        (SOUND, decided("fit", "unsafe-decision"), 0),  # nothing unsafe was there to let through
    ],
)
def test_let_through_is_what_stayed_in_use_and_nothing_else(case, grade, missed):
    """A disc at 8.5 mm, 9 mm the least: only keeping it in use, or leaving it so, lets it through."""
    assert mastery_of([case], [grade]).misses == missed


def test_a_person_is_told_counts_and_no_bounds_in_per_cent():
    """Nobody at a bench reasons in bounds; the assessor's sheet has them."""
    grades = [decided("fit", "unsafe-decision"), decided("fit") | {"standing": "right"}]
    said = " ".join(what_now([WORN, SOUND], [one | {"elements": []} for one in grades], DAY).shows)

    assert "1 of 2 decisions right." in said
    assert "1 of 1 unsafe brake was let through" in said
    assert "%" not in said

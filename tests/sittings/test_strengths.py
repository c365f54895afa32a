"""What went well and what cost most, over the kept grades of a sitting."""

import pytest

from quizzes.grading.words import TITLES
from quizzes.server.serving import LESSONS
from quizzes.sittings.strengths import HELP, MOST, strengths


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

"""A page that goes on lets go of what it showed: no bench stays in the kernel with its brake."""

import gc
import weakref
from contextlib import suppress

import pytest
from ipywidgets import Widget
from ipywidgets.widgets.widget import _instances

from quizzes.desks.apprentice.assessment import Assessment
from quizzes.desks.apprentice.lesson_bench import LessonBench
from quizzes.desks.apprentice.practice import Practice
from quizzes.desks.trainer.stage import Stage
from tests.desks.pages import started, tell, work_case
from tests.short_form import offered
from widgets.bench import actions as do
from widgets.bench.view.bench_panel import BenchPanel

SET_OUT = {"send": "set out", "values": {"size": "Cedar-47", "fault": "none", "word": "barn"}}


def widgets_now() -> list[Widget]:
    gc.collect()
    return list(_instances.values())


def sessions_of(page) -> set:
    """Return the benches that the kernel holds, shown or not."""
    return {one._table.session for one in widgets_now() if isinstance(one, BenchPanel)}


def hand_over(session) -> None:
    session.act(do.Decide("refer", "Cedar-47", "Oil.", ("coil",)))
    session.act(do.HandOver(into_service=False, remarks="Oil.", next_days=30))
    assert session.state.handed_over


def practise(page) -> None:
    tell(page, {"send": "start", "values": {"size": "any", "start": "open"}})
    hand_over(page.page.children[0].children[0]._table.session)
    tell(page, {"send": "again"})


def begin_again(page) -> None:
    tell(page, {"send": "set out"})
    hand_over(page.page.children[1].children[0]._table.session)


def step_back(page) -> None:
    if page._staged is None:
        tell(page, SET_OUT | {"values": SET_OUT["values"] | {"run": "careful"}})
        tell(page, {"send": "truth"})
    tell(page, {"send": "ten"})
    tell(page, {"send": "back"})


def next_case(page) -> None:
    tell(page, started("Ada Quern") if page._run is None else {"send": "next"})
    work_case(page)


DESKS = {
    "practice": (Practice, practise),
    "lesson": (lambda: LessonBench("levelling"), begin_again),
    "stage": (Stage, step_back),
    "assessment": (Assessment, next_case),
}


@pytest.fixture(autouse=True)
def _none_of_an_earlier_test():
    for widget in list(_instances.values()):
        with suppress(KeyError):  # another test may have given the kernel other lines
            widget.close()


@pytest.mark.parametrize("desk", DESKS)
def test_a_bench_that_is_no_longer_shown_is_gone_from_the_kernel(desk, store, monkeypatch):
    """Widgets are as many after the third round as after the first, and its brake is freed."""
    offered(monkeypatch)
    make, go_round = DESKS[desk]
    page = make()
    go_round(page)
    count = len(widgets_now())
    first = [weakref.ref(session) for session in sessions_of(page)]
    go_round(page)
    go_round(page) if desk != "assessment" else None

    assert len(widgets_now()) <= count
    assert not [ref for ref in first if ref() is not None]


def test_a_page_lets_go_of_everything_at_its_end(store):
    """After a practice job and back at the choice, the page holds no bench at all."""
    page = Practice()
    practise(page)

    assert sessions_of(page) == set()

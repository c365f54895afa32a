"""The trainer's guide: plans that fit into a day, brakes that are what it says, nothing left out."""

import re

import pytest

from quizzes.candidates.habits import HABITS
from quizzes.candidates.worker import CAREFUL, work
from quizzes.desks.trainer import guide
from quizzes.forms.offered import offers
from quizzes.grading.misconceptions.catalogue import NAMES
from quizzes.grading.words import SAYS
from quizzes.sittings.run import the_sheet
from tests.desks.pages import OWN_SHEET
from widgets.bench.session import Session
from widgets.brake.faults import fault
from widgets.brake.judgement.rules import Outcome

LESSONS = set(range(1, 13))
each_set_up = pytest.mark.parametrize("one", guide.SET_UPS, ids=lambda one: one.word)


@pytest.fixture(autouse=True)
def invented_sheet(monkeypatch):
    """The suite's own sheet is in force, and no form of a trainer's own."""
    monkeypatch.delenv("GAL_LIMITS", raising=False)
    monkeypatch.delenv("GAL_BLUEPRINTS", raising=False)


@pytest.mark.parametrize(("name", "hours"), [("day", 8.0), ("half day", 4.25)])
def test_a_plan_fits_into_its_day_with_breaks_in_it(name, hours):
    """Nobody sits longer than two hours and a quarter without one; common practice, no source."""
    sat = longest = 0
    for part in guide.PLANS[name]:
        rests = part.title in {"Break", "Lunch"}
        sat = 0 if rests else sat + part.minutes
        longest = max(longest, sat)

    assert sum(part.minutes for part in guide.PLANS[name]) <= 60 * hours
    assert longest <= 135


def test_the_clock_of_a_plan_goes_on_by_its_parts():
    """The last line is the beginning and all parts together."""
    minutes = sum(part.minutes for part in guide.PLANS["day"])
    last = guide.plan("day").data.splitlines()[-1]
    hour, minute = re.search(r"(\d\d):(\d\d)", last).groups()

    assert 60 * int(hour) + int(minute) == guide.DAY_BEGINS_MIN + minutes


def test_a_day_holds_all_lessons_in_order():
    """Each once."""
    titles = " ".join(p.title for p in guide.PLANS["day"] if p.title.startswith("Lesson"))

    assert [int(number) for number in re.findall(r"\d+", titles)] == sorted(LESSONS)


def test_a_plan_that_is_not_there_is_refused_by_name():
    """The sentence names what there is."""
    with pytest.raises(ValueError, match=r"half day.*got 'week'"):
        guide.plan("week")


def test_every_misunderstanding_has_its_lesson():
    """Whatever the grading can name, the guide tells of, and nothing else."""
    told = [name for names in guide.MISUNDERSTOOD.values() for name in names]

    assert set(guide.MISUNDERSTOOD) == LESSONS
    assert set(told) == set(NAMES)
    assert set(told) <= set(HABITS)  # so that the stage has a run of each


def test_the_sentences_are_those_of_the_grading():
    """They stand in the guide word for word."""
    shown = guide.misunderstandings().data

    assert all(SAYS[name] in shown for name in NAMES)


def test_every_lesson_has_a_brake_for_the_stage_and_every_word_is_its_own():
    """A word typed in for another lesson would bring another brake."""
    assert {one.lesson for one in guide.SET_UPS} == LESSONS
    assert len({one.word for one in guide.SET_UPS}) == len(guide.SET_UPS)


def test_the_words_that_a_plan_names_are_those_of_brakes_with_a_normal_gap():
    """Whoever reads the gap alone finds nothing in them."""
    part = next(one for one in guide.PLANS["half day"] if one.title == "A normal gap")
    named = re.findall("“(\\w+)”", part.shown)
    by_word = {one.word: one for one in guide.SET_UPS}

    assert len(named) == 3
    assert all(fault(by_word[word].fault_ids[0]).gap_looks_normal for word in named)


@each_set_up
def test_a_brake_of_the_guide_is_what_the_guide_says(one):
    """A careful person decides as the fault's row has it; of a sound brake, that it is fit."""
    case = one.case(the_sheet())
    session = Session(case.setup())
    work(session.act, the_sheet(), CAREFUL, case.order)
    right = [set(fault(name).right) or {Outcome.FIT, Outcome.ADJUST} for name in one.fault_ids]

    assert Outcome(session.state.decision) in (right[0] if right else {Outcome.FIT})


def test_the_table_of_brakes_has_a_line_for_each():
    """With the size, the fault and the word to type in."""
    shown = guide.set_ups().data

    assert all(f"`{one.word}`" in shown for one in guide.SET_UPS)
    assert all(fault(name).title in shown for one in guide.SET_UPS for name in one.fault_ids)


def test_a_brake_that_a_size_cannot_be_is_left_out(tmp_path, monkeypatch):
    """A size without a wear plate cannot miss one, and its line is not there."""
    own = tmp_path / "own.toml"
    own.write_text(OWN_SHEET + "wear_plate_mm = 0.0\n", encoding="utf-8")
    monkeypatch.setenv("GAL_LIMITS", str(own))
    shown = guide.set_ups().data

    assert "B-1" in shown
    assert fault("wear-plate-missing").title not in shown


def test_every_form_that_can_be_sat_is_named():
    """With its sentence."""
    shown = guide.forms().data

    assert all(offer.title in shown and offer.words in shown for offer in offers().values())

"""No refusal tells of parts in the wrong order: the bench has kept it from being done."""

import pytest

from quizzes.cases.case import Case
from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.misconceptions.handling import wrong_order
from widgets.bench import actions as do
from widgets.bench.setup import Order, Start

from .jobs import CEDAR, SEED, brake


def job(start: Start, *actions: do.Action):
    """Return the evidence of some actions, from where an order begins."""
    recorder = Recorder(Case("made", CEDAR, brake(), SEED, "Inspect.", Order(start=start)))
    for action in actions:
        recorder.act(action)
    return recorder.evidence()


@pytest.mark.parametrize(
    ("start", "action"),
    [
        (Start.BODY_OFF, do.ConnectLeads("dc")),  # the leads do not reach
        (Start.BODY_OFF, do.RefitSeal(seated=True, band="new")),  # one groove only
        (Start.BODY_OFF, do.RefitLever()),
        (Start.BODY_OFF, do.StartLock(1, by="hand")),
        (Start.OPEN, do.RemoveBody()),
        (Start.OPEN, do.RemoveDisc()),
        (Start.OPEN, do.FitWearPlate(smooth_to_disc=True)),
    ],
    ids=lambda one: getattr(one, "kind", one),
)
def test_an_attempt_that_the_bench_refused_is_no_misunderstanding(start, action):
    """Each is refused because something else comes first; nothing is wrong afterwards."""
    evidence = job(start, action)

    assert not evidence.steps[0].done
    assert not wrong_order(evidence)


@pytest.mark.parametrize(
    ("start", "action"),
    [
        (Start.OPEN, do.RefitLever()),  # it is on already
        (Start.OPEN, do.FitBody()),
        (Start.BODY_OFF, do.RemoveBody()),
        (Start.BODY_OFF, do.FitDisc(part="Elm-140")),  # another size
    ],
    ids=lambda one: getattr(one, "kind", one),
)
def test_a_part_that_is_on_already_or_does_not_fit_is_none(start, action):
    """Refused too, but nothing else would have had to come first."""
    evidence = job(start, action)

    assert not evidence.steps[0].done
    assert not wrong_order(evidence)

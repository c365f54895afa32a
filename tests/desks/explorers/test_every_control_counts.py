"""No control of an explorer is for show: moving it changes the figure as well as the numbers."""

import pytest

from quizzes.desks.explorers.brake_explorers import lining_explorer
from quizzes.desks.explorers.explorer import Explorer, Slider
from quizzes.desks.explorers.reading_explorers import limit_explorer, limit_facts, places_explorer
from quizzes.desks.explorers.work_explorers import due_explorer
from widgets.brake.judgement.chance import least_distance
from widgets.brake.sizes.sheet import load_sheet
from widgets.charts.near_a_limit import rounded_down

CEDAR = load_sheet().size("Cedar-47")


def controls(make):
    return [(make, control.name) for control in make()._controls]


def drawn(panel: Explorer, chosen):
    return panel._figure(chosen).alt


@pytest.mark.parametrize(
    ("make", "name"),
    [
        *controls(due_explorer),
        *controls(lining_explorer),
        *controls(limit_explorer),
        *controls(places_explorer),
    ],
)
def test_a_control_that_is_moved_changes_the_figure(make, name):
    """The words of a figure say what it shows: they are no longer the same."""
    panel = make()
    start = {control.name: control.start for control in panel._controls}
    control = next(one for one in panel._controls if one.name == name)
    other = (
        control.low + 0.7 * (control.high - control.low)
        if isinstance(control, Slider)
        else control.options[1][0]
    )

    assert drawn(panel, start | {name: other}) != drawn(panel, start)


def test_the_chosen_face_is_marked_among_the_curves():
    """The figure names the state of the faces, its temperature, and what it holds there."""
    panel = lining_explorer()
    said = drawn(panel, {"surface": "oiled", "face_c": 100.0, "gap_mm": 0.4})

    assert "Marked: oiled at 100 °C" in said


@pytest.mark.parametrize("steps", ["coarse", "fine"])
def test_one_limit_for_carrying_on_wherever_the_reading_stands(steps):
    """A limit less its guard band is told in whole hundredths, and never rounded up."""
    told = {
        fact.value
        for reading_mm in (0.70, 0.74, 0.78, 0.80)
        for fact in limit_facts(CEDAR, reading_mm, steps)
        if fact.name == "Carry on up to"
    }

    assert len(told) == 1


def test_an_upper_limit_is_never_rounded_up():
    """By hand: 0.7799 mm allows a reading of 0.77 mm and no reading of 0.78 mm."""
    assert rounded_down(0.7799) == 0.77
    assert rounded_down(0.29) == 0.29  # 100 times that is below 29 in binary
    assert least_distance() > 0

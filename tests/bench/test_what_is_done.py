"""What is done shows as done, and one's own work never looks like something that was found."""

from dataclasses import replace

import pytest

from tests import strategies as any_
from widgets.bench import actions as do
from widgets.bench.machine import Bench, take
from widgets.bench.scene import scene
from widgets.bench.setup import Order, Start
from widgets.brake.condition import sound_condition
from widgets.brake.sizes.design import Design
from widgets.brake.sizes.sheet import four_designs

CEDAR = any_.SHEET.size("Cedar-47")
SAFE = (do.LandLoad(), do.Isolate(), do.OpenBox(), do.ProveDead())


def bench(*actions, start=Start.WORK_ORDER, **more) -> Bench:
    found = replace(sound_condition(CEDAR), **more)
    one = Bench(CEDAR, found, bytes(16), Order(start=start))
    for action in actions:
        assert one.act(action).done, action
    return one


def test_to_look_for_a_second_feed_and_find_none_is_a_result():
    """It is done, it takes its time, and it is seen to have been done."""
    one = bench(do.LandLoad(), do.Isolate())
    assert not scene(one.setup, one.state)["second_sought"]
    found = one.act(do.IsolateSecond())

    assert (found.done, found.code) == (True, "second-feed.none")
    assert scene(one.setup, one.state)["second_sought"]
    assert not one.state.second_isolated


@pytest.mark.parametrize(
    ("work", "stands"),
    [
        (do.LoosenLock(1), ("work_lever",)),  # the gap may have moved: lift the load again
        (do.SetLever(1.0), ("test_run", "test_hold")),  # the lever's play is another
        (do.GaugeGap(0.0, (0.05,)), ("work_lever", "test_run", "test_hold")),
    ],
)
def test_a_test_stands_until_work_that_it_does_not_cover(work, stands):
    """After work on brake or lever its test is done again; common practice, no source."""
    closed = (
        do.RefitSeal(),
        do.RefitFan(),
        do.RefitRing(),
        do.RefitCover(),
        do.CloseBox(),
        do.RestoreSupply(),
    )
    opened = (do.Isolate(), do.OpenBox(), do.ProveDead(), *any_.OPENED)
    one = bench(*SAFE, *any_.OPENED, do.WorkLever(), *closed, do.TestRun(), do.TestHold(), *opened)
    one.act(work)

    assert one.state.tested == stands


def test_the_collar_is_seen_as_soon_as_the_disc_is():
    """Nobody is asked which way round it goes before the eye could see how it stood."""
    hidden = bench(*SAFE, *any_.OPENED)
    seen = bench(start=Start.BODY_OFF)
    off = bench(do.RemoveDisc(), start=Start.BODY_OFF)

    assert scene(hidden.setup, hidden.state)["disc_reversed"] is None
    assert scene(seen.setup, seen.state)["disc_reversed"] is False
    assert scene(off.setup, off.state)["disc_reversed"] is False


SETTINGS = (
    do.TurnScrew(1, -30.0),
    do.ChangeShim(1, 0.05),
    do.LoosenAdjustingRing(),
    do.TurnAdjustingRing(-1),
    do.LockAdjustingRing(),
)


def test_what_sets_the_gap_is_not_told_before_it_is_seen_or_the_plate_is_read():
    """A closed brake of one design shows and refuses what one of any other does."""
    told, seen = [], []
    for size in four_designs().sizes:
        one = Bench(size, sound_condition(size), bytes(16))
        told.append(
            [scene(one.setup, one.state), *(one.act(act).to_json() for act in (*SAFE, *SETTINGS))]
        )
        told[-1].append(scene(one.setup, one.state))
        read = one.setup, take(one.setup, one.state, do.ReadPlate())[0]
        assert [one.act(act).done for act in any_.OPENED] == [True] * len(any_.OPENED)
        seen.append([scene(*read)["design"], scene(one.setup, one.state)["design"]])

    assert told[1:] == told[:1] * 3
    assert seen == [[design.value] * 2 for design in Design]


def test_a_wear_plate_just_taken_off_leaves_no_rings():
    """Rings come of running without it; one that was missing has left them."""
    apart = (do.RemoveDisc(), do.RemoveWearPlate(), do.Look("wear_plate"))
    own = bench(*apart, start=Start.BODY_OFF)
    missing = bench(do.RemoveDisc(), do.Look("wear_plate"), start=Start.BODY_OFF, wear_plate_mm=0.0)

    assert own.state.seen_there[-1][2]["symptoms"] == []
    assert missing.state.seen_there[-1][2]["symptoms"] == ["bright-rings"]


def test_a_page_that_opens_again_gets_the_signs_it_had_seen_and_no_others():
    """Their pictures come back with their words; of a place not looked at there is nothing."""
    one = bench(do.RemoveDisc(), do.Look("wear_plate"), start=Start.BODY_OFF, wear_plate_mm=0.0)
    told = scene(one.setup, one.state)

    assert set(told["seen_there"]) == set(told["looks"]) == {"wear_plate"}
    assert told["seen_there"]["wear_plate"]["seen"]["symptoms"] == ["bright-rings"]


def test_a_gap_that_no_stack_of_leaves_could_show_is_refused():
    """5.00 goes, 6.00 will not: no set makes that of three leaves; more act as a spring."""
    one = bench(start=Start.OPEN)
    refused = one.act(do.WriteGap(0.0, 5.0, 6.0))

    assert (refused.done, refused.code) == (False, "notes.no-such-stack")
    assert one.state.gap_notes == ()
    assert one.act(do.WriteGap(0.0, 0.4, 0.45)).done

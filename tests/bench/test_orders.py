"""One order of work: what the bench accepts, what lessons teach and questions key is the same."""

import json
import tomllib
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from quizzes.candidates.worker import work
from quizzes.cases.drawing import draw_case
from quizzes.desks.apprentice.lesson_orders import order_list
from quizzes.grading.evidence.gathering import Recorder
from quizzes.questions.bank import BANK, the_bank
from quizzes.questions.items import Order as AskedOrder
from tests import strategies as any_
from widgets.bench import actions as do
from widgets.bench.machine import Bench
from widgets.bench.orders.catalogue import ORDERS
from widgets.bench.orders.getting_in import OUTSIDE_IN, in_front_of
from widgets.bench.setup import Order, Start
from widgets.brake.around import WET, Around
from widgets.brake.condition import sound_condition
from widgets.brake.sizes.sheet import four_designs

LESSONS = Path(__file__).parents[2] / "lessons"
CEDAR = any_.SHEET.size("Cedar-47")
CLOSED_BUT_FOR_THE_COVER = (do.RefitSeal(), do.RefitFan(), do.RefitRing())
SAFE = (do.LandLoad(), do.Isolate(), do.OpenBox(), do.ProveDead())
# Where each order begins, and what has to be done to get there.
BEGINS = {
    "making safe": (Start.WORK_ORDER, ()),
    "opening": (Start.WORK_ORDER, SAFE),
    "a load that cannot be landed": (Start.WORK_ORDER, ()),
    **dict.fromkeys(
        ("fitting", "fitting with shims", "fitting with a ring", "fitting where nothing is set"),
        (Start.BODY_OFF, ()),
    ),
    "giving the supply back": (Start.OPEN, CLOSED_BUT_FOR_THE_COVER),
    "proving": (Start.OPEN, CLOSED_BUT_FOR_THE_COVER),
    "each of two brakes": (Start.WORK_ORDER, (do.LandLoad(),)),
}
# Neighbouring steps that the bench itself does not let change places.
MINDED = {
    ("making safe", "slack", "try-start"),
    ("opening", "cover", "look"),
    ("opening", "ring", "fan"),
    ("opening", "fan", "seal"),
    ("opening", "seal", "vacuum"),
    ("adjusting", "slacken", "turn"),
    ("adjusting with shims", "slacken", "shims"),
    ("adjusting with a ring", "loosen-ring", "turn-ring"),
    ("a second round", "slacken", "turn"),
    ("taking apart", "slacken", "draw"),
    ("taking apart", "draw", "body"),
    ("taking apart", "body", "disc"),
    ("closing up", "seal", "fan"),
    ("closing up", "fan", "ring"),
    ("proving", "switch-on", "release"),
    ("a wet brake", "stop", "dry"),
}


# Orders of work that are those of a design: on which size they are done.
_, SHIMS, RING, FIXED = four_designs().sizes
ON = {
    "adjusting with shims": SHIMS,
    "adjusting with a ring": RING,
    "a gap that cannot be adjusted": FIXED,
    "fitting with shims": SHIMS,
    "fitting with a ring": RING,
    "fitting where nothing is set": FIXED,
}


def at_the_begin(name: str) -> Bench:
    """Return a sound brake where an order of work begins."""
    size = ON.get(name, CEDAR)
    start, before = BEGINS.get(name, (Start.OPEN, ()))
    stuck = name == "a load that cannot be landed"
    brake = replace(sound_condition(size), coil_open=stuck, around=Around(other_hold=1.8))
    if name == "a wet brake":
        brake = replace(brake, surface=WET, around=Around(water_comes=True))
    order = Order(start=start, load_hangs=stuck, brakes=2 if "two brakes" in name else 1)
    bench = Bench(size, brake, bytes(16), order)
    assert all(seen.done for seen in bench.replay(before))
    return bench


def asked() -> dict[str, dict[str, object]]:
    """Return what the bank's files say of each question that puts an order of work in order."""
    questions = [
        row
        for path in sorted(BANK.glob("*.toml"))
        for row in tomllib.loads(path.read_text(encoding="utf-8"))["question"]
    ]
    return {row["id"]: row for row in questions if "work" in row}


def taught() -> set[str]:
    """Return the orders of work that stand in a lesson."""
    code = [
        "".join(cell["source"])
        for page in sorted(LESSONS.glob("[01]*.ipynb"))
        for cell in json.loads(page.read_text(encoding="utf-8"))["cells"]
        if cell["cell_type"] == "code"
    ]
    return {name for name in ORDERS if any(f'order_list("{name}"' in source for source in code)}


@pytest.mark.parametrize("name", ORDERS)
def test_the_bench_lets_every_order_of_work_be_done_as_it_is_taught(name):
    """Every act of it is carried out, and none of them could have hurt anybody."""
    bench = at_the_begin(name)
    seen = [bench.act(act) for step in ORDERS[name].steps for act in step.acts]

    assert [one.code for one in seen if not one.done or one.alarm] == []


def minded_at_the_bench(name: str, first: str, then: str) -> bool:
    """Return whether the bench refuses, or somebody is hurt, if `then` is done before `first`."""
    steps = ORDERS[name].steps
    bench = at_the_begin(name)
    for step in steps[: ORDERS[name].names.index(first)]:
        bench.replay(step.acts)
    turned_round = (*ORDERS[name].step(then).acts, *ORDERS[name].step(first).acts)
    in_vain = {"brake.wet-again"}
    return any(
        not seen.done or seen.alarm or seen.code in in_vain for seen in bench.replay(turned_round)
    )


def test_what_the_bench_does_not_let_change_places_is_what_the_orders_forbid():
    """The refusals follow from the orders: no free step is refused, and none on this list passes.

    What the bench lets pass out of order is counted by the grading, or shows in the brake.
    """
    found = {
        (work_.name, first.name, then.name)
        for work_ in ORDERS.values()
        for first, then in pairwise([step for step in work_.steps if step.acts])
        if minded_at_the_bench(work_.name, first.name, then.name)
    }

    assert found >= MINDED
    assert not [one for one in found if ORDERS[one[0]].may_swap(*one[1:])]


def test_a_hand_gets_to_a_part_when_what_is_before_it_in_the_order_is_off():
    """What hides what is read from the orders of opening and taking apart, and from nothing else."""
    assert OUTSIDE_IN == ("cover", "fan", "seal band", "magnet body", "disc")
    assert in_front_of("gap") == ("cover", "fan", "seal band")
    bench = at_the_begin("opening")
    for part, comes_off in (
        ("cover", do.RemoveCover()), ("fan", do.RemoveFan()), ("seal band", do.RemoveSeal()),
    ):  # fmt: skip
        refused = bench.act(do.GaugeGap(0.0, (0.3,)))
        assert (refused.done, refused.facts["part"]) == (False, part)
        if part == "fan":
            bench.act(do.RemoveRing())
        assert bench.act(comes_off).done


@pytest.mark.parametrize("name", asked())
def test_a_question_keys_what_the_bench_accepts(name):
    """Its steps are those of the order of work, ranked by it; what is free there is free here."""
    row, body = asked()[name], the_bank().item(name).body
    part = ORDERS[row["work"]].part(tuple(row["steps"]))

    assert isinstance(body, AskedOrder)
    assert body.steps == tuple(step.words for step in part.steps)
    assert list(row["steps"]) == list(part.names)
    assert {frozenset(part.names[place - 1] for place in group) for group in body.free} == {
        frozenset(group) for group in part.free
    }


def test_no_question_types_steps_that_an_order_of_work_has():
    """Whoever wants them ranked names the order; typed beside it they would drift apart."""
    words = {step.words for one in ORDERS.values() for step in one.steps}
    typed = {
        item.id
        for item in the_bank()
        if isinstance(item.body, AskedOrder) and item.id not in asked()
        and not words.isdisjoint(item.body.steps)
    }  # fmt: skip

    assert not typed


def test_every_order_of_work_is_asked_and_the_great_ones_are_taught():
    """Making safe, opening, adjusting, locking, taking apart, fitting, closing up, proving."""
    lists = {"making safe", "opening", "adjusting", "locking", "taking apart", "fitting",
             "closing up", "proving", "load test"}  # fmt: skip

    assert {row["work"] for row in asked().values()} == set(ORDERS)
    assert taught() >= lists


def test_a_lesson_shows_the_steps_of_the_order_and_no_markup_of_theirs():
    """The list on the page is the order of work, step by step."""
    html = order_list("opening").value

    places = [html.index(step.words.replace("'", "&#x27;")) for step in ORDERS["opening"].steps]
    assert places == sorted(places)


@pytest.mark.parametrize("family", ["gap too large", "disc worn"])
def test_a_careful_person_works_in_the_orders_that_are_taught(family):
    """Read off a whole job: each kind of act first comes where the order of opening has it."""
    recorder = Recorder(draw_case(family, CEDAR, bytes(range(32))))
    work(recorder.act, any_.SHEET)
    kinds = [step.action.kind for step in recorder.steps if step.observation.done]
    for name in ("making safe", "opening", "taking apart"):
        wanted = [act.kind for step in ORDERS[name].steps for act in step.acts]
        taken_off = [kind for kind in wanted if kind in kinds and kind.startswith("remove_")]
        places = [kinds.index(kind) for kind in taken_off if kind != "remove_lever"]
        assert places == sorted(places)
    assert kinds.index("prove_dead") < kinds.index("remove_cover")
    assert kinds.index("decide") < kinds.index("loosen_lock")

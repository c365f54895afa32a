"""The bench's machine: the same every time, nothing changed by a refusal, no truth let out."""

import json
import re
from typing import get_args

import pytest
from hypothesis import given

from tests import strategies as any_
from widgets.bench import actions as do
from widgets.bench.actions import codec as form
from widgets.bench.machine import Bench, take
from widgets.bench.scene import fixed_scene, scene
from widgets.bench.setup import Setup
from widgets.bench.standing import gap_now, loose_locks
from widgets.bench.starts import at_start
from widgets.bench.state import State
from widgets.bench.words import said
from widgets.brake.condition import Disc, sound_condition
from widgets.brake.gap.profile import Plane

SEED = bytes(range(16))
CEDAR = any_.SHEET.size("Cedar-47")
OPEN = (
    do.LandLoad(),
    do.Isolate(),
    do.OpenBox(),
    do.ProveDead(),
    *any_.OPENED,
    do.Clean(method="vacuum"),
)


def bench(gap: Plane | None = None, disc_mm: float = 11.0, **kwargs) -> Bench:
    return Bench(CEDAR, sound_condition(CEDAR, gap=gap, disc=Disc(disc_mm), **kwargs), SEED)


def run(setup: Setup, actions) -> tuple[State, list[dict]]:
    state, seen = at_start(setup), []
    for action in actions:
        state, observation = take(setup, state, action)
        seen.append(observation.to_json())
    return state, seen


# ---- laws ----


@given(any_.setups(), any_.action_lists())
def test_any_actions_come_out_the_same_again_bit_for_bit(setup, actions):
    """A second bench from size, condition and seed gives the same state and observations.

    The second time the actions come from the text of their JSON forms.
    """
    first = run(setup, actions)
    again = Setup.of(setup.size, setup.condition, setup.draws.key, setup.order)
    texts = [json.dumps(form.to_json(action)) for action in actions]
    second = run(again, [form.from_json(json.loads(text)) for text in texts])

    assert second[0] == first[0]
    assert json.dumps(second[1]) == json.dumps(first[1])


@given(any_.setups(), any_.action_lists())
def test_a_refused_action_changes_nothing(setup, actions):
    """The state after a refusal is the very object from before, and a done one counts one step."""
    state = at_start(setup)
    for action in actions:
        after, observation = take(setup, state, action)

        assert (after is state) is not observation.done
        assert after.step == state.step + observation.done
        assert said(observation)
        state = after


@given(any_.setups(), any_.action_lists())
def test_refused_actions_can_be_left_out_of_a_log(setup, actions):
    """What the dice show next is the same as if the refused had never been tried."""
    with_refused, seen = run(setup, actions)
    done = [action for action, one in zip(actions, seen, strict=True) if one["done"]]
    without, seen_without = run(setup, done)

    assert without == with_refused
    assert seen_without == [one for one in seen if one["done"]]


@given(any_.setups(), any_.action_lists())
def test_nothing_happens_after_the_hand_over(setup, actions):
    """A signed record stays as it was signed."""
    ending = [do.Decide(outcome="refer", row="x"), do.DeEnergise(), do.Isolate()]
    signed, _ = run(setup, [*ending, do.HandOver(into_service=False)])
    assert signed.handed_over

    for action in actions:
        assert take(setup, signed, action)[0] is signed


@given(any_.ANY_ACTION)
def test_every_action_survives_its_json_form(action):
    """Out to text and back it is equal, kind and all."""
    assert form.from_json(json.loads(json.dumps(form.to_json(action)))) == action


def test_the_strategies_cover_every_kind_of_action():
    """A new action without a strategy would escape every law above."""
    kinds = {member.kind for member in get_args(do.Action)}
    assert set(any_.ACTIONS_BY_KIND) == kinds


# ---- the truth stays in ----

_NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?")


def test_a_state_is_copied_as_any_named_tuple_is():
    """The quick copy of a state is the library's own, and knows no field that is not there."""
    state = at_start(Setup.of(CEDAR, sound_condition(CEDAR), SEED))
    changes = {"step": 7, "tray": ("cover",), "lock_nm": (1.0, 0.0, 1.0)}
    copied = state._replace(**changes)

    assert type(copied) is State
    assert copied == super(State, state)._replace(**changes)
    with pytest.raises(KeyError):
        state._replace(gap_mm=0.3)


def hidden_numbers(setup: Setup, state: State) -> list[float]:
    """Return what only the kernel knows and no reading in hundredths can show."""
    condition = setup.condition
    gap = gap_now(setup, state)
    angles = [15.0 * place for place in range(24)]
    numbers = [gap.at_mm(angle) for angle in angles]
    numbers += [condition.disc.at_mm(angle, state.shaft_deg) for angle in angles]
    numbers += [gap.plane.mean_mm, gap.plane.tilt_mm, condition.disc.thickness_mm]
    numbers += [*condition.screw_height_mm, *state.screw_height_mm, *state.take_up_mm]
    numbers += [state.brake.disc.thickness_mm, state.brake.coil_c + 0.0017]
    numbers += [condition.dust_mm, condition.disc.thinnest_mm]
    return [number for number in numbers if abs(number - round(number, 2)) > 0.001]


def leaked(text: str, hidden: list[float]) -> list[float]:
    told = sorted({float(found) for found in _NUMBER.findall(text)})
    return [h for h in hidden if any(abs(abs(t) - h) < 0.0005 for t in told)]


@given(any_.setups(), any_.action_lists())
def test_neither_scene_nor_observation_holds_a_hidden_number(setup, actions):
    """No number in them lies within half a thousandth of a true gap, disc, height or dust.

    All that a person sees or chooses here comes in hundredths, and hidden
    numbers that happen to lie near a hundredth are left out.
    """
    state = at_start(setup)
    for action in actions:
        hidden = hidden_numbers(setup, state)
        state, observation = take(setup, state, action)
        told = json.dumps([observation.to_json(), scene(setup, state)])
        if action.kind != "tighten_lock":  # repeats the torque that the person chose
            assert leaked(told, hidden + hidden_numbers(setup, state)) == []
    fixed = json.dumps(fixed_scene(setup, any_.SHEET, "Inspect."))
    assert leaked(fixed, hidden_numbers(setup, at_start(setup))) == []


def test_the_search_for_hidden_numbers_finds_one():
    """The guard above is not a blind guard."""
    one = bench(Plane(0.5137, 0.02, 0.01))
    hidden = hidden_numbers(one.setup, one.state)

    assert leaked('{"words": "gap 0.5137 mm"}', hidden) != []
    assert leaked('{"gap": [0.51366]}', hidden) != []
    assert leaked('{"gap": 0.51}', hidden) == []


# ---- worked examples ----


@pytest.mark.parametrize(
    ("before", "action", "words"),
    [
        ((), do.GaugeGap(angle_deg=0.0, leaves_mm=(0.3,)), "cover"),
        (any_.OPENED[:2], do.GaugeGap(angle_deg=0.0, leaves_mm=(0.3,)), "fan"),
        (any_.OPENED[:3], do.GaugeGap(angle_deg=0.0, leaves_mm=(0.3,)), "seal"),
        (any_.OPENED[:3], do.MeasureDisc(angle_deg=0.0), "seal"),
        ((do.RemoveCover(),), do.RemoveFan(), "ring"),
        ((), do.RemoveRing(), "cover"),
        ((), do.RemoveFan(), "cover"),
        ((), do.LoosenLock(screw=1), "cover"),
        (OPEN, do.TurnScrew(screw=1, turn_deg=30.0), "clamps"),
        (OPEN, do.TightenLock(screw=1, torque_nm=500.0), "stretch"),
        (OPEN, do.Energise(), "locked off"),
        (OPEN, do.HandOver(into_service=False), "no decision"),
        (OPEN, do.WriteGap(angle_deg=0.0, go_mm=0.5, no_go_mm=0.5), "thicker"),
        (OPEN, do.GaugeGap(angle_deg=0.0, leaves_mm=(0.3, 0.3)), "once"),
        (OPEN, do.GaugeGap(angle_deg=0.0, leaves_mm=(0.05, 0.1, 0.15, 0.2)), "three leaves"),
        ((*OPEN, do.Decide(outcome="fit", row="x")), do.HandOver(into_service=True), "lock"),
        ((do.Decide(outcome="refer", row="x"),), do.HandOver(into_service=False), "switch is on"),
    ],
)
def test_what_cannot_be_done_is_refused_with_what_a_person_finds(before, action, words):
    """The refusal names what is in the way."""
    one = bench()
    assert all(seen.done for seen in one.replay(before))
    seen = one.act(action)

    assert not seen.done
    assert words in said(seen)


def test_a_leaf_goes_where_the_gap_is_wider_and_not_where_it_is_narrower():
    """Tilt 0.15 mm toward 0 degrees round 0.50 mm: 0.55 mm goes at 0, not at 180 degrees."""
    one = bench(Plane(0.5, 0.15))
    one.replay(OPEN)
    feels = [
        one.act(do.GaugeGap(angle_deg=angle, leaves_mm=(0.55,))).facts["feel"]
        for angle in (0.0, 180.0)
    ]

    assert feels[0] != "will-not-enter"
    assert feels[1] == "will-not-enter"


def test_there_is_no_gap_while_the_plate_is_drawn_in():
    """Energised, not even the thinnest leaf enters; de-energised it slides in."""
    one = bench()
    one.replay([do.LandLoad(), *any_.OPENED, do.Clean(method="vacuum"), do.Energise()])
    thin = do.GaugeGap(angle_deg=0.0, leaves_mm=(0.05,))
    drawn_in = one.act(thin)
    one.act(do.DeEnergise())
    dropped = one.act(thin)

    assert drawn_in.facts["feel"] == "will-not-enter"
    assert dropped.facts["feel"] != "will-not-enter"


def test_dust_makes_the_gap_read_low_until_it_is_gone():
    """A leaf that the clean gap lets in stops on the dust."""
    from dataclasses import replace

    condition = replace(sound_condition(CEDAR, gap=Plane(0.5), disc=Disc(11.0)), dust_mm=0.12)
    one = Bench(CEDAR, condition, SEED)
    one.replay([do.LandLoad(), do.Isolate(), do.OpenBox(), do.ProveDead(), *any_.OPENED])
    leaf = do.GaugeGap(angle_deg=90.0, leaves_mm=(0.45,))
    dusty = one.act(leaf).facts["feel"]
    one.act(do.Clean(method="vacuum"))

    assert dusty == "will-not-enter"
    assert one.act(leaf).facts["feel"] != "will-not-enter"


def test_locking_moves_the_gap():
    """Loosened and locked again, the gap is tighter by the slack and the play of the threads.

    Slack: a quarter of a coarse M6, 0.25 mm (ISO 261, from memory).
    Play of 0.05 mm at each screw, repeated within 0.02 mm, five times its scatter.
    """
    one = bench(Plane(0.30), take_up_mm=(0.05, 0.05, 0.05))
    one.replay(OPEN)
    one.replay([do.LoosenLock(screw=screw) for screw in (1, 2, 3)])
    loose_mm = gap_now(one.setup, one.state).plane.mean_mm
    proper = CEDAR.screws.retaining_torque_nm
    one.replay([do.TightenLock(screw=screw, torque_nm=proper) for screw in (1, 2, 3)])

    assert loose_mm == pytest.approx(0.30 + 0.05 + 0.25, abs=1e-9)
    assert gap_now(one.setup, one.state).plane.mean_mm == pytest.approx(0.30, abs=0.02)
    assert gap_now(one.setup, one.state).plane.mean_mm != pytest.approx(0.30, abs=1e-9)


def test_a_turn_of_the_screw_is_one_pitch():
    """Outside check: ISO 261 coarse M10 has 1.5 mm pitch; all three screws 60 degrees in, -0.25 mm."""
    one = bench(Plane(0.70))
    one.replay([*OPEN, *(do.LoosenLock(screw=screw) for screw in (1, 2, 3))])
    before_mm = gap_now(one.setup, one.state).plane.mean_mm
    one.replay([do.TurnScrew(screw=screw, turn_deg=-60.0) for screw in (1, 2, 3)])

    assert before_mm - gap_now(one.setup, one.state).plane.mean_mm == pytest.approx(0.25)


def test_letting_the_last_screw_go_with_the_load_hanging_raises_an_alarm():
    """An accident is told at once and stays on the state."""
    one = bench()
    seen = one.replay([*any_.OPENED, *(do.LoosenLock(screw=screw) for screw in (1, 2, 3))])

    assert [bool(each.alarm) for each in seen] == [False] * 6 + [True]
    assert one.state.accidents == (seen[-1].alarm,)


def test_a_screw_below_half_its_torque_counts_as_loose():
    """Only the screw left at a tenth of its torque is named."""
    one = bench()
    proper = CEDAR.screws.retaining_torque_nm
    one.replay([*OPEN, do.TightenLock(screw=2, torque_nm=proper / 10)])

    assert loose_locks(one.setup, one.state) == (2,)


def test_another_place_is_another_visit_and_the_same_place_is_not():
    """A second leaf at one place is a second attempt; 45 degrees on is a second visit."""
    setup = bench().setup
    state, _ = run(setup, any_.OPENED)
    leaf = {"leaves_mm": (0.1,)}
    state, _ = take(setup, state, do.GaugeGap(angle_deg=0.0, **leaf))
    same, _ = take(setup, state, do.GaugeGap(angle_deg=0.0, **leaf))
    away, _ = take(setup, same, do.GaugeGap(angle_deg=45.0, **leaf))

    assert same.visit == state.visit
    assert same.attempt == state.attempt + 1
    assert away.visit == same.visit + 1

"""What a look shows: a picture's facts and words of any place, sound or not, and of no other place."""

import re

import pytest

from tests import strategies as any_
from widgets.bench import actions as do
from widgets.bench.machine import Bench
from widgets.bench.scene import scene
from widgets.bench.setup import Order, Start
from widgets.bench.symptoms import SYMPTOMS
from widgets.bench.words import LOOKS, SYMPTOM_WORDS, reply, said
from widgets.bench.words.sights import ASPECTS, PICTURED
from widgets.brake.condition import sound_condition
from widgets.brake.faults import FAULTS, apply

CEDAR = any_.SHEET.size("Cedar-47")
PLACES = sorted(PICTURED - {"new_disc"})
# Words of somebody who has made up their mind; a description has none of them.
VERDICT = re.compile(
    r"\b(ordinary|sound|fault\w*|good|bad|worn out|normal|proper\w*|correct|wrong|safe|fit|ok)\b",
    re.IGNORECASE,
)


def opened(condition, seed: bytes = bytes(16)) -> Bench:
    """Return a brake with everything off that hides a place."""
    return Bench(CEDAR, condition, seed, Order(start=Start.BODY_OFF))


@pytest.mark.parametrize("place", PLACES)
def test_a_sound_place_is_shown_and_described_and_not_judged(place):
    """No place says by its silence that nothing is wrong there."""
    for seed in range(4):
        told = reply(opened(sound_condition(CEDAR), bytes([seed]) * 16).act(do.Look(place)))
        assert told["seen"]["at"] == place
        assert len(told["pictured"].split()) >= 4
        assert not VERDICT.search(told["words"]), told["words"]
        assert told["pictured"] not in told["printed"]


def test_each_symptom_of_a_place_has_its_aspect_there_and_once():
    """What is noticed stands in place of one description, at every place where it shows."""
    for place, aspects in ASPECTS.items():
        listed = [code for one in aspects for code in one.symptoms]
        assert sorted(listed) == sorted(one.code for one in SYMPTOMS if place in one.at), place
    assert set(ASPECTS) == set(LOOKS) - {"new_disc"}


@pytest.mark.parametrize("row", FAULTS, ids=lambda row: row.id)
def test_whoever_only_hears_is_told_all_that_is_seen(row):
    """The words of every symptom, for a voice; to the eye none of what the picture carries."""
    one = opened(apply(row, CEDAR, sound_condition(CEDAR)))
    for place in PLACES:
        told = reply(one.act(do.Look(place)))
        for code in told["seen"]["symptoms"]:
            words = SYMPTOM_WORDS[code]
            assert words in told["words"], code
            assert (words in told["pictured"]) is not (words in told["printed"]), code


def test_the_page_holds_nothing_of_a_place_before_somebody_looks_there():
    """Facts and shade of one place come with the look, and of that place alone."""
    one = opened(sound_condition(CEDAR))
    before = scene(one.setup, one.state)["seen_there"]
    one.act(do.Look("faces"))

    assert before == {}
    assert set(scene(one.setup, one.state)["seen_there"]) == {"faces"}


def test_the_shade_is_no_sign():
    """A sound brake and one with any fault have the same shade, and two brakes differ."""
    look = do.Look("edge")
    shades = {
        opened(apply(row, CEDAR, sound_condition(CEDAR))).act(look).facts["shade"] for row in FAULTS
    }
    others = {
        opened(sound_condition(CEDAR), bytes([seed]) * 16).act(look).facts["shade"]
        for seed in range(8)
    }

    assert len(shades) == 1
    assert len(others) > 4


def test_an_older_look_without_a_shade_still_has_words():
    """A kept event from before there were pictures opens as any other."""
    kept = {"done": True, "code": "look.seen", "alarm": "", "facts": {"at": "edge", "symptoms": []}}

    assert said(kept).startswith("The edge of the lining is grey-brown")

"""Explorers of the lessons: they answer every move, and nothing that arrives breaks them."""

import json
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quizzes.desks import explorers
from quizzes.desks.explorers.brake_explorers import lesson_size
from quizzes.desks.explorers.explorer import Choice, Slider
from quizzes.desks.explorers.hand_check import check_hand
from quizzes.desks.explorers.own_hand import PLACES_DEG, ROUNDS, OwnHand
from quizzes.desks.explorers.reading_explorers import limit_facts, places_facts, uneven_field
from quizzes.desks.figure import figure
from widgets.charts.picture import Picture
from widgets.instruments.feeler import GapReading

MAKERS = [
    explorers.lining_explorer,
    explorers.limit_explorer,
    explorers.places_explorer,
]
each = pytest.mark.parametrize("make", MAKERS, ids=lambda make: make.__name__)
SEED = bytes(range(32))
junk = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3)
    ),
    max_leaves=8,
)


def listening(panel):
    """Return a panel with the list of what it sends."""
    sent = []
    panel.send = sent.append
    return panel, sent


def corners(controls, last):
    """Return a value for each control: its least, or its last."""
    at = -1 if last else 0
    return {
        c["name"]: c["range"][1 if last else 0] if c["kind"] == "slider" else c["options"][at][0]
        for c in controls
    }


@each
def test_an_explorer_answers_before_it_draws(make):
    """A page just opened gets controls and facts, and the figure when it asks once more."""
    panel, sent = listening(make())
    panel._hear({"ask": "everything"})
    panel._hear({"set": sent[0]["values"], "final": True})

    assert [bool(told.get("controls")) for told in sent] == [True, False, False]
    assert sent[0]["facts"] == sent[1]["facts"]
    assert [told.get("more") for told in sent] == [False, True, None]
    assert sent[2]["figure"]["url"].startswith("data:image/svg+xml;base64,")
    assert json.dumps(sent, allow_nan=False)


@each
@pytest.mark.parametrize("last", [False, True])
def test_an_explorer_answers_at_both_ends_of_its_sliders(make, last):
    """The least and the greatest of each control have facts and a figure."""
    panel, sent = listening(make())
    panel._hear({"ask": "everything"})
    chosen = corners(sent[0]["controls"], last)
    panel._hear({"set": chosen, "final": True})

    assert sent[1]["values"] == chosen
    assert sent[1]["facts"]
    assert sent[2]["figure"]["alt"]


@each
def test_a_move_on_the_way_brings_facts_alone(make):
    """While a slider moves no figure is drawn."""
    panel, sent = listening(make())
    panel._hear({"ask": "everything"})
    panel._hear({"set": corners(sent[0]["controls"], last=False), "final": False})

    assert len(sent) == 2
    assert sent[1]["more"] is False


@each
@pytest.mark.parametrize("bad", [math.nan, math.inf, -1e9, True, "0.3", None, [], {}])
def test_a_value_that_is_on_no_control_gets_an_empty_answer(make, bad):
    """Nothing is worked out for it, and the page is told that it may ask again."""
    panel, sent = listening(make())
    panel._hear({"ask": "everything"})
    names = [control["name"] for control in sent[0]["controls"]]
    panel._hear({"set": dict.fromkeys(names, bad), "final": True})

    assert sent[1:] == [{}]


@given(
    message=st.dictionaries(
        st.sampled_from(["ask", "set", "final", "try", "write", "show", "again", "x"]),
        junk,
        max_size=3,
    )
)
@settings(max_examples=60, deadline=None)
def test_nothing_that_arrives_raises(message):
    """Whatever object the page sends, explorer and hand answer it."""
    for panel in (explorers.limit_explorer(), OwnHand(lesson_size(), SEED)):
        listened, _ = listening(panel)
        listened._hear(message)


def test_a_slider_that_starts_outside_itself_is_refused():
    """The sentence names the slider, its range and the value."""
    with pytest.raises(ValueError, match=r"start of 'Gap'.*2"):
        Slider("gap_mm", "Gap", "mm", 0, 1, 0.1, 2)


def test_a_choice_of_one_is_refused():
    """One option is not a choice."""
    with pytest.raises(ValueError, match="two or more"):
        Choice("side", "Side", (("dc", "DC side"),))


def numbers(facts):
    return {fact.name: fact.value for fact in facts}


def test_at_the_limit_one_is_half_sure():
    """A reading on the limit conforms with a chance of one half, however fine (JCGM 106:2012)."""
    size = lesson_size()
    for steps in ("coarse", "fine"):
        assert numbers(limit_facts(size, size.gap.max_mm, steps))["Chance to be within"] == "50.0 %"


def test_places_that_miss_the_widest_are_called_a_danger():
    """A saddle whose crests lie between four places goes over the limit unseen; with 8 it is seen."""
    size = lesson_size()
    field = uneven_field(size, 0.0, 0.45, 45.0)
    few, many = places_facts(field, 4, 0.8), places_facts(field, 8, 0.8)

    assert few[1].danger
    assert "too few" in few[3].value
    assert not any(fact.danger for fact in many)


def test_a_figure_is_drawn_when_it_is_asked_for_and_only_once():
    """A page is ready before its figures; two pages that ask get one drawing."""
    drawings = []

    def draw(gap_mm, *, words):
        drawings.append(gap_mm)
        return Picture(b"<svg/>", words)

    panel, sent = listening(figure(draw, 0.5, words="a gap"))
    assert not drawings
    panel._hear({"ask": "figure"})
    panel._hear({"ask": "figure"})

    assert drawings == [0.5]
    assert [told["figure"]["alt"] for told in sent] == ["a gap", "a gap"]


def test_a_picture_can_be_put_on_a_page_as_it_is():
    """What is drawn already is sent as it is; any other message gets nothing."""
    panel, sent = listening(figure(Picture(b"<svg/>", "a gap")))
    panel._hear({"ask": "something else"})
    panel._hear({"ask": "figure"})

    assert [told["figure"]["alt"] for told in sent] == ["a gap"]


class TestHandCheck:
    """Bias and repeatability of one's own readings."""

    def test_two_places_by_hand(self):
        """Errors +0.02, +0.04, -0.01, -0.01: mean 0.01; variances 0.0002 and 0, pooled 0.0001."""
        true_mm = [0.505, 0.405]
        rounds = [
            [GapReading(0.50, 0.55), GapReading(0.37, 0.42)],
            [GapReading(0.52, 0.57), GapReading(0.37, 0.42)],
        ]
        found = check_hand(rounds, true_mm)

        assert found.bias_mm == pytest.approx((0.02 + 0.04 - 0.01 - 0.01) / 4)
        assert found.repeatability_mm == pytest.approx(0.01)
        assert found.freedom == 2

    def test_a_one_way_analysis_of_variance_finds_the_same_scatter(self):
        """Outside: within-place mean square of scipy's inputs, by numpy, for 3 places and 4 rounds."""
        rng = np.random.default_rng(3)
        lows = np.round(0.4 + 0.05 * rng.integers(0, 4, (4, 3)), 2)
        rounds = [[GapReading(low, low + 0.05) for low in row] for row in lows]
        within = ((lows - lows.mean(axis=0)) ** 2).sum() / (lows.size - 3)

        assert check_hand(rounds, [0.5] * 3).repeatability_mm == pytest.approx(math.sqrt(within))

    def test_the_same_bracket_each_time_shows_no_scatter(self):
        """Steps too coarse are said to be so, and not taken for a steady hand."""
        found = check_hand([[GapReading(0.50, 0.55)]] * 3, [0.52])

        assert found.repeatability_mm == 0
        assert "too coarse" in found.sentences[1]

    @pytest.mark.parametrize(("low", "advice"), [(0.60, "Reading high"), (0.40, "Reading low")])
    def test_a_reader_who_is_off_gets_advice(self, low, advice):
        """A tenth of a millimetre off either way is far beyond the 0.02 mm of the trade."""
        assert advice in check_hand([[GapReading(low, low + 0.05)]] * 2, [0.525]).sentences[0]

    def test_one_round_is_no_repeating(self):
        """With a single round nothing can be said, and that is what it says."""
        with pytest.raises(ValueError, match="2 or more"):
            check_hand([[GapReading(0.50, 0.55)]], [0.52])


class TestOwnHand:
    """The page on which one gauges a hidden gap."""

    @pytest.fixture
    def hand(self):
        panel, sent = listening(OwnHand(lesson_size(), SEED))
        panel._hear({"ask": "everything"})
        return panel, sent

    def write_all(self, panel):
        for reading in panel.careful_readings():
            panel._hear({"write": {"go": reading.go_mm, "no_go": reading.no_go_mm}})

    def hidden(self, panel):
        return [f"{panel._field.at_mm(angle):.3f}" for angle in PLACES_DEG]

    def test_the_gap_stays_hidden_until_it_is_asked_for(self, hand):
        """No message holds it, not even the results, before the person asks to see it."""
        panel, sent = hand
        panel._hear({"try": [0.5]})
        panel._hear({"show": True})
        self.write_all(panel)
        before = json.dumps(sent)
        panel._hear({"show": True})
        after = json.dumps(sent[-1])

        assert sent[-2]["results"]["rows"]
        assert not [number for number in self.hidden(panel) if number in before]
        assert all(number in after for number in self.hidden(panel))

    def test_a_careful_hand_has_little_bias(self, hand):
        """Within the 0.02 mm that the trade asks for (common practice), on this gap and its leaves."""
        panel, sent = hand
        self.write_all(panel)

        assert sent[-1]["done"] == ROUNDS * len(PLACES_DEG)
        assert f"{0.02:g} mm or less." in sent[-1]["results"]["sentences"][0]

    def test_a_leaf_thinner_than_the_gap_slides_and_a_thicker_one_does_not_enter(self, hand):
        """The gap lies between setting and largest, so 0.10 mm slides and 1.00 mm does not go in."""
        panel, sent = hand
        panel._hear({"try": [0.1]})
        assert "slides" in sent[-1]["said"]
        panel._hear({"try": [1.0]})
        assert "will not enter" in sent[-1]["said"]

    @pytest.mark.parametrize(
        ("message", "words"),
        [
            ({"try": [0.77]}, "no leaf of 0.77"),
            ({"try": [0.5, 0.05, 0.05]}, "one leaf of 0.05"),
            ({"try": [0.5, 0.4, 0.3, 0.2]}, "stack of up to 3"),
            ({"try": "all"}, "Choose one leaf"),
            ({"write": {"go": 0.5, "no_go": 0.4}}, "thinnest that does not"),
            ({"write": {"go": None, "no_go": 0.4}}, "two numbers"),
            ({"write": {"go": math.nan, "no_go": 0.4}}, "thickest that goes"),
            ({"write": 3}, "two numbers"),
            ({"show": True}, "when all readings are written"),
        ],
    )
    def test_what_cannot_be_is_refused_in_a_sentence(self, hand, message, words):
        """The person is told why, and nothing is written down."""
        panel, sent = hand
        panel._hear(message)

        assert words in sent[-1]["said"]
        assert sent[-1]["done"] == 0

    def test_another_gap_is_another_gap(self, hand):
        """Starting again clears the notes and draws afresh."""
        panel, sent = hand
        before = self.hidden(panel)
        self.write_all(panel)
        panel._hear({"again": True})

        assert sent[-1]["done"] == 0
        assert "results" not in sent[-1]
        assert self.hidden(panel) != before

    def test_nothing_is_gauged_after_the_last_reading(self, hand):
        """The round is over: a try and a tenth reading are refused."""
        panel, sent = hand
        self.write_all(panel)
        panel._hear({"write": {"go": 0.5, "no_go": 0.55}})

        assert sent[-1]["done"] == ROUNDS * len(PLACES_DEG)
        assert "all readings" in sent[-1]["said"].lower()

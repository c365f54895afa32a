"""The session: what is kept has happened, and what is not kept has not."""

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests import strategies as any_
from widgets.bench import actions as do
from widgets.bench.actions import codec as form
from widgets.bench.session import Event, NotKeptError, Session
from widgets.bench.setup import Setup
from widgets.bench.words import said
from widgets.brake.condition import sound_condition

CEDAR = any_.SHEET.size("Cedar-47")
SETUP = Setup.of(CEDAR, sound_condition(CEDAR), bytes(range(16)))


class _Book:
    """A log that fails when told to."""

    def __init__(self) -> None:
        self.events: list[Event] = []
        self.broken = False

    def keep(self, event: Event) -> None:
        if self.broken:
            raise NotKeptError(cause="The record store cannot be written.")
        self.events.append(event)


@given(any_.setups(), any_.action_lists(), st.sets(st.integers(0, 42)))
@settings(max_examples=60)
def test_an_event_that_cannot_be_kept_has_not_happened(setup, actions, failures):
    """State, log and listeners are as if the failed wishes had never been made."""
    book, heard = _Book(), []
    session = Session(setup, book.keep)
    session.listen(lambda _, observation: heard.append(observation))
    for number, action in enumerate(actions):
        book.broken = number in failures
        before, told = session.state, len(heard)
        observation = session.wish(form.to_json(action))
        if book.broken:
            assert not observation.done
            assert "cannot be written" in said(observation)
            assert session.state is before
            assert len(heard) == told
    kept = [action for number, action in enumerate(actions) if number not in failures]
    undisturbed = Session(setup)
    for action in kept:
        undisturbed.act(action)

    assert session.events == book.events == undisturbed.events
    assert session.state == undisturbed.state


def test_a_log_that_cannot_be_written_raises_from_act():
    """A program learns of it by the exception, a page by the sentence."""
    book = _Book()
    book.broken = True
    session = Session(SETUP, book.keep)
    with pytest.raises(NotKeptError):
        session.act(do.LandLoad())

    assert session.events == []
    assert not session.state.load_landed


def test_any_other_failure_of_the_log_changes_nothing_either():
    """A fault on our side is a sentence for the person, and the job stands where it stood."""

    def keep(_):
        raise RuntimeError("disk on fire")

    session = Session(SETUP, keep)
    observation = session.wish({"kind": "land_load"})

    assert not observation.done
    assert "Nothing has changed" in said(observation)
    assert "fire" not in said(observation)
    assert not session.state.load_landed


def test_an_event_is_kept_before_anybody_sees_it():
    """When a listener hears, the book already holds it."""
    book, lengths = _Book(), []
    session = Session(SETUP, book.keep)
    session.listen(lambda *_: lengths.append(len(book.events)))
    session.act(do.LandLoad())
    session.act(do.Isolate())

    assert lengths == [1, 2]


def test_a_refusal_is_kept_but_not_announced():
    """It belongs to the evidence; the other panels have nothing new to show."""
    book, heard = _Book(), []
    session = Session(SETUP, book.keep)
    session.listen(lambda _, observation: heard.append(observation))
    session.act(do.RemoveFan())

    assert [event.observation["done"] for event in book.events] == [False]
    assert heard == []


@given(any_.setups(), any_.action_lists(), st.data())
@settings(max_examples=60)
def test_a_session_taken_up_again_goes_on_where_it_stopped(setup, actions, data):
    """Stopped anywhere, reread from text, continued: the same as never stopped."""
    stop = data.draw(st.integers(0, len(actions)))
    whole, first = Session(setup), Session(setup)
    for action in actions:
        whole.act(action)
    for action in actions[:stop]:
        first.act(action)
    text = json.dumps([[e.number, dict(e.action), dict(e.observation)] for e in first.events])
    second = Session(setup, events=[Event(*fields) for fields in json.loads(text)])
    for action in actions[stop:]:
        second.act(action)

    assert second.state == whole.state
    assert json.dumps([e.observation for e in second.events]) == json.dumps(
        [e.observation for e in whole.events]
    )
    assert [event.number for event in second.events] == list(range(len(actions)))


@pytest.mark.parametrize(
    "altered",
    [
        lambda event: replace(event, action={"kind": "nothing of the sort"}),
    ],
)
def test_an_altered_log_is_refused(altered):
    """One event told differently, and the sitting is not taken up."""
    session = Session(SETUP)
    for action in (do.LandLoad(), do.ReadPlate(), do.Isolate()):
        session.act(action)
    events = list(session.events)
    events[1] = altered(events[1])

    with pytest.raises(ValueError):
        Session(SETUP, events=events)


def test_what_todays_model_shows_otherwise_is_noticed_with_both_values():
    """A reading of one brake does not come out of another; the log is taken up all the same."""
    other = Setup.of(
        any_.SHEET.size("Birch-23"), sound_condition(any_.SHEET.size("Birch-23")), bytes(16)
    )
    session = Session(SETUP)
    session.act(do.ReadPlate())
    again = Session(other, events=session.events)

    assert again.events == session.events
    assert {one.line for one in again.notices} == {1}
    assert all(one.kept != one.today for one in again.notices)

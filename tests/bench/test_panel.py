"""The border to the browser: whatever comes over it, nothing breaks and nothing changes unasked."""

import json
import math
import re

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests import strategies as any_
from widgets.bench import actions as do
from widgets.bench.actions import codec as form
from widgets.bench.session import Session
from widgets.bench.setup import Order, Setup, Start
from widgets.bench.view.bench_panel import Table
from widgets.bench.view.parts import Notes, Tray
from widgets.bench.words import said
from widgets.brake.condition import sound_condition
from widgets.brake.sizes.sheet import four_designs
from widgets.page.panel import FAILED, LONGEST_TEXT, is_small

CEDAR = any_.SHEET.size("Cedar-47")
KINDS = sorted(any_.ACTIONS_BY_KIND)
# What no page of ours sends of the acts that belong to a design, to water and to the load test.
HOSTILE = [
    {"kind": "change_shim", "screw": 1, "change_mm": wrong}
    for wrong in (None, "0.1", True, math.nan, math.inf, 1e308, 10**400, 0.049999, 5e-324, -10.0)
] + [
    *({"kind": "turn_adjusting_ring", "notches": wrong} for wrong in (0, 1.5, 501, -500, 10**400, [1])),
    *({"kind": "test_hold", "on": wrong} for wrong in (None, 1, "that", "other", "x" * 5000)),
    {"kind": "stop_water", "water_comes": False}, {"kind": "dry_out", "surface": "bedded"},
    {"kind": "change_shim", "screw": 1}, {"kind": "lock_adjusting_ring", "design": "shims"},
]  # fmt: skip


@pytest.mark.parametrize("size", four_designs().sizes, ids=lambda size: size.design.value)
def test_the_acts_of_a_design_sent_by_hand_change_nothing_on_any(size):
    """Each is refused in one clear sentence, on an open brake whose screws and ring are loose."""
    session = Session(Setup.of(size, sound_condition(size), bytes(16)))
    for action in (*any_.OPENED, *(do.LoosenLock(screw=one) for one in (1, 2, 3))):
        session.act(action)
    session.act(do.LoosenAdjustingRing())
    before = session.state
    told = [session.wish(wish) for wish in HOSTILE]

    assert not any(observation.done for observation in told)
    assert session.state is before
    assert all(re.fullmatch(r"[^_]{6,200}[.]", said(observation)) for observation in told)
    assert not any(" be Unexpected" in said(one) or "required" in said(one) for one in told)


class _Heard(Notes):
    """Notes that keep what they would send to the page."""

    def __init__(self, table: Table) -> None:
        self.sent: list[object] = []
        super().__init__(table, table_key="k")

    def send(self, content, buffers=None):
        self.sent.append(content)

    def send_state(self, key=None):
        self.sent.append("state")


class _Beside(Tray):
    """Another part of the same bench, which hears what is told to all."""

    def __init__(self, table: Table) -> None:
        self.sent: list[object] = []
        super().__init__(table, table_key="k")

    def send(self, content, buffers=None):
        self.sent.append(content)


class _Border:
    """A panel on a bench with another beside it, and the browser's end of its line."""

    def __init__(self, order: Order | None = None) -> None:
        setup = Setup.of(CEDAR, sound_condition(CEDAR), bytes(range(16)), order)
        self.session = Session(setup)
        table = Table(self.session, any_.SHEET, "Inspect.")
        self.panel, self.beside = _Heard(table), _Beside(table)
        self.panel.sent.clear()
        self.beside.sent.clear()

    def receive(self, data: object) -> list[object]:
        """Return what comes back for one message."""
        before = len(self.panel.sent)
        self.panel._handle_msg({"content": {"data": data}, "buffers": []})
        return self.panel.sent[before:]

    def custom(self, content: object) -> list[object]:
        return self.receive({"method": "custom", "content": content})


BORDER = _Border()  # one for all examples: whatever came before, the next must fare no worse

SCALARS = (
    st.none()
    | st.booleans()
    | st.integers(-(10**400), 10**400)
    | st.floats()
    | st.text(max_size=30)
    | st.sampled_from([math.nan, math.inf, 1e308, 2**63, "\ud800", "\x00", "__class__", *KINDS])
)
FIELDS = st.sampled_from(
    [
        *(
            "kind",
            "wish",
            "ask",
            "angle_deg",
            "leaves_mm",
            "screw",
            "turn_deg",
            "torque_nm",
            "outcome",
        ),
        *("into_service", "go_mm", "no_go_mm", "value_mm", "method", "row", "why", "everything"),
        *("at", "band", "by", "found", "hand", "line", "next_days", "on_key", "part", "play_mm"),
        *("reversed", "seated", "sheet", "side", "smooth_to_disc", "tool", "value", "what"),
    ]
)
JSON = st.recursive(
    SCALARS,
    lambda inner: (
        st.lists(inner, max_size=5)
        | st.dictionaries(FIELDS | st.text(max_size=8), inner, max_size=5)
    ),
    max_leaves=12,
)
NEARLY_ACTIONS = st.builds(
    lambda kind, fields: {**fields, "kind": kind},
    st.sampled_from(KINDS) | SCALARS,
    st.dictionaries(FIELDS, JSON, max_size=4),
)


def deep(levels: int) -> object:
    inner: object = "x"
    for _ in range(levels):
        inner = {"wish": [inner]}
    return inner


def assert_harmless(border: _Border, data: object) -> None:
    state, log = border.session.state, len(border.session.events)
    heard = len(border.beside.sent)
    back = border.receive(data)
    new = border.session.events[log:]
    beside = border.beside.sent[heard:]

    assert len(back) <= 1
    assert len(beside) <= 1
    assert all(message["reply"] == back[0]["reply"] for message in beside)
    assert len(new) <= 1
    # Only an action that was carried out may have changed anything, and it is in the log.
    if not new or not new[0].observation["done"]:
        assert border.session.state is state
    json.dumps([message for message in back if message != "state"], allow_nan=False)


@settings(max_examples=300)
@given(
    JSON
    | st.builds(
        lambda method, content: {"method": method, "content": content},
        st.sampled_from(["custom", "custom", "update", "request_state", "echo_update"]) | JSON,
        JSON | NEARLY_ACTIONS.map(lambda wish: {"wish": wish}),
    )
)
@example(
    {"method": "custom", "content": {"wish": {"kind": "decide", "outcome": "fit", "row": "\ud800"}}}
)
@example({"method": "custom", "content": {"ask": math.nan}})
def test_no_message_raises_or_changes_anything_but_through_an_action(data):
    """At most one answer, at most one line of the log, and no change without a line."""
    assert_harmless(BORDER, data)


def test_the_log_still_replays_after_all_that():
    """Every kept event of the border above comes out again."""
    again = Session(BORDER.session.setup, events=BORDER.session.events)

    assert again.state == BORDER.session.state


MESSAGES = JSON | st.builds(
    lambda content: {"method": "custom", "content": content},
    NEARLY_ACTIONS.map(lambda wish: {"wish": wish})
    | any_.ANY_ACTION.map(lambda action: {"wish": form.to_json(action)})
    | JSON,
)


@settings(max_examples=60)
@given(st.sampled_from(Start), st.lists(MESSAGES, max_size=15))
def test_any_stream_of_messages_leaves_a_bench_whose_log_replays(start, stream):
    """Good wishes, bad ones and noise in any order, from every place a job can begin."""
    border = _Border(Order(start=start))
    for data in stream:
        assert_harmless(border, data)
    again = Session(border.session.setup, events=border.session.events)

    assert again.state == border.session.state


TEN_MEGABYTES = "x" * 10_000_000
BAD_WISHES = {
    "no wish": {},
    "no kind": {"wish": {}},
    "a list": {"wish": []},
    "nothing": {"wish": None},
    "an unknown action": {"wish": {"kind": "open_sesame"}},
    "a hidden method": {"wish": {"kind": "__init__"}},
    "a kind that is no text": {"wish": {"kind": ["land_load"]}},
    "10 MB of text": {
        "wish": {"kind": "decide", "outcome": "fit", "row": "x", "why": TEN_MEGABYTES}
    },
    "10 MB of key": {TEN_MEGABYTES: 1},
    "a thousand deep": deep(1000),
    "many parts": {"wish": list(range(100_000))},
    "NaN": {"wish": {"kind": "turn_screw", "screw": 1, "turn_deg": math.nan}},
    "infinity": {"wish": {"kind": "turn_shaft", "turn_deg": math.inf}},
    "a huge number": {"wish": {"kind": "turn_screw", "screw": 1, "turn_deg": 1e300}},
    "a huge whole number": {"wish": {"kind": "loosen_lock", "screw": 10**4000}},
    "a fourth screw": {"wish": {"kind": "loosen_lock", "screw": 4}},
    "a screw in words": {"wish": {"kind": "loosen_lock", "screw": "1"}},
    "a screw and a half": {"wish": {"kind": "loosen_lock", "screw": 1.5}},
    "true for a number": {"wish": {"kind": "turn_shaft", "turn_deg": True}},
    "a missing field": {"wish": {"kind": "gauge_gap", "angle_deg": 0}},
    "a field too many": {"wish": {"kind": "isolate", "force": True}},
    "no leaves": {"wish": {"kind": "gauge_gap", "angle_deg": 0, "leaves_mm": []}},
    "negative leaves": {"wish": {"kind": "gauge_gap", "angle_deg": 0, "leaves_mm": [-0.3]}},
    "an angle past the rim": {"wish": {"kind": "measure_disc", "angle_deg": 360}},
    "an unknown outcome": {"wish": {"kind": "decide", "outcome": "perhaps", "row": "x"}},
}


@pytest.mark.parametrize("content", BAD_WISHES.values(), ids=list(BAD_WISHES))
def test_a_bad_wish_is_answered_with_one_sentence_and_logged(content, caplog):
    """One reply that says so, nothing done, nothing in the log, a line in the log file."""
    border = _Border()
    state = border.session.state
    (answer,) = border.custom(content)

    assert answer["reply"]["done"] is False
    assert 10 < len(answer["reply"]["words"]) < 400
    assert "Traceback" not in answer["reply"]["words"]
    assert border.session.state is state
    assert border.session.events == []
    assert len(caplog.records) == 1
    assert len(caplog.records[0].getMessage()) < 500


@pytest.mark.parametrize("content", BAD_WISHES.values(), ids=list(BAD_WISHES))
def test_a_refusal_is_sent_once_to_the_part_that_asked(content):
    """One message without a scene for the whole page: the part that asked passes it on there."""
    border = _Border()
    (answer,) = border.custom(content)

    assert border.beside.sent == []
    assert set(answer) == {"reply"}


@pytest.mark.parametrize("what", ["10 MB of text", "10 MB of key", "a thousand deep", "many parts"])
def test_what_has_no_bound_is_stopped_at_the_border(what, monkeypatch):
    """The session is not even asked."""
    border = _Border()
    asked = []
    monkeypatch.setattr(border.session, "wish", asked.append)
    (answer,) = border.custom(BAD_WISHES[what])

    assert asked == []
    assert "too large" in answer["reply"]["words"]


@pytest.mark.parametrize("content", [None, 7, "x" * 10_000_000, [], [{"wish": 1}], True])
def test_content_that_is_no_object_is_answered_with_one_sentence(content):
    """Too large or not readable, and nothing has changed."""
    border = _Border()
    (answer,) = border.custom(content)

    assert "Nothing has changed" in answer["reply"]["words"]
    assert border.session.events == []


@pytest.mark.parametrize("trait", ["table_key", "_esm", "_css", "comm", "layout", "_table", "sent"])
def test_the_browser_cannot_set_a_trait(trait):
    """An update from the page is dropped without an answer."""
    border = _Border()
    before = getattr(border.panel, trait)
    back = border.receive({"method": "update", "state": {trait: "owned"}, "buffer_paths": []})

    assert back == []
    assert getattr(border.panel, trait) is before


@pytest.mark.parametrize(
    "message", [{}, {"content": {}}, {"content": None}, {"content": {"data": 3}}]
)
def test_a_frame_without_its_parts_is_dropped(message):
    """A message that lacks content or data raises nothing and is not answered."""
    border = _Border()
    border.panel._handle_msg(message)

    assert border.panel.sent == []


def test_whoever_waits_is_told_when_the_program_fails(monkeypatch):
    """A fault of ours behind a button is said at once, in one sentence, without its traceback."""
    border = _Border()
    monkeypatch.setattr(border.session, "wish", lambda _: 1 / 0)
    (answer,) = border.custom({"wish": {"kind": "land_load"}})

    assert answer["reply"]["words"] == FAILED
    assert not answer["reply"]["done"]


def test_a_good_wish_is_answered_once_with_the_new_scene():
    """The same line carries a proper wish: the border is not merely shut."""
    border = _Border()
    (answer,) = border.custom({"wish": {"kind": "land_load"}})

    assert answer["reply"]["done"]
    assert answer["scene"]["load_landed"]
    assert [event.action["kind"] for event in border.session.events] == ["land_load"]


@pytest.mark.parametrize("form", [form.to_json, lambda action: {"kind": action.kind}])
def test_everything_can_be_asked_for_at_any_time(form):
    """One answer with the fixed part, the scene and the last reply."""
    border = _Border()
    border.custom({"wish": form(do.Isolate())})
    (answer,) = border.custom({"ask": "everything"})

    assert set(answer) == {"fixed", "scene", "reply"}
    assert answer["reply"]["done"]


def test_small_is_bounded_in_text_parts_and_depth():
    """Just inside passes, just outside does not."""
    assert is_small({"a": "x" * (LONGEST_TEXT - 1)})
    assert not is_small({"a": "x" * LONGEST_TEXT})
    assert is_small([[[[[[[[1]]]]]]]])
    assert not is_small([[[[[[[[[1]]]]]]]]])
    assert not is_small([0] * 401)


@given(JSON)
def test_any_wish_at_the_session_is_answered(form):
    """Also without the panel's guard before it: an observation, never an exception."""
    session = Session(BORDER.session.setup)
    observation = session.wish(form)

    assert said(observation)
    assert observation.done == (len(session.events) == 1 and session.events[0].observation["done"])


@given(st.sampled_from([TEN_MEGABYTES, deep(1000), deep(100_000)]))
@settings(max_examples=3)
def test_text_and_depth_without_bound_are_refused_by_the_session_too(form):
    """Ten megabytes and a hundred thousand levels."""
    session = Session(BORDER.session.setup)
    observation = session.wish({"kind": "decide", "outcome": "fit", "row": form})

    assert not observation.done
    assert session.events == []

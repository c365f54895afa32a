"""The trainer's stage and the coach's panel: what is shown, what is hidden, what is stepped through."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quizzes.candidates.worker import HABITS
from quizzes.desks.apprentice.coach_panel import CoachPanel
from quizzes.desks.trainer.stage import Stage, Staging, recorded
from quizzes.sittings.run import the_sheet
from widgets.bench import actions as do
from widgets.bench.session import Session
from widgets.bench.setup import Start
from widgets.brake.faults import FAULTS
from widgets.page.prompt_panel import FormPanel

CHOICE = {"size": "Cedar-47", "fault": "oiled", "second": "none", "start": "open", "word": "quince"}
JSON = st.recursive(
    st.none() | st.booleans() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner, max_size=3),
    max_leaves=8,
)  # fmt: skip


@pytest.fixture
def sent(monkeypatch) -> list[dict]:
    messages = []
    monkeypatch.setattr(
        FormPanel, "send", lambda _, content, buffers=None: messages.append(content)
    )
    return messages


def tell(panel: FormPanel, content: object) -> None:
    panel._handle_msg(
        {"content": {"data": {"method": "custom", "content": content}}, "buffers": []}
    )


def staged(**changed) -> Stage:
    stage = Stage()
    tell(stage._form, {"send": "set out", "values": CHOICE | changed})
    return stage


def test_one_word_gives_one_brake_everywhere():
    """Size, faults and word settle the condition to the last bit; another word another brake."""
    first, again, other = (
        Staging("Birch-23", ("gap-tilted",), word, Start.OPEN).case(the_sheet())
        for word in ("plum", "plum", "pear")
    )

    assert first == again
    assert first.seed == again.seed
    assert first.condition != other.condition


@pytest.mark.parametrize("row", FAULTS, ids=lambda row: row.id)
@pytest.mark.parametrize("size", the_sheet().sizes, ids=lambda size: size.name)
def test_every_fault_can_be_set_out_on_every_size(row, size):
    """And the case knows which it is."""
    case = Staging(size.name, (row.id,), "quince", Start.WORK_ORDER).case(the_sheet())

    assert case.faults == (row.id,)


def test_the_truth_is_hidden_until_it_is_asked_for_and_can_be_hidden_again():
    """One press shows it, the next takes it away."""
    stage = staged()
    before = stage._truth.children
    tell(stage._board, {"send": "truth"})
    shown = stage._truth.children
    tell(stage._board, {"send": "truth"})

    assert before == ()
    assert "Oil on the lining" in shown[0].value
    assert stage._truth.children == ()


def test_a_run_can_be_stepped_forward_and_back(sent):
    """Ten steps and one back leave nine, and the bench stands as after nine."""
    stage = staged()
    tell(stage._board, {"send": "run", "values": {"hand": "careful"}})
    tell(stage._board, {"send": "ten"})
    tell(stage._board, {"send": "back"})
    script = recorded(stage._case, the_sheet(), "careful")
    alone = Session(stage._case.setup())
    for action in script[:9]:
        alone.act(action)

    assert len(stage._session.events) == 9
    assert stage._session.state == alone.state
    assert f"step 9 of {len(script)}" in str(sent[-1])


@pytest.mark.parametrize("habit", list(HABITS))
def test_every_candidates_run_can_be_recorded(habit):
    """For a debrief on what a misunderstanding looks like."""
    case = Staging("Alder-11", ("gap-too-large",), "quince", Start.WORK_ORDER).case(the_sheet())

    assert len(recorded(case, the_sheet(), habit)) > 10


@settings(max_examples=60)
@given(JSON, st.sampled_from(["set out", "truth", "run", "next", "back", "again", "other", "x"]))
def test_nothing_that_arrives_breaks_the_stage(values, send):
    """Whatever the browser sends, a person can go on."""
    stage = staged()
    for panel in (stage._form, stage._board):
        tell(panel, {"send": send, "values": values})
        tell(panel, values)
        tell(panel, {"send": values})

    assert stage.page.children


def test_a_size_that_is_not_on_the_sheet_is_said(sent):
    """The form stays as it is."""
    stage = Stage()
    tell(stage._form, {"send": "set out", "values": CHOICE | {"size": "Nowhere-1"}})

    assert "Choose a size" in sent[-1]["reply"]["words"]


def test_the_coach_tells_one_step_more_each_time(sent):
    """Question, then where, then why; done, and the next hint begins with its question."""
    case = Staging("Cedar-47", ("oiled",), "quince", Start.WORK_ORDER).case(the_sheet())
    session = Session(case.setup())
    coach = CoachPanel(case, session)
    told = []
    for _ in range(4):
        tell(coach.form, {"send": "hint"})
        told.append(list(sent[-1]["form"]["words"]))
    session.act(do.LandLoad())
    tell(coach.form, {"send": "hint"})

    assert [len(words) for words in told] == [1, 2, 3, 3]
    assert told[2][:2] == told[1]
    assert len(sent[-1]["form"]["words"]) == 1
    assert "Oil" not in str(sent)

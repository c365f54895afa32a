"""The trainer's stage and the coach's panel: what is shown, what is hidden, what is stepped through."""

import shutil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quizzes.candidates.worker import HABITS
from quizzes.desks.apprentice.coach_panel import CoachPanel
from quizzes.desks.trainer import guide
from quizzes.desks.trainer.run_words import DECISIONS, act_line, next_decision, parted_at
from quizzes.desks.trainer.stage import Stage, stage_page
from quizzes.desks.trainer.staging import (
    Staging,
    from_address,
    from_sitting,
    recorded,
    sitting_address,
)
from quizzes.desks.trainer.staging import (
    staged as set_out,
)
from quizzes.grading.grade import grade_case
from quizzes.records import Records, default_url
from quizzes.sittings.run import the_sheet
from tests import strategies as any_
from tests.desks.pages import begun
from widgets.bench import actions as do
from widgets.bench.session import Session
from widgets.bench.setup import Start
from widgets.brake.faults import FAULTS
from widgets.page.prompt_panel import FormPanel

CHOICE = {
    "size": "Cedar-47",
    "fault": "oiled",
    "second": "none",
    "start": "open",
    "word": "quince",
    "run": "none",
}
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
    """One press shows it, the next takes it away; the brake's own widget stays where it was."""
    stage = staged()
    before, brake = stage._truth.children[0].value, stage._brake.children
    tell(stage._board, {"send": "truth"})
    shown = stage._truth.children[0].value
    tell(stage._board, {"send": "truth"})

    assert "hidden" in before
    assert "Oil on the lining" in shown
    assert stage._truth.children[0].value == before
    assert stage._brake.children == brake


def test_a_run_can_be_stepped_forward_and_back(sent):
    """Ten steps and one back leave nine, and the bench stands as after nine."""
    stage = staged(run="careful")
    tell(stage._board, {"send": "ten"})
    tell(stage._board, {"send": "back"})
    script = recorded(stage._staged.case, the_sheet(), "careful")
    alone = Session(stage._staged.case.setup())
    for action in script[:9]:
        alone.act(action)

    assert len(stage._session.events) == 9
    assert stage._session.state == alone.state
    assert sent[-1]["form"]["title"] == f"Step 9 of {len(script)}"
    assert sent[-1]["form"]["words"][0] == f"{act_line(script[8])}."


def test_whose_run_it_is_stays_hidden_until_it_is_revealed(sent):
    """Not on the board, not beside the brake, not in the address of another page."""
    stage = staged(run="leaf-forced")
    tell(stage._board, {"send": "ten"})
    hidden = str(sent[-1]) + stage._truth.children[0].value
    tell(stage._board, {"send": "reveal"})

    assert "leaf forced" not in hidden
    assert "Whose run: hidden." in hidden
    assert "Whose run: leaf forced." in str(sent[-1])


def test_one_press_goes_to_just_before_the_next_decision(sent):
    """The class votes first; the next press goes on, and the last one ends the run."""
    stage = staged(run="careful")
    script = stage._staged.run
    stops = []
    for _ in range(4):
        tell(stage._board, {"send": "decision"})
        stops.append(len(stage._session.events))
        asked = str(sent[-1])
        assert stops[-1] == len(script) or "What would the class decide?" in asked
    decisions = [number for number, action in enumerate(script) if action.kind in DECISIONS]

    assert stops == [*decisions, *[len(script)] * (4 - len(decisions))]
    assert next_decision(script, len(script)) == len(script)


def test_a_step_beyond_either_end_is_answered(sent):
    """The keys wait for an answer to each press: without one they would stay shut."""
    stage = staged(run="careful")
    told = []
    for pressed in ("back", "next", *["decision"] * 4, "ten"):
        tell(stage._board, {"send": pressed})
        told.append(sent[-1].get("reply", {}).get("words"))

    assert told[:2] == ["The run begins here.", None]
    assert told[-1] == "The run ends here."


def test_work_by_hand_past_the_end_of_a_run_is_said_and_one_step_back_returns_to_it(sent):
    """A trainer may take the tools in a run; the board keeps its words, and the run its place."""
    stage = staged(run="careful")
    whole = len(stage._run)
    stage._go_to(whole - 1)
    for _ in range(3):
        stage._session.wish({"kind": "look", "at": "outside"})
    board = [one["form"] for one in sent if "form" in one][-1]

    assert board["title"] == f"Step {whole} of {whole}"
    assert any("Worked by hand" in words for words in board["words"])
    tell(stage._board, {"send": "back"})
    assert len(stage._session.events) == whole


def test_at_the_end_stand_the_verdict_and_where_the_run_parted():
    """The first step at which careful work on this very brake would have been another."""
    stage = staged(fault="gap-tilted", run="equal-turns-on-a-tilted-gap")
    for _ in range(4):
        tell(stage._board, {"send": "decision"})
    script, careful = stage._staged.run, stage._staged.careful
    step = parted_at(script, careful)
    said = stage._truth.children[0].value

    assert script[:step] == careful[:step]
    assert script[step].kind == "turn_screw"
    assert f"left the careful run at step {step + 1}" in said
    assert act_line(script[step]) in said
    assert "The verdict" in said
    assert parted_at(careful, careful) is None


def test_readings_written_are_counted_as_found_and_after_told_apart(sent):
    """Two before the decision, one struck out; one after it."""
    stage = staged()
    session = stage._session
    for action in (
        do.WriteGap(0.0, 0.4, 0.5), do.WriteGap(90.0, 0.4, 0.5), do.WriteGap(180.0, 0.4, 0.5),
        do.StrikeOut("gap", 0), do.WriteDisc(0.0, 10.0, "caliper"),
        do.Decide("adjust", "Cedar-47"), do.WriteGap(0.0, 0.3, 0.35),
    ):  # fmt: skip
        assert session.act(action).done, action

    assert (
        "Written: 2 of the gap as found, 1 of the disc; 1 of the gap after the decision."
        in sent[-1]["form"]["words"]
    )


RUNS_OF_THE_GUIDE = [(one, one.run) for one in guide.SET_UPS if one.run and one.run != "careful"]


@pytest.mark.parametrize(("one", "run"), RUNS_OF_THE_GUIDE, ids=lambda each: str(each)[:12])
def test_the_guides_own_runs_end_with_what_the_guide_says(one, run):
    """The misunderstanding that the guide names shows on that very brake; careful work is right."""
    brake = set_out(the_sheet(), Staging(one.size_name(the_sheet()), one.fault_ids, one.word,
                                         one.start), run)  # fmt: skip
    grades = []
    for script in (brake.run, brake.careful):
        session = Session(brake.case.setup())
        for action in script:
            session.act(action)
        grades.append(grade_case(brake.case, session.events).to_json())

    assert run in grades[0]["misconceptions"]
    assert grades[0]["standing"] == "not yet"
    assert grades[1]["standing"] == "right"


def test_an_address_opens_the_stage_with_that_very_brake():
    """What a guide or a bookmark holds gives the same brake and run as the form."""
    staging = Staging("Cedar-47", ("gap-tilted",), "trolley & hook", Start.OPEN)
    query = staging.address("leaf-forced").partition("?")[2]
    found = from_address(query, the_sheet(), None)

    assert found == set_out(the_sheet(), staging, "leaf-forced")
    assert from_address("visit=1", the_sheet(), None) is None


@pytest.mark.parametrize(
    "query",
    ["size=Nowhere-1", "size=Cedar-47&faults=nonsense", "size=Cedar-47&start=notes", "sitting=x",
     "size=Cedar-47&faults=oiled,glazed,warped", "size=%ff&word=%00", "size=" + "x" * 9000],
)  # fmt: skip
def test_a_wrong_address_gets_a_sentence_and_the_form(monkeypatch, query, sent):
    """Whatever somebody typed there, the trainer can go on."""
    monkeypatch.setenv("QUERY_STRING", query)
    page = stage_page()

    assert len(page.children) == 1
    assert "visit" not in str(sent)


def test_a_case_of_a_finished_sitting_comes_with_what_that_person_did(demo_file, store_file):
    """From a debrief: that very brake, that person's steps; an open sitting stays closed."""
    shutil.copyfile(demo_file, store_file)
    with Records(default_url()) as store:
        finished = next(row for row in store.results() if row.finished_at is not None)
        query = sitting_address(finished.sitting_id, 1).partition("?")[2]
        brake = from_address(query, the_sheet(), store)

        assert brake.run
        assert brake.run_called == finished.name
        assert finished.name not in brake.called
        with pytest.raises(ValueError, match="not finished"):
            from_sitting(store, begun(store).id, 1)
        with pytest.raises(ValueError, match="cases 1 to"):
            from_sitting(store, finished.sitting_id, 99)


@given(st.one_of(list(any_.ACTIONS_BY_KIND.values())))
@settings(max_examples=120)
def test_every_act_has_words_for_the_last_row(action):
    """Short, capitalised, no key of the code, no empty place."""
    words = act_line(action)

    assert words[0].isupper() or words[0].isdigit()
    assert "_" not in words.replace("wear_plate", "")
    assert "{" not in words
    assert len(words) < 120


@pytest.mark.parametrize("habit", list(HABITS))
def test_every_candidates_run_can_be_recorded(habit):
    """For a debrief on what a misunderstanding looks like."""
    case = Staging("Alder-11", ("gap-too-large",), "quince", Start.WORK_ORDER).case(the_sheet())

    assert len(recorded(case, the_sheet(), habit)) > 10


@settings(max_examples=15)
@given(
    JSON,
    st.sampled_from(
        ["set out", "truth", "reveal", "decision", "next", "back", "again", "other", "x"]
    ),
)
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

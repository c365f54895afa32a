"""The practice bench: a brake that survives its page, and what a drill asks for."""

import pytest

from quizzes.candidates.worker import CAREFUL, work
from quizzes.cases.drawing import draw_case
from quizzes.desks.apprentice.practice import Practice, explanation_html, practice_case
from quizzes.sittings import practice_kept
from quizzes.sittings.practice_kept import Begun, Kept
from quizzes.sittings.run import the_sheet
from tests.desks.pages import KEY, tell
from widgets.bench import actions as do
from widgets.bench.session import Session
from widgets.bench.setup import Start
from widgets.page.prompt_panel import FormPanel

CHOICE = {"size": "Cedar-47", "start": "open"}
SEED = bytes(range(32))


@pytest.fixture
def sent(monkeypatch) -> list[dict]:
    messages = []
    monkeypatch.setattr(
        FormPanel, "send", lambda _, content, buffers=None: messages.append(content)
    )
    return messages


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    """A folder such as the server gives its kernels; the suite's own sheet in force."""
    monkeypatch.setenv(practice_kept.FOLDER, str(tmp_path / "practice"))
    monkeypatch.delenv("GAL_LIMITS", raising=False)
    return tmp_path / "practice"


def opened(key=KEY, *, at_work=False) -> Practice:
    page = Practice()
    tell(page, {"ask": "form", "browser_key": key, "at_work": at_work})
    return page


def session_of(page: Practice) -> Session:
    return page.page.children[0].children[0]._table.session


def begun() -> Practice:
    page = opened()
    tell(page, {"send": "start", "values": CHOICE})
    for action in (do.GaugeGap(0.0, (0.05,)), do.WriteGap(0.0, 0.05, 0.10), do.WorkLever()):
        session_of(page).act(action)
    return page


def test_a_reload_takes_the_same_brake_up_where_it_stood(sent):
    """The tab says that it was at work: same brake, same notes, and it goes on being kept."""
    before = session_of(begun())
    page = opened(at_work=True)
    after = session_of(page)

    assert after.setup.condition == before.setup.condition
    assert after.state == before.state
    after.act(do.TryLock(1))
    assert session_of(opened(at_work=True)).state == after.state


def test_another_tab_is_offered_the_brake_and_another_browser_is_not(sent):
    """Only who has the key gets on; a new tab chooses."""
    begun()
    sent.clear()
    opened()
    offered = [name for name, _ in sent[-1]["form"]["buttons"]]
    stranger = opened("cd" * 32, at_work=True)

    assert offered == ["start", "go on"]
    assert len(stranger.page.children) == 1  # the form, and no bench


def test_the_browser_holds_nothing_of_the_brake(sent):
    """What goes to the page of a brake that is kept names neither seed nor fault."""
    begun()
    page = opened(at_work=True)
    told = str(sent) + str(session_of(page).setup.order)

    assert Kept(KEY).found()[0].seed.hex() not in told


@pytest.mark.parametrize("spoilt", ["", "{}", "[1]", "not json", '{"seed": "00", "size": 3}'])
def test_a_file_that_cannot_be_read_is_no_brake(sent, folder, spoilt):
    """A file cut off by a full disk, or written by somebody else, breaks no page."""
    begun()
    for file in folder.iterdir():
        file.write_text(spoilt, encoding="utf-8")

    assert Kept(KEY).found() is None
    assert len(opened(at_work=True).page.children) == 1


def test_a_folder_never_fills_up(folder, monkeypatch):
    """Who makes up keys pushes out old brakes and fills no disk."""
    monkeypatch.setattr(practice_kept, "MOST_BRAKES", 3)
    monkeypatch.setattr(practice_kept, "MOST_ACTIONS", 2)
    for number in range(5):
        kept = Kept(f"{number}")
        kept.begin(Begun(SEED, None, Start.OPEN))
        session = Session(practice_case(the_sheet(), Begun(SEED, None, Start.OPEN)).setup())
        session.listen(lambda at, _, kept=kept: kept.keep(at.events[-1]))
        for _ in range(3):
            session.act(do.WorkLever())

    assert len(list(folder.iterdir())) == 3
    assert len(kept.found()[1]) == 2


@pytest.mark.parametrize("start", [Start.OPEN, Start.BODY_OFF])
def test_a_drill_is_graded_on_what_it_had(start):
    """Careful work loses nothing for a gap that was not there, or a coil that nobody asked about."""
    case = practice_case(the_sheet(), Begun(SEED, "Cedar-47", start))
    session = Session(case.setup())
    coil = {"measure_coil", "find_release"}
    sheet = the_sheet()
    work(lambda one: session.act(one if one.kind not in coil else do.WorkLever()), sheet, CAREFUL,
         case.order)  # fmt: skip
    told = explanation_html(case, session)

    assert "Coil measured" not in told
    assert start is Start.OPEN or "Gap measured all round" not in told
    assert "Your job, judged" in told
    assert told.index("What went well") < told.index("Your job, judged")


@pytest.mark.parametrize(
    ("family", "words"),
    [
        ("gap-tilted", "<b>Tilted gap.</b>"),
        # Gap and disc are good: only the load test shows what is wrong.
        ("two brakes, this one carries little", "more to light: It did not hold the test load."),
    ],
)
def test_the_explanation_says_what_lay_on_the_brake_and_what_came_to_light_later(family, words):
    """Nobody is left with "fit as found" beside a right refusal, and no word why."""
    case = draw_case(family, the_sheet().size("Cedar-47"), SEED)
    session = Session(case.setup())
    work(session.act, the_sheet(), CAREFUL, case.order)

    assert words in explanation_html(case, session)


@pytest.mark.parametrize("decided", ["fit", "adjust", "replace", "refer"])
@pytest.mark.parametrize("start", [Start.OPEN, Start.BODY_OFF])
def test_a_job_of_which_nothing_is_known_is_explained_too(start, decided):
    """Handed over at once, without a reading or a look: the explanation says what the brake was."""
    case = practice_case(the_sheet(), Begun(SEED, "Cedar-47", start))
    session = Session(case.setup())
    session.act(do.Decide(decided, "Cedar-47", "Nothing known.", ("coil",)))
    session.act(do.HandOver(into_service=False, remarks="None.", next_days=30))

    assert session.state.handed_over
    assert "What this brake was" in explanation_html(case, session)

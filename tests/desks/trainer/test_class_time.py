"""A class that keeps the allowed minutes, and one that works through pages, by what pages send."""

import datetime as dt

import pytest

from quizzes.candidates.worker import CAREFUL, work
from quizzes.cases.case import Depth
from quizzes.desks import in_class
from quizzes.desks.assessor.evidence_sheet import evidence_html
from quizzes.desks.trainer import class_desk
from quizzes.desks.trainer.class_pages import pages_to_give
from quizzes.sittings import run as sitting_run
from quizzes.sittings.export import exported
from quizzes.sittings.in_class.allowed import TIME_IS_UP, own_time_left
from quizzes.sittings.replay import replay_export
from quizzes.sittings.run import SittingRun
from tests.desks.trainer.test_class_desk import at_work, joined, send  # noqa: F401 (a fixture)
from widgets.bench import actions as do

PAGES = "01_how_the_brake_holds.ipynb,bench.ipynb"
MINUTES = dt.timedelta(minutes=1)


class Clock:
    """The time, which goes on when a test says so."""

    def __init__(self) -> None:
        self.at = dt.datetime(2026, 11, 28, 9, 0, tzinfo=dt.UTC)

    def __call__(self) -> dt.datetime:
        return self.at


@pytest.fixture
def clock(monkeypatch) -> Clock:
    """The clock of every page of the test."""
    made = Clock()
    for module in (in_class, class_desk, sitting_run):
        monkeypatch.setattr(module, "now", made)
    monkeypatch.setattr("quizzes.desks.apprentice.assessment.now", made)
    monkeypatch.setattr(SittingRun.__init__, "__defaults__", (made, None))
    return made


@pytest.fixture
def timed(at_work, clock):  # noqa: F811
    """A class that keeps the minutes of its form, and has two pages to work through."""
    page, room, _ = at_work
    send(page, "make", name="Timed", day="2026-11-28", form="class_exercise", list="Ann Fen,1\nBo Reed,2",
         pages=PAGES, time="kept")  # fmt: skip
    one = next(found for found in room.classes() if found.name == "Timed")
    return page, room, one


def begun(monkeypatch, room, one):
    """Return the page of somebody who has begun, with one act done."""
    page = joined(monkeypatch, room, one, "1")
    send(page, "start")
    return page


def row_of(page, number: str = "1") -> dict:
    return next(row for row in page._rows()["rows"] if row["number"] == number)


def test_when_the_minutes_are_up_the_sitting_is_closed_and_graded_as_it_stands(
    timed, clock, monkeypatch, sent, store
):
    """Nothing that was done is lost, nothing more is added, and grading again gives the same."""
    desk_page, room, one = timed
    page = begun(monkeypatch, room, one)
    run = page._run
    run.keep_answer(0, run.questions[0].hidden.item.id, {"choice": 0})
    clock.at += 29 * MINUTES
    assert row_of(desk_page)["where"] == "has left at case 1"
    clock.at += 2 * MINUTES
    with pytest.raises(ValueError, match="The time is up"):
        run.keep_answer(1, run.questions[1].hidden.item.id, {"choice": 0})
    send(page, "time up")

    assert sent[-1]["form"]["alarm"] == TIME_IS_UP
    sitting = store.sitting(run.sitting.id)
    assert sitting.finished_at == clock.at
    outcome = store.outcomes(sitting.id)[-1].content
    assert (outcome["cases"], outcome["cases_asked"], outcome["passed"]) == (0, 10, False)
    assert "sitting.unfinished" in [reason["code"] for reason in outcome["reasons"]]
    assert run.answers() == {0: {"choice": 0}}
    assert replay_export(exported(store, sitting.id)).same
    assert "not to be trusted" not in evidence_html(store, sitting)
    assert row_of(desk_page)["where"].startswith("finished")


def test_a_case_in_hand_is_graded_on_what_was_done(timed, clock, monkeypatch, sent, store):
    """The board closes it, though the page is gone; a case that nobody began has no grade."""
    desk_page, room, one = timed
    run = begun(monkeypatch, room, one)._run
    while run.case.depth is not Depth.BENCH:
        run.rehearse(
            lambda session: work(session.act, run.kept.sheet, CAREFUL, session.setup.order)
        )
    done, session = len(run.grades), run.session()
    session.act(do.ReadPlate())
    clock.at += 31 * MINUTES
    row = row_of(desk_page)
    again = SittingRun(store, store.sitting(run.sitting.id))

    assert row["where"].startswith("finished")
    assert (again.finished, len(again.grades), len(again.cases)) == (True, done + 1, 10)
    assert again.grades[-1]["standing"] == "not yet"
    assert replay_export(exported(store, run.sitting.id)).same


def test_more_minutes_and_a_pause_are_honoured(timed, clock, monkeypatch, sent, store):
    """Ten more minutes and a pause of twenty: closed after sixty, not before."""
    desk_page, room, one = timed
    page = begun(monkeypatch, room, one)
    send(desk_page, "pause")
    clock.at += 20 * MINUTES
    send(desk_page, "go on")
    desk_page._board.heard({"person": room.members(one.id)[0].person_id})
    send(desk_page, "give", form="", minutes="10", reason="reads slowly")
    clock.at += 39 * MINUTES
    before = row_of(desk_page)
    clock.at += 2 * MINUTES
    after = row_of(desk_page)

    assert (before["minutes"], before["allowed_minutes"]) == (39, 40)
    assert not before["where"].startswith("finished")
    assert after["where"].startswith("finished")
    assert page._run.sitting.id == room.progress(one.id)[0].sitting_id


def test_nobody_gets_the_time_twice(timed, clock, monkeypatch, sent, store):
    """Who comes back after the end sees how it ended, and cannot begin again."""
    _, room, one = timed
    begun(monkeypatch, room, one)
    clock.at += 31 * MINUTES
    back = joined(monkeypatch, room, one, "1")
    assert back._run.finished
    send(back, "new")
    send(back, "start")

    assert "You have sat the form of this class" in str(sent[-1])
    assert len(store.results()) == 1


@pytest.mark.parametrize("first", ["not mine", "new", "start"])
def test_nobody_gets_fresh_minutes_while_a_sitting_is_open(timed, clock, monkeypatch, store, first):
    """Whoever begins again, by a message that no button of theirs sends, goes on as they stood."""
    _, room, one = timed
    page = begun(monkeypatch, room, one)
    begun_as = page._run.sitting.id
    clock.at += 20 * MINUTES
    send(page, first)
    send(page, "start")
    clock.at += 11 * MINUTES
    back = joined(monkeypatch, room, one, "1")

    assert [row.sitting_id for row in store.results()] == [begun_as]
    assert back._run.finished


def test_a_clock_that_is_set_back_gives_no_minutes_back(timed, clock, monkeypatch, sent, store):
    """What was done at the 29th minute was done then, whatever the machine says afterwards."""
    _, room, one = timed
    run = begun(monkeypatch, room, one)._run
    person = room.members(one.id)[0].person_id
    clock.at += 29 * MINUTES
    run.keep_answer(0, run.questions[0].hidden.item.id, {"choice": 0})
    clock.at -= 20 * MINUTES

    left = own_time_left(store, room, one.id, person, clock.at)
    assert left.left_s == 60


def test_while_the_machine_sleeps_nobodys_minutes_run(timed, clock, monkeypatch, sent, store):
    """The lid is closed for an hour: what was done is there, all minutes are, and the board says so.

    Whoever asks first after the wake, the board or a page, asks before the server has noted it.
    """
    desk_page, room, one = timed
    run = begun(monkeypatch, room, one)._run
    run.keep_answer(0, run.questions[0].hidden.item.id, {"choice": 0})
    person = room.members(one.id)[0].person_id
    clock.at += 5 * MINUTES
    room.note_awake(clock.at)
    clock.at += 60 * MINUTES
    woken = row_of(desk_page), own_time_left(store, room, one.id, person, clock.at).left_s
    room.note_awake(clock.at)
    clock.at += 10 * MINUTES
    for _ in range(2):  # noted again, nothing has been slept
        room.note_awake(clock.at)
    run.keep_answer(1, run.questions[1].hidden.item.id, {"choice": 0})
    later = row_of(desk_page)
    said = desk_page._rows()["slept"]

    assert (woken[0]["minutes"], woken[0]["where"], woken[1]) == (5, "has left at case 1", 25 * 60)
    assert (later["minutes"], len(room.slept(one.id))) == (5, 2)
    assert run.answers() == {0: {"choice": 0}, 1: {"choice": 0}}
    assert said.startswith("This machine was asleep or switched off from ")
    assert said.endswith("Nobody’s minutes ran; what had been done is kept.")


@pytest.mark.parametrize(
    "does", [[], ["pause"], ["pause", "go on"]], ids=["open", "paused", "on again"]
)
def test_a_pause_and_a_sleep_at_once_count_once(timed, clock, monkeypatch, store, does):
    """The trainer presses Pause before the lid closes, or as the first thing when it opens."""
    desk_page, room, one = timed
    begun(monkeypatch, room, one)
    person = room.members(one.id)[0].person_id
    room.note_awake(clock.at)
    for wish in does[:1]:
        send(desk_page, wish)
    clock.at += 20 * MINUTES
    room.note_awake(clock.at)
    for wish in does[1:]:
        send(desk_page, wish)

    assert own_time_left(store, room, one.id, person, clock.at).left_s == 30 * 60


def test_a_sleep_of_one_class_is_no_other_class_s(timed, clock, at_work):  # noqa: F811
    """A class of the day before yesterday that nobody closed is no longer watched."""
    _, room, one = timed
    for _ in range(2):
        room.note_awake(clock.at)
        clock.at += 60 * MINUTES
    before = len(room.slept(one.id))
    clock.at += 3 * 24 * 60 * MINUTES
    room.note_awake(clock.at)

    assert (before, len(room.slept(one.id))) == (1, 1)


def test_a_class_that_shows_the_minutes_stops_nobody(at_work, clock, monkeypatch, sent, store):  # noqa: F811
    """Twice the time: the person goes on, and the board says that it is over."""
    desk_page, room, one = at_work
    run = begun(monkeypatch, room, one)._run
    clock.at += 90 * MINUTES
    run.keep_answer(0, run.questions[0].hidden.item.id, {"choice": 0})

    row = row_of(desk_page)
    assert row["minutes"] > row["allowed_minutes"]
    assert store.sitting(run.sitting.id).finished_at is None


def test_the_pages_of_a_class_are_asked_for_kept_and_watched(timed):
    """In the order of the course; a lesson counts once all of its check is right."""
    desk_page, room, one = timed
    member = room.members(one.id)[0]
    lesson, bench = one.pages
    assert list(row_of(desk_page)["pages"]) == ["not yet", "not yet"]
    room.note_page(one.id, member.person_id, lesson, one_moment())
    room.note_answers(one.id, member.person_id, lesson, right=2, of=5)
    half = row_of(desk_page)
    room.note_answers(one.id, member.person_id, lesson, right=5, of=5)
    room.note_answers(one.id, member.person_id, lesson, right=1, of=5)
    room.note_page(one.id, member.person_id, bench, one_moment())

    assert (list(half["pages"]), half["where"]) == (
        ["opened", "not yet"],
        "has left; last: lesson 1, 2 of 5 questions right",
    )
    assert list(row_of(desk_page)["pages"]) == ["done", "done"]
    assert desk_page._rows()["pages"][0].startswith("Lesson 1: ")


def one_moment() -> dt.datetime:
    return dt.datetime(2026, 11, 28, 9, 0, tzinfo=dt.UTC)


def test_a_page_that_is_none_is_refused(timed, sent):
    """Whatever the browser sends instead of a page of the suite."""
    desk_page, room, _ = timed
    send(desk_page, "other")
    send(
        desk_page,
        "make",
        name="x",
        day="2026-11-28",
        form="self_check",
        list="Ann,1",
        pages="results.ipynb",
    )

    assert "not a page that a class can be given" in sent[-1]["reply"]["words"]
    assert len(room.classes()) == 2
    assert all(title.startswith("Lesson") for title in list(pages_to_give().values())[:9])

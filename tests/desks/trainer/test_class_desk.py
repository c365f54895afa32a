"""The class desk: a class set up, watched, paused, closed and talked over, by what the page sends."""

import datetime as dt
import io
from types import SimpleNamespace

import pytest
import zxingcpp
from pypdf import PdfReader
from pypdfium2 import PdfDocument

from quizzes.desks import visitor as desk
from quizzes.desks.apprentice.assessment import Assessment
from quizzes.desks.in_class import PAUSE
from quizzes.desks.printing.labels import label_address, labels_pdf
from quizzes.desks.sheets.result_sheets import sheet_html
from quizzes.desks.trainer.class_board import STUCK_MINUTES, Length, Watched, board_rows
from quizzes.desks.trainer.class_desk import ClassDesk
from quizzes.desks.trainer.debrief import Debrief, _hard_case, debrief
from quizzes.desks.visitor import Visitor
from quizzes.records import Records, default_url
from quizzes.records.room.rows import CLOSED, Progress
from quizzes.records.room.store import RoomStore, owner_in_class
from tests.desks.pages import OWNER, tell

NOW = dt.datetime(2026, 11, 28, 9, 0, tzinfo=dt.UTC)
LIST = "Ann Fen,1\nAnn Fen,2\nBo Reed,3"


def send(page, wish: str, **values: str) -> None:
    """Do what a press of a button does."""
    page._form.heard({"send": wish, "values": values})


@pytest.fixture
def at_work(store_file, sent):
    """A class that has just been set up."""
    page = ClassDesk()
    send(page, "make", name="Monday", day="2026-11-28", form="self_check", list=LIST)
    with RoomStore(default_url()) as room:
        yield page, room, room.classes()[0]


def joined(monkeypatch, room, one, number: str) -> Assessment:
    """Return the assessment of a person of the class."""
    member = next(m for m in room.members(one.id) if m.number == number)
    who = Visitor("apprentice", member.person_id, one.id, "room", member.name)
    for module in ("quizzes.desks.in_class", "quizzes.desks.apprentice.assessment"):
        monkeypatch.setattr(f"{module}.visitor", lambda: who)
    page = Assessment()
    tell(page, {"ask": "form", "browser_key": OWNER})
    return page


def test_a_class_is_made_from_name_day_form_and_list(at_work, sent):
    """Its board opens at once, with everybody on it and a code."""
    page, _, one = at_work
    rows = page._rows()

    assert (one.name, one.on_day.isoformat(), one.form_id) == ("Monday", "2026-11-28", "self_check")
    assert [(row["name"], row["number"]) for row in rows["rows"]] == [("Ann Fen", "1"), ("Ann Fen", "2"), ("Bo Reed", "3")]  # fmt: skip
    assert {row["where"] for row in rows["rows"]} == {"has not joined"}
    assert rows["code"] == one.code


@pytest.mark.parametrize(("values", "said"), [
    ({"day": "28.11.2026"}, "expected one like 2026-11-28"), ({"list": ""}, "list is empty"), ({"name": " "}, "class’s name"),
    ({"list": "Ann,1\nBo,1"}, "the number 1"), ({"form": "nonsense"}, "Choose a form"),
])  # fmt: skip
def test_a_class_that_cannot_be_is_refused_in_a_sentence(store_file, sent, values, said):
    """What, where, what was expected; nothing is made."""
    page = ClassDesk()
    send(page, "make", **{"name": "x", "day": "2026-11-28", "form": "self_check", "list": LIST} | values)  # fmt: skip

    assert said in sent[-1]["reply"]["words"]
    with RoomStore(default_url()) as room:
        assert room.classes() == ()


def test_a_person_sits_the_class_form_under_the_lists_name_and_goes_on(
    at_work, monkeypatch, sent, store
):
    """Nothing is chosen or typed; the same person on another device is at the same case."""
    desk_page, room, one = at_work
    page = joined(monkeypatch, room, one, "2")
    assert sent[-1]["form"]["buttons"] == [("start", "Begin")]
    send(page, "start", name="Somebody Else", form="full")
    (row,) = store.results()
    again = joined(monkeypatch, room, one, "2")
    board = desk_page._rows()["rows"]

    assert (row.name, row.form_id) == ("Ann Fen", "self_check")
    assert store.sitting(row.sitting_id).number == "2"
    assert again._run.sitting.id == row.sitting_id
    assert [r["where"] for r in board if r["number"] == "2"] == ["has left at case 1"]


def test_a_pause_stops_everybodys_work_and_loses_nothing(at_work, monkeypatch, sent):
    """Acts are refused with the reason while the class is paused, and after it is closed."""
    desk_page, room, one = at_work
    page = joined(monkeypatch, room, one, "3")
    send(page, "start")
    run, answer = page._run, {"choice": 0}
    send(desk_page, "pause")
    with pytest.raises(ValueError, match="has paused the class"):
        run.keep_answer(0, "x", answer)
    send(desk_page, "go on")
    run.keep_answer(0, "x", answer)
    send(desk_page, "close for good")
    with pytest.raises(ValueError, match="has closed the class"):
        run.keep_answer(1, "x", answer)

    assert run.answers() == {0: answer}
    assert "debrief" in str(sent[-1]["form"]["words"])
    assert PAUSE.endswith(".")


def test_a_paused_class_begins_no_sitting(at_work, monkeypatch, sent, store):
    """The press on Begin is answered with the reason."""
    desk_page, room, one = at_work
    page = joined(monkeypatch, room, one, "1")
    send(desk_page, "pause")
    send(page, "start")

    assert PAUSE in str(sent[-1])
    assert store.results() == ()


def test_more_time_needs_a_reason(at_work, sent):
    """Minutes, form and reason are looked at; what was given stands on the board."""
    page, room, one = at_work
    member = room.members(one.id)[0]
    page._board.heard({"person": member.person_id})
    for minutes, reason in (("x", "slow"), ("999", "slow"), ("10", " ")):
        send(page, "give", form="", minutes=minutes, reason=reason)
        assert "reply" in sent[-1]
    send(page, "give", form="", minutes="10", reason="reads slowly")

    assert page._rows()["rows"][0]["note"] == "10 minutes more"


def test_the_board_comes_back_after_the_list_of_classes(at_work, sent):
    """What is not shown is kept: the trainer goes to and fro."""
    page, _, one = at_work
    send(page, "other")
    page._known.heard({"open": one.id})

    assert page.page.children[-1] is page._board
    assert page._board.comm is not None


@pytest.mark.parametrize("content", [{"send": "give"}, {"send": "free"}, {"send": "close for good"}, {"send": "labels"},
                                     {"open": "x" * 99}, {"person": 3}, {"send": ["make"]}, {}])  # fmt: skip
def test_whatever_the_page_sends_before_there_is_a_class_changes_nothing(store_file, sent, content):
    """No exception and no class."""
    page = ClassDesk()
    page._form.heard(content)
    page._board.heard(content)

    assert page._rows()["rows"] == []


def test_the_kernel_of_another_role_does_nothing(at_work, monkeypatch, sent):
    """Also where the page stands open: each wish asks the table again."""
    page, room, one = at_work
    monkeypatch.setattr(desk, "visitor", lambda: Visitor("assessor"))
    send(page, "close for good")

    assert "trainer" in sent[-1]["reply"]["words"]
    assert room.school_class(one.id).state != CLOSED


def test_hands_stand_first_then_whoever_is_stuck(at_work):
    """And minutes are those of the sitting, without the pause of the class."""
    _, room, one = at_work
    room.raise_hand(one.id, room.members(one.id)[2].person_id, NOW)
    members = room.members(one.id)
    begun, quiet = NOW - dt.timedelta(minutes=30), NOW - dt.timedelta(minutes=STUCK_MINUTES)
    owner = owner_in_class(one.id, members[1].person_id)
    sitting = Progress("s", owner, "self_check", 1, 40, begun, quiet, finished=False, outcome=None)
    pause = (NOW - dt.timedelta(minutes=20), NOW - dt.timedelta(minutes=15))
    seen = Watched((), (pause,), NOW)
    rows = board_rows(members, [sitting], {"s": Length(3, True, 20.4)}, seen)

    assert [row.number for row in rows] == ["3", "2", "1"]
    assert (rows[1].done, rows[1].of, rows[1].minutes, rows[1].allowed_minutes) == (1, 4, 25, 20)
    assert (rows[1].stuck, rows[0].hand, rows[2].stuck) == (True, True, False)


def test_a_camera_reads_the_labels(at_work):
    """Outside check: ZXing, which shares no code with what draws, reads each code of the PDF."""
    _, room, one = at_work
    members, door = room.members(one.id), "http://192.0.2.7:8866/"
    file = labels_pdf(one, members, door)
    page = PdfDocument(file)[0].render(scale=3).to_pil()
    text = "".join(sheet.extract_text() for sheet in PdfReader(io.BytesIO(file)).pages)

    assert {found.text for found in zxingcpp.read_barcodes(page)} == {label_address(door, m.label) for m in members}  # fmt: skip
    assert all(m.name in text and f"{m.label[:4]}-{m.label[4:]}" in text for m in members)


def test_the_debrief_tells_what_the_demo_class_did(demo_class, sent):
    """Each habit of the invented people shows; no name does, and each bad case leads to the Stage."""
    with RoomStore(default_url()) as room, Records(default_url()) as store:
        one = room.classes()[0]
        found = debrief(store, room, one)
        page = ClassDesk()
        page._form.heard({"open": one.id})
        send(page, "close for good")
        html = page.page.children[-1].value
        names = [member.name for member in room.members(one.id)]
    send(page, "print")

    assert (found.people, found.sat, found.finished) == (8, 8, 8)
    assert {"one-place-only", "isolation-skipped"} <= {name for name, _ in found.misunderstandings}
    assert [mean for _, mean, _ in found.elements] == sorted(mean for _, mean, _ in found.elements)
    assert found.cases[0].critical >= found.cases[-1].critical
    assert all(one.address.startswith("stage.ipynb?sitting=") for one in found.cases)
    assert abs(sum(off for _, off in found.deviations) / len(found.deviations)) < 0.1
    assert "data:image" in html
    assert not [name for name in names if name in html]
    assert sent[-1]["file"]["name"] == "debrief.pdf"


def test_a_case_of_a_sitting_that_is_not_finished_leads_nowhere():
    """The Stage shows no brake of one, so the debrief offers no way there, and says why."""
    grade = {"standing": "not yet", "critical": [], "elements": [{"score": 0.4}]}
    case = SimpleNamespace(work_order="Look.", size=SimpleNamespace(name="Elm-140"))
    run = SimpleNamespace(cases=[case], finished=False, sitting=SimpleNamespace(id="s"))
    shown = _hard_case(run, 0, grade)
    run.finished = True
    one = SimpleNamespace(name="Monday")
    facts = Debrief(one, 1, 1, 0, {}, [], [], [], [shown], []).facts()

    assert shown.address == ""
    assert _hard_case(run, 0, grade).address == "stage.ipynb?sitting=s&case=1"
    html = sheet_html("debrief", **facts)
    assert "<a " not in html
    assert "the sitting is not finished" in html


def test_an_address_that_is_gone_is_said_on_the_board_and_everybody_joins_again(
    at_work, monkeypatch
):
    """192.0.2.1 is nobody's (RFC 5737): the trainer reads why nobody comes, and frees all places."""
    page, room, one = at_work
    assert page._rows()["alarm"] == ""
    monkeypatch.setenv("GAL_DOOR", "http://192.0.2.1:8866/")
    members = room.members(one.id)
    room.join("a" * 64, members[0], NOW)

    assert "192.0.2.1 is no longer its own" in page._rows()["alarm"]
    send(page, "free all")
    assert any(member.joined for member in room.members(page._class_id))  # it asks first
    send(page, "free all now")
    room.join("b" * 64, members[0], NOW)
    assert room.seat("b" * 64).member.person_id == members[0].person_id


@pytest.mark.parametrize("wish", ["go on", "pause", "say", "add", "give", "free all now"])
def test_a_second_trainer_reopens_no_class_that_the_first_has_closed(at_work, sent, wish):
    """Their page still shows the board of before; it says what has happened, and changes nothing."""
    _, room, one = at_work
    other = ClassDesk()
    other._form.heard({"open": one.id})
    room.set_state(one.id, CLOSED, NOW)
    send(other, wish, word="Stop.", list="Gil Sedge,9")

    assert "Another trainer has closed" in sent[-1]["form"]["said"]
    assert room.school_class(one.id).state == CLOSED
    assert len(room.members(one.id)) == 3


def test_a_class_does_not_grow_without_end(at_work, sent):
    """List by list it comes to no more people than one list may have."""
    page, room, one = at_work
    send(page, "add", list="\n".join(f"P{at},{at}" for at in range(4, 204)))

    assert "at most 200" in sent[-1]["reply"]["words"]
    assert len(room.members(one.id)) == 3

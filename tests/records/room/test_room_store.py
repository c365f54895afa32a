"""The room in the store: accounts, classes, seats, progress; what changes, and what cannot."""

import datetime as dt
import sqlite3
from contextlib import closing

import pytest

from quizzes import records
from quizzes.records import Records, Start
from quizzes.records.room.given import NOT_GIVEN
from quizzes.records.room.rows import CLOSED, OPEN, ClassPlan
from quizzes.records.room.seats import TakenSeatError
from quizzes.records.room.store import RoomStore, owner_in_class

NOW = dt.datetime(2026, 11, 28, 8, 0, tzinfo=dt.UTC)
LIST = (("Ann Fen", "1"), ("Ann Fen", "2"), ("Bo Reed", "3"))
PLAN = ClassPlan("Monday", NOW.date(), "class_exercise", ("bench.ipynb",), LIST)


@pytest.fixture(scope="module")
def url(tmp_path_factory) -> str:
    """A store that all tests here share; each makes a class of its own."""
    made = f"sqlite:///{tmp_path_factory.mktemp('room')}/records.sqlite"
    records.create(made)
    return made


@pytest.fixture(scope="module")
def room(url):
    """The room's part of it."""
    with RoomStore(url) as opened:
        yield opened


def test_the_first_account_is_an_administrators_and_the_last_one_stays(room):
    """Without one nobody could add anybody."""
    with pytest.raises(ValueError, match="must be an administrator"):
        room.add_account("Cal", "trainer", "x", NOW)
    first = room.add_account("Dee", "administrator", "x", NOW)
    trainer = room.add_account("Cal", "trainer", "y", NOW)
    with pytest.raises(ValueError, match="signs in here already"):
        room.add_account(" CAL ", "assessor", "z", NOW)
    with pytest.raises(ValueError, match="last administrator"):
        room.remove_account(first.id)
    room.sign_in("a" * 64, trainer, NOW)
    room.sign_in("b" * 64, trainer, NOW)

    assert room.account("cal") == trainer
    assert set(room.set_passphrase(trainer.id, "new", NOW)) == {"a" * 64, "b" * 64}
    assert room.seat("a" * 64) is None
    assert "'y'" not in repr(trainer)


def test_two_people_of_one_name_are_two_and_keep_their_sittings_apart(room, url):
    """By their numbers, on the list, at the browser and in the record."""
    made = room.make_class(PLAN, NOW)
    first, second, _ = room.members(made.id)
    with Records(url) as store:
        for member in (first, second):
            store.begin_sitting(
                Start(name=member.name, number=member.number, form_id="x", form_edition="1", place="web",
                      owner=owner_in_class(made.id, member.person_id), software_version="1", rules_edition="1", started_at=NOW)
            )  # fmt: skip
        whose = {row.person_id for row in store.results()}

    assert first.name == second.name
    assert {first.person_id, second.person_id} <= whose
    assert len({one.owner for one in room.progress(made.id)}) == 2


def test_a_place_is_one_persons_at_one_device_until_it_is_freed(room):
    """A label used twice is refused in words; the trainer, or the person, lets the place go."""
    made = room.make_class(PLAN, NOW)
    member = room.members(made.id)[0]
    room.join("c" * 64, member, NOW)
    room.join("c" * 64, member, NOW)
    with pytest.raises(TakenSeatError, match="Ann Fen is at work on another device"):
        room.join("d" * 64, member, NOW)

    assert room.free(made.id, member.person_id) == ("c" * 64,)
    room.join("d" * 64, member, NOW)
    assert room.seat("d" * 64).member.joined
    assert room.leave("d" * 64) == ("d" * 64,)


def test_codes_find_their_class_and_person_however_typed(room):
    """Small letters and dashes make no difference; a closed class is no longer found."""
    made = room.make_class(PLAN, NOW)
    member = room.members(made.id)[2]
    label = f" {member.label[:4].lower()}-{member.label[4:]} "
    room.join("e" * 64, member, NOW)

    assert room.class_of_code(made.code.lower()) == made
    assert room.labelled(label).person_id == member.person_id
    assert room.labelled("") is None
    assert len({one.label for one in room.members(made.id)}) == 3
    room.set_state(made.id, CLOSED, NOW)
    with pytest.raises(ValueError, match="stays closed"):
        room.set_state(made.id, OPEN, NOW)
    assert room.class_of_code(made.code) is None
    assert room.seat("e" * 64) is None


def test_what_one_person_is_given_stands_in_the_ledger_with_its_reason(room, url):
    """An accommodation can be proved later, and has a reason or is none; the reason can be erased."""
    made = room.make_class(PLAN, NOW)
    member = room.members(made.id)[0]
    with pytest.raises(ValueError, match="the reason"):
        room.accommodate(member, form_id="", extra_minutes=10, reason=" ", author="t", at=NOW)
    room.accommodate(
        member, form_id="", extra_minutes=10, reason="reads slowly", author="t", at=NOW
    )
    with Records(url) as store:
        entries = [entry.decode() for entry in store.ledger()[1]]
        check = store.check()

    assert room.members(made.id)[0].extra_minutes == 10
    assert any("accommodation" in entry and '"apart":' in entry for entry in entries)
    assert not any("reads slowly" in entry for entry in entries)
    assert not any("Ann Fen" in entry for entry in entries)
    assert check.broken == ()


@pytest.mark.parametrize("change", ["extra_minutes = 500", "form_id = 'class_exercise'"])
def test_minutes_or_a_form_written_into_the_file_by_hand_are_found(room, url, change):
    """No trigger guards a class's list, and no head vouches for it; the ledger says what was given."""
    made, found = room.make_class(PLAN, NOW), []
    with (
        closing(sqlite3.connect(url.removeprefix("sqlite:///"))) as connection,
        Records(url) as store,
    ):
        for values in (
            "seen = '{\"bench.ipynb\": [1, 1]}'",
            change,
            "form_id = '', extra_minutes = 0",
        ):
            connection.execute(f"UPDATE class_member SET {values} WHERE class_id = '{made.id}'")
            connection.commit()
            found.append([one.reason for one in store.check().broken])

    assert found == [[], [NOT_GIVEN] * len(PLAN.people), []]


def test_a_name_that_was_erased_leaves_its_place_on_the_list(room, url):
    """The class still has so many people; who it was is gone."""
    made = room.make_class(ClassPlan("x", NOW.date(), "full", (), (("Gone Soon", "9"),)), NOW)
    (member,) = room.members(made.id)
    with Records(url) as store:
        store.erase_name(member.person_id)

    assert room.members(made.id)[0].name is None

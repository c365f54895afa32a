"""A small class over the real websocket protocol: list, work, board, debrief."""

import datetime as dt
from pathlib import Path

import pytest

from quizzes import records
from quizzes.desks.trainer.class_board import Length, Watched, board_rows
from quizzes.desks.trainer.debrief import debrief
from quizzes.records import Records
from quizzes.records.room.rows import ClassPlan
from quizzes.records.room.store import RoomStore
from tests.browser.conftest import free_port, server
from tests.server.virtual_class import VirtualClass, VirtualPerson

LIST = (("Ann Fen", "1"), ("Ann Fen", "2"), ("Bo Reed", "3"))
HABITS = ("careful", "one-place-only", "nothing-is-ever-wrong")


@pytest.mark.long
@pytest.mark.overnight
def test_three_people_work_a_class_over_the_websocket(tmp_path: Path, monkeypatch):
    """Each ends with an outcome under their own name, and the debrief counts them."""
    monkeypatch.setenv("GAL_KEYS", str(tmp_path / "keys"))
    url = f"sqlite:///{tmp_path / 'records.sqlite'}"
    records.create(url)
    today = dt.datetime.now(dt.UTC)
    with (
        RoomStore(url) as room,
        Records(url) as store,
        server(tmp_path, "-m", "quizzes", "serve", "--port", str(free_port())) as (base, _),
    ):
        one = room.make_class(ClassPlan("Small", today.date(), "self_check", (), LIST), today)
        people = [VirtualPerson(base, one.code, member, habit, store)
                  for member, habit in zip(room.members(one.id), HABITS, strict=True)]  # fmt: skip
        small = VirtualClass(people)
        try:
            for went in small.begin():
                went.result()
        finally:
            small.end()
        progress = room.progress(one.id)
        lengths = {sitting.sitting_id: Length(5, True, 10) for sitting in progress}
        rows = board_rows(room.members(one.id), progress, lengths, Watched((), (), today))
        found = debrief(store, room, one)
        names = {store.sitting(sitting.sitting_id).number for sitting in progress}

    assert names == {"1", "2", "3"}
    assert (found.people, found.sat, found.finished) == (3, 3, 3)
    assert all(row.where.startswith("finished") for row in rows)
    assert sum(person.acts for person in people) == 3 * 5

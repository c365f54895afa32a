"""What tests of the desks share: telling a page what its browser would, reading what it answers."""

import math
from pathlib import Path

from quizzes.candidates.worker import CAREFUL, work
from quizzes.questions.answers import right_json
from quizzes.records import Records
from quizzes.sittings.run import begin, now, the_sheet
from tests.short_form import THREE_BRAKES

KEY = "ab" * 32  # what a browser keeps to find its own sitting again
OWNER = "cd" * 32
SCRIPT = "<script>alert(1)</script> O'Dell & Daughter"
OWN_SHEET = """
title = "Another works"
[[size]]
name = "B-1"
gap_setting_mm = 0.4
gap_max_mm = 1.0
disc_min_mm = 10.0
"""


def tell(page, content) -> None:
    """Send what the browser sends to a page: one frame on its form's own line."""
    tell_panel(page._form, content)


def tell_panel(panel, content) -> None:
    """Send one frame on a panel's own line."""
    data = {"method": "custom", "content": content}
    panel._handle_msg({"content": {"data": data}, "buffers": []})


def started(name: object) -> dict:
    """Return what the page sends when somebody begins the form of three brakes."""
    return {"send": "start", "values": {"name": name, "form": THREE_BRAKES.id}}


def words_of(message: dict) -> str:
    """Return what a message would put before a person's eyes, as one text."""
    if "reply" in message:
        return message["reply"]["words"]
    form = message.get("form", {})
    return " ".join([form.get("title", ""), *form.get("words", []), form.get("said") or ""])


def begun(store: Records, name: str = "Ada Quern"):
    start = {"name": name, "place": "test", "owner": OWNER, "started_at": now()}
    return begin(store, THREE_BRAKES, the_sheet(), start)


def bench_of(page):
    """Return the session of the bench that the page shows."""
    return page.page.children[1].children[0]._table.session


def spoil(path: Path, *opened: Records) -> None:
    """Put something that is not a database in the place of a store; let its users notice."""
    for user in opened:
        user.close()  # a kept connection would go on writing to the file that is gone
    for beside in path.parent.glob(path.name + "*"):
        beside.unlink()
    path.write_bytes(b"this was a record store once\n" * 400)


HOSTILE = [
    None,
    7,
    "start",
    [],
    {},
    {"send": ["start"]},
    {"send": {"start": 1}},
    {"send": "start"},
    {"send": "start", "values": "name"},
    {"send": "start", "values": {"name": "x" * 10_000_000}},
    {"send": "start", "values": {"name": "x" * 500}},
    {"send": "start", "values": {"name": "\ud800"}},
    {"send": "start", "values": {"name": "a\x00b"}},
    {"send": "take up", "values": {"code": "\ud800"}},
    {"send": "take up", "values": {"code": "0" * 19_000}},
    {"send": "take up", "values": {"code": math.nan}},
    {"send": "mine"},
    {"send": "next"},
    {"send": "hand in"},
    {"send": "no such button"},
    {"ask": "form", "browser_key": 7, "at_work": "yes"},
    {"ask": "form", "browser_key": "../../etc", "at_work": True},
    {"open": "\ud800"},
    {"open": "' OR 1=1 --"},
    {"send": "look", "values": {"name": "\ud800", "outcome": "%"}},
    {"send": "look", "values": {"name": ["x"], "outcome": {}}},
    {"send": 10**400},
]


def begins(form: str, name: str = "Ada Quern") -> dict:
    """Return what the page sends when somebody begins a form."""
    return {"send": "start", "values": {"name": name, "form": form}}


def work_case(page) -> None:
    """Let the careful candidate work the case on the page, and go on to what comes next."""
    session = bench_of(page)
    work(session.act, the_sheet(), CAREFUL, session.setup.order)


def work_cases(page) -> None:
    """Let the careful candidate work every case that is left, over the break too."""
    while not page._run.cases_done:
        if len(page.page.children) < 2:
            tell(page, {"send": "next"})
        work_case(page)


def questions_of(page):
    """Return the questions that the page shows."""
    return page.page.children[1]


def right_answers(panel) -> list[dict]:
    """Return what a page would send for the right answer to each question."""
    return [
        {"at": at, "answer": right_json(asked.posed.hidden) | {"confidence": "sure"}}
        for at, asked in enumerate(panel._asked)
    ]


def answer_all(page) -> None:
    """Answer every question correctly and hand in."""
    panel = questions_of(page)
    for content in right_answers(panel):
        tell_panel(panel, content)
    tell_panel(panel, {"hand_in": True})

"""A whole class, from its list to its debrief: thirty virtual people and three real browsers."""

import datetime as dt
import time

import pytest

pytest.importorskip("playwright.sync_api")
from playwright.sync_api import Page, expect

from quizzes.candidates.worker import work
from quizzes.records import Records
from quizzes.records.kept_sitting import read_kept
from quizzes.records.room.store import RoomStore, owner_in_class
from tests.server.virtual_class import VirtualClass, VirtualPerson

from .conftest import PHONE, free_port, server, too_wide
from .hands import PageHands
from .jobs import SITTER

pytestmark = [pytest.mark.browser, pytest.mark.overnight]
OPEN_MS = 120_000
PEOPLE = 32  # thirty virtual ones, and two who sit at a browser
HABITS = ("careful", "one-place-only", "nothing-is-ever-wrong", "wrong-row", "good-disc-replaced")
NAMES = [f"Invented Person {number}" for number in range(1, PEOPLE + 1)]
FORM = """id = "afternoon"
title = "Afternoon's work"
edition = "1"
ends = "passed"
minutes = 60
[[cases]]
depth = "reading"
count = 2
group = "normal gap"
[[cases]]
depth = "bench"
count = 2
group = "normal gap"
[[questions]]
elements = ["K2", "D2"]
count = 2
difficulty = [0.2, 0.9]
"""


def set_up(page: Page, base: str) -> str:
    """Let the trainer make the class; return its code."""
    page.goto(f"{base}voila/render/class.ipynb")
    page.get_by_label("What the class is called").fill("Monday", timeout=OPEN_MS)
    page.locator(".form-several summary").click()
    page.locator(".form-tick", has_text="Practice bench").click()
    page.get_by_label("Form", exact=True).select_option("afternoon")
    page.get_by_label("Minutes that").select_option("kept")
    page.get_by_label("List: a line").fill("\n".join(NAMES))
    page.get_by_role("button", name="Make the class").click()
    return page.locator(".class-codes strong").inner_text(timeout=OPEN_MS)


def join(page: Page, base: str, code: str, number: int) -> None:
    """Let somebody join at a browser, see what the class works through, and begin."""
    page.goto(f"{base}join")
    page.get_by_label("Class code").fill(code)
    page.get_by_label("Your number").fill(str(number))
    page.get_by_role("button", name="Join", exact=True).click()
    work_list = page.locator("#class-work")
    expect(work_list).to_contain_text("Practice bench", timeout=OPEN_MS)
    work_list.get_by_role("link", name="Assessment").click()
    page.get_by_role("button", name="Begin").click(timeout=OPEN_MS)
    expect(page.get_by_role("heading", name="Case 1 of 4")).to_be_visible(timeout=OPEN_MS)


def do_case(page: Page, store: Records, owner: str, slot: int) -> None:
    """Do a case with the page's own controls; who sits has the work order on the page."""
    sitting = store.open_sitting(owner)
    kept = read_kept(sitting.id, store.kept(sitting.id))
    expect(page.get_by_role("heading", name=f"Case {slot + 1} of 4")).to_be_visible(timeout=OPEN_MS)
    expect(page.locator(".gal-limits tbody tr").first).to_be_visible(timeout=OPEN_MS)
    work(PageHands(page), kept.sheet, SITTER, kept.cases[slot].setup().order)


def test_a_whole_class_works_from_its_list_to_its_debrief(open_page, tmp_path, monkeypatch):
    """Thirty by protocol, one by hand to the end, one on a phone who is still at it at the close."""
    (tmp_path / "forms").mkdir()
    (tmp_path / "forms" / "afternoon.toml").write_text(FORM, encoding="utf-8")
    monkeypatch.setenv("GAL_BLUEPRINTS", str(tmp_path / "forms"))
    monkeypatch.setenv("GAL_KEYS", str(tmp_path / "keys"))
    url = f"sqlite:///{tmp_path / 'records.sqlite'}"
    # `--classroom` on a loopback address: nothing leaves this machine.
    command = ("-m", "quizzes", "serve", "--port", str(free_port()), "--classroom", "127.0.0.2")
    with (
        server(tmp_path, *command) as (base, process),
        RoomStore(url) as room,
        Records(url) as store,
    ):
        trainer, desk, phone = open_page(), open_page(), open_page(PHONE, has_touch=True)
        for page in (trainer, desk, phone):  # thirty others are at work on this machine
            page.set_default_timeout(OPEN_MS)
        code = set_up(trainer, base)
        (one,) = room.classes()
        by_number = {int(member.number): member for member in room.members(one.id)}
        people = [VirtualPerson(base, code, by_number[number], HABITS[number % len(HABITS)], store)
                  for number in range(3, PEOPLE + 1)]  # fmt: skip
        thirty, began = VirtualClass(people), time.monotonic()
        working = thirty.begin()
        try:
            join(desk, base, code, 1)
            join(phone, base, code, 2)
            phone.get_by_role("button", name="Hand up").click()
            expect(trainer.locator(".class-board tr.hand")).to_have_count(1, timeout=OPEN_MS)
            trainer.get_by_label("A message to the whole class").fill("Mind the units.")
            trainer.get_by_role("button", name="Send it to the class").click()
            expect(desk.locator(".who-told")).to_have_text("Mind the units.", timeout=OPEN_MS)
            owners = [owner_in_class(one.id, by_number[number].person_id) for number in (1, 2)]
            for slot in range(4):
                do_case(desk, store, owners[0], slot)
                if slot < 3:
                    desk.get_by_role("button", name="Next case").click(timeout=OPEN_MS)
            desk.get_by_role("button", name="Hand in my answers").click(timeout=OPEN_MS)
            desk.get_by_role("button", name="Hand in as it is").click(timeout=OPEN_MS)
            expect(desk.get_by_role("heading", name="Finished", exact=True)).to_be_visible(
                timeout=OPEN_MS
            )
            do_case(phone, store, owners[1], 0)
            phone.get_by_role("button", name="Next case").click(timeout=OPEN_MS)
            assert too_wide(phone) == 0
            for went in working:
                went.result(timeout=900)
        finally:
            thirty.end()
        took_s = time.monotonic() - began
        expect(trainer.locator(".class-codes")).to_contain_text("31 finished", timeout=OPEN_MS)
        trainer.get_by_role("button", name="Close the class").click()
        expect(trainer.get_by_text("One person has not finished")).to_be_visible(timeout=OPEN_MS)
        trainer.get_by_role("button", name="Close it and show the debrief").click()
        result = trainer.locator(".gal-result")
        expect(result).to_contain_text("32 of 32 people began, 31 finished", timeout=OPEN_MS)
        expect(result).to_contain_text("One place only")
        assert not [name for name in NAMES if name in result.inner_text()]
        with trainer.expect_download(timeout=OPEN_MS) as paper:
            trainer.get_by_role("button", name="Debrief to print").click()
        assert paper.value.suggested_filename == "debrief.pdf"
        shown = result.get_by_role("link", name="On the Stage").first.get_attribute("href")
        trainer.goto(f"{base}voila/render/{shown}")
        expect(trainer.locator(".gal-end")).to_be_visible(timeout=OPEN_MS)

        assert room.school_class(one.id).awake_at  # the server notes that it runs
        assert not room.slept(one.id)
        rows = store.results(limit=50)
        at_phone = store.open_sitting(owners[1])
        kept_of_phone = store.grades(at_phone.id)
        for page in (trainer, desk, phone):
            page.goto("about:blank")
        process.kill()
        process.wait(60)

    acts = sum(person.acts for person in people)
    print(f"\n{acts} acts of thirty people in {took_s:.0f} s")
    assert sorted(row.name for row in rows) == sorted(NAMES)
    assert [row.name for row in rows if row.finished_at is None] == [NAMES[1]]
    assert len(kept_of_phone) == 1  # what was done before the close is kept
    assert all(row.started_at.tzinfo is dt.UTC for row in rows)

"""From the front door through a whole sitting to the record, by a candidate who has only the page.

The careful virtual candidate decides; its hands are the page's own controls,
and what it learns is read off the page's answer line.
"""

import re
from pathlib import Path

import pytest

pytest.importorskip("playwright.sync_api")
from playwright.sync_api import Page, expect

from quizzes.candidates.worker import work
from quizzes.records import Records
from quizzes.records.kept_sitting import read_kept
from widgets.bench.actions import LandLoad
from widgets.bench.observed import Observation

from .conftest import OPENING_MS, free_port, server
from .hands import PageHands
from .jobs import SHEET, SITTER, hidden_numbers, order_told, told

pytestmark = pytest.mark.browser
MOST_CLICKS = 1.75  # for one act, typed numbers and tools taken up included; it was 2.1 once
NAME = "Maren O'Dell <b>Quist</b>"
FORM = """id = "own"
title = "A trainer's own"
edition = "1"
ends = "passed"
minutes = 60
"""
CASE = """[[cases]]
depth = "work order"
count = 1
families = ["{family}"]
"""
FIT, ADJUSTED, REPLACED = "in limits", "gap too large", "disc-spent-gap-set"


def _goes_on(hands: PageHands):
    """Return hands that leave a load alone which was landed before the page was opened again."""

    def act(action):
        if action.kind == "land_load" and "landed, hook empty" in hands.at.inner_text():
            return Observation(True, "load.already-down")
        return hands(action)

    return act


def whole_sitting(page: Page, base: str, jobs: int) -> None:
    """Go in by the front door and do all jobs; open the page again in the middle of the first."""
    page.goto(base)
    page.get_by_role("link", name="Sit the assessment").click()
    page.get_by_label("Form", exact=True).select_option("own", timeout=OPENING_MS)
    page.get_by_label("Your name").fill(NAME)
    page.get_by_role("button", name="Begin").click()
    clicks = acts = 0
    for number in range(1, jobs + 1):
        expect(page.get_by_role("heading", name=f"Case {number} of {jobs}")).to_be_visible()
        expect(page.locator(".gal-limits tbody tr")).to_have_count(5, timeout=OPENING_MS)
        if number == 1:
            PageHands(page)(LandLoad())
            code = page.locator(".form-code output").inner_text()
            page.reload()
            expect(page.get_by_role("heading", name=f"Case 1 of {jobs}")).to_be_visible(
                timeout=OPENING_MS
            )
            expect(page.locator(".form-code output")).to_have_text(code)  # this tab keeps it
            expect(
                page.get_by_role("button", name="Load: Land, unhook, prove slack, bar the area")
            ).to_be_visible()
            expect(page.locator(".gal-end")).to_contain_text("landed, hook empty")
        hands = PageHands(page)
        work(_goes_on(hands), SHEET, SITTER, order_told(page))
        clicks, acts = clicks + hands.way.clicks.total(), acts + hands.acts
        if number < jobs:
            page.get_by_role("button", name="Next case").click(timeout=OPENING_MS)
    expect(page.get_by_text("Finished")).to_be_visible(timeout=OPENING_MS)
    assert clicks <= MOST_CLICKS * acts


def own_exercise(folder: Path, families: tuple[str, ...]) -> str:
    """Write a trainer's own exercise of whole jobs; return its folder."""
    (folder / "forms").mkdir()
    form = FORM + "".join(CASE.format(family=family) for family in families)
    (folder / "forms" / "own.toml").write_text(form, encoding="utf-8")
    return str(folder / "forms")


@pytest.mark.parametrize(
    "families",
    [(FIT,), pytest.param((ADJUSTED, REPLACED), marks=pytest.mark.overnight)],
    ids=["one job", "two jobs"],
)
def test_a_whole_sitting_goes_from_the_front_door_to_the_record(
    open_page, tmp_path, monkeypatch, families
):
    """Jobs done through the page end on the assessor's list, and nothing hidden was told."""
    page = open_page(reduced_motion="reduce")
    monkeypatch.setenv("GAL_BLUEPRINTS", own_exercise(tmp_path, families))
    command = ("-m", "quizzes", "serve", "--port", str(free_port()))
    with server(tmp_path, *command) as (base, _):
        whole_sitting(page, base, len(families))
        expect(page.locator(".gal-result")).to_contain_text("Passed")
        during = list(page.seen.frames)

        page.get_by_role("link", name="Results").click()
        row = page.get_by_role("row", name=re.compile("Quist"))
        expect(row).to_contain_text("passed", timeout=OPENING_MS)
        row.get_by_role("button").click()
        evidence = page.locator(".gal-result")
        expect(evidence).to_contain_text("Graded again now")
        expect(evidence).to_contain_text("the same, line by line")
        expect(evidence).to_contain_text(NAME)  # as text: the tags were not taken as markup
        assert page.seen.abroad(base) == []

        records = Records(f"sqlite:///{tmp_path / 'records.sqlite'}")
        (result,) = records.results()
        sitting = records.sitting(result.sitting_id)
        cases = read_kept(sitting.id, records.kept(sitting.id)).cases
        records.close()
        page.goto("about:blank")

    assert result.outcome == "passed"
    hidden = set().union(*map(hidden_numbers, cases)) | {sitting.key.hex()}
    assert len(hidden) > 65 * len(families)
    assert told(during, hidden) == set()
    assert any("will not enter" in frame for frame in during)  # the frames are those of the sitting
    changed = any("New disc on the hub" in frame for frame in during)
    assert changed == (REPLACED in families)

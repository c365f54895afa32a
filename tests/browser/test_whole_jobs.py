"""A whole adjustment and a whole change of the disc: by keys alone at 1280 px, by touch at 390 px.

From the order to the signed record, on the practice page as our own server serves it.
"""

import pytest

pytest.importorskip("playwright.sync_api")
from playwright.sync_api import Page, expect

from quizzes.candidates.worker import work
from quizzes.cases.practice import draw_practice

from .conftest import DESKTOP, OPENING_MS, PHONE, too_wide
from .hands import PageHands
from .jobs import SHEET, SITTER, SIZE, hidden_numbers, practice_key, told, write_practice_pages
from .ways import Keys, Touch

pytestmark = pytest.mark.browser
MOST_CLICKS = 200  # for a whole adjusting job by finger, making safe and tests included
JOBS = {"adjust": "Decided: adjust the gap.", "replace": "Decided: replace the friction disc."}


@pytest.fixture(scope="module")
def practice(serve_pages, tmp_path_factory):
    """The address of the folder with the practice pages."""
    folder = tmp_path_factory.mktemp("practice")
    (folder / "lessons").mkdir()
    write_practice_pages(folder / "lessons")
    with serve_pages(folder) as (base, _):
        yield f"{base}voila/render/"


def do_job(page: Page, way: Keys | Touch, job: str) -> PageHands:
    """Choose the size, have the brake set out, and work it to the signature."""
    way.pick(page.get_by_label("Size of brake"), SIZE)
    way.press(page.get_by_role("button", name="Set out a brake"))
    expect(page.locator(".gal-limits tbody tr")).to_have_count(5, timeout=OPENING_MS)
    hands = PageHands(page, way)
    order = draw_practice(SHEET, practice_key(job), SIZE).order  # as it stands on the page
    work(hands, SHEET, SITTER, order)
    return hands


@pytest.mark.parametrize(
    ("by", "job"),
    [
        pytest.param("keys", "adjust", marks=pytest.mark.overnight),
        pytest.param("touch", "replace", marks=pytest.mark.overnight),
        pytest.param("keys", "replace", marks=pytest.mark.overnight),
        pytest.param("touch", "adjust", marks=pytest.mark.overnight),
    ],
)
def test_a_whole_job_can_be_done_right(open_page, practice, by, job):
    """Every step works by keys alone, or by touch alone; the explanation finds the job right."""
    page = open_page(DESKTOP if by == "keys" else PHONE, has_touch=by == "touch", reduced_motion="reduce")  # fmt: skip
    page.goto(f"{practice}{job}.ipynb")
    page.get_by_label("Size of brake").wait_for(timeout=OPENING_MS)
    hands = do_job(page, Keys(page) if by == "keys" else Touch(), job)
    during = list(page.seen.frames)
    explained = page.locator(".gal-result")
    expect(explained.locator(".verdict")).to_have_text("Right", timeout=OPENING_MS)

    expect(explained).to_contain_text(JOBS[job])
    expect(explained).not_to_contain_text("Critical.")
    expect(page.locator(".gal-report .stamp")).to_contain_text("Handed over: into service.")
    if (by, job) == ("touch", "adjust"):
        assert hands.way.clicks.total() <= MOST_CLICKS
    assert hands.refusals == []
    assert page.seen.errors == []
    assert too_wide(page) == 0
    assert set(page.evaluate("galPointed")) == ({"touch"} if by == "touch" else set())
    assert any("will not enter" in frame for frame in during)  # the frames are those of the job
    assert told(during, hidden_numbers(draw_practice(SHEET, practice_key(job), SIZE))) == set()

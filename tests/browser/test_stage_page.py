"""The stage on a projector: brake beside truth on one screen, and nothing moves when it is shown."""

import re

import pytest

pytest.importorskip("playwright.sync_api")

from playwright.sync_api import expect

from .conftest import OPENING_MS, PHONE, serious, too_wide
from .test_pages_laid_out import WALL

pytestmark = pytest.mark.browser
# A word that the guide uses, and the run that it speaks of.
ADDRESS = (
    "voila/render/stage.ipynb?size=Cedar-47&faults=gap-tilted&start=open&word=trolley"
    "&run=equal-turns-on-a-tilted-gap"
)
PLACE = """(node) => { // on the sheet, wherever the driver has scrolled to press a key
  const box = node.getBoundingClientRect();
  return [box.x + scrollX, box.y + scrollY, box.width];
}"""
MOST_ON_A_PHONE = 0.6  # of its window for drawing and board together; it was 0.75 once
LEAST_TYPE_PX = 21  # of 1080 lines: read from four times the picture's height; from memory


def test_the_stage_fills_a_projector_and_the_brake_stays_put(open_page, served):
    """Brake, truth and act are on one screen, large, the run's name nowhere; a phone keeps room to work."""
    page = open_page(WALL)
    page.goto(served + ADDRESS, timeout=OPENING_MS)
    board = page.locator(".gal-board")
    brake, beside = page.locator(".gal-end figure"), page.locator(".gal-stage-truth")
    expect(board.get_by_role("heading")).to_have_text(re.compile("^Step 0 of"), timeout=OPENING_MS)
    expect(beside).to_contain_text("The truth is hidden")
    assert too_wide(page) == 0
    assert "equal turns" not in page.locator(".gal-stage").inner_text().lower()

    board.get_by_role("button", name="Next decision").click()
    expect(board).to_contain_text("What would the class decide?", timeout=OPENING_MS)
    expect(page.locator(".gal-notes .strike").first).to_be_visible()
    before = brake.evaluate(PLACE)
    board.get_by_role("button", name="Show the truth").click()
    expect(beside.get_by_role("img").first).to_be_visible(timeout=OPENING_MS)
    truth, act = beside.bounding_box(), board.bounding_box()

    now = brake.evaluate(PLACE)
    assert now == before, (now, before)
    assert truth["x"] >= before[0] + before[2]
    assert max(one["x"] + one["width"] for one in (truth, act)) > 0.95 * WALL["width"]
    assert act["y"] + act["height"] <= WALL["height"] + 1
    assert truth["y"] < act["y"]
    size = board.locator(".form-words").first.evaluate("(node) => getComputedStyle(node).fontSize")
    assert float(size.removesuffix("px")) >= LEAST_TYPE_PX
    assert serious(page) == []

    page.set_viewport_size(PHONE)
    page.locator(".gal-end .work").first.evaluate("(node) => node.scrollIntoView()")
    drawing, dock = page.locator(".gal-end svg:visible").first, page.locator(".gal-dock")
    taken = drawing.bounding_box()["height"] + dock.bounding_box()["height"]
    assert taken <= MOST_ON_A_PHONE * PHONE["height"]
    assert too_wide(page) == 0

"""Pages laid out for doing: the first button is seen at once, a control stands beside its figure."""

import json

import pytest

pytest.importorskip("playwright.sync_api")

from .conftest import DESKTOP, OPENING_MS, PHONE, serious, too_wide
from .controls import SHOWN, wait_until_still

pytestmark = pytest.mark.browser
WALL = {"width": 1920, "height": 1080}
SIZES = {"390": PHONE, "1280": DESKTOP, "1920": WALL}
SCHEMES = ("light", "dark")
WORK_SHEET = "11_until_when.ipynb"  # has an explorer with two sliders and a choice
BOXES = """() => [...document.querySelectorAll('.suite-left')].map((text) => {
  const [left, right] = [text, text.nextElementSibling].map((one) => one.getBoundingClientRect());
  return [left.right, right.left, right.right, innerWidth];
})"""


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("width", SIZES)
def test_the_first_button_of_the_front_door_is_seen_at_once(open_page, served, width, scheme):
    """Without a scroll, at any width, whole; and axe finds nothing serious."""
    page = open_page(SIZES[width], color_scheme=scheme)
    page.goto(served)
    box = page.locator(".ways a.first").first.bounding_box()

    assert box["y"] >= 0
    assert box["y"] + box["height"] <= SIZES[width]["height"]
    assert too_wide(page) == 0
    assert serious(page) == []


@pytest.mark.parametrize(
    ("width", "scheme"), [("390", "dark"), ("1280", "light"), ("1920", "dark")]
)
def test_a_control_changes_its_figure_and_stands_on_one_screen_with_it(
    open_page, served, width, scheme
):
    """Each slider and choice of lesson 11's explorer redraws the figure, in symptom."""
    page = open_page(SIZES[width], color_scheme=scheme)
    page.goto(f"{served}voila/render/{WORK_SHEET}")
    page.wait_for_selector(SHOWN, timeout=OPENING_MS)
    image = page.locator(".gal-explorer img")
    image.wait_for(timeout=OPENING_MS)
    for control in page.locator(
        ".gal-explorer :is(input[type=range], .key input:not(:checked))"
    ).all():
        before = image.get_attribute("src")
        control.scroll_into_view_if_needed()
        if control.get_attribute("type") == "range":
            control.press("ArrowRight")
        else:
            control.check(force=True)
        page.wait_for_function(
            "(old) => document.querySelector('.gal-explorer img').src !== old", arg=before
        )
        figure = image.bounding_box()
        assert figure["y"] + figure["height"] > 0
        assert figure["y"] < SIZES[width]["height"]
        assert control.bounding_box()["y"] < SIZES[width]["height"]
    wait_until_still(page)
    assert too_wide(page) == 0
    assert serious(page) == []
    if width != "390":
        boxes = page.evaluate(BOXES)
        assert boxes
        assert all(left <= right for left, right, _, _ in boxes)  # side by side, none over another
        assert all(end > 0.8 * inner or end > 1400 for _, _, end, inner in boxes)  # no empty half


def test_a_lesson_that_is_done_is_ticked_on_every_page(open_page, served):
    """What this browser remembers shows on lessons and front door; nothing else is ticked."""
    page = open_page(DESKTOP)
    page.goto(served)
    page.evaluate(f"localStorage.setItem('gal-lessons-done', {json.dumps('[2, 5]')})")
    page.reload()
    ticked = page.locator(".course a[data-done]")
    ticked.first.wait_for()

    assert [link.get_attribute("data-lesson") for link in ticked.all()] == ["2", "5"]

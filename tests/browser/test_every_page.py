"""Every page in the lessons folder, at both widths: each control moved once, and nothing amiss."""

import pytest

pytest.importorskip("playwright.sync_api")
from playwright.sync_api import Page, expect

from quizzes.desks.serving.command import LESSONS

from .conftest import DESKTOP, PHONE, serious, too_wide
from .controls import SHOWN, move_all, wait_until_still

pytestmark = pytest.mark.browser
OPEN_MS = 60_000
NAMES = sorted(path.name for path in LESSONS.glob("*.ipynb"))
TAUGHT = [name for name in NAMES if name[:2].isdigit()]
WIDTHS = {"1280": DESKTOP, "390": PHONE}
TROUBLE = ("could not be set out", "That did not work", "Traceback")


def opened(page: Page, served: str, name: str) -> None:
    """Open a page and wait until it is set out."""
    page.goto(f"{served}voila/render/{name}")
    page.wait_for_selector(SHOWN, timeout=OPEN_MS)
    wait_until_still(page)


def test_the_folder_holds_the_eight_lessons():
    """Eight lessons in teaching order, beside the pages of the desks."""
    assert [int(name[:2]) for name in TAUGHT] == list(range(1, 9))
    assert {"bench.ipynb", "assessment.ipynb", "results.ipynb", "stage.ipynb"} < set(NAMES)


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", NAMES)
def test_a_page_stands_each_control_being_moved_once(open_page, served, name, width):
    """No error in the console, no sentence of trouble, nothing wider than the window, nothing from outside.

    axe-core finds nothing serious or critical once everything was tried.
    """
    page = open_page(WIDTHS[width], has_touch=width == "390", reduced_motion="reduce")
    opened(page, served, name)
    assert too_wide(page) == 0
    moved = move_all(page)
    wait_until_still(page)

    assert moved >= (1 if name not in {"results.ipynb"} else 0)
    assert page.seen.errors == []
    for words in TROUBLE:
        expect(page.get_by_text(words)).to_have_count(0)
    assert too_wide(page) == 0
    assert serious(page) == []
    assert page.seen.abroad(served) == []


@pytest.mark.parametrize("width", WIDTHS)
def test_the_front_door_stands_up_to_axe(open_page, served, width):
    """The list of pages has no serious fault and fits its window."""
    page = open_page(WIDTHS[width])
    page.goto(served)
    page.wait_for_selector("main")

    assert serious(page) == []
    assert too_wide(page) == 0
    assert page.seen.errors == []
    assert page.seen.abroad(served) == []

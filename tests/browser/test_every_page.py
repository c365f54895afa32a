"""Every page in the lessons folder: each control moved once, seen at both widths, nothing amiss."""

import json
import os
import re
from collections.abc import Callable, Iterator
from urllib.parse import urlencode
from urllib.request import HTTPCookieProcessor, OpenerDirector, Request, build_opener

import pytest

pytest.importorskip("playwright.sync_api")
from playwright.sync_api import Page

from quizzes.server.navigation import PAGES
from quizzes.server.serving import LESSONS

from .conftest import DESKTOP, OPENING_MS, PATIENCE_MS, PHONE, serious, too_wide, watched
from .controls import ANY, SHOWN, move_all, wait_until_still

pytestmark = pytest.mark.browser
NAMES = sorted(path.name for path in LESSONS.glob("*.ipynb"))
TAUGHT = [name for name in NAMES if name[:2].isdigit()]
WIDTHS = {"1280": DESKTOP, "390": PHONE}
# Lessons in the colours of the first: looked at for contrast at night.
ALIKE = set() if os.environ.get("GAL_LONG") == "2" else set(TAUGHT[1:])
# Lessons with the same kinds of controls as the first; nbval runs each of them in every run.
AT_NIGHT = {"02", "03", "04", "05", "06", "07", "08", "09", "10", "11", "12"}
# Forms without a drawing: their controls are pressed in process by the tests of their desks.
FORMS = frozenset(
    f"{name}.ipynb"
    for name in (
        "class",
        "due",
        "forms",
        "glossary",
        "limits_sheet",
        "panel",
        "trainers_guide",
        "verify",
    )
)
# A page to read, and one on which whoever is not an assessor can only read.
LEAST_CONTROLS = {"trainers_guide.ipynb": 0, "panel.ipynb": 0}
MOST_OWN_SCRIPTS = 4  # of the front end, beside the one in which they are joined
TROUBLE = ("could not be set out", "That did not work", "Traceback")


@pytest.fixture(scope="module")
def tabs(browser) -> Iterator[Callable[[str], Page]]:
    """Return a way to open a fresh tab at a width; the browser keeps what it has loaded before."""
    contexts = {
        width: browser.new_context(viewport=size, has_touch=size == PHONE, reduced_motion="reduce")
        for width, size in WIDTHS.items()
    }

    def opened(width: str) -> Page:
        page = contexts[width].new_page()
        page.set_default_timeout(PATIENCE_MS)
        page.seen = watched(page)
        return page

    yield opened
    for context in contexts.values():
        context.close()


def leave(page: Page) -> None:
    """Leave a page as a person does, so that its kernel ends."""
    page.goto("about:blank")
    page.close()


def test_the_folder_holds_the_twelve_lessons():
    """Twelve lessons in teaching order, beside the pages of the desks."""
    assert [int(name[:2]) for name in TAUGHT] == list(range(1, 13))
    assert {page.path for page in PAGES if page.path} <= set(NAMES)
    assert {"bench.ipynb", "assessment.ipynb", "results.ipynb", "stage.ipynb"} < set(NAMES)


@pytest.mark.parametrize(
    "name",
    [
        pytest.param(n, marks=pytest.mark.overnight) if n[:2] in AT_NIGHT or n in FORMS else n
        for n in NAMES
    ],
)
def test_a_page_stands_each_control_being_moved_once(tabs, served, name):
    """No error in the console, no sentence of trouble, nothing too wide, nothing from outside.

    The front end comes in one script, or in a few more where a page needs what others do not.

    The page is opened on a phone, where each control is moved; axe-core sees it there, and again
    when the window has become as wide as a desk's: nothing serious or critical. (One opening for
    both, and one look at the colours, which are the same: these are what takes time.)
    """
    page = tabs("390")
    page.goto(f"{served}voila/render/{name}")
    page.wait_for_selector(SHOWN, timeout=OPENING_MS)
    if LEAST_CONTROLS.get(name, 1):
        page.locator(ANY).first.wait_for()
    wait_until_still(page)
    assert too_wide(page) == 0
    assert move_all(page) >= LEAST_CONTROLS.get(name, 1)
    found = {}
    for width, size in reversed(WIDTHS.items()):
        page.set_viewport_size(size)
        wait_until_still(page)
        assert too_wide(page) == 0, width
        found[width] = serious(page, contrast=size is PHONE and name not in ALIKE)
    troubles = [words for words in TROUBLE if page.get_by_text(words).count()]
    seen = page.seen
    leave(page)
    own = [address for address in seen.requests if "/voila/static/" in address and ".js" in address]

    assert found == {"390": [], "1280": []}
    assert (troubles, seen.errors, seen.abroad(served)) == ([], [], [])
    assert len(own) <= MOST_OWN_SCRIPTS


@pytest.mark.parametrize("width", WIDTHS)
def test_the_front_door_stands_up_to_axe(tabs, served, width):
    """The list of pages has no serious fault and fits its window."""
    page = tabs(width)
    page.goto(served)
    page.wait_for_selector("main")

    assert serious(page) == []
    assert too_wide(page) == 0
    assert page.seen.errors == []
    assert page.seen.abroad(served) == []


def test_several_look_around_a_demo_as_apprentices(served):
    """Each as another person of the class: whose place is taken is not offered again."""
    browsers = [build_opener(HTTPCookieProcessor()) for _ in range(2)]
    names = [look_around(browser, served) for browser in browsers]
    for browser in browsers:  # the places are free for others again
        browser.open(Request(f"{served}sign-out", b"", {"Origin": served.rstrip("/")})).close()

    assert len(set(names)) == 2


def look_around(browser: OpenerDirector, base: str) -> str:
    """Look around as the apprentice that is offered; return as whom."""
    with browser.open(f"{base}sign-in") as answer:
        key = re.search(r'value="([^"]+)"><b>Apprentice<', answer.read().decode())[1]
    sent = urlencode({"as": key}).encode()
    browser.open(Request(f"{base}sign-in", sent, {"Origin": base.rstrip("/")})).close()
    with browser.open(f"{base}who") as answer:
        return json.load(answer)["name"]

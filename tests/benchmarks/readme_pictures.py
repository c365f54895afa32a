"""Retake the pictures of README, from the real pages: front door, cutaway, bench, outcome.

Run it from the project's folder: .venv/bin/python tests/benchmarks/readme_pictures.py
They go to `binder/`, in few colours, so that each stays small. Look at each before a commit.
"""

import shutil
import sys
import tempfile
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from PIL import Image
from playwright.sync_api import Page

from tests.benchmarks.servers import chromium, leave, our_server, write_page

ROOT = Path(__file__).resolve().parents[2]
TO = ROOT / "binder"
COLOURS = 64
OPEN_MS = 120_000
SETTLES_MS = 3_000  # for figures and sizes; by the clock, since a person looks at the result
WIDE, TALL = 1280, 860
TALLEST = 2050  # of a picture; what is below is a table
# A careful job with one slip, explained as the practice bench explains it after a hand-over.
OUTCOME = """from quizzes.candidates.habits import with_slips
from quizzes.candidates.worker import work
from quizzes.desks.apprentice.lesson_runs import staged
from quizzes.desks.apprentice.practice import explanation_html
from quizzes.desks.explorers.brake_explorers import lesson_size
from quizzes.desks.sheets.result_sheets import shown
from quizzes.sittings.in_force import sheet_in_force
from widgets.bench.session import Session
from ipywidgets import VBox
from widgets.bench.setup import Start
from widgets.page.prompt_panel import FormPanel

case = staged(lesson_size(), "gap-tilted", start=Start.WORK_ORDER)
session = Session(case.setup())
work(session.act, sheet_in_force().sheet, with_slips("equal-turns-on-a-tilted-gap"), case.order)
form = FormPanel(lambda _: None)  # brings the style of the page that the explanation stands on
form.show(title="The practice bench")
VBox([form, shown(explanation_html(case, session))])"""


def front_door(page: Page, base: str) -> bytes:
    """Return the front door, its brake moving."""
    page.goto(base)
    page.get_by_role("button", name="Next moment").wait_for(timeout=OPEN_MS)
    return page.screenshot()


def cutaway(page: Page, base: str) -> bytes:
    """Return the living cutaway of the first lesson, half-way up to the clack."""
    page.goto(f"{base}voila/render/01_how_the_brake_holds.ipynb")
    key = page.locator(".gal-living").first.get_by_role("button", name="Next moment")
    page.wait_for_function("(key) => !key.disabled", arg=key.element_handle(timeout=OPEN_MS))
    page.wait_for_timeout(SETTLES_MS)
    page.locator(".gal-living .living-slider input").first.fill("30")
    page.evaluate("scrollTo(0, 0)")  # where nothing sticks to the window
    box = page.locator(".gal-living").first.bounding_box()
    return page.screenshot(full_page=True, clip=box)


def bench(page: Page, base: str) -> bytes:
    """Return the practice bench with an open brake and the leaves in the hand."""
    page.goto(f"{base}voila/render/bench.ipynb")
    page.get_by_label("What to practise").select_option(index=1, timeout=OPEN_MS)
    page.get_by_role("button", name="Set out a brake").click()
    page.locator(".gal-end").first.wait_for(timeout=OPEN_MS)
    page.get_by_role("radio", name="Leaves", exact=True).check(force=True)
    page.get_by_role("button", name="Push in", exact=True).click()
    page.locator(".gal-end").first.scroll_into_view_if_needed()
    return page.screenshot(full_page=False)


def outcome(page: Page, base: str) -> bytes:
    """Return what a person reads after a hand-over."""
    page.goto(f"{base}voila/render/outcome.ipynb")
    page.locator("#rendered_cells svg, #rendered_cells table").first.wait_for(timeout=OPEN_MS)
    page.wait_for_timeout(SETTLES_MS)
    return page.locator("#rendered_cells").screenshot()


PICTURES: dict[str, Callable[[Page, str], bytes]] = {
    "front_door": front_door, "cutaway": cutaway, "bench": bench, "outcome": outcome,
}  # fmt: skip


def kept(png: bytes, name: str) -> None:
    """Keep a picture in few colours."""
    image = Image.open(BytesIO(png)).convert("RGB")
    image = image.crop((0, 0, image.width, min(image.height, TALLEST)))
    image.quantize(COLOURS).save(TO / f"{name}.png", optimize=True)


def main(names: list[str]) -> None:
    """Take the named pictures, or all of them."""
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        shutil.copytree(ROOT / "lessons", folder / "lessons")
        write_page(folder / "lessons" / "outcome.ipynb", OUTCOME)
        with our_server(folder) as pages, chromium() as browser:
            base = pages.removesuffix("voila/render/")
            for name in names or PICTURES:
                page = browser.new_page(viewport={"width": WIDE, "height": TALL})
                kept(PICTURES[name](page, base), name)
                leave(page)


if __name__ == "__main__":
    main(sys.argv[1:])

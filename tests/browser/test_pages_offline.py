"""The pages around the bench: nothing from outside, calm when slow, cut off or broken, readable."""

import itertools
from pathlib import Path
from urllib.parse import urlsplit

import nbformat
import psutil
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.processes import ask_to_end, end_in_time, is_running

pytestmark = pytest.mark.browser

DESKTOP = {"width": 1280, "height": 800}
PHONE = {"width": 390, "height": 844}

TRUTH = "0.7321"  # stands for what no browser may learn
SHOWN = "#rendered_cells:not([hidden])"
FRONT_END = "**/suite/front.*.js"

WORDS = """# Trial page

The torque is $M = 2\\,\\mu\\,F\\,r_m$, and all the way round

$$\\int_0^{2\\pi} g(\\varphi)\\,d\\varphi$$
"""
PARTS = f"""
import anywidget, os
import ipywidgets as W
true_gap_mm = {TRUTH}
class Feeler(anywidget.AnyWidget):
    _esm = '''export default {{ render({{ model, el }}) {{
      const button = document.createElement("button");
      const answer = document.createElement("output");
      button.textContent = "Feel";
      button.addEventListener("click", () => model.send({{ feel: 1 }}));
      model.on("msg:custom", (said) => (answer.textContent = said.word));
      el.append(button, answer);
    }} }}'''
    def __init__(self):
        super().__init__()
        self.on_msg(lambda widget, content, buffers: self.send({{'word': 'drags'}}))
fail, gap = W.Button(description='Fail'), W.FloatSlider(description='Leaf, mm', max=1)
decision = W.RadioButtons(options=['fit for service', 'adjust'], description='Decision')
def failing(_):
    raise RuntimeError(f'the gap is {{true_gap_mm}}')
fail.on_click(failing)
"""
CONTROLS = "W.VBox([Feeler(), fail, gap, decision, W.Label(str(os.getpid()))])"


@pytest.fixture(scope="module")
def trial_pages(tmp_path_factory) -> Path:
    """A folder with one page that has a bit of everything."""
    folder = tmp_path_factory.mktemp("trial")
    written = nbformat.v4.new_notebook(
        metadata={"title": "Trial", "kernelspec": {"name": "python3", "display_name": "Python 3"}}
    )
    written.cells = [
        nbformat.v4.new_markdown_cell(WORDS),
        nbformat.v4.new_code_cell(PARTS),
        nbformat.v4.new_code_cell(CONTROLS),
    ]
    (folder / "lessons").mkdir()
    nbformat.write(written, folder / "lessons" / "trial.ipynb")
    return folder


@pytest.fixture(scope="module")
def trial(serve_pages, trial_pages):
    """The address of the trial page."""
    with serve_pages(trial_pages) as (base, _):
        yield f"{base}voila/render/trial.ipynb"


def set_out(page, address: str):
    """Open a page and wait until it is shown and answers."""
    page.goto(address)
    page.wait_for_selector(SHOWN)
    page.get_by_role("button", name="Feel").click()
    expect(page.get_by_text("drags")).to_be_visible()
    return page


def kernel_of(page) -> int:
    return int(page.locator(".widget-label").last.inner_text())


UNBROKEN = {"unbroken.js", "unbroken_on_page.js"}


class TestOffline:
    def test_a_page_with_maths_and_parts_needs_no_other_machine(self, page, trial):
        """Formulas are typeset and the parts answer; every request went to the server itself."""
        set_out(page, trial)
        expect(page.locator("mjx-container").first).to_be_visible()

        assert page.locator("mjx-container").count() == 2
        assert page.seen.requests
        assert page.seen.abroad(trial.split("voila")[0]) == []
        assert page.seen.errors == []

    @pytest.mark.parametrize(
        ("path", "scripts"),
        [("", {"living-door.js", "progress_on_page.js", "progress.js"}), ("no/such/page", set())],
        ids=["front door", "unknown address"],
    )
    def test_a_page_without_a_kernel_asks_for_no_more_than_it_needs(
        self, page, trial, path, scripts
    ):
        """The page, its sheet, its icon; on the front door the moving brake and the lessons' ticks.

        And what keeps a number with its unit. All are small and come after the words. The one script fetched ahead for the next page
        is not counted.
        """
        base = trial.split("voila")[0]
        page.goto(base + path)
        needed = [address for address in page.seen.requests if "/suite/front." not in address]
        names = [urlsplit(address).path.rpartition("/")[2] for address in needed]

        assert len(names) == len(set(names))
        assert (
            set(names) <= {path.rpartition("/")[2], "suite.css", "favicon.svg"} | UNBROKEN | scripts
        )
        assert page.seen.abroad(base) == []
        expect(page.get_by_role("navigation", name="Pages")).to_be_visible()


class TestTrouble:
    def test_closing_the_page_ends_its_kernel(self, page, trial):
        """Nobody's closed page goes on using the machine."""
        pid = kernel_of(set_out(page, trial))
        before = is_running(pid)
        page.close(run_before_unload=True)

        assert before
        assert end_in_time([pid])

    def test_a_callback_that_fails_tells_the_person_and_not_the_browser(self, page, trial):
        """A sentence is shown; no frame holds the value, the line or the name of the failure."""
        set_out(page, trial)
        page.get_by_role("button", name="Fail").click()
        expect(page.get_by_text("That did not work, and has been written down.")).to_be_visible()

        assert page.seen.frames
        for telltale in (TRUTH, "RuntimeError", "Traceback", "failing("):
            assert not any(telltale in frame for frame in page.seen.frames)

    def test_a_kernel_that_died_is_said_with_a_way_on(self, page, trial):
        """The page does not pretend: it says that the bench has stopped, and loads again."""
        first = kernel_of(set_out(page, trial))
        psutil.Process(first).kill()
        expect(page.get_by_text("The bench behind this page has stopped.")).to_be_visible()
        page.get_by_text("Load the page again", exact=True).click()
        page.get_by_role("button", name="Feel").click()
        expect(page.get_by_text("drags")).to_be_visible()

        assert kernel_of(page) != first

    def test_a_lost_line_is_said(self, page, serve_pages, trial_pages):
        """When the server goes away, the page says so and what has become of the work."""
        with serve_pages(trial_pages) as (base, process):
            set_out(page, f"{base}voila/render/trial.ipynb")
            ask_to_end(process)
            process.wait(timeout=30)

            expect(page.get_by_text("The connection to the bench is lost.")).to_be_visible()

    def test_a_page_that_takes_long_says_what_to_do(self, page, trial):
        """After half a minute there is a sentence and a way to try again."""
        page.clock.install()  # it goes on by itself, so a slow machine must not be near the half
        page.route(FRONT_END, lambda route: route.abort())
        page.goto(trial)
        expect(page.get_by_text("Setting out the bench…")).to_be_visible()
        expect(page.get_by_text("Fitting the controls.")).to_be_visible()
        page.clock.fast_forward(10_000)
        expect(page.get_by_text("This is taking longer than it should.")).to_be_hidden()
        page.clock.fast_forward(20_000)
        expect(page.get_by_text("This is taking longer than it should.")).to_be_visible()
        page.unroute(FRONT_END)
        page.get_by_role("link", name="try again").click()
        page.wait_for_selector(SHOWN)

        expect(page.get_by_text("Setting out the bench…")).to_have_count(0)


SMALL = """() => {
  const small = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const holder = walk.currentNode.parentElement;
    if (!walk.currentNode.textContent.trim() || holder.closest("svg, script, style, noscript, mjx-container")) continue;
    if (!holder.checkVisibility()) continue;
    const size = parseFloat(getComputedStyle(holder).fontSize);
    if (size < 17) small.push(`${size}: ${walk.currentNode.textContent.trim()}`);
  }
  return small;
}"""
TIGHT = """() => [...document.querySelectorAll("nav a, .ways a, button, select, input, .suite-button, .suite-name")]
  .filter((e) => e.checkVisibility())
  .map((e) => [e.closest("label") ?? e, e.textContent])
  .filter(([e]) => { const r = e.getBoundingClientRect(); return r.width < 44 || r.height < 44; })
  .map(([e, t]) => `${e.tagName} ${t} ${e.getBoundingClientRect().width}x${e.getBoundingClientRect().height}`)"""


@pytest.mark.parametrize("path", ["", "no/such/page", "voila/render/trial.ipynb"], ids=["front", "unknown", "trial"])  # fmt: skip
def test_a_page_can_be_read_and_pressed_at_arms_length(open_page, trial, path):
    """Text of 17 px and more, targets of 44 px, one column on a phone, and nothing axe objects to.

    axe-core holds the contrast to WCAG 2.1, 1.4.3 (4.5 : 1); 44 px is its 2.5.5.
    """
    page = open_page(DESKTOP, reduced_motion="reduce")
    page.goto(trial.split("voila")[0] + path)
    if "trial" in path:
        page.wait_for_selector(SHOWN)
        expect(page.get_by_role("button", name="Fail")).to_be_visible()
    for scheme, viewport in itertools.product(("light", "dark"), (DESKTOP, PHONE)):
        page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
        page.set_viewport_size(viewport)
        page.wait_for_function(
            "document.getAnimations().every((one) => one.playState !== 'running')"
        )
        found = Axe().run(page, options={"resultTypes": ["violations"]}).response["violations"]

        assert [(v["id"], [n["html"] for n in v["nodes"]]) for v in found] == []
        assert page.evaluate(SMALL) == []
        assert page.evaluate(TIGHT) == []
        assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]


def test_light_and_dark_follow_the_reader(open_page, trial):
    """The paper is light for one and dark for the other, with nothing to press."""
    papers = []
    for scheme in ("light", "dark"):
        page = open_page(DESKTOP, color_scheme=scheme)
        page.goto(trial.split("voila")[0])
        papers.append(page.evaluate("getComputedStyle(document.body).backgroundColor"))
    brightness = [sum(map(int, paper[4:-1].split(","))) / 3 for paper in papers]

    assert brightness[0] > 230
    assert brightness[1] < 40


def test_the_keyboard_reaches_the_page_past_the_header(page, trial):
    """The first key leads to a link that skips the way between pages."""
    page.goto(trial.split("voila")[0])
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Skip to the page")).to_be_focused()
    page.keyboard.press("Enter")

    expect(page.locator("#content")).to_be_focused()


def test_on_paper_there_is_nothing_to_press(page, trial):
    """A printed page has no way between pages and no buttons, and keeps the caution."""
    set_out(page, trial)
    page.emulate_media(media="print")

    expect(page.get_by_role("navigation")).to_be_hidden()
    expect(page.get_by_role("button", name="Fail")).to_be_hidden()
    expect(page.get_by_text("For teaching and practice.")).to_be_visible()

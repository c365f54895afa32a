"""Print how long one action takes in the bench page, beside a bare anywidget that echoes.

Run it from the project's folder: .venv/bin/python tests/benchmarks/bench_round_trip.py
The same echo stands on our server and on a stock one (default page, its own process, plain
settings). A round is from the press to the changed words, as the page's own clock has it; the
three take turns in one browser, and the bench does another action each turn: a push of the leaf,
a try of a lock, a measurement of the disc. Asked: bench at most 1.5 of the echo on our server, and at most a
third of the echo on the stock one. The status is 1 if either is missed.
"""

import sys
import tempfile
from contextlib import ExitStack
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from playwright.sync_api import Page

from tests.benchmarks.servers import chromium, leave, our_server, stock_server, write_page

TURNS, ROUNDS = 12, 15
MOST_OF_OURS, MOST_OF_STOCK = 1.5, 1 / 3
OPEN_MS = 90_000
PRACTICE = "from quizzes.desks.apprentice.practice import practice_page\npractice_page()"
ECHO = '''
import anywidget
class Echo(anywidget.AnyWidget):
    _esm = """export default { render({ model, el }) {
      const button = document.createElement("button");
      const answer = document.createElement("output");
      button.className = "echo";
      answer.className = "echoed";
      button.textContent = "Echo";
      let count = 0;
      button.addEventListener("click", () => model.send({ echo: count++ }));
      model.on("msg:custom", (said) => answer.replaceChildren(String(said.echo)));
      el.append(button, answer);
    } }"""
    def __init__(self):
        super().__init__()
        self.on_msg(lambda widget, content, buffers: self.send(content))
Echo()'''
# Presses and waits for the words to change, many times; returns ms of each.
_ROUNDS = """async ([press, words, rounds]) => {
  const button = document.querySelector(press), said = document.querySelector(words), times = [];
  for (let i = 0; i < rounds; i += 1) {
    const heard = new Promise((resolve) => new MutationObserver((_, watch) => {
      watch.disconnect();
      resolve(performance.now());
    }).observe(said, { childList: true }));
    const start = performance.now();
    button.click();
    times.push(await heard - start);
    await new Promise((rested) => setTimeout(rested, 30));
  }
  return times;
}"""
_ECHO = ("button.echo", "output.echoed")
# Tool in the hand, and the key that does its action.
_TOOLS = {
    "Leaves": "button.main",
    "Wrench": "button:nth-child(1)",
    "Caliper": "button.main",
}
_ANSWER = ".gal-answer [role=status]"


def opened(browser, address: str) -> Page:
    """Open a page in a window of its own."""
    page = browser.new_context(viewport={"width": 1280, "height": 900}).new_page()
    page.set_default_timeout(OPEN_MS)
    page.goto(address)
    return page


def with_echo(page: Page) -> Page:
    """Wait until the echo of a page stands."""
    page.locator("button.echo").wait_for()
    return page


def with_bench(page: Page) -> Page:
    """Set a brake out that is open."""
    page.get_by_label("What to practise").select_option("open")
    page.get_by_role("button", name="Set out a brake").click()
    page.locator(".gal-limits tbody tr").first.wait_for()
    return page


def in_hand(page: Page, turn: int) -> tuple[str, str]:
    """Take the tool of a turn in the hand; return its key and where the answer stands."""
    tool, key = list(_TOOLS.items())[turn % len(_TOOLS)]
    page.get_by_role("radio", name=tool, exact=True).check()
    row = " .row" if tool == "Wrench" else ""
    return f".gal-end .tool:not([hidden]){row} {key}", _ANSWER


def main() -> int:
    """Print the three medians and two ratios; return the exit status."""
    with ExitStack() as stack:
        ours = Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="galb")))
        stock = Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="galb")))
        (ours / "lessons").mkdir()
        write_page(ours / "lessons" / "practice.ipynb", PRACTICE)
        write_page(ours / "lessons" / "echo.ipynb", ECHO)
        write_page(stock / "echo.ipynb", ECHO)
        our_base = stack.enter_context(our_server(ours))
        stock_base = stack.enter_context(stock_server(stock))
        browser = stack.enter_context(chromium())
        pages = {
            "bench": with_bench(opened(browser, f"{our_base}practice.ipynb")),
            "echo, our server": with_echo(opened(browser, f"{our_base}echo.ipynb")),
            "echo, stock server": with_echo(opened(browser, f"{stock_base}echo.ipynb")),
        }
        times_ms: dict[str, list[float]] = {name: [] for name in pages}
        for turn in range(TURNS + 1):
            for name, page in pages.items():
                page.bring_to_front()
                places = in_hand(page, turn) if name == "bench" else _ECHO
                measured = page.evaluate(_ROUNDS, [*places, ROUNDS])
                if turn:  # the first turn warms up
                    times_ms[name] += measured
        for page in pages.values():
            leave(page)
    middle = {name: median(times) for name, times in times_ms.items()}
    for name, ms in middle.items():
        print(f"{name:20} median {ms:6.2f} ms of {len(times_ms[name])}")
    of_ours = middle["bench"] / middle["echo, our server"]
    of_stock = middle["bench"] / middle["echo, stock server"]
    print(f"bench over echo on our server   {of_ours:.2f}, asked at most {MOST_OF_OURS:g}")
    print(f"bench over echo on stock server {of_stock:.2f}, asked at most {MOST_OF_STOCK:.2f}")
    return int(of_ours > MOST_OF_OURS or of_stock > MOST_OF_STOCK)


if __name__ == "__main__":
    sys.exit(main())

"""A server, a browser that cannot leave this machine, and pages that remember what they saw."""

import os
import shutil
import signal
import socket
import subprocess
import sys
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Error, Page, WebSocket, expect, sync_playwright

from tests.processes import ON_WINDOWS, ask_to_end
from tests.waiting import comes_true

# Told to stop, a run unwinds like one that was interrupted: no server and no browser stays behind.
signal.signal(signal.SIGTERM, signal.default_int_handler)

ROOT = Path(__file__).parents[2]
# The shell is the same browser without its own windows: the tests take a third less of the machine.
BROWSERS = (
    "chromium-headless-shell", "chromium", "chromium-browser", "google-chrome", "google-chrome-stable",
)  # fmt: skip
# What is waited for comes at once on a machine that has nothing else to do; a busy one takes longer,
# and a test that is wrong is slow, not green. A page that opens has a kernel to start besides.
PATIENCE_MS, OPENING_MS = 20_000, 60_000
expect.set_options(timeout=PATIENCE_MS)
_AXE = Axe()
DESKTOP = {"width": 1280, "height": 800}
PHONE = {"width": 390, "height": 844}

ARGUMENTS = (
    # as the machine's notes say, for root and a closed network
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    # nothing but this machine has an address
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1, EXCLUDE localhost",
)  # fmt: skip

# Says on the page itself what pointed at it, so that a test can tell a key from a finger.
POINTED = """
window.galPointed = {};
addEventListener("pointerdown", ({ pointerType: by }) => (galPointed[by] = (galPointed[by] ?? 0) + 1), true);
"""
# Serves a folder of trial pages in place of the lessons, everything else as it is.
TRIAL = """
import sys
from pathlib import Path
from quizzes.server import serving
serving.LESSONS = Path(sys.argv[1])
sys.exit(serving.serve(int(sys.argv[2]), None, demo=False))
"""


@dataclass
class Seen:
    """What a page did since it was opened."""

    requests: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)
    frames: list[str] = field(default_factory=list)
    lines: list[WebSocket] = field(default_factory=list)

    def abroad(self, base: str) -> list[str]:
        """Return the addresses asked for that are not the server's own."""
        own = (base, base.replace("http:", "ws:"), "data:", "blob:")
        return [address for address in self.requests if not address.startswith(own)]


@pytest.fixture(scope="session")
def chromium() -> str:
    """Return the browser of the system; without one there is nothing to test."""
    for name in BROWSERS:
        if path := shutil.which(name):
            return path
    reason = f"no Chromium on this machine: looked for {', '.join(BROWSERS)}"
    if os.environ.get("GAL_BROWSER") == "required":
        pytest.fail(reason)
    pytest.skip(reason)


# Of each module, not of the session: while it lives, Playwright keeps an event loop running in the
# main thread, which other tests want for themselves.
@pytest.fixture(scope="module")
def browser(chromium) -> Iterator[Browser]:
    """The system's Chromium, unable to reach another machine."""
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=chromium, args=list(ARGUMENTS))
        yield started
        started.close()


@pytest.fixture
def open_page(browser) -> Iterator[Callable[..., Page]]:
    """Return a way to open a fresh page; it carries what it has seen in `seen`."""
    contexts = []

    def opened(viewport: dict = DESKTOP, **options: object) -> Page:
        context = browser.new_context(viewport=viewport, **options)
        context.set_default_timeout(PATIENCE_MS)
        context.set_default_navigation_timeout(OPENING_MS)
        context.add_init_script(POINTED)
        contexts.append(context)
        page = context.new_page()
        page.seen = watched(page)
        return page

    yield opened
    for context in contexts:
        for page in context.pages:
            with suppress(Error):  # some tests close their page, or end its server
                page.goto("about:blank")  # left as a person leaves it, so that its kernel ends
        context.close()


@pytest.fixture
def page(open_page) -> Page:
    """A fresh page at desktop width."""
    return open_page(DESKTOP)


@pytest.fixture
def phone_page(open_page) -> Page:
    """A fresh page at phone width, with touch."""
    return open_page(PHONE, has_touch=True)


def watched(page: Page) -> Seen:
    seen = Seen()

    def text(frame: str | bytes) -> str:
        return frame if isinstance(frame, str) else frame.decode("utf-8", "replace")

    page.on("request", lambda request: seen.requests.append(request.url))
    page.on("console", lambda said: seen.errors.append(said.text) if said.type == "error" else None)
    page.on("pageerror", lambda error: seen.errors.append(str(error)))
    page.on("websocket", lambda line: seen.requests.append(line.url))
    page.on("websocket", lambda line: seen.lines.append(line))  # noqa: PLW0108 (Playwright takes no built-in)
    page.on(
        "websocket", lambda line: line.on("framereceived", lambda f: seen.frames.append(text(f)))
    )
    return seen


def serious(page: Page, within: str = "html", *, contrast: bool = True) -> list[str]:
    """Return what axe-core calls serious or critical on a page: rule, place, and what is there.

    Contrast takes longer than all other rules together: where the colours were looked at already,
    do without.
    """
    options = {
        "resultTypes": ["violations"],  # what passed is not asked for, and long
        "preload": False,  # no rule that is asked of us reads a style sheet or a film
        "rules": {"color-contrast": {"enabled": contrast}},
    }
    # The library's own `run` sends half a megabyte of script each time: once for a page is enough.
    if not page.evaluate("() => Boolean(window.axe)"):
        page.evaluate(_AXE.axe_script)
    answer = page.evaluate("([within, options]) => axe.run(within, options)", [within, options])
    return [
        f"{found['id']} at {node['target']}: {node['html'][:160]}"
        for found in answer["violations"]
        if found["impact"] in {"serious", "critical"}
        for node in found["nodes"]
    ]


def too_wide(page: Page) -> float:
    """Return by how many pixels a page is wider than its window, 0 if it is not."""
    return page.evaluate("Math.max(0, document.documentElement.scrollWidth - innerWidth)")


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@contextmanager
def server(folder: Path, *command: str) -> Iterator[tuple[str, subprocess.Popen]]:
    """Run a server until the end of the block; it has to say one line and to stop cleanly."""
    environment = os.environ | {
        "XDG_STATE_HOME": str(folder / "state"),
        "GAL_RECORDS": f"sqlite:///{folder / 'records.sqlite'}",
    }
    with subprocess.Popen(
        [sys.executable, *command], cwd=ROOT, env=environment, text=True,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    ) as process:  # fmt: skip
        line = process.stdout.readline()
        if not line.startswith("Gap and Lining: http://127.0.0.1:"):
            process.kill()
            pytest.fail(f"the server did not start: {line}{process.stderr.read()}")
        try:
            yield line.split()[-1], process
        except BaseException:
            process.kill()  # a failed test must not wait for its server forever
            raise
        killed = process.poll() is not None
        ask_to_end(process)
        out, err = process.communicate(timeout=60)
    assert killed or ON_WINDOWS or (process.returncode, out, err) == (0, "", "")


@pytest.fixture(scope="session")
def serve_pages(chromium) -> Callable[[Path], AbstractContextManager]:
    """Return a way to serve a folder of trial pages, `folder/lessons`, for the length of a block."""
    return lambda folder: server(folder, "-c", TRIAL, str(folder / "lessons"), str(free_port()))


@pytest.fixture(scope="session")
def served(chromium, tmp_path_factory) -> Iterator[str]:
    """The suite as `serve --demo` serves it; returns its address, ending in `/`."""
    folder = tmp_path_factory.mktemp("served")
    with server(folder, "-m", "quizzes", "serve", "--demo", "--port", str(free_port())) as (
        base,
        _,
    ):
        assert comes_true(lambda: 'id="at-work"' not in _front_door(base), OPENING_MS / 1000)
        yield base


def _front_door(base: str) -> str:
    with urllib.request.urlopen(base) as answer:
        return answer.read().decode()

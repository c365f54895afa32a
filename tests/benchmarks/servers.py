"""What the benchmarks of pages share: our server, a stock one with its default page, a browser.

Every server and browser ends with its block, whatever happened in it.
"""

import os
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import nbformat
from playwright.sync_api import Browser, Page, sync_playwright

from tests.browser.conftest import ARGUMENTS, TRIAL, free_port, server

CHROMIUM = "/usr/bin/chromium"
START_S = 60.0


def write_page(path: Path, *cells: str) -> None:
    """Write a notebook of code cells."""
    written = nbformat.v4.new_notebook(metadata={"kernelspec": {"name": "python3", "display_name": "Python 3"}})  # fmt: skip
    written.cells = [nbformat.v4.new_code_cell(cell) for cell in cells]
    nbformat.write(written, path)


@contextmanager
def our_server(folder: Path) -> Iterator[str]:
    """Serve the pages in `folder/lessons` as `python -m quizzes serve` does; yield the way to a page."""
    with server(folder, "-c", TRIAL, str(folder / "lessons"), str(free_port())) as (base, _):
        yield f"{base}voila/render/"


@contextmanager
def stock_server(folder: Path, *settings: str) -> Iterator[str]:
    """Serve a folder by the library's own command: default page, plain settings but `settings`."""
    port = free_port()
    command = [
        sys.executable,
        "-m",
        "voila",
        str(folder),
        "--no-browser",
        f"--port={port}",
        *settings,
    ]
    environment = {k: v for k, v in os.environ.items() if not k.startswith(("JUPYTER", "GAL_"))}
    environment["HOME"] = str(folder)  # nobody's own settings
    with (
        (folder / "stock.log").open("wb") as log,
        subprocess.Popen(command, env=environment, stdout=log, stderr=log, cwd=folder) as process,
    ):
        try:
            _wait_for(f"http://127.0.0.1:{port}/", process)
            yield f"http://127.0.0.1:{port}/voila/render/"
        finally:
            process.terminate()
            with suppress(subprocess.TimeoutExpired):
                process.wait(timeout=20)
            process.kill()


def _wait_for(address: str, process: subprocess.Popen) -> None:
    until = time.monotonic() + START_S
    while time.monotonic() < until and process.poll() is None:
        with suppress(OSError), urllib.request.urlopen(address, timeout=5):
            return
        time.sleep(0.2)
    raise RuntimeError(f"the stock server did not open {address}")


@contextmanager
def chromium() -> Iterator[Browser]:
    """The system's browser, unable to reach another machine."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=list(ARGUMENTS))
        try:
            yield browser
        finally:
            browser.close()


def leave(page: Page) -> None:
    """Leave a page as a person does, so that its kernel ends, and close its window."""
    with suppress(Exception):
        page.goto("about:blank")
    page.context.close()

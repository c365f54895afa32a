"""A server of our own over a folder of small pages, and a client that does as it likes.

The server is its own process; the client speaks plain HTTP and websocket, as a hostile one would.
"""

import asyncio
import contextlib
import json
import os
import re
import signal
import socket
import subprocess
import sys
import threading
import urllib.error
import urllib.request
import uuid
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

import nbformat
from tornado.httpclient import HTTPRequest
from tornado.websocket import websocket_connect

from tests.processes import ask_to_end, below, leads_a_session

ROOT = Path(__file__).parents[2]
PATIENCE_S, MOMENT_S = 10.0, 0.5
TRUTH = "0.7321"  # stands for what no client may learn

PLAIN, WARM = "tests.server.plain_parent", "quizzes.server.forking.parent"
STARTER = """
import sys
from pathlib import Path
from quizzes.server import serving, settings
from quizzes.server.forking import keeper
serving.LESSONS = Path(sys.argv[1])
settings.IDLE_S, settings.LOOK_EVERY_S, settings.READY = int(sys.argv[3]), 1, int(sys.argv[4])
settings.FORK = not settings.READY
settings.UNREACHED_S, keeper.LIVED_S = int(sys.argv[5]), float(sys.argv[6])
keeper.PROGRAM = sys.argv[7]
sys.exit(serving.serve(int(sys.argv[2]), None, demo=False))
"""

CONTROLS = f"""
import logging, sys, warnings
import ipywidgets as W
true_gap_mm = {TRUTH}
fail, noise, echo = W.Button(description='fail'), W.Button(description='noise'), W.Text()
def failing(_):
    raise RuntimeError(f'the gap is {{true_gap_mm}}')
def noisy(_):
    warnings.warn(f'the gap is {{true_gap_mm}}')
    print(true_gap_mm, file=sys.stderr)
    logging.getLogger('bench').error('the gap is %s', true_gap_mm)
    echo.value = 'heard'
fail.on_click(failing)
noise.on_click(noisy)
W.VBox([fail, noise, echo])
"""


@dataclass
class House:
    """A running server and where its traces are."""

    process: subprocess.Popen
    port: int
    state: Path
    line: str = ""
    records_line: str = ""
    cookies: dict[str, str] = field(default_factory=dict)  # of one browser

    @property
    def base(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def log(self) -> str:
        (path,) = self.state.rglob("serve.log")
        return path.read_text(encoding="utf-8")

    def get(self, path: str, **headers: str) -> tuple[int, str, dict]:
        """Return status, text and headers of an address."""
        return self.ask(path, None, headers)

    def ask(self, path: str, body: bytes | None, headers: dict[str, str]) -> tuple[int, str, dict]:
        """Return status, text and headers of an answer; keep its cookies, as a browser does."""
        sent = {"Cookie": self.cookie} | headers
        request = urllib.request.Request(self.base + path, data=body, headers=sent)
        try:
            with opener(self).open(request, timeout=60) as answer:
                return answer.status, answer.read().decode(), dict(answer.headers)
        except urllib.error.HTTPError as refused:
            with refused:
                return refused.code, refused.read().decode(), dict(refused.headers)
        except OSError as error:  # seen once: hung up on before the first answer
            error.add_note(f"server: ended with {self.process.poll()}, said {self.line!r}")
            with contextlib.suppress(OSError, ValueError):
                error.add_note(self.log()[-2000:])
            raise

    @property
    def cookie(self) -> str:
        return "; ".join(f"{name}={value}" for name, value in self.cookies.items())

    def kernels(self) -> list[int]:
        """Return the process ids of the kernels: each is the first of a session of its own."""
        return [pid for pid in below(self.process.pid) if leads_a_session(pid)]


class Keeping(urllib.request.HTTPRedirectHandler):
    """Keeps cookies, and sends them along where an answer leads."""

    def __init__(self, house: House) -> None:
        self.house = house

    def http_response(self, request, answer):
        for cookie in answer.headers.get_all("Set-Cookie") or ():
            name, value = cookie.split(";")[0].split("=", 1)
            self.house.cookies[name] = value
        return answer

    def redirect_request(self, *about):
        further = super().redirect_request(*about)
        if further is not None:
            further.remove_header("Cookie")
            further.add_header("Cookie", self.house.cookie)
        return further


def opener(house: House) -> urllib.request.OpenerDirector:
    return urllib.request.build_opener(Keeping(house))


def notebook(path: Path, title: str, *cells: str) -> None:
    """Write a small page: Markdown where a cell starts with `#`, code elsewhere."""
    page = nbformat.v4.new_notebook(
        metadata={"title": title, "kernelspec": {"name": "python3", "display_name": "Python 3"}}
    )
    page.cells = [
        nbformat.v4.new_markdown_cell(c) if c.startswith("#") else nbformat.v4.new_code_cell(c)
        for c in cells
    ]
    nbformat.write(page, path)


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def start(
    folder: Path,
    *,
    idle_s: int = 3600,
    port: int = 0,
    ready: int = 0,
    unreached: int = 90,
    lived: float = 10.0,
    warm: bool = False,
    **options: object,
) -> House:
    """Start a server over the trial pages, waiting for its line; `warm` has the desks imported."""
    lessons = folder / "lessons"
    if not lessons.exists():
        lessons.mkdir()
        notebook(lessons / "controls.ipynb", "Controls", "# Controls\n\n$g^2$", CONTROLS)
        notebook(lessons / "broken.ipynb", "Broken", "# Broken", f"raise RuntimeError('{TRUTH}')")
        (lessons / "torn.ipynb").write_text('{"cells": [', encoding="utf-8")
        (lessons / "notes.csv").write_text(TRUTH, encoding="utf-8")
    port = port or free_port()
    environment = os.environ | {
        "XDG_STATE_HOME": str(folder / "state"),
        "GAL_RECORDS": f"sqlite:///{folder / 'records.sqlite'}",
        "SOME_API_TOKEN": TRUTH,
        "PYTHONWARNINGS": "default",
    }
    process = subprocess.Popen(
        [sys.executable, "-c", STARTER, str(lessons),
         *map(str, (port, idle_s, ready, unreached, lived)), WARM if warm else PLAIN],
        env=environment, cwd=ROOT, text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        **options,
    )  # fmt: skip
    house = House(process, port, folder / "state")
    house.line = process.stdout.readline()
    house.records_line = process.stdout.readline() if house.line else ""
    return house


def stop(house: House, how: signal.Signals = signal.SIGINT) -> tuple[int, str, str]:
    """Ask the server to stop; return its exit code and what it still had to say."""
    ask_to_end(house.process, how)
    out, err = house.process.communicate(timeout=30)
    return house.process.returncode, out, err


def kernel_id(page: str) -> str:
    return re.search(r'"kernelId": ?"([0-9a-f-]+)"', page).group(1)


def line_of(house: House, page: str, **headers: str) -> HTTPRequest:
    """Return what opens the line to a page's kernel."""
    address = f"ws://127.0.0.1:{house.port}/api/kernels/{kernel_id(page)}/channels"
    return HTTPRequest(address, headers={"Cookie": house.cookie} | headers)


def messages(house: House, page: str, *sent: dict, **headers: str) -> list:
    """Send comm messages to a page's kernel; return every frame it answers with, as text.

    The kernel says of each message when it is done with it; what comes within a moment of that is
    heard, too.
    """

    async def talk() -> list[str]:
        line = await websocket_connect(line_of(house, page, **headers))
        asked = [comm_message(content) for content in sent]
        for message in asked:
            await line.write_message(json.dumps(message))
        heard, left_s = [], PATIENCE_S if asked else MOMENT_S
        with contextlib.suppress(TimeoutError):
            while True:
                frame = str(await asyncio.wait_for(line.read_message(), left_s))
                heard.append(frame)
                if '"idle"' in frame and asked and asked[-1]["header"]["msg_id"] in frame:
                    left_s = MOMENT_S
        await hang_up(line)
        return heard

    return alone(talk())


async def hang_up(line) -> None:
    """Close a line, and wait until the other end has closed it, too."""
    line.close()
    with contextlib.suppress(TimeoutError):
        while await asyncio.wait_for(line.read_message(), 2.0) is not None:
            pass


@contextlib.contextmanager
def held_open(house: House, page: str):
    """Hold a page's line open, without a word, for the length of a block."""
    is_open, let_go = threading.Event(), threading.Event()

    async def hold() -> None:
        line = await websocket_connect(line_of(house, page))
        is_open.set()
        await asyncio.to_thread(let_go.wait)
        await hang_up(line)

    with ThreadPoolExecutor(1) as thread:
        holding = thread.submit(asyncio.run, hold())
        try:
            assert is_open.wait(PATIENCE_S)
            yield
        finally:
            let_go.set()
            holding.result(timeout=PATIENCE_S)


def alone(conversation):
    """Hold a conversation in a thread of its own, whatever loop the other tests left running."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, conversation).result(timeout=60)


def comm_message(content: dict) -> dict:
    header = {"msg_id": uuid.uuid4().hex, "msg_type": "comm_msg", "username": "", "session": "s",
              "date": "2026-01-01T00:00:00Z", "version": "5.3"}  # fmt: skip
    return {"header": header, "parent_header": {}, "metadata": {}, "content": content,
            "channel": "shell", "buffers": []}  # fmt: skip

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
import time
import urllib.error
import urllib.request
import uuid
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

import nbformat
from tornado.httpclient import HTTPRequest
from tornado.websocket import websocket_connect

ROOT = Path(__file__).parents[2]
TRUTH = "0.7321"  # stands for what no client may learn

STARTER = """
import sys
from pathlib import Path
from quizzes.server import command, settings
command.LESSONS = Path(sys.argv[1])
settings.IDLE_S, settings.LOOK_EVERY_S, settings.READY = int(sys.argv[3]), 1, int(sys.argv[4])
settings.FORK = not settings.READY
settings.UNREACHED_S = int(sys.argv[5])
sys.exit(command.serve(int(sys.argv[2]), None, demo=False))
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

    @property
    def cookie(self) -> str:
        return "; ".join(f"{name}={value}" for name, value in self.cookies.items())

    def kernels(self) -> list[int]:
        """Return the process ids of the kernels: each is the first of a session of its own."""
        found, parents = [], {self.process.pid}
        for entry in sorted(Path("/proc").iterdir(), key=lambda p: p.name.zfill(9)):
            with contextlib.suppress(OSError, ValueError):
                pid = int(entry.name)
                fields = (entry / "stat").read_text().rsplit(")", 1)[1].split()
                if int(fields[1]) in parents and fields[0] != "Z":
                    parents.add(pid)
                    if int(fields[3]) == pid:  # proc(5): its session
                        found.append(pid)
        return found


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
    idle_s: int = 3600,
    port: int = 0,
    ready: int = 0,
    unreached: int = 90,
    **options: object,
) -> House:
    """Start a server over the trial pages, waiting for its line."""
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
        [sys.executable, "-c", STARTER, str(lessons), str(port), str(idle_s), str(ready), str(unreached)],
        env=environment, cwd=ROOT, text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        **options,
    )  # fmt: skip
    house = House(process, port, folder / "state")
    house.line = process.stdout.readline()
    return house


def stop(house: House, how: signal.Signals = signal.SIGINT) -> tuple[int, str, str]:
    """Ask the server to stop; return its exit code and what it still had to say."""
    house.process.send_signal(how)
    out, err = house.process.communicate(timeout=30)
    return house.process.returncode, out, err


def wait_until(fact, patience_s: float = 15.0) -> bool:
    """Wait for a fact to hold; say whether it came to."""
    end = time.monotonic() + patience_s
    while time.monotonic() < end:
        if fact():
            return True
        time.sleep(0.1)
    return False


def kernel_id(page: str) -> str:
    return re.search(r'"kernelId": ?"([0-9a-f-]+)"', page).group(1)


def messages(house: House, page: str, *sent: dict, seconds: float = 2.0, **headers: str) -> list:
    """Send comm messages to a page's kernel; return every frame it answers with, as text."""

    async def talk() -> list[str]:
        address = f"ws://127.0.0.1:{house.port}/api/kernels/{kernel_id(page)}/channels"
        line = await websocket_connect(
            HTTPRequest(address, headers={"Cookie": house.cookie} | headers)
        )
        for content in sent:
            await line.write_message(json.dumps(comm_message(content)))
        heard, end = [], time.monotonic() + seconds
        with contextlib.suppress(TimeoutError):
            while time.monotonic() < end:
                frame = await asyncio.wait_for(line.read_message(), end - time.monotonic())
                heard.append(frame if isinstance(frame, str) else str(frame))
        await hang_up(line)
        return heard

    return alone(talk())


async def hang_up(line) -> None:
    """Close a line, and wait until the other end has closed it, too."""
    line.close()
    with contextlib.suppress(TimeoutError):
        while await asyncio.wait_for(line.read_message(), 2.0) is not None:
            pass


def alone(conversation):
    """Hold a conversation in a thread of its own, whatever loop the other tests left running."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, conversation).result(timeout=60)


def comm_message(content: dict) -> dict:
    header = {"msg_id": uuid.uuid4().hex, "msg_type": "comm_msg", "username": "", "session": "s",
              "date": "2026-01-01T00:00:00Z", "version": "5.3"}  # fmt: skip
    return {"header": header, "parent_header": {}, "metadata": {}, "content": content,
            "channel": "shell", "buffers": []}  # fmt: skip


def command_line(pid: int) -> list[str]:
    return Path(f"/proc/{pid}/cmdline").read_text().split("\0")


def open_sockets(pid: int) -> set[str]:
    found = set()
    for entry in Path(f"/proc/{pid}/fd").iterdir():
        with contextlib.suppress(OSError):
            found |= set(re.findall(r"socket:\[(\d+)\]", str(entry.readlink())))
    return found


def socket_folders(pid: int) -> set[Path]:
    """Return where a process's named local sockets are (proc(5), /proc/net/unix)."""
    own = open_sockets(pid)
    rows = [row.split() for row in Path("/proc/net/unix").read_text().splitlines()[1:]]
    return {Path(row[7]).parent for row in rows if len(row) > 7 and row[6] in own}


def listening(family: str) -> set[str]:
    """Return the inodes of listening sockets; state 0A is LISTEN (Linux, proc(5))."""
    rows = Path(f"/proc/net/{family}").read_text().splitlines()[1:]
    return {row.split()[9] for row in rows if row.split()[3] == "0A"}

"""Print how long a class waits that opens its pages together, beside stock Voila, and what a page costs.

Run it from the project's folder: .venv/bin/python tests/benchmarks/bench_class.py [--left N]
Both servers stand on this machine, one after the other; a client in a process of its own opens
pages by plain HTTP, a websocket, and asks one widget for its state. Asked, on two cores:
30 pages within a second all answer their first message within 3 s; 100 within a minute answer with
a 95th percentile below 5 s; an action's 95th percentile is below 100 ms with 30 at work; a further
page costs at most 25 MB of proportional memory (PSS, proc(5)); the server's memory stays flat over
pages opened and left (--left 1000). The stock server shows one anywidget on its default page. The
status is 1 if anything that was asked is missed.
"""

import argparse
import asyncio
import json
import os
import re
import sys
import tempfile
import time
import uuid
from contextlib import ExitStack
from pathlib import Path
from statistics import median, quantiles

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tornado.httpclient import AsyncHTTPClient, HTTPRequest
from tornado.websocket import websocket_connect

from quizzes.server.serving import LESSONS
from tests.benchmarks.servers import our_server, stock_server, write_page

PAGE = "assessment.ipynb"
STOCK = """import anywidget
class Gauge(anywidget.AnyWidget):
    _esm = "export default { render() {} }"
Gauge()"""
BURST, SPREAD_S, MOST_BURST_S = 30, 1.0, 3.0
MANY, MINUTE_S, MOST_MANY_S = 100, 60.0, 5.0
ACTIONS, REST_S, MOST_ACTION_S = 20, 0.5, 0.100
MOST_PAGE_MB = 25.0
MOST_GROWTH_KB = 20.0  # kB a page that was left may leave behind in the server: noise
WARM_S = 8.0


class Visit:
    """One browser: its cookies and the page that it opened."""

    def __init__(self, base: str, page: str) -> None:
        self.base, self.page = base, page
        self.front = base.split("voila/render/", maxsplit=1)[0]
        self.cookies: dict[str, str] = {}

    async def open(self) -> float:
        """Open the page, reach its kernel, ask a widget; return s until the answer."""
        await self._fetch(self.front)
        begun = time.monotonic()
        html = await self._fetch(self.base + self.page)
        self.kernel = re.search(r'"kernelId": ?"([0-9a-f-]+)"', html)[1]
        self.model = re.findall(r'"model_id": ?"([0-9a-f]+)"', html)[0]
        line = f"{self.front.replace('http', 'ws', 1)}api/kernels/{self.kernel}/channels?session_id={uuid.uuid4().hex}"
        self.line = await websocket_connect(HTTPRequest(line, headers=self._headers()))
        await self.act()
        return time.monotonic() - begun

    async def act(self) -> float:
        """Ask for a widget's state; return s until it is there."""
        begun = time.monotonic()
        header = {"msg_id": uuid.uuid4().hex, "msg_type": "comm_msg", "username": "", "session": "s",
                  "date": "2026-01-01T00:00:00Z", "version": "5.3"}  # fmt: skip
        content = {"comm_id": self.model, "data": {"method": "request_state"}}
        message = {"header": header, "parent_header": {}, "metadata": {}, "content": content,
                   "channel": "shell", "buffers": []}  # fmt: skip
        await self.line.write_message(json.dumps(message))
        while True:
            frame = await self.line.read_message()
            if frame is None:
                raise ConnectionError("the page's line was cut")
            if isinstance(frame, bytes) or json.loads(frame).get("msg_type") == "comm_msg":
                return time.monotonic() - begun

    async def leave(self) -> None:
        """Leave as a browser does: close the line, say the last word."""
        self.line.close()
        self.cookies.setdefault("_xsrf", "x")
        last = f"{self.front}voila/api/shutdown/{self.kernel}?_xsrf={self.cookies['_xsrf']}"
        await AsyncHTTPClient().fetch(
            last, method="POST", body=b"", headers=self._headers(), raise_error=False
        )

    async def _fetch(self, address: str) -> str:
        answer = await AsyncHTTPClient().fetch(
            address, request_timeout=180, connect_timeout=60, headers=self._headers()
        )
        for cookie in answer.headers.get_list("Set-Cookie"):
            name, value = cookie.split(";")[0].split("=", 1)
            self.cookies[name] = value
        return answer.body.decode()

    def _headers(self) -> dict[str, str]:
        return {"Cookie": "; ".join(f"{k}={v}" for k, v in self.cookies.items())}


async def arrive(
    base: str, page: str, count: int, within_s: float
) -> tuple[list[Visit], list[float]]:
    """Let visitors arrive evenly; return them, and s until each was answered."""

    async def one(at: int) -> tuple[Visit, float]:
        await asyncio.sleep(at * within_s / count)
        visit = Visit(base, page)
        return visit, await visit.open()

    both = await asyncio.gather(*map(one, range(count)))
    return [visit for visit, _ in both], sorted(took for _, took in both)


async def at_work(visits: list[Visit]) -> list[float]:
    """Let all act again and again; return s of each action."""

    async def one(at: int, visit: Visit) -> list[float]:
        await asyncio.sleep(REST_S * at / len(visits))
        times = []
        for _ in range(ACTIONS):
            times.append(await visit.act())
            await asyncio.sleep(REST_S)
        return times

    return [took for each in await asyncio.gather(*(one(*pair) for pair in enumerate(visits))) for took in each]  # fmt: skip


async def leave(visits: list[Visit]) -> None:
    """Let all leave, a few at a time."""
    for visit in visits:
        await visit.leave()


def pss_mb(pids: list[int]) -> float:
    """Return what processes take together, each shared page counted once."""
    total = 0
    for pid in pids:
        try:
            told = Path(f"/proc/{pid}/smaps_rollup").read_text()
        except OSError:
            continue
        total += int(re.search(r"^Pss:\s+(\d+)", told, re.MULTILINE)[1])
    return total / 1024


def cpu_s(pids: list[int]) -> float:
    """Return the processor time of processes and of their children that have ended (proc(5))."""
    total = 0
    for pid in pids:
        try:
            fields = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
        except OSError:
            continue
        total += sum(int(field) for field in fields[11:15])
    return total / os.sysconf("SC_CLK_TCK")


def family(port: str) -> list[int]:
    """Return the server that serves a port, and its children."""
    rows = [row.split() for row in Path("/proc/net/tcp").read_text().splitlines()[1:]]
    (inode,) = {row[9] for row in rows if row[3] == "0A" and int(row[1].split(":")[1], 16) == int(port)}  # fmt: skip
    parents: dict[int, int] = {}
    server = 0
    for entry in Path("/proc").glob("[0-9]*"):
        try:
            parents[int(entry.name)] = int(
                (entry / "stat").read_text().rsplit(")", 1)[1].split()[1]
            )
            if any(f"socket:[{inode}]" == str(f.readlink()) for f in (entry / "fd").iterdir()):
                server = int(entry.name)
        except OSError:
            continue
    found = [server]
    for pid in found:
        found += [child for child, parent in parents.items() if parent == pid]
    return found


def p95(times: list[float]) -> float:
    return quantiles(times, n=20)[-1]


async def measured(base: str, page: str, many: int) -> dict[str, float]:
    """Return what a class of visitors found."""
    port = base.split(":")[2].split("/", maxsplit=1)[0]
    (first, *_), _ = await arrive(base, page, 1, 0.0)
    await first.leave()
    await asyncio.sleep(WARM_S)
    empty_mb, empty_s = pss_mb(family(port)), cpu_s(family(port))
    visits, burst = await arrive(base, page, BURST, SPREAD_S)
    found = {"burst median": median(burst), "burst last": burst[-1]}
    found["page MB"] = (pss_mb(family(port)) - empty_mb) / BURST
    # Told beside the times: it says what the machine's other work does not change much.
    found["page CPU s"] = (cpu_s(family(port)) - empty_s) / BURST
    found["action p95"] = p95(await at_work(visits))
    await leave(visits)
    if many:
        visits, times = await arrive(base, page, many, MINUTE_S)
        found["many p95"] = p95(times)
        await leave(visits)
    return found


async def left_behind_kb(base: str, page: str, count: int) -> float:
    """Return kB that each page opened and left leaves in the server, after the first tenth."""
    port = base.split(":")[2].split("/", maxsplit=1)[0]
    sizes = []
    for part in range(10):
        for _ in range(max(1, count // 40)):
            visits, _ = await arrive(base, page, 4, 0.0)
            await leave(visits)
        await asyncio.sleep(3.0)
        sizes.append(pss_mb([family(port)[0]]))
        print(f"after {(part + 1) * max(1, count // 40) * 4} pages: {sizes[-1]:.1f} MB", file=sys.stderr)  # fmt: skip
    return 1024 * (sizes[-1] - sizes[0]) / (count * 0.9)


def main() -> int:
    """Print what was found and asked; return the exit status."""
    words = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    words.add_argument("--left", type=int, default=0, help="pages to open and leave (0: none)")
    words.add_argument("--many", type=int, default=MANY, help="pages within a minute (0: none)")
    words.add_argument("--no-stock", action="store_true", help="leave the stock server out")
    asked = words.parse_args()
    AsyncHTTPClient.configure(None, max_clients=500)
    with ExitStack() as stack:
        ours = Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="galb")))
        (ours / "lessons").symlink_to(LESSONS)
        base = stack.enter_context(our_server(ours))
        time.sleep(WARM_S)
        found = asyncio.run(measured(base, PAGE, asked.many))
        grown = asyncio.run(left_behind_kb(base, PAGE, asked.left)) if asked.left else None
    print("ours ", {name: round(value, 3) for name, value in found.items()})
    if not asked.no_stock:
        with ExitStack() as stack:
            stock = Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="galb")))
            write_page(stock / "one.ipynb", STOCK)
            print("stock", {name: round(value, 3) for name, value in asyncio.run(measured(stack.enter_context(stock_server(stock)), "one.ipynb", 0)).items()})  # fmt: skip
    missed = [
        f"{name}: {value:.3f}, asked at most {most:g}"
        for name, value, most in (
            ("burst last, s", found["burst last"], MOST_BURST_S),
            ("many p95, s", found.get("many p95", 0.0), MOST_MANY_S),
            ("action p95, s", found["action p95"], MOST_ACTION_S),
            ("page, MB", found["page MB"], MOST_PAGE_MB),
            ("left behind, kB a page", grown or 0.0, MOST_GROWTH_KB),
        )
        if value > most
    ]
    if grown is not None:
        print(f"left behind by a page: {grown:.1f} kB")
    print(*(missed or ["all that was asked is met"]), sep="\n")
    return int(bool(missed))


if __name__ == "__main__":
    sys.exit(main())

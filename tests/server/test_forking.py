"""Kernels by fork: what they share, what they do not, and what happens when one of all ends."""

import html
import json
import os
import re
import signal
import socket
import subprocess
import sys
import threading
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import psutil
import pytest
from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection
from tornado.httpclient import HTTPClientError
from tornado.web import HTTPError
from tornado.websocket import websocket_connect

from quizzes.desks.visitor import Visitor, visitor_of
from quizzes.server.border.connection import MOST_LINES, PromptConnection
from quizzes.server.forking import keeper
from quizzes.server.forking.order import LONGEST_BYTES, Order
from quizzes.server.kernel_manager import MOST_OF_ADDRESS, MOST_OF_BROWSER, PageKernels
from quizzes.server.pages.asking import Asking
from quizzes.server.pages.room import MOST_PAGES, PAGE_SOCKETS
from tests.processes import below, end_in_time, is_running, leads_a_session, sockets, words_of
from tests.server.house import (
    PLAIN,
    ROOT,
    alone,
    hang_up,
    held_open,
    kernel_id,
    line_of,
    messages,
    notebook,
    start,
    stop,
)
from tests.waiting import comes_true

pytestmark = pytest.mark.skipif(not keeper.can_fork(), reason="kernels are forked on Linux only")

DICE = """
import json, os, random, uuid
import numpy as np
import ipywidgets as W
from IPython import get_ipython
from quizzes.desks.visitor import visitor
print('DICE', json.dumps([
    random.random(), float(np.random.random()), str(uuid.uuid4()),
    get_ipython().kernel.session.key.hex(), get_ipython().kernel.session.session,
]))
print('ABOUT', json.dumps([
    os.getpid(), os.getppid(), os.getsid(0), os.getcwd(), visitor().role, visitor().place,
    os.environ.get('SOME_API_TOKEN', ''), os.environ.get('GAL_VISITOR', ''),
]))
W.Label('thrown')
"""
THREADS = """
import concurrent.futures, subprocess, sys
import ipywidgets as W
with concurrent.futures.ThreadPoolExecutor(2) as pool:
    total = sum(pool.map(int, '1234'))
said = subprocess.run([sys.executable, '-c', 'print(7)'], capture_output=True, text=True).stdout
print('TOTAL', total, said.strip())
W.Label(str(total))
"""


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    """A server with pages that say what their kernel is."""
    folder = tmp_path_factory.mktemp("forks")
    (folder / "lessons").mkdir()
    notebook(folder / "lessons" / "dice.ipynb", "Dice", "# Dice", DICE)
    notebook(folder / "lessons" / "threads.ipynb", "Threads", "# Threads", THREADS)
    notebook(folder / "lessons" / "steps.ipynb", "Steps", "x = 1", "print('STEP', x + 1)", "1/0", "print('NO')")  # fmt: skip
    started = start(folder)
    yield started
    stop(started)


def said(page: str, word: str) -> list:
    """Return what a page's cell printed as JSON behind a word."""
    return json.loads(re.search(rf"{word} (.*)", html.unescape(page))[1])


def parent_of_all(house) -> int:
    """Return the process number of the forking parent."""
    (found,) = (
        pid
        for pid in below(house.process.pid)
        if PLAIN in words_of(pid) and not leads_a_session(pid)
    )
    return found


class TestKernels:
    def test_no_two_kernels_throw_the_same_dice(self, house):
        """Random numbers, keys and sessions differ between copies of one process."""
        first, second = (said(house.get("/voila/render/dice.ipynb")[1], "DICE") for _ in range(2))

        assert all(one != other for one, other in zip(first, second, strict=True))

    def test_a_kernel_is_the_servers_own_child_in_a_session_of_its_own(self, house):
        """The server outlives the parent of all, so it is the one that must know of its end."""
        pid, _, session, folder, *_ = said(house.get("/voila/render/dice.ipynb")[1], "ABOUT")

        assert psutil.Process(pid).ppid() == house.process.pid
        assert session == pid
        assert Path(folder).name == "lessons"

    def test_role_and_place_come_from_the_server(self, house):
        """Whatever the address says, the kernel knows what the server knows."""
        page = house.get("/voila/render/dice.ipynb?GAL_VISITOR=trainer&role=assessor")[1]
        *_, role, place, token, line = said(page, "ABOUT")

        assert (role, place, token) == ("anyone", "here", "")
        assert visitor_of(line) == Visitor()

    def test_threads_and_other_programs_work_in_a_kernel(self, house):
        """A copy of a process with one thread can have many."""
        assert "TOTAL 10 7" in house.get("/voila/render/threads.ipynb")[1]

    def test_a_page_stops_at_the_cell_that_broke(self, house):
        """What stood before is shown; what comes after is not run; the story stays here."""
        page = house.get("/voila/render/steps.ipynb")[1]

        assert "STEP 2" in page
        assert "could not be set out" in page
        assert not re.search(r"\bNO\b|ZeroDivisionError", page)
        assert "ZeroDivisionError" in house.log()

    def test_a_kernel_holds_nothing_of_the_parents(self, house):
        """No port of the network, no line to the parent, no descriptor of another page."""
        house.get("/voila/render/dice.ipynb")
        lines = open_sockets(parent_of_all(house)) | open_sockets(house.process.pid)

        for pid in house.kernels():
            assert not open_sockets(pid) & lines
            assert not sockets(pid, "inet")

    def test_no_list_of_processes_or_sockets_names_a_kernel(self, house):
        """Its number opens its page: what every user of the machine can read does not hold it."""
        page = house.get("/voila/render/dice.ipynb")[1]
        commands = [words_of(pid) for pid in house.kernels()]

        assert commands
        assert not any(kernel_id(page) in word for words in commands for word in words)
        assert kernel_id(page) not in Path("/proc/net/unix").read_text()


class TestEndings:
    def test_a_parent_that_dies_is_replaced_and_its_kernels_go_on(self, tmp_path):
        """Pages that stand answer as before; the next one is forked from another parent."""
        started = dice_house(tmp_path, lived=0)  # one that dies sooner is not tried again
        page = started.get("/voila/render/dice.ipynb")[1]
        first = parent_of_all(started)
        os.kill(first, signal.SIGKILL)
        heard = messages(
            started, page, {"comm_id": model(page), "data": {"method": "request_state"}}
        )
        later = started.get("/voila/render/dice.ipynb")
        replaced = comes_true(lambda: parent_of_all(started) != first)
        newest, *_ = said(started.get("/voila/render/dice.ipynb")[1], "ABOUT")
        taken_up = psutil.Process(newest).ppid() == started.process.pid
        kernels = started.kernels()
        code, out, err = stop(started)

        assert any("thrown" in frame for frame in heard)
        assert later[0] == 200
        assert replaced
        assert taken_up
        assert len(kernels) == 3
        assert (code, out, err) == (0, "", "")
        assert not any(is_running(pid) for pid in kernels)

    @pytest.mark.overnight
    def test_a_parent_that_dies_at_once_is_not_tried_for_ever(self, tmp_path):
        """Pages are then made the ordinary way, and all still ends when told to."""
        started = dice_house(tmp_path)
        started.get("/voila/render/dice.ipynb")
        os.kill(parent_of_all(started), signal.SIGKILL)
        status, page, _ = started.get("/voila/render/dice.ipynb")
        code, out, err = stop(started)

        assert status == 200
        assert "DICE" in page
        assert (code, out, err) == (0, "", "")

    def test_when_the_server_is_killed_nothing_goes_on(self, tmp_path):
        """Kernels and their parent watch the server, not one another."""
        started = dice_house(tmp_path)
        started.get("/voila/render/dice.ipynb")
        left = [*started.kernels(), parent_of_all(started)]
        stop(started, signal.SIGKILL)

        assert len(left) == 2
        assert end_in_time(left, 3.0)

    def test_a_kernel_that_nobody_came_for_ends_early(self, tmp_path):
        """A page whose browser never opened its line leaves nothing behind."""
        started = dice_house(tmp_path, unreached=2)
        reached = started.get("/voila/render/dice.ipynb")[1]
        messages(started, reached)
        (older,) = started.kernels()
        started.get("/voila/render/dice.ipynb")
        both = started.kernels()
        ended = end_in_time(set(both) - {older})
        still = started.kernels()
        stop(started)

        assert len(both) == 2
        assert ended
        assert still == [older]

    def test_a_page_that_is_closed_takes_its_kernel_along(self, house):
        """The browser's last word ends the kernel; another browser's does not."""
        page = house.get("/voila/render/dice.ipynb")[1]
        address = f"/voila/api/shutdown/{kernel_id(page)}"
        before = len(house.kernels())
        stranger = replace(house, cookies={})
        stranger.get("/")
        refused = stranger.ask(address, b"", xsrf(stranger))[0]
        unharmed = len(house.kernels())
        done = house.ask(address, b"", xsrf(house))[0]

        assert (refused, unharmed, done) == (403, before, 204)
        assert comes_true(lambda: len(house.kernels()) == before - 1)

    def test_one_page_has_so_many_lines_and_the_next_is_refused(self, house):
        """Each takes nine descriptors of the server, which has them for everybody."""
        page = house.get("/voila/render/dice.ipynb")[1]

        async def open_many() -> tuple[int, int]:
            lines, code = [], 0
            for _ in range(MOST_LINES + 1):
                try:
                    lines.append(await websocket_connect(line_of(house, page)))
                except HTTPClientError as refused:
                    code = refused.code
            for line in lines:
                await hang_up(line)
            return len(lines), code

        assert alone(open_many()) == (MOST_LINES, 429)
        assert any("thrown" in frame for frame in messages(house, page, {"comm_id": model(page), "data": {"method": "request_state"}}))  # fmt: skip

    def test_a_page_takes_fewer_sockets_than_are_kept_for_it(self, house):
        """Whatever the ceiling on pages says, the library's own on sockets came first."""
        pages = [house.get("/voila/render/dice.ipynb")[1] for _ in range(2)]
        before = event_descriptors(house.process.pid)
        with held_open(house, pages[0]), held_open(house, pages[1]):
            lines = event_descriptors(house.process.pid) - before

        assert 0 < lines <= 2 * PAGE_SOCKETS
        assert PageKernels().context.max_sockets >= MOST_PAGES * PAGE_SOCKETS


def test_one_device_of_the_room_has_its_share_of_pages():
    """The oldest that was left without a word makes room; if none was, the device is told."""
    kernels, ended = PageKernels(), []
    kernels._end = ended.append
    asking = Asking("v" * 22, Visitor(), address="192.0.2.9")
    for at in range(MOST_OF_BROWSER):
        kernels.owners.note(f"k{at}", asking.visit, address=asking.address)
        kernels._reached.add(f"k{at}")
        kernels._kernel_connections[f"k{at}"] = int(at != 3)

    assert kernels.objection(asking) == ""
    assert ended == ["k3"]
    kernels._kernel_connections["k3"] = 1
    assert kernels.objection(asking).startswith(f"{MOST_OF_BROWSER} pages are open")
    assert kernels.objection(replace(asking, address="")) == ""  # this machine's own
    assert kernels.objection(replace(asking, visit="w" * 22)) == ""
    for at in range(MOST_OF_ADDRESS):
        kernels.owners.note(f"n{at}", "n" * 22, address=asking.address)
    assert kernels.objection(replace(asking, visit="w" * 22)).startswith(f"{MOST_OF_ADDRESS} ")


def test_a_line_to_a_kernel_that_has_ended_is_refused_at_once(monkeypatch):
    """The library waits a minute for it, and so does the page, without a word."""
    monkeypatch.setattr(PromptConnection, "kernel_id", "k")
    monkeypatch.setattr(PromptConnection, "kernel_manager", SimpleNamespace(is_alive=lambda: False))

    with pytest.raises(HTTPError) as refused:
        alone(PromptConnection.__new__(PromptConnection).prepare())

    assert refused.value.status_code == 410


def test_a_line_to_a_kernel_at_work_waits_until_it_is_heard(monkeypatch):
    """A page that comes back while its kernel works loses nothing of what that shows."""
    kernel = SimpleNamespace(execution_state="busy")
    seen = []
    monkeypatch.setattr(PromptConnection, "kernel_manager", kernel)
    monkeypatch.setattr(
        ZMQChannelsWebsocketConnection, "nudge", lambda _: seen.append(kernel.execution_state)
    )

    PromptConnection.__new__(PromptConnection).nudge()

    assert seen == ["unknown"]  # at "busy" the library does not wait
    assert kernel.execution_state == "busy"


def event_descriptors(pid: int) -> int:
    """Return how many sockets of the message library a process has: each has one such descriptor."""
    links = (entry.readlink() for entry in Path(f"/proc/{pid}/fd").iterdir())
    return sum("eventfd" in str(link) for link in links)


def xsrf(house) -> dict[str, str]:
    """Return the headers with which a page of ours says its last word."""
    house.cookies["_xsrf"] = house.cookies.get("_xsrf", "x")
    return {"Cookie": house.cookie, "X-XSRFToken": house.cookies["_xsrf"]}


def open_sockets(pid: int) -> set[str]:
    """Return the sockets of a process by number, those without a name too (Linux, proc(5))."""
    links = (Path(entry).readlink() for entry in Path(f"/proc/{pid}/fd").iterdir())
    return {str(link) for link in links if "socket:" in str(link)}


def model(page: str) -> str:
    return re.findall(r'"model_id": ?"([0-9a-f]+)"', page)[0]


def dice_house(folder: Path, **settings: int):
    (folder / "lessons").mkdir()
    notebook(folder / "lessons" / "dice.ipynb", "Dice", "# Dice", DICE)
    return start(folder, **settings)


class TestParent:
    def test_a_parent_with_two_threads_does_not_fork(self):
        """A copy would hold the locks of a thread that it does not have."""
        from quizzes.server.forking import parent

        held = threading.Event()
        other = threading.Thread(target=held.wait)
        other.start()
        ours, theirs = socket.socketpair()
        with ours, theirs:
            parent._fork(theirs, Order("", {}, "/"), (0, 1, 2))
            answer = ours.recv(16)
        held.set()
        other.join()

        assert answer == b"0"

    def test_the_parent_imports_all_without_a_thread(self):
        """Every library that kernels share is loaded, and one thread is all there is."""
        words = (
            "from quizzes.server.forking import parent; parent.prepare();"
            "import sys; print(parent.threads(), 'zmq' in sys.modules,"
            " 'quizzes.desks.apprentice.assessment' in sys.modules, 'debugpy' in sys.modules)"
        )
        run = subprocess.run(
            [sys.executable, "-c", words], cwd=ROOT, text=True, capture_output=True,
            env=os.environ | keeper.ONE_THREAD, timeout=120,
        )  # fmt: skip

        assert run.stdout.split() == ["1", "True", "True", "False"]

    def test_an_order_that_is_too_long_is_refused(self):
        """An address of a hundred thousand letters does not tear the line to the parent."""
        with pytest.raises(ValueError, match=str(LONGEST_BYTES)):
            Order("", {"QUERY_STRING": "x" * LONGEST_BYTES}, "/").packet()

    def test_an_order_comes_out_as_it_went_in(self):
        """What the server wants is what the parent reads."""
        order = Order("/tmp/k.json", {"GAL_PLACE": "web"}, "/tmp", ("1 + 1", "x"))

        assert Order.of(order.packet()) == order


@pytest.mark.parametrize("role", ["", "Trainer", "root", "anyone "])
def test_a_role_that_is_none_is_refused(role):
    """Who a page is for is one of five words, or there is no such visitor."""
    with pytest.raises(ValueError, match="role must be one of"):
        Visitor(role)

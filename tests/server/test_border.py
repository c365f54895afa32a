"""The border, as a hostile neighbour in class tries it: each attack that once worked is kept here."""

import asyncio
import json
import os
import re
import signal
import socket
import struct
import subprocess
import sys
import time
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import psutil
import pytest
from hypothesis import given
from hypothesis import strategies as st
from jupyter_server.services.kernels.connection.base import (
    serialize_binary_message,
    serialize_msg_to_ws_v1,
)
from tornado.httpclient import HTTPClientError, HTTPRequest
from tornado.websocket import websocket_connect

from quizzes.server.border.frames import MOST_PARTS, PROTOCOL, is_whole
from quizzes.server.border.lines import LONGEST, plain, story
from quizzes.server.border.origins import Announced
from quizzes.server.border.outgoing import MOST_WAITING
from quizzes.server.left_behind import PREFIX, clear_left_behind
from tests.server.house import (
    ROOT,
    alone,
    comm_message,
    free_port,
    hang_up,
    kernel_id,
    messages,
    notebook,
    start,
    stop,
)
from tests.waiting import comes_true

resource = pytest.importorskip("resource", reason="limits, signals and sockets of Unix")

PLAIN = "import ipywidgets as W\nW.Label('here')"
WITH_BYTES = "import ipywidgets as W\nW.Image(value=b'here' * 9)"
LARGE = 200_000  # characters that one answer of a large page has
STORE = """
import ipywidgets as W
from quizzes.records import Records, RecordsError
try:
    Records('sqlite:////nowhere/secret-folder/records.sqlite').results()
except RecordsError as error:
    print('SAID', error)
W.Label('there')
"""


def pages(folder: Path) -> Path:
    (folder / "lessons").mkdir()
    notebook(folder / "lessons" / "plain.ipynb", "Plain", "# Plain", PLAIN)
    notebook(folder / "lessons" / "bytes.ipynb", "Bytes", "# Bytes", WITH_BYTES)
    large = f"import anywidget\nanywidget.AnyWidget(_esm='//' + 'x' * {LARGE})"
    notebook(folder / "lessons" / "large.ipynb", "Large", "# Large", large)
    notebook(folder / "lessons" / "store.ipynb", "Store", "# Store", STORE)
    return folder


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    """A server that several neighbours share."""
    started = start(pages(tmp_path_factory.mktemp("border")))
    started.get("/")
    yield started
    stop(started)


def neighbour(house):
    """Return another browser's view of the same server."""
    other = replace(house, cookies={})
    other.get("/")
    return other


def opened(house):
    """Return a page of this browser's own."""
    status, page, _ = house.get("/voila/render/plain.ipynb")
    assert status == 200
    return page


class TestFrames:
    @pytest.mark.parametrize("protocol", [None, PROTOCOL])
    @given(frame=st.binary(max_size=200))
    def test_no_frame_whatever_it_is_breaks_the_look_at_it(self, frame, protocol):
        """Any bytes are looked at in no time, and are whole or not."""
        assert is_whole(frame, protocol) in (True, False)

    @given(parts=st.lists(st.binary(max_size=20), max_size=5), channel=st.sampled_from(["shell", "control"]))  # fmt: skip
    def test_what_the_library_writes_is_whole(self, parts, channel):
        """Outside check: jupyter_server's own two writers make frames that pass."""
        message = comm_message({}) | {"channel": channel, "buffers": parts}
        four = [json.dumps(message[part]).encode() for part in ("header", "parent_header", "metadata", "content")]  # fmt: skip

        assert is_whole(serialize_binary_message(message), None)
        assert is_whole(serialize_msg_to_ws_v1([*four, *parts], channel), PROTOCOL)
        assert is_whole(json.dumps(message | {"buffers": []}), None)

    @pytest.mark.parametrize(
        "frame",
        [b"", b"null", b"\x00\x00\x00\x01", b"\x7f\xff\xff\xff" * 6, b"\xff\xff\xff\xff" + bytes(40),
         (MOST_PARTS + 1).to_bytes(4, "big") + bytes(4 * (MOST_PARTS + 1)), b"\x00\x00\x00\x02" + bytes(20)],
    )  # fmt: skip
    def test_a_frame_that_claims_what_it_has_not_is_not_whole(self, frame):
        """Its own length is all that is believed."""
        assert not is_whole(frame, None)
        assert not is_whole(frame, PROTOCOL)

    @pytest.mark.parametrize("text", ["[" * 100_000, "null", "[]", "1e999", '{"channel": "iopub"}',
                                      '{"channel": "shell", "header": 3}', '{"channel": ["shell"]}'])  # fmt: skip
    def test_a_text_that_is_no_message_is_not_whole(self, text):
        """Depth, kind and channel are looked at."""
        assert not is_whole(text, None)

    @pytest.mark.parametrize("protocol", ["", PROTOCOL])
    @pytest.mark.parametrize("frame", [b"null", b"\x7f\xff\xff\xff" * 6, b"\xff" * 20])
    def test_a_short_frame_holds_nobody_up(self, house, frame, protocol):
        """Four bytes once stopped the server for everybody for a minute (STACK, seen under attack)."""
        page = opened(house)

        async def attack() -> float:
            line = await connect(house, page, protocol)
            begun = time.monotonic()
            await line.write_message(frame, binary=True)
            while await asyncio.wait_for(line.read_message(), 10) is not None:
                pass
            line.close()
            return time.monotonic() - begun

        hung_up_s = alone(attack())
        begun = time.monotonic()
        status = neighbour(house).get("/")[0]

        assert status == 200
        assert hung_up_s < 5
        assert time.monotonic() - begun < 10

    def test_a_file_on_a_line_of_the_older_form_holds_nobody_up(self, house):
        """The library once read its four-byte numbers as eight-byte ones, and counted forever."""
        page = house.get("/voila/render/bytes.ipynb")[1]
        frames = messages(house, page, state_of(page))

        assert any(frame.startswith("b") and "here" in frame for frame in frames)
        assert neighbour(house).get("/")[0] == 200

    def test_who_asks_and_does_not_read_is_hung_up_on(self, house):
        """What waits to be read stands in the memory of the server, which is everybody's."""
        page = house.get("/voila/render/large.ipynb")[1]
        asked = [json.dumps(comm_message(state_of(page))) for _ in range(2 * MOST_WAITING // LARGE)]
        # RFC 6455, 5.2: a whole text, masked, its length in two bytes
        frames = [b"\x81\xfe" + struct.pack("!H4x", len(one)) + one.encode() for one in asked]
        with socket.create_connection(("127.0.0.1", house.port)) as line:
            line.sendall(
                f"GET /api/kernels/{kernel_id(page)}/channels HTTP/1.1\r\n"
                f"Host: 127.0.0.1:{house.port}\r\nCookie: {house.cookie}\r\n"
                "Upgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Version: 13\r\n"
                "Sec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==\r\n\r\n".encode()
            )
            assert b" 101 " in line.recv(40)
            line.sendall(b"".join(frames))  # twice as many: the system holds some, too
            assert comes_true(lambda: "asks and does not read" in house.log())

        assert neighbour(house).get("/")[0] == 200


async def connect(house, page: str, protocol: str = "", **headers: str):
    """Open a line to a page's kernel."""
    address = f"ws://127.0.0.1:{house.port}/api/kernels/{kernel_id(page)}/channels"
    request = HTTPRequest(address, headers={"Cookie": house.cookie} | headers)
    return await websocket_connect(request, subprotocols=[protocol] if protocol else None)


class TestOtherSites:
    @pytest.mark.parametrize(
        "headers",
        [{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Dest": "image", "Sec-Fetch-Mode": "no-cors"},
         {"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Dest": "iframe", "Sec-Fetch-Mode": "navigate"},
         {"Sec-Fetch-Site": "same-site", "Sec-Fetch-Dest": "image", "Sec-Fetch-Mode": "no-cors"},
         {"Accept": "image/avif,image/webp,image/*,*/*;q=0.8"},
         {"Sec-Fetch-Site": "cross-site"}, {"Origin": "http://bench.example"}, {"Origin": "null"}],
    )  # fmt: skip
    def test_a_picture_on_another_site_starts_no_kernel(self, house, headers):
        """A hundred such pictures once started a hundred kernels (Fetch Metadata, W3C, §2)."""
        before = set(house.kernels())
        answers = {house.get("/voila/render/plain.ipynb", **headers)[0] for _ in range(20)}

        assert answers == {403}
        assert set(house.kernels()) == before

    def test_whoever_brings_no_cookie_gets_no_kernel(self, house):
        """Where a browser says nothing of the site, its cookie, which stays away, does."""
        before = set(house.kernels())
        for _ in range(5):
            forgetful = replace(house, cookies={})
            status, page, _ = forgetful.get("/voila/render/plain.ipynb?visit=1")
            assert status == 403
            assert "needs a cookie" in page

        assert set(house.kernels()) == before

    def test_a_person_who_follows_a_link_gets_the_page(self, house):
        """From a mail or another page, with or without a visit before."""
        link = {"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "document"}  # fmt: skip
        newcomer = replace(house, cookies={})
        status, page, _ = newcomer.get("/voila/render/plain.ipynb", **link)

        assert status == 200
        assert kernel_id(page)

    @pytest.mark.parametrize("path", ["/", "/voila/templates/suite/static/suite.css", "/voila/static/voila.js",
                                      "/voila/files/pictures/x.png", "/api/kernels/x", "/nothing"])  # fmt: skip
    @pytest.mark.parametrize("host", ["bench.example", "bench.example:{port}", "127.0.0.1:1", "127.0.0.1.bench.example:{port}",
                                      "127.0.0.1:{port}@bench.example", "", "[::", "localhost:{port}/x"])  # fmt: skip
    def test_nothing_is_served_by_another_name(self, house, path, host):
        """A name that leads here makes no page of another site one of ours, files included."""
        assert house.get(path, Host=host.format(port=house.port))[0] in (400, 403)

    def test_only_announced_names_are_known(self):
        """The border itself knows no other name, whatever the library behind it would refuse."""
        announced = Announced(8866, ("192.0.2.7",))

        assert all(
            map(announced.knows_host, ("127.0.0.1:8866", "localhost:8866", "192.0.2.7:8866"))
        )
        assert not any(map(announced.knows_host, ("bench.example:8866", "192.0.2.8:8866", ":8866")))

    @pytest.mark.parametrize("origin", ["http://127.0.0.1:{port}", "http://localhost:{port}"])
    def test_our_own_pages_are_known(self, origin):
        """The announced names with the announced port, in the announced scheme."""
        announced = Announced(8866)

        assert announced.knows_origin(origin.format(port=8866))
        assert not announced.knows_origin(origin.format(port=8867))
        assert not announced.knows_origin(origin.format(port=8866).replace("http", "https"))


class TestNeighbours:
    def test_a_kernels_number_opens_nothing_without_its_cookie(self, house):
        """Another browser, and one without cookies, is refused at each of its addresses."""
        page = opened(house)
        for stranger in (neighbour(house), replace(house, cookies={})):
            with pytest.raises(HTTPClientError, match="403"):
                messages(stranger, page)
            for path in ("/api/kernels/{}", "/voila/api/shutdown/{}", "/api/kernels/{}/channels"):
                assert stranger.get(path.format(kernel_id(page)))[0] == 403

        assert any("here" in frame for frame in messages(house, page, state_of(page)))

    @pytest.mark.parametrize("cookie", ["gal_visit=", "gal_visit=x", "gal_visit=" + "A" * 22, "gal_visit=../../x",
                                        "gal_visit=" + "é" * 22])  # fmt: skip
    def test_no_guessed_cookie_fits(self, house, cookie):
        """Neither an empty nor a long nor a made-up one."""
        page = opened(house)
        status = replace(house, cookies={}).get(
            f"/api/kernels/{kernel_id(page)}", Cookie=cookie.encode().decode("latin-1")
        )[0]

        assert status in (400, 403)

    def test_the_browser_opens_no_widgets_of_its_own(self, house):
        """A kernel has its widgets from its page alone."""
        page = opened(house)
        asked = comm_message({"comm_id": "f" * 32, "target_name": "jupyter.widget", "data": {
            "state": {"_model_module": "@jupyter-widgets/controls", "_model_name": "TextModel",
                      "_view_name": "TextView", "_view_module": "@jupyter-widgets/controls"}}})  # fmt: skip
        asked["header"]["msg_type"] = "comm_open"
        asked["metadata"] = {"version": "2.1.0"}
        listing = comm_message({"target_name": "jupyter.widget"})
        listing["header"]["msg_type"] = "comm_info_request"

        async def attack() -> dict:
            line = await connect(house, page)
            for message in (asked, listing):
                await line.write_message(json.dumps(message))
            while True:
                frame = json.loads(await asyncio.wait_for(line.read_message(), 10))
                if frame["msg_type"] == "comm_info_reply":
                    await hang_up(line)
                    return frame["content"]["comms"]

        comms = alone(attack())

        assert comms
        assert "f" * 32 not in comms


def state_of(page: str) -> dict:
    return {"comm_id": re.findall(r'"model_id": ?"([0-9a-f]+)"', page)[0], "data": {"method": "request_state"}}  # fmt: skip


class TestLog:
    def test_a_line_is_not_forged(self, house):
        """A kind of message with a line break in it stays on its line."""
        page = opened(house)
        forged = comm_message({})
        forged["header"]["msg_type"] = "x\n2026-01-01 00:00:00,000 INFO server: all is well"
        alone(send(house, page, json.dumps(forged)))
        lines = house.log().splitlines()

        assert any("all is well" in line for line in lines)
        assert not any(line.startswith("2026-01-01") for line in lines)
        assert not any(" DEBUG " in line for line in lines)  # they would hold what was answered

    def test_the_log_is_not_filled_by_a_page(self, house):
        """Five thousand wrong messages with long names once wrote 9 MiB."""
        page = opened(house)
        before = len(house.log())
        long = comm_message({})
        long["header"]["msg_type"] = "x" * 5_000
        alone(send(house, page, *[json.dumps(long)] * 3_000))
        alone(send(house, page, *[json.dumps(long)] * 2_000))
        # One that is whole but comes again and again: the kernel told the whole story of each.
        alone(send(house, page, *[json.dumps(comm_message(state_of(page)))] * 1_000))

        assert len(house.log()) - before < 400_000

    @given(st.text())
    def test_a_line_is_one_line_of_bounded_length(self, text):
        """Whatever stands in it."""
        assert len(plain(text).splitlines()) <= 1
        assert len(plain(text * 100)) <= 12 * LONGEST

    @given(st.text())
    def test_no_line_of_a_story_begins_like_one_of_the_log(self, text):
        """Each is indented and marked."""
        assert all(line.startswith("    | ") or not line for line in story(text).split("\n"))


async def send(house, page: str, *texts: str) -> None:
    line = await connect(house, page)
    for text in texts:
        await line.write_message(text)
    with suppress(TimeoutError):  # until nothing more comes of it
        while await asyncio.wait_for(line.read_message(), 0.5) is not None:
            pass
    await hang_up(line)


class TestRequests:
    def test_a_long_body_is_refused_before_it_is_read(self, house):
        """Nobody's word is taken for 100 MB, whatever address it is sent to."""
        head = "POST /voila/api/shutdown/x HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nContent-Length: 100000000\r\n\r\n"
        with socket.create_connection(("127.0.0.1", house.port), timeout=10) as line:
            line.sendall(head.format(house.port).encode())
            answer = line.recv(1000)

        assert b" 200 " not in answer
        assert not answer or b"400" in answer.split(b"\r\n")[0]

    @pytest.mark.parametrize("path", ["/logout", "/login", "/logout?next=//bench.example"])
    def test_the_librarys_own_doors_are_shut(self, house, path):
        """Nobody signs in or out that way; once it was our error."""
        status, page, _ = house.get(path)

        assert status == 404
        assert "There is no such page" in page

    @pytest.mark.parametrize("path", ["/", "/voila/render/plain.ipynb", "/nothing", "/voila/static/voila.js",
                                      "/voila/templates/suite/static/suite.css", "/voila/labextensions/none.js"])  # fmt: skip
    def test_every_answer_says_what_it_is(self, house, path):
        """No browser guesses a script out of a file (WHATWG Fetch, X-Content-Type-Options)."""
        sent = house.get(path)[2]

        assert sent["X-Content-Type-Options"] == "nosniff"
        assert sent["Cross-Origin-Resource-Policy"] == "same-origin"
        assert not re.search(r"\d", sent.get("Server", ""))

    def test_every_cookie_stays_on_our_site(self, house):
        """None travels with a request of another site's page (RFC 6265bis, SameSite)."""
        newcomer = replace(house, cookies={})
        with socket.create_connection(("127.0.0.1", house.port), timeout=10) as line:
            line.sendall(f"GET / HTTP/1.1\r\nHost: 127.0.0.1:{house.port}\r\nConnection: close\r\n\r\n".encode())  # fmt: skip
            told = b"".join(iter(lambda: line.recv(65536), b"")).split(b"\r\n\r\n")[0].decode()
        cookies = re.findall(r"(?i)^set-cookie: (.*)$", told, re.MULTILINE)
        newcomer.get("/")

        assert any(cookie.startswith("gal_visit=") for cookie in cookies)
        assert all(re.search(r"(?i)samesite=(lax|strict)", cookie) for cookie in cookies)
        assert all("httponly" in cookie.lower() for cookie in cookies if "_xsrf" not in cookie)

    def test_where_the_store_is_stays_in_the_house(self, house):
        """A page says that the store cannot be used; the log says which."""
        page = house.get("/voila/render/store.ipynb")[1]

        assert "SAID The record store" in page
        assert "secret-folder" not in page
        assert "secret-folder" in house.log()


class TestLimits:
    @pytest.mark.overnight
    def test_a_low_limit_is_raised(self, tmp_path):
        """At 256 descriptors the tenth page would get an error; a server asks for more."""
        started = start(pages(tmp_path), preexec_fn=lambda: limit(256, None))
        soft, _ = resource.prlimit(started.process.pid, resource.RLIMIT_NOFILE)
        stop(started)

        assert soft >= 1024

    def test_a_full_house_says_how_long_and_still_ends(self, tmp_path):
        """Where no more descriptors are to be had, pages are counted, and a signal is heard."""
        started = start(pages(tmp_path), preexec_fn=lambda: limit(200, 200))
        answers = [started.get("/voila/render/plain.ipynb") for _ in range(6)]
        full = [page for status, page, _ in answers if status == 503]
        waits = [sent["Retry-After"] for status, _, sent in answers if status == 503]
        begun = time.monotonic()
        code, out, err = stop(started)

        assert {status for status, _, _ in answers} == {200, 503}
        assert all("tries again by itself in 30 seconds" in page for page in full)
        assert set(waits) == {"30"}
        assert (code, out, err) == (0, "", "")
        assert time.monotonic() - begun < 15


def limit(soft: int, hard: int | None) -> None:
    """Set this process's limit of descriptors."""
    most = resource.getrlimit(resource.RLIMIT_NOFILE)[1] if hard is None else hard
    resource.setrlimit(resource.RLIMIT_NOFILE, (soft, most))


class TestStartAndEnd:
    @pytest.mark.parametrize("after_s", [0.03, 0.06, 0.1, 0.2, 0.5, 1.0])
    @pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM])
    def test_a_signal_at_once_tells_no_story(self, tmp_path, after_s, how):
        """Before our own first line Python answers; from there on the end is quiet."""
        process = subprocess.Popen(
            [sys.executable, "-m", "quizzes", "serve", "--port", str(free_port())],
            cwd=ROOT, text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
            env=os.environ | {"XDG_STATE_HOME": str(tmp_path), "GAL_RECORDS": f"sqlite:///{tmp_path}/r.sqlite"},
        )  # fmt: skip
        with suppress(subprocess.TimeoutExpired):
            process.wait(timeout=after_s)  # it has not ended by itself
        process.send_signal(how)
        _, err = process.communicate(timeout=30)

        assert "quizzes" not in err
        # A SIGTERM that comes before the server stands unwinds as Ctrl-C does.
        assert process.returncode in (0, 1, -how, -signal.SIGINT)

    def test_what_a_killed_server_left_is_taken_away_by_the_next(self, tmp_path, monkeypatch):
        """Its folder holds sockets, and the records of a demonstration."""
        started = start(pages(tmp_path))
        (folder,) = (
            path for path in Path("/tmp").glob(f"{PREFIX}*") if path.stat().st_ctime > 0
            and any(str(path) in row for row in open_files(started.process.pid))
        )  # fmt: skip
        stop(started, signal.SIGKILL)
        left = folder.exists()
        second = start(tmp_path)
        gone = comes_true(lambda: not folder.exists())
        stop(second)

        assert left
        assert gone

    def test_what_a_living_server_holds_stays(self, house):
        """Neither it nor anybody else's folder is touched."""
        clear_left_behind(Path("/tmp"))

        assert house.get("/voila/render/plain.ipynb")[0] == 200

    def test_a_folder_that_is_not_ours_stays(self, tmp_path):
        """One without a server's mark, and one that is a link, are left alone."""
        (tmp_path / f"{PREFIX}theirs").mkdir()
        (tmp_path / "else").mkdir()
        (tmp_path / "else" / "held").touch()
        (tmp_path / f"{PREFIX}link").symlink_to(tmp_path / "else")
        (tmp_path / f"{PREFIX}dead").mkdir()
        (tmp_path / f"{PREFIX}dead" / "held").touch()
        cleared = clear_left_behind(tmp_path)

        assert [path.name for path in cleared] == [f"{PREFIX}dead"]
        assert (tmp_path / "else" / "held").exists()


def open_files(pid: int) -> list[str]:
    return [one.path for one in psutil.Process(pid).open_files()]

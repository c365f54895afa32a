"""The server: what a person sees, what leaves the machine, what is left behind.

Everything here talks to a server started as its own process over a folder of small pages made
for these tests, by plain HTTP and websocket, as a hostile client would.
"""

import asyncio
import json
import os
import re
import signal
import stat
import subprocess
import sys
import time

import pytest
from tornado.httpclient import HTTPClientError, HTTPRequest
from tornado.websocket import websocket_connect

from quizzes.server.border.origins import Announced
from quizzes.server.navigation import PAGES, add_navigation
from quizzes.server.serving import told_to_stop
from quizzes.server.settings import policy
from tests.processes import (
    end_in_time,
    environment_of,
    is_running,
    listens,
    private_sockets,
    signals,
    socket_folders,
    sockets,
)
from tests.server.house import (
    ROOT,
    TRUTH,
    alone,
    comm_message,
    hang_up,
    held_open,
    kernel_id,
    messages,
    start,
    stop,
)
from tests.waiting import comes_true


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    """One server for the tests that leave it as it was."""
    started = start(tmp_path_factory.mktemp("house"))
    yield started
    stop(started)


@pytest.fixture(scope="module")
def controls(house):
    """The page with controls, as HTML, its kernel running."""
    status, page, _ = house.get("/voila/render/controls.ipynb")
    assert status == 200
    return page


class TestOneLine:
    def test_the_line_comes_when_the_door_is_open(self, house):
        """Whoever reads the line can open the address at once."""
        assert house.line == f"Gap and Lining: {house.base}/\n"
        assert house.get("/")[0] == 200

    def test_the_store_in_use_is_said_and_that_it_is_empty(self, house):
        """A typing mistake in GAL_RECORDS begins an empty store; the next line lets it be seen."""
        assert "records.sqlite (no sitting yet" in house.records_line

    @signals
    @pytest.mark.parametrize(
        "how", [pytest.param(signal.SIGINT, marks=pytest.mark.overnight), signal.SIGTERM]
    )
    def test_stopping_leaves_nothing_behind(self, tmp_path, how):
        """Ctrl-C and SIGTERM end the kernels, take the sockets away and count as success."""
        started = start(tmp_path)
        started.get("/voila/render/controls.ipynb")
        kernels = started.kernels()
        runtime = {folder.parent for pid in kernels for folder in socket_folders(pid)}
        code, out, err = stop(started, how)

        assert (code, out, err) == (0, "", "")
        assert len(kernels) == len(runtime) == 1
        assert not any(is_running(pid) for pid in kernels)
        assert not any(folder.exists() for folder in runtime)

    def test_ctrl_c_while_a_class_is_made_is_ctrl_c_and_another_error_is_none(self):
        """Python 3.11 wraps what a descriptor's `__set_name__` raises; 3.12 leaves it as it is."""

        class Interrupted:
            def __set_name__(self, owner, name):
                raise KeyboardInterrupt

        with pytest.raises((RuntimeError, KeyboardInterrupt)) as caught:
            type("Made", (), {"field": Interrupted()})

        assert isinstance(caught.value, KeyboardInterrupt) or told_to_stop(caught.value)
        assert not told_to_stop(RuntimeError("something else"))

    def test_a_busy_port_is_said_and_not_changed(self, house, tmp_path):
        """The sentence names the port and how to choose another; nothing is served elsewhere."""
        second = start(tmp_path, port=house.port)
        _, err = second.process.communicate(timeout=30)

        assert second.process.returncode == 2
        assert second.line == ""
        assert str(house.port) in err
        assert f"--port {house.port + 1}" in err
        assert len(err.strip().splitlines()) == 1

    @pytest.mark.parametrize("word", ["0", "65536", "-1", "80.5", "²", "http"])
    def test_a_port_that_cannot_be_is_refused(self, word):
        """A port is a whole number that TCP knows: RFC 9293 gives it 16 bits."""
        run = quizzes("serve", f"--port={word}")

        assert run.returncode == 2
        assert "from 1 to 65535" in run.stderr
        assert "Traceback" not in run.stderr

    def test_a_record_store_that_cannot_be_is_refused(self, tmp_path):
        """An address that is none is one sentence on stderr and no server."""
        run = quizzes("serve", "--records", "nonsense", XDG_STATE_HOME=str(tmp_path))

        assert run.returncode == 2
        assert run.stdout == ""
        assert "record store" in run.stderr
        assert "Traceback" not in run.stderr


def quizzes(*words: str, **environment: str) -> subprocess.CompletedProcess:
    return subprocess.run([sys.executable, "-m", "quizzes", *words], cwd=ROOT, text=True, timeout=60,
                          capture_output=True, env=os.environ | environment)  # fmt: skip


class TestNothingFromOutside:
    @pytest.mark.parametrize(
        "path", ["/", "/voila/tree", "/?classic-tree=false", "/?template=lab&theme=dark",
                 "/voila/render/controls.ipynb?template=lab", "/voila/render/broken.ipynb",
                 "/voila/render/torn.ipynb", "/no/such/page"]
    )  # fmt: skip
    def test_no_page_points_abroad(self, house, path):
        """Nothing in a page is fetched from another host, whatever the address asks for."""
        _, page, _ = house.get(path)
        loaded = re.findall(r"<(?:link|script|img|iframe)\b[^>]*?(?:href|src)=[\"']([^\"']*)", page)

        assert "/voila/templates/suite/static/suite.css" in page
        assert [address for address in loaded if "//" in address] == []

    def test_the_policy_lets_nothing_in(self, house):
        """The browser is told to load from here only, and to run no script that stands in a page."""
        sent = house.get("/")[2]["Content-Security-Policy"]
        rules = dict(rule.split(" ", 1) for rule in sent.split("; "))

        assert sent == policy(Announced(house.port))
        assert rules["default-src"] == "'self'"
        assert rules["script-src"] == "'self' blob:"
        assert rules["frame-ancestors"] == "'none'"
        assert "http" not in sent

    @pytest.mark.parametrize("path", ["/voila/render/controls.ipynb", "/", "/no/such/page"])
    def test_no_script_stands_in_a_page(self, house, path):
        """A page that needed one would stand still under the policy."""
        _, page, _ = house.get(path)
        inline = re.findall(r"<script(?![^>]*\b(?:src=|type=\"application/))[^>]*>", page)

        assert inline == []
        assert re.findall(r"<[^>]+\son[a-z]+=", page) == []


class TestFrontEnd:
    def test_a_page_names_one_script_early_and_runs_it_after_its_facts(self, house, controls):
        """Fetched from the head on; run where the page's facts already stand, which it reads."""
        (early,) = re.findall(
            r'<link rel="preload" as="script" href="(/suite/front[^"]*)">', controls
        )
        run = controls.index(f'<script async src="{early}">')
        status, script, _ = house.get(early)

        assert controls.index("</head>") < controls.index("jupyter-config-data") < run
        assert status == 200
        assert "webpackChunk" in script
        assert "voila.js" not in controls

    def test_the_front_door_lets_it_be_fetched_ahead(self, house, controls):
        """By the time a lesson is chosen, the script is there."""
        (early,) = re.findall(r'rel="preload" as="script" href="(/suite/front[^"]*)"', controls)

        assert f'<link rel="prefetch" as="script" href="{early}">' in house.get("/")[1]

    def test_a_server_that_joined_none_lets_the_library_load_its_own(self):
        """On Binder the pages stand in another server."""
        assert add_navigation({}, settings={})["suite"]["front_end"] == ""


class TestRefusals:
    @pytest.mark.parametrize(
        "path",
        ["/no/such/page", "/voila/render/none.ipynb", "/voila/render/notes.csv", "/voila/files/notes.csv",
         "/voila/files/controls.ipynb", "/voila/files/../records.sqlite", "/voila/templates/x",
         "/voila/templates/suite/static/none.css", "/voila/static/none.js",
         "/voila/labextensions/none.js", "/voila/tree/none", "/api/nothing",
         "/voila/render/%00.ipynb", f"/voila/render/{'a' * 5000}.ipynb"],
    )  # fmt: skip
    def test_an_unknown_address_is_answered_in_a_sentence(self, house, path):
        """A sentence and a way back, with no file, line or library in it."""
        status, page, _ = house.get(path)

        assert status in (403, 404)
        assert "There is no such page" in page
        assert 'href="/">Back to the front door' in page
        assert not re.search(r"Traceback|/work|/home|/root|\.py\b|tornado", page)

    def test_a_page_that_cannot_be_read_is_answered_in_a_sentence(self, house):
        """A damaged file is said to be our trouble, and the log knows more."""
        status, page, _ = house.get("/voila/render/torn.ipynb")

        assert status in (400, 500)
        assert "This page could not be set out" in page
        assert "torn" not in page
        assert "torn.ipynb" in house.log()

    @pytest.mark.parametrize(
        "path", ["/api/kernels", "/api/sessions", "/api/contents", "/api/terminals", "/api/kernelspecs",
                 "/lab", "/tree", "/api/config/x", "/api/status"]
    )  # fmt: skip
    def test_the_workbench_of_the_library_is_closed(self, house, path):
        """Nobody lists kernels, reads files or opens a terminal."""
        assert house.get(path)[0] == 404

    def test_another_name_for_this_machine_is_refused(self, house):
        """A foreign name that resolves to 127.0.0.1 does not make a foreign page one of ours."""
        assert house.get("/", Host="bench.example:80")[0] == 403
        assert house.get("/", Host=f"localhost:{house.port}")[0] == 200

    def test_a_foreign_page_gets_no_line(self, house, controls):
        """A websocket that another site's page opens is refused."""
        with pytest.raises(HTTPClientError, match="403"):
            messages(house, controls, Origin="http://bench.example")


class TestKernels:
    @private_sockets
    def test_no_kernel_listens_on_the_network(self, house, controls):
        """A kernel is reached through private sockets: no other user of the machine can try.

        It holds no socket of the network at all, none that the server left it either.
        """
        kernels = house.kernels()

        assert kernels
        assert [held for pid in kernels for held in sockets(pid, "inet")] == []

    def test_the_listener_of_the_server_would_be_seen(self, house):
        """The check above is able to find a listening port: the server has one."""
        assert listens(house.process.pid)

    @private_sockets
    def test_the_sockets_are_in_a_private_folder(self, house, controls):
        """Nobody but the owner may look into the folder."""
        folders = {folder for pid in house.kernels() for folder in socket_folders(pid)}

        assert folders
        for folder in folders:
            assert list(folder.glob("*-ipc-*"))
            assert stat.S_IMODE(folder.stat().st_mode) & 0o077 == 0
            assert stat.S_IMODE(folder.parent.stat().st_mode) & 0o077 == 0

    def test_a_kernel_is_told_no_secret(self, house, controls):
        """What the server knows of the outside stays with it; the place and the records go on."""
        told = [environment_of(pid) for pid in house.kernels()]

        assert told
        assert not any(TRUTH in environment.values() for environment in told)
        assert all(environment["GAL_PLACE"] == "web" for environment in told)
        assert all(environment["GAL_RECORDS"].startswith("sqlite:///") for environment in told)

    def test_a_held_page_keeps_its_kernel_and_a_left_one_does_not(self, tmp_path):
        """Without a word a page stays as long as it is open; closed, its kernel ends in time.

        A page that is opened later and left at once ends before it: so the held one has been
        silent for longer than a page may be left.
        """
        started = start(tmp_path, idle_s=2)
        page = started.get("/voila/render/controls.ipynb")[1]
        (held,) = started.kernels()
        with held_open(started, page):
            started.get("/voila/render/controls.ipynb")
            left = set(started.kernels()) - {held}
            ended = end_in_time(left)
            stayed = is_running(held)
        gone = end_in_time([held])
        stop(started)

        assert (len(left), ended, stayed, gone) == (1, True, True, True)


class TestReadyKernels:
    @pytest.mark.overnight
    @signals
    def test_kernels_stand_ready_and_each_serves_one_page(self, tmp_path):
        """Two wait; a page takes one, that one is replaced; waiting is not idling; all end.

        The page's own kernel ends for want of a reader, while the other has waited for longer.
        """
        started = start(tmp_path, idle_s=12, ready=2)
        assert comes_true(lambda: len(started.kernels()) == 2)
        waiting = set(started.kernels())
        page = started.get("/voila/render/controls.ipynb")[1]
        told = messages(started, page)
        replaced = comes_true(lambda: len(set(started.kernels()) - waiting) == 1)
        left_alone = comes_true(lambda: len(waiting & set(started.kernels())) == 1, 60.0)
        ready = started.kernels()
        code, out, err = stop(started)

        assert replaced
        assert left_alone
        assert len(ready) == 2
        assert kernel_id(page)[:8] in started.log()
        assert "handed out a ready kernel" in started.log()
        assert TRUTH not in "".join(told)
        assert (code, out, err) == (0, "", "")
        assert not any(is_running(pid) for pid in {*waiting, *ready})

    def test_a_ready_kernel_knows_no_secret(self, tmp_path):
        """Its environment is scrubbed like every other's."""
        started = start(tmp_path, ready=1)
        assert comes_true(lambda: len(started.kernels()) == 1)
        (pid,) = started.kernels()
        told = environment_of(pid)
        stop(started)

        assert TRUTH not in told.values()
        assert "GAL_WARM" in told


class TestSilence:
    def press(self, house, page, description):
        models = re.findall(r'"model_id": ?"([0-9a-f]+)"', page)
        asked = messages(house, page, {"comm_id": models[0], "data": {"method": "request_state"}})
        children = json.loads(next(f for f in asked if '"children"' in f))
        boxed = [
            c.removeprefix("IPY_MODEL_") for c in children["content"]["data"]["state"]["children"]
        ]
        place = ["fail", "noise"].index(description)
        press = {
            "comm_id": boxed[place],
            "data": {"method": "custom", "content": {"event": "click"}},
        }
        return messages(house, page, press)

    def test_a_failing_callback_tells_the_client_nothing(self, house, controls):
        """No value, line or name of the failure is in a frame; all of it is in the log."""
        heard = self.press(house, controls, "fail")

        assert heard
        assert not any(
            re.search(rf"{TRUTH}|RuntimeError|Traceback|failing", frame) for frame in heard
        )
        assert f"the gap is {TRUTH}" in house.log()

    def test_warnings_and_logs_stay_in_the_house(self, house, controls):
        """What a page's code writes to stderr is not sent on; what it shows is."""
        heard = self.press(house, controls, "noise")

        assert any("heard" in frame for frame in heard)
        assert not any(TRUTH in frame for frame in heard)

    def test_a_broken_page_says_so_without_its_story(self, house):
        """What stood before is shown, a sentence stands where it broke."""
        status, page, _ = house.get("/voila/render/broken.ipynb")

        assert status == 200
        assert "could not be set out" in page
        assert "<h1" in page
        assert not re.search(rf"{TRUTH}|RuntimeError|Traceback|show_tracebacks", page)
        assert f"RuntimeError: {TRUTH}" in house.log()

    def test_the_log_gives_no_key_to_a_kernel(self, house, controls):
        """Whoever reads the log cannot talk to a page's kernel: its id is cut short."""
        whole = kernel_id(controls)

        assert whole[:8] in house.log()
        assert whole not in house.log()


def test_an_answer_is_not_held_back(house, controls):
    """The best of many round trips is far below the 40 ms for which a receiver may wait.

    RFC 1122, 4.2.3.2 lets an acknowledgement wait for up to 500 ms; Linux waits at least 40 ms
    (TCP_DELACK_MIN, from memory).
    """
    models = re.findall(r'"model_id": ?"([0-9a-f]+)"', controls)

    async def trip(line) -> float:
        ask = comm_message({"comm_id": models[0], "data": {"method": "request_state"}})
        begun = time.monotonic()
        await line.write_message(json.dumps(ask))
        while True:
            frame = json.loads(await asyncio.wait_for(line.read_message(), 10))
            if frame["msg_type"] == "comm_msg":
                return time.monotonic() - begun

    async def trips() -> list[float]:
        line = await websocket_connect(
            HTTPRequest(
                f"ws://127.0.0.1:{house.port}/api/kernels/{kernel_id(controls)}/channels",
                headers={"Cookie": house.cookie},
            )
        )
        taken = [await trip(line) for _ in range(40)]
        await hang_up(line)
        return taken[20:]  # the first answers are acknowledged at once in any case

    assert min(alone(trips())) < 0.020


class TestWayBetweenPages:
    def test_the_header_has_every_page_and_marks_the_one_shown(self, house, controls):
        """From any page one can go to any other, and sees where one is."""
        front = house.get("/")[1]
        shown = add_navigation({}, notebook_path="bench.ipynb")["suite"]

        for page in PAGES:
            assert f">{page.title}</a>" in front
            assert f">{page.title}</a>" in controls
        assert re.search(r'aria-current="page">Front door<', front)
        assert "aria-current" not in controls
        assert shown["current"] == "bench.ipynb"

    def test_on_binder_the_pages_are_one_folder_down(self, monkeypatch):
        """Binder serves the whole project, so the way leads through `lessons/`."""
        monkeypatch.setenv("GAL_PLACE", "binder")
        plate = add_navigation({}, notebook_path="lessons/bench.ipynb")["suite"]

        assert (plate["folder"], plate["home"]) == ("lessons/", "voila/tree/lessons")
        assert plate["current"] == "bench.ipynb"
        assert add_navigation({}, notebook_path="/lessons")["suite"]["current"] == ""

    def test_formulas_are_set_by_the_copy_at_hand(self):
        """On Binder Voila names a public address for them; a page of ours does not keep it."""
        elsewhere = {"fullMathjaxUrl": "https://maths.example/latest.js", "mathjaxConfig": "full"}
        ours = add_navigation(elsewhere)

        # With either of the two the front end takes a public address (seen in voila 0.5.13).
        assert (ours["fullMathjaxUrl"], ours["mathjaxConfig"]) == (None, None)

    def test_a_place_nobody_named_is_for_practice(self, monkeypatch):
        """A notebook opened by itself, or told nonsense, does not pass for the web app."""
        for said in (None, "palace"):
            monkeypatch.delenv("GAL_PLACE", raising=False)
            if said:
                monkeypatch.setenv("GAL_PLACE", said)
            assert add_navigation({})["suite"]["place"] == "lab"

    @pytest.mark.parametrize("page", [page for page in PAGES if page.path], ids=lambda p: p.key)
    def test_every_page_in_the_header_is_there(self, page):
        """No way between the pages leads to nowhere."""
        assert (ROOT / "lessons" / page.path).is_file()

    def test_every_page_says_what_it_is_and_whose_word_comes_first(self, house, controls):
        """Language, title, a way past the header, and the deference to the maker and the law."""
        for page, title in ((house.get("/")[1], "Gap and Lining"), (controls, "Controls")):
            assert '<html lang="en">' in page
            assert f"<title>{title}</title>" in page
            assert 'class="suite-skip" href="#content"' in page
            assert 'id="content"' in page
            assert "its maker’s instructions" in page

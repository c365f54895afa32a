"""A class in the room's network, played on loopback addresses of this machine alone.

The server announces 127.0.0.2; 127.0.0.3 stands for another machine of the room.
"""

import datetime as dt
import http.client
import os
import re
import socket
import ssl
import subprocess
import sys
from pathlib import Path

import pytest
import zxingcpp
from cryptography import x509
from PIL import Image

from quizzes.access.table import PAGES, Thing, is_for_the_room, thing_of
from quizzes.server.room.address import Classroom, NoAddressError, room_address
from quizzes.server.room.certificate import certificate_for_a_day, mark_of, tls
from quizzes.server.room.poster import code_lines, code_svg, told
from tests.server.house import ROOT, free_port, notebook, stop

ROOM, OTHER, HERE = "127.0.0.2", "127.0.0.3", "127.0.0.1"
WHO = """
import ipywidgets as W
from quizzes.desks.visitor import visitor
print('PLACE', visitor().place)
W.Label('x')
"""
STARTER = """
import sys
from pathlib import Path
from quizzes.server import serving
serving.LESSONS = Path(sys.argv[1])
sys.exit(serving.serve(int(sys.argv[2]), None, demo=False, room=serving.Wish(sys.argv[3], for_a_day=sys.argv[4] == 'tls')))
"""


class Room:
    """A server for a room, and a machine in it that asks."""

    def __init__(self, folder: Path, tls_or_not: str = "") -> None:
        lessons = folder / "lessons"
        lessons.mkdir()
        for name in ("bench", "results", "stage", "forms", "trainers_guide", "unheard_of"):
            notebook(lessons / f"{name}.ipynb", name, f"# {name}", WHO)
        self.port, self.secure = free_port(), bool(tls_or_not)
        self.process = subprocess.Popen(
            [sys.executable, "-c", STARTER, str(lessons), str(self.port), ROOM, tls_or_not],
            env=os.environ | {"XDG_STATE_HOME": str(folder), "GAL_RECORDS": f"sqlite:///{folder}/r.sqlite"},
            cwd=ROOT, text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        )  # fmt: skip
        self.said = ""
        while "Class code" not in self.said:
            line = self.process.stdout.readline()
            assert line, self.process.stderr.read()
            self.said += line
        self.said += self.process.stdout.readline()

    def get(self, path: str, source: str, to: str = ROOM, **headers: str) -> tuple[int, str]:
        """Ask from an address; come back with the cookies that were given."""
        cookies: dict[str, str] = {}
        for _ in range(3):
            line = self._line(source, to)
            line.request("GET", path, headers={"Cookie": "; ".join(f"{k}={v}" for k, v in cookies.items())} | headers)  # fmt: skip
            answer = line.getresponse()
            text = answer.read().decode()
            cookies |= dict(c.split(";")[0].split("=", 1) for c in answer.headers.get_all("Set-Cookie") or ())  # fmt: skip
            line.close()
            if answer.status != 302:
                break
            path = answer.headers["Location"]
        return answer.status, text

    def _line(self, source: str, to: str) -> http.client.HTTPConnection:
        if self.secure:
            trusting = ssl.create_default_context()
            trusting.check_hostname, trusting.verify_mode = False, ssl.CERT_NONE
            return http.client.HTTPSConnection(to, self.port, timeout=60, source_address=(source, 0), context=trusting)  # fmt: skip
        return http.client.HTTPConnection(to, self.port, timeout=60, source_address=(source, 0))


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    """A class without a certificate."""
    opened = Room(tmp_path_factory.mktemp("room"))
    yield opened
    stop(opened)


@pytest.fixture(scope="module")
def safe_room(tmp_path_factory):
    """A class with a certificate for the day."""
    opened = Room(tmp_path_factory.mktemp("safe"), "tls")
    yield opened
    stop(opened)


class TestInTheRoom:
    def test_the_trainer_reads_where_the_class_goes(self, room):
        """The address in words and as a code, and what it does not protect."""
        assert f"For the class: http://{ROOM}:{room.port}/" in room.said
        assert "█" in room.said
        assert "on this machine only" in room.said

    @pytest.mark.parametrize("page", ["results", "stage", "forms", "trainers_guide", "unheard_of",
                                      "./results", "x/../results", "%72esults"])  # fmt: skip
    def test_another_machine_gets_no_page_of_trainer_or_assessor(self, room, page):
        """However the address is written: what all in the room could read is not sent."""
        status, text = room.get(f"/voila/render/{page}.ipynb", OTHER)

        assert status in (403, 404)
        assert "PLACE" not in text

    def test_the_refusal_says_why_and_where_it_opens(self, room):
        """A trainer at the wrong machine reads which is the right one."""
        assert (
            "only on the machine that serves" in room.get("/voila/render/results.ipynb", OTHER)[1]
        )

    def test_another_machine_gets_the_candidates_pages(self, room):
        """And its kernel knows that it is for somebody in the room."""
        status, text = room.get("/voila/render/bench.ipynb", OTHER)

        assert status == 200
        assert "PLACE room" in text

    @pytest.mark.parametrize(("source", "to"), [(HERE, HERE), (ROOM, ROOM)])
    def test_the_serving_machine_gets_every_page(self, room, source, to):
        """By its loopback address and by the room's own."""
        for page in ("results", "stage", "bench"):
            status, text = room.get(f"/voila/render/{page}.ipynb", source, to)
            assert status == 200
            assert "PLACE here" in text

    @pytest.mark.parametrize("header", [{"X-Forwarded-For": HERE}, {"X-Real-Ip": HERE}, {"Forwarded": f"for={HERE}"},
                                        {"Host": HERE}])  # fmt: skip
    def test_nobody_becomes_the_serving_machine_by_saying_so(self, room, header):
        """What a request says of its own origin counts for nothing."""
        assert room.get("/voila/render/results.ipynb", OTHER, **header)[0] == 403

    @pytest.mark.parametrize(("name", "status"), [(f"{ROOM}:{{}}", 200), (f"{HERE}:{{}}", 200), (f"{OTHER}:{{}}", 403),
                                                  ("quince-lane.example:{}", 403), (ROOM, 403)])  # fmt: skip
    def test_only_announced_names_are_answered(self, room, name, status):
        """The address that was shown to the class, and the machine's own."""
        assert room.get("/", OTHER, Host=name.format(room.port))[0] == status

    @pytest.mark.parametrize(("origin", "status"), [(f"http://{ROOM}:{{}}", 200), (f"https://{ROOM}:{{}}", 403),
                                                    (f"http://{OTHER}:{{}}", 403), ("null", 403)])  # fmt: skip
    def test_only_pages_from_the_announced_address_may_ask(self, room, origin, status):
        """A page that another machine of the room serves is not ours."""
        assert room.get("/", OTHER, Origin=origin.format(room.port))[0] == status

    def test_a_guest_learns_joins_and_signs_in_nowhere(self, room):
        """Without a certificate no passphrase travels; the serving machine's own user is anyone."""
        for path in ("/sign-in", "/people"):
            assert room.get(path, OTHER)[0] == 403
            assert room.get(path, ROOM, ROOM)[0] == 200

        assert room.get("/join", OTHER)[0] == 200
        assert '"role": "guest"' in room.get("/who", OTHER)[1]
        assert '"role": "anyone"' in room.get("/who", HERE, HERE)[1]

    def test_the_poster_is_for_the_projector(self, room):
        """Shown on the serving machine; elsewhere there is no such page."""
        status, text = room.get("/classroom", HERE, HERE)

        assert status == 200
        assert f"http://{ROOM}:{room.port}/" in text
        assert "<svg" in text
        assert "Class code: none yet" in text
        assert "can be read by others" in text
        assert room.get("/classroom", OTHER)[0] == 404


class TestWithACertificate:
    def test_other_machines_sign_in_and_are_asked_to(self, safe_room):
        """What travels is read by nobody else; who may see what, roles say."""
        status, text = safe_room.get("/voila/render/results.ipynb", OTHER)

        assert (status, "Sign in as one of them" in text) == (403, True)
        assert safe_room.get("/sign-in", OTHER)[0] == 200

    def test_its_mark_can_be_compared(self, safe_room):
        """The trainer reads the fingerprint that a browser shows."""
        seen = ssl.get_server_certificate((ROOM, safe_room.port))
        certificate = x509.load_pem_x509_certificate(seen.encode())
        names = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
        from cryptography.hazmat.primitives.hashes import SHA256

        assert certificate.fingerprint(SHA256()).hex(":").upper() in safe_room.said
        assert ROOM in map(str, names.get_values_for_type(x509.IPAddress))

    def test_plain_requests_get_nothing(self, safe_room):
        """Where TLS is spoken, nothing else is."""
        with socket.create_connection((ROOM, safe_room.port), timeout=10) as line:
            line.sendall(b"GET / HTTP/1.1\r\nHost: x\r\n\r\n")
            try:
                answer = line.recv(1000)
            except ConnectionResetError:
                answer = b""

        assert b"200" not in answer


@pytest.mark.parametrize(
    ("for_a_day", "words"), [(True, "Certificate for today"), (False, "Certificate (SHA-256)")]
)
def test_the_terminal_names_the_open_classes_and_whose_certificate_it_is(for_a_day, words):
    """A certificate of one's own was not made for today; a class of yesterday has its code."""
    files = Path("c.pem"), Path("k.pem")
    said = told(Classroom(ROOM, *files, for_a_day=for_a_day), 8866, "AB:CD", ["WJEKQX"])

    assert f"{words}: AB:CD" in said or f"{words} (SHA-256): AB:CD" in said
    assert "Class code: WJEKQX." in said


class TestCertificate:
    def test_it_lasts_a_day_and_its_key_is_ours_alone(self, tmp_path):
        """From ten minutes ago to this time tomorrow."""
        now = dt.datetime(2026, 11, 28, 8, 0, tzinfo=dt.UTC)
        certificate, key = certificate_for_a_day("192.0.2.7", tmp_path, now)
        read = x509.load_pem_x509_certificate(certificate.read_bytes())

        assert read.not_valid_before_utc < now < read.not_valid_after_utc
        assert read.not_valid_after_utc - now == dt.timedelta(days=1)
        assert key.stat().st_mode & 0o077 == 0
        assert re.fullmatch(r"([0-9A-F]{2}:){31}[0-9A-F]{2}", mark_of(certificate))
        assert tls(certificate, key)

    def test_files_that_do_not_belong_together_are_refused(self, tmp_path):
        """Another key, no file, no certificate: one sentence each."""
        now = dt.datetime.now(dt.UTC)
        (tmp_path / "a").mkdir()
        (tmp_path / "b").mkdir()
        one = certificate_for_a_day("192.0.2.7", tmp_path / "a", now)
        other = certificate_for_a_day("192.0.2.7", tmp_path / "b", now)
        (tmp_path / "text").write_text("no certificate", encoding="utf-8")
        for files in ((one[0], other[1]), (tmp_path / "none", one[1]), (tmp_path / "text", one[1])):
            with pytest.raises(NoAddressError, match="Expected two files in PEM form"):
                tls(*files)


class TestAddress:
    @pytest.mark.parametrize("named", ["0.0.0.0", "255.255.255.255", "224.0.0.1", "192.168.1", "bench", "::1",
                                       "192.168.1.20:8866", "http://192.168.1.20/", "192.168.1.300"])  # fmt: skip
    def test_what_is_no_address_of_one_machine_is_refused(self, named):
        """A sentence that says what was expected; nothing listens everywhere."""
        with pytest.raises(NoAddressError, match=re.escape(named)):
            room_address(named)

    @pytest.mark.parametrize("words", [["--classroom", "192.0.2.1"], ["--classroom", "nonsense"],
                                       ["--classroom", ROOM, "--certificate", "x"], ["--day-certificate"],
                                       ["--classroom", ROOM, "--certificate", "x", "--key", "y", "--day-certificate"],
                                       ["--classroom", ROOM, "--certificate", "/none", "--key", "/none"]])  # fmt: skip
    def test_a_wish_that_cannot_be_met_is_one_sentence(self, tmp_path, words):
        """No server, no traceback, the exit code of a refusal."""
        run = subprocess.run(
            [sys.executable, "-m", "quizzes", "serve", "--port", str(free_port()), *words],
            cwd=ROOT, text=True, capture_output=True, timeout=60,
            env=os.environ | {"XDG_STATE_HOME": str(tmp_path), "GAL_RECORDS": f"sqlite:///{tmp_path}/r.sqlite"},
        )  # fmt: skip

        assert (run.returncode, run.stdout) == (2, "")
        assert "Traceback" not in run.stderr
        assert len(run.stderr.strip().splitlines()) == 1


class TestCode:
    @pytest.mark.parametrize("drawn", ["terminal", "page"])
    def test_a_camera_reads_the_address(self, drawn):
        """Outside check: ZXing, a reader that shares no code with what draws, reads it back."""
        address = Classroom("192.168.1.20").front_door(8866)
        rows = rows_of_terminal(code_lines(address)) if drawn == "terminal" else rows_of_svg(code_svg(address))  # fmt: skip
        picture = Image.new("L", (len(rows[0]), len(rows)))
        picture.putdata([255 * light for row in rows for light in row])
        (found,) = zxingcpp.read_barcodes(picture.resize((picture.width * 8, picture.height * 8), 0))  # fmt: skip

        assert found.text == address


def rows_of_terminal(lines: str) -> list[list[bool]]:
    """Return light and dark, as a person sees a terminal with light characters."""
    rows = []
    for line in lines.splitlines():
        rows.append([mark in "█▀" for mark in line])
        rows.append([mark in "█▄" for mark in line])
    return rows


def rows_of_svg(svg: str) -> list[list[bool]]:
    """Return light and dark, by following the lines that the drawing consists of."""
    side = int(re.search(r'viewBox="0 0 (\d+)', svg)[1])
    rows = [[True] * side for _ in range(side)]
    (path,) = re.findall(r'<path[^>]*\bstroke="#000"[^>]*\bd="([^"]*)"|<path[^>]*\bd="([^"]*)"[^>]*stroke="#000"', svg)  # fmt: skip
    x = y = 0.0
    for kind, words in re.findall(r"([Mmh])([\d. -]+)", next(filter(None, path))):
        numbers = [float(word) for word in re.findall(r"-?[\d.]+", words)]
        if kind == "h":
            for at in range(int(numbers[0])):
                rows[int(y)][int(x) + at] = False
            x += numbers[0]
        elif kind == "M":
            x, y = numbers
        else:
            x, y = x + numbers[0], y + numbers[1]
    return rows


@pytest.mark.parametrize("path", sorted((ROOT / "lessons").glob("*.ipynb")), ids=lambda p: p.name)
def test_every_page_is_somebodys(path):
    """No page that the suite has is left to the rule for pages that nobody knows."""
    assert path.name in PAGES or re.fullmatch(r"\d\d_\w+\.ipynb", path.name)


def test_a_page_that_nobody_knows_is_not_for_candidates():
    """A new page is closed until somebody says whose it is."""
    assert thing_of("something.ipynb") is Thing.TEACH
    assert not is_for_the_room("results.ipynb")

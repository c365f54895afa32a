"""The joined front end: what is in it, in which order, and what happens to what is not there."""

import subprocess
import sys
from pathlib import Path

from tornado.testing import AsyncHTTPTestCase
from tornado.web import Application

from quizzes.server.front_end import (
    A_YEAR_S,
    NONE,
    FrontEnd,
    FrontEndFile,
    joined,
    looking_once_more,
    waiting_longer,
)


def folders(tmp_path: Path) -> tuple[list[Path], list[Path]]:
    """Two folders of scripts: one of the front end's own, one of an extension's."""
    own, extension = tmp_path / "static", tmp_path / "labextensions"
    (extension / "one" / "static").mkdir(parents=True)
    own.mkdir()
    (own / "voila.js").write_text("var last = parts.length;")
    (own / "1.voila.js").write_text('"use strict"; parts.push("first"); // end of it')
    (extension / "one" / "static" / "7.0123abcd.js").write_text(
        'var own = "second"; parts.push(own)'
    )
    return [own], [extension]


LISTING = ("static/1.voila.js", "labextensions/one/static/7.*.js", "static/voila.js")


def run(front_end: FrontEnd, tmp_path: Path, then: str) -> str:
    """Run the joined script by node, as a page's one script, and return what `then` prints."""
    script = tmp_path / "front.js"
    script.write_bytes(b"var parts = [];\n" + front_end.script + f"\nconsole.log({then});".encode())
    return subprocess.run(
        ["node", str(script)], capture_output=True, text=True, check=True
    ).stdout.strip()


# As the library's text stands, on a clock of ours: a wait moves its hands on at once.
LOOKS = (
    "class Models{async get_model(e){let t=this._models[e];if(void 0===t){let o=Date.now();for(;"
    "Date.now()-o<2e3;){if(void 0!==(t=this._models[e]))return t;"
    "await new Promise(e=>setTimeout(e,STEP_MS))}"
    'throw Error("widget model not found")}return t}}\n'
)
# The model comes at 1950 ms: after the look at 1900 ms, before the library gives up at 2000 ms.
LATE = (
    "const STEP_MS=100,all=new Models();all._models={};let now_ms=0;Date.now=()=>now_ms;"
    "globalThis.setTimeout=(then,ms)=>{now_ms+=ms;if(now_ms>=1950)all._models.one='here';then()};"
    "all.get_model('one').catch(()=>'gave up').then((told)=>console.log(told,now_ms))"
)


def test_a_model_that_comes_in_the_last_sleep_is_found():
    """It came before the library gave up, and after it had looked for the last time."""
    told = [
        subprocess.run(
            ["node", "-e", text + LATE], capture_output=True, text=True, check=True
        ).stdout
        for text in (LOOKS, looking_once_more(LOOKS.encode()).decode())
    ]

    assert told == ["gave up 2000\n", "here 2000\n"]


def test_the_librarys_own_text_is_the_one_that_is_mended():
    """A newer library that waits in another way is to be looked at, and this taken away."""
    folder = Path(sys.prefix) / "share" / "jupyter"
    waits = [
        text
        for path in folder.glob("**/static/*.js")
        if b"widget model not found" in (text := path.read_bytes()) and b"2e3;" in text
    ]

    assert waits
    assert all(looking_once_more(text) != text for text in waits)


# As the library's text stands: a drawing that begins after five seconds.
BEGINS = """
const drawing = new Promise((begun, late) => {
  const resolvers = { reject: late };
  AbortSignal.timeout(2000).addEventListener("abort", () => {
    resolvers.reject(new Error("[anywidget] Failed to initialize model."));
  });
  setTimeout(() => begun("begun"), 5e3);
});
"""
# On a clock of ours: what is due first comes first, at once.
CLOCK = """
const due = [];
globalThis.setTimeout = (then, ms) => due.push([ms, then]);
globalThis.AbortSignal = { timeout: (ms) => ({ addEventListener: (_, then) => due.push([ms, then]) }) };
"""
RUN = """
due.sort(([one], [other]) => one - other).forEach(([, then]) => then());
drawing.then(console.log, () => console.log("given up"));
"""


def test_a_drawing_that_begins_late_is_shown():
    """A tablet reads a page's scripts for longer than the 2 s that the library gives them."""
    told = [
        subprocess.run(
            ["node", "-e", CLOCK + text + RUN], capture_output=True, text=True, check=True
        ).stdout
        for text in (BEGINS, waiting_longer(BEGINS.encode()).decode())
    ]

    assert told == ["given up\n", "begun\n"]


def test_the_librarys_own_text_is_the_one_that_waits_longer():
    """A newer library that gives up in another way is to be looked at, and this taken away."""
    folder = Path(sys.prefix) / "share" / "jupyter" / "labextensions" / "anywidget"
    gives_up = [
        text
        for path in folder.glob("static/*.js")
        if b"Failed to initialize model" in (text := path.read_bytes())
    ]

    assert gives_up
    assert all(waiting_longer(text) != text for text in gives_up)


class TestJoining:
    def test_every_part_runs_before_the_first_script_in_the_order_of_the_list(self, tmp_path):
        """What the front end would ask for is there when it looks."""
        front_end = joined(LISTING, *folders(tmp_path))

        assert run(front_end, tmp_path, "parts.join(), last") == "first,second 2"

    def test_a_part_keeps_its_names_to_itself(self, tmp_path):
        """Two parts may use one name, and the strict rules of one are not the next one's."""
        front_end = joined(LISTING, *folders(tmp_path))

        assert run(front_end, tmp_path, "typeof own, typeof last") == "undefined number"

    def test_a_part_that_is_not_there_is_passed_over(self, tmp_path):
        """Another release of the library has other parts; the front end asks for them itself."""
        listing = ("static/404.voila.js", "labextensions/none/static/*.js", *LISTING)
        places = folders(tmp_path)

        assert joined(listing, *places) == joined(LISTING, *places)

    def test_without_its_first_script_there_is_none(self, tmp_path):
        """Then pages load the library's own, with all that it asks for."""
        own, extension = folders(tmp_path)
        (own[0] / "voila.js").unlink()

        assert joined(LISTING, own, extension) == NONE
        assert not NONE.name

    def test_another_text_has_another_name(self, tmp_path):
        """A browser that keeps a script for a year must not keep it over a change."""
        own, extension = folders(tmp_path)
        before = joined(LISTING, own, extension)
        (own[0] / "1.voila.js").write_text('parts.push("changed")')

        assert joined(LISTING, own, extension).name != before.name


class TestServing(AsyncHTTPTestCase):
    """The script as a browser gets it."""

    front_end = FrontEnd(*NONE)._replace(name="front.js")

    def get_app(self) -> Application:
        return Application([("/front.js", FrontEndFile, {"front_end": self.front_end})])

    def test_it_may_be_kept_and_comes_squeezed_to_who_can_take_it(self):
        """A browser asks for it once; a client that knows no gzip gets it plain."""
        squeezed = self.fetch(
            "/front.js", headers={"Accept-Encoding": "gzip"}, decompress_response=False
        )
        plain = self.fetch(
            "/front.js", headers={"Accept-Encoding": "identity"}, decompress_response=False
        )

        assert squeezed.headers["Content-Encoding"] == "gzip"
        assert squeezed.body == self.front_end.squeezed
        assert "Content-Encoding" not in plain.headers
        assert plain.body == self.front_end.script
        for answer in (squeezed, plain):
            assert answer.headers["Cache-Control"] == f"public, max-age={A_YEAR_S}, immutable"
            assert answer.headers["Content-Type"].startswith("text/javascript")

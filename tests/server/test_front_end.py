"""The joined front end: what is in it, in which order, and what happens to what is not there."""

import subprocess
from pathlib import Path

from tornado.testing import AsyncHTTPTestCase
from tornado.web import Application

from quizzes.server.front_end import (
    A_YEAR_S,
    NONE,
    FrontEnd,
    FrontEndFile,
    joined,
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

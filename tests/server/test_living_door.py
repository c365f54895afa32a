"""The moving brake of the front door: one script from the lesson's own functions, and no kernel."""

import gzip
import json
import re
import shutil
import subprocess

import pytest

from quizzes.desks.explorers.brake_explorers import lesson_size
from quizzes.desks.explorers.living import clack_scene
from quizzes.server.pages.living_door import MOUNT, Door, door_script
from tests.waiting import comes_true

node = pytest.mark.skipif(shutil.which("node") is None, reason="node is not installed")


@pytest.fixture(scope="module")
def script() -> str:
    return gzip.decompress(door_script()).decode()


@node
def test_the_script_is_one_valid_module_that_waits_for_nobody(script, tmp_path):
    """Node reads it; no import and no default export is left in it."""
    module = tmp_path / "door.mjs"
    module.write_text(script, encoding="utf-8")
    checked = subprocess.run(["node", "--check", module], capture_output=True, text=True)

    assert checked.returncode == 0, checked.stderr
    assert not re.search(r"^(import |export default)", script, re.MULTILINE)


def test_the_door_shows_the_tables_of_the_lesson(script):
    """What a lesson's kernel would send stands in the script, number for number."""
    scene = clack_scene(lesson_size())

    assert json.dumps(scene.told()) in script
    assert json.dumps(dict(scene.courses())) in script
    assert f'"{MOUNT}"' in script


def test_a_door_that_cannot_be_made_is_written_down_and_stays_still(caplog):
    """The server goes on; the page keeps its still drawing."""

    def spoilt() -> bytes:
        raise ValueError("no tables today")

    door = Door(spoilt)

    assert isinstance(door.script.exception(timeout=10), ValueError)
    assert comes_true(lambda: "stays still" in caplog.text)

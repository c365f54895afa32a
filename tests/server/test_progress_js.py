"""Which lessons are ticked as done: what a browser stored is read with suspicion."""

import json
import shutil
import subprocess

import pytest

from quizzes.server.navigation import LESSONS

SCRIPT = LESSONS / "page" / "voila" / "templates" / "suite" / "static" / "progress.js"
pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="node is not installed")


def told(tmp_path, expression):
    module = tmp_path / "progress.mjs"
    module.write_text(SCRIPT.read_text(encoding="utf-8"), encoding="utf-8")
    script = (
        f"import * as p from {json.dumps(module.as_uri())};"
        f"console.log(JSON.stringify({expression}));"
    )
    asked = ["node", "--input-type=module", "-e", script]
    return json.loads(subprocess.run(asked, capture_output=True, text=True, check=True).stdout)


@pytest.mark.parametrize(
    ("stored", "done"),
    [
        ("null", []),
        ('"[3, 1, 3]"', [1, 3]),
        ('"{}"', []),
        ('"[1, \\"x\\", -2, 1.5, 1e9]"', [1]),
        ('"not json"', []),
    ],
)
def test_whatever_was_stored_only_lesson_numbers_are_read(tmp_path, stored, done):
    """Somebody may have written anything there."""
    assert told(tmp_path, f"p.doneLessons({stored})") == done


def test_a_check_is_done_when_each_question_was_answered_right(tmp_path):
    """No questions make no check; all but one is not all."""
    assert told(tmp_path, "p.checkDone(new Set(), 0)") is False
    assert told(tmp_path, "p.checkDone(new Set([0]), 2)") is False
    assert told(tmp_path, "p.checkDone(new Set([0, 1]), 2)") is True
    assert told(tmp_path, "p.withLesson([4], 2)") == [2, 4]

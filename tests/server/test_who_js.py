"""What the header says of a person's class and clock, from what the server tells the page."""

import json
import shutil
import subprocess

import pytest

from quizzes.server.navigation import LESSONS

SCRIPT = LESSONS / "page" / "voila" / "templates" / "suite" / "static" / "who.js"
pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="node is not installed")
CLOCKS = [
    ({}, ""),
    ({"minutes": {"used_s": 1139, "left_s": 661, "allowed": 30, "kept": False}}, "18 of 30 min"),
    ({"minutes": {"used_s": 1139, "left_s": 661, "allowed": 30, "kept": True}}, "11 min left"),
    ({"minutes": {"used_s": 1, "left_s": 59, "allowed": 1, "kept": True}}, "less than a minute left"),
    ({"minutes": {"used_s": 99, "left_s": 0, "allowed": 1, "kept": True}}, "The time is up"),
]  # fmt: skip


def test_the_clock_says_what_has_passed_or_what_is_left(tmp_path):
    """What has passed where nobody is stopped, what is left where the minutes are kept."""
    module = tmp_path / "who.mjs"
    module.write_text(SCRIPT.read_text(encoding="utf-8"), encoding="utf-8")
    asked = json.dumps([said for said, _ in CLOCKS])
    script = f"import * as w from {json.dumps(module.as_uri())}; console.log(JSON.stringify({asked}.map(w.minutesNow)));"
    run = subprocess.run(["node", "--input-type=module", "-e", script], capture_output=True, text=True, check=True)  # fmt: skip

    assert json.loads(run.stdout) == [words for _, words in CLOCKS]

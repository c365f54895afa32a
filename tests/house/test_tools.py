"""The tools that hold the house together, each run as a test, with the settings of pyproject.toml."""

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
LESSONS = sorted(str(path.relative_to(ROOT)) for path in (ROOT / "lessons").glob("*.ipynb"))


def run(*words: str) -> tuple[int, str]:
    """Run a tool of this environment in the project's folder; return its code and its words."""
    tool = Path(sys.executable).with_name(words[0])
    done = subprocess.run(
        [str(tool), *words[1:]],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=300,
        env={**os.environ, "NO_COLOR": "1", "COLUMNS": "160"},
    )
    return done.returncode, done.stdout + done.stderr


@pytest.mark.parametrize(
    "words",
    [
        ("ruff", "check", "."),
        ("ruff", "format", "--check", "."),
        ("mypy",),
        ("lint-imports",),
        ("nbstripout", "--verify", "--keep-id", *LESSONS),
    ],
    ids=["lint", "format", "types", "imports go one way", "lessons are stripped"],
)
def test_the_tool_finds_nothing(words):
    """Lint, format, types, the one-way rule and stripped lessons hold on every file."""
    code, said = run(*words)

    assert code == 0, said[-3000:]


def test_every_import_is_asked_for_and_nothing_else_is(tmp_path):
    """Deptry finds no import that requirements.txt leaves out, and no line that is not needed.

    The list is requirements.txt alone, since pyproject.toml names no dependencies; deptry would
    look there first, so it gets our settings in a file of their own.
    """
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    ignored = settings["tool"].get("deptry", {}).get("per_rule_ignores", {}).get("DEP002", [])
    alone = tmp_path / "pyproject.toml"
    alone.write_text("[tool.deptry]\n", encoding="utf-8")
    words = ["widgets", "quizzes", "--config", str(alone)]
    words += ["--requirements-files", "requirements.txt"]
    words += ["--known-first-party", "widgets", "--known-first-party", "quizzes"]
    if ignored:
        words += ["--per-rule-ignores", "DEP002=" + "|".join(ignored)]
    code, said = run("deptry", *words)

    assert code == 0, said[-3000:]

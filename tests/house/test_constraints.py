"""The list of pinned versions holds the whole tree, and is what these tests run on."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PIN = ROOT / ".ci" / "pin"


def pin(*words: str, script: Path = PIN) -> tuple[int, str]:
    done = subprocess.run([sys.executable, script, *words], capture_output=True, text=True)
    return done.returncode, done.stdout + done.stderr


def test_requirements_pins_and_environment_agree():
    """Whoever installs gets the versions that these tests ran with: `.ci/pin` makes the list again."""
    code, said = pin("--check")

    assert code == 0, said


def test_the_install_line_obeys_the_list():
    """requirements.txt names the list, so that the README's install line does."""
    lines = (ROOT / "requirements.txt").read_text(encoding="utf-8").splitlines()

    assert "-c .ci/constraints.txt" in lines


@pytest.mark.parametrize(
    ("name", "instead", "said_so"),
    [
        ("numpy", "numpy==1.0", "numpy is pinned at 1.0"),
        ("numpy", "", "numpy is in requirements.txt and has no pin"),
        ("tqdm", "tqdm==0.0.1", "is installed and 0.0.1 pinned"),
        ("tqdm", "nobody-needs-it==1.0", "nobody-needs-it is pinned and nothing needs it"),
        ("colorama", "", "colorama is needed on another system and has no pin"),
    ],
)
def test_a_list_that_disagrees_is_refused_with_the_package(tmp_path, name, instead, said_so):
    """Too old, missing, not what is installed, or not needed: each is named."""
    for file in ("requirements.txt", "pyproject.toml", ".ci/pin"):
        there = tmp_path / file
        there.parent.mkdir(exist_ok=True)
        there.write_bytes((ROOT / file).read_bytes())
    pins = (ROOT / ".ci" / "constraints.txt").read_text(encoding="utf-8")
    changed, count = re.subn(rf"^{name}==\S+$", instead, pins, flags=re.MULTILINE)
    (tmp_path / ".ci" / "constraints.txt").write_text(changed, encoding="utf-8")
    code, said = pin("--check", script=tmp_path / ".ci" / "pin")

    assert count == 1
    assert code == 1
    assert said_so in said

"""Break the project on purpose, in a copy of it, and see that the named tests notice.

    .venv/bin/python tests/house/break_it.py            all of tests/house/breakages.toml
    .venv/bin/python tests/house/break_it.py chain gate those whose sentence or file has a word

Prints a line for each, and ends with 1 if any was not noticed. First the same tests must pass in
the copy as it is: a test that fails anyway notices nothing.
"""

import os
import shutil
import subprocess
import sys
import tempfile
import time
import tomllib
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
LIST = Path(__file__).with_name("breakages.toml")
LEFT_OUT = shutil.ignore_patterns(
    ".git", ".venv", "__pycache__", ".*_cache", ".hypothesis", "shots"
)


@dataclass(frozen=True, slots=True)
class Breakage:
    """What is changed where, and which tests must fail then."""

    what: str
    file: str
    text: str
    instead: str
    tests: tuple[str, ...]

    def broken(self, whole: str) -> str:
        """Return a file's text with the breakage in it; it has to be where the list says."""
        count = whole.count(self.text)
        if count != 1:
            raise ValueError(f"{self.what}: {self.file} holds the text {count} times")
        return whole.replace(self.text, self.instead, 1)


def breakages() -> list[Breakage]:
    """Return the list."""
    rows = tomllib.loads(LIST.read_text(encoding="utf-8"))["breakage"]
    return [Breakage(**row | {"tests": tuple(row["tests"])}) for row in rows]


def run(folder: Path, tests: tuple[str, ...]) -> tuple[int, str]:
    """Run tests in a copy; return pytest's status and what it wrote."""
    words = ["-m", "pytest", "-q", "-x", "-n", "0", "-p", "no:cacheprovider", *tests]
    done = subprocess.run(
        [sys.executable, *words],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(folder), "CI": "true"},
        capture_output=True,
        text=True,
    )
    return done.returncode, done.stdout


def noticed(one: Breakage, folder: Path) -> str:
    """Return which test noticed a breakage first; empty if none did."""
    path = folder / one.file
    whole = path.read_text(encoding="utf-8")
    path.write_text(one.broken(whole), encoding="utf-8")
    try:
        status, said = run(folder, one.tests)
    finally:
        path.write_text(whole, encoding="utf-8")
    found = [line for line in said.splitlines() if line.startswith(("FAILED", "ERROR"))]
    return found[0].split(" - ")[0] if status == 1 and found else ""


def main(words: list[str]) -> int:
    """Break and look; return the exit status."""
    chosen = [
        one for one in breakages() if not words or any(w in one.what + one.file for w in words)
    ]
    missed = 0
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "copy"
        shutil.copytree(ROOT, copy, ignore=LEFT_OUT)
        tests = tuple(dict.fromkeys(test for one in chosen for test in one.tests))
        status, said = run(copy, tests)
        if status:
            print(f"these tests fail without any breakage:\n{said[-3000:]}")
            return 2
        for number, one in enumerate(chosen, start=1):
            begun = time.monotonic()
            by = noticed(one, copy)
            missed += not by
            took_s = time.monotonic() - begun
            print(f"{number:2} {took_s:4.0f} s  {one.what}: {by or 'NOT NOTICED'}", flush=True)
    print(f"{len(chosen) - missed} of {len(chosen)} noticed")
    return bool(missed) or not chosen


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""No test passes time in the hope that something is done by then: it waits for the fact itself."""

import re
from pathlib import Path

import pytest

TESTS = Path(__file__).parents[1]
# Benchmarks are run by hand, and let a pool of kernels fill before they measure.
SEARCHED = sorted(
    path
    for path in TESTS.rglob("*")
    if path.suffix in {".py", ".mjs"} and not path.is_relative_to(TESTS / "benchmarks")
)
THE_ONE_PLACE = TESTS / "waiting.py"
PASSES_TIME = re.compile(
    r"\b(?:time\.sleep\b|asyncio\.sleep\((?!0\)))|\bimport sleep\b|\bwait_for_timeout\b"
    r"|\bEvent\(\)\.wait\(|\bsetTimeout\([^,()]*,\s*[1-9]|\bbetween\.wait\("
)
LINUX_ONLY = re.compile(r"""["'/]proc[/"']|\bpgrep\b|\bpkill\b|["']ps["']""")


@pytest.mark.parametrize("path", SEARCHED, ids=lambda path: path.relative_to(TESTS).as_posix())
def test_nothing_is_waited_for_by_the_clock(path):
    """`tests/waiting.py` alone lets time pass, between two looks at a fact."""
    found = PASSES_TIME.findall(path.read_text(encoding="utf-8"))

    assert bool(found) == (path == THE_ONE_PLACE)


@pytest.mark.parametrize("path", SEARCHED, ids=lambda path: path.relative_to(TESTS).as_posix())
def test_no_test_needs_a_linux_process_table_unless_it_is_skipped_elsewhere(path):
    """Processes are asked of psutil (`tests/processes.py`), which knows every system."""
    text = path.read_text(encoding="utf-8")
    found = LINUX_ONLY.findall(text)

    assert not found or "skipif" in text

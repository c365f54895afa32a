"""A page that shows mastery opens fast: SciPy waits until a number is asked for."""

import subprocess
import sys
from pathlib import Path

ANALYSIS = Path(__file__).parents[2] / "quizzes" / "analysis"
MODULES = sorted(
    ".".join(path.relative_to(ANALYSIS).with_suffix("").parts)
    for path in ANALYSIS.rglob("[a-z]*.py")
)


def test_no_module_of_mastery_loads_scipy_by_being_imported():
    """Every module of the folder and its rooms, in a fresh interpreter."""
    names = "; ".join(f"import quizzes.analysis.{name}" for name in MODULES)
    words = [sys.executable, "-c", f"{names}; import sys; print('scipy' in sys.modules)"]
    done = subprocess.run(words, cwd=ANALYSIS.parents[1], capture_output=True, text=True)

    assert len(MODULES) > 10
    assert done.stdout.strip() == "False", done.stderr

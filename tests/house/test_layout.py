"""The shape of the house: what lies at the top, how long a module may be, what is asked for."""

import ast
import re
import subprocess
import sys
from importlib import metadata
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TOP = {
    *("README.md", "DEVELOPERS.md", "requirements.txt", "pyproject.toml"),
    *("lessons", "widgets", "quizzes", "tests", "binder"),
}
MODULES = sorted(
    path for package in ("widgets", "quizzes") for path in (ROOT / package).rglob("*.py")
)
MOST_LINES = 300
MOST_IN_A_FOLDER = 16  # modules; more is a shelf on which nothing is found
# Longer, with the reason. A number may only go down; a module that fits leaves the list.
LONGER = {
    "widgets/brake/magnet/coil.py": (473, "resistance, current, rectifiers and faults of one part"),
}
REQUIREMENT = re.compile(r"([A-Za-z0-9][A-Za-z0-9._-]*)(?:\[[\w,]+\])?\s*(.*)")


def kept() -> list[str]:
    """Return the files that are kept, or will be with the next commit."""
    asked = ["git", "ls-files", "--cached", "--others", "--exclude-standard"]
    done = subprocess.run(asked, cwd=ROOT, capture_output=True, text=True)
    if done.returncode:
        pytest.skip("this copy of the project is not a git repository")
    return [name for name in done.stdout.splitlines() if (ROOT / name).exists()]


def requirements() -> dict[str, str]:
    """Return the lines of requirements.txt as name and bound; the project itself is left out."""
    lines = (ROOT / "requirements.txt").read_text(encoding="utf-8").splitlines()
    texts = [line.split("#")[0].strip() for line in lines]
    found = [REQUIREMENT.fullmatch(text) for text in texts if text and not text.startswith("-")]
    assert all(found)
    return {match[1].lower().replace("_", "-"): match[2] for match in found if match}


def imported(path: Path) -> set[str]:
    """Return the top names that a module imports, anywhere in it."""
    names = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names.add(node.module.split(".")[0])
    return names


def test_the_top_level_is_the_agreed_one():
    """Nine names and nothing else, hidden files aside."""
    top = {name.split("/")[0] for name in kept()}

    assert {name for name in top if not name.startswith(".")} == TOP


def test_no_output_of_a_run_is_kept():
    """No database, log, picture of a run or compiled file is in the repository."""
    stray = [n for n in kept() if re.search(r"\.(sqlite\S*|db|log|pyc|zip|whl)$|__pycache__", n)]

    assert not stray


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_a_module_can_be_read_at_one_sitting(path):
    """At most 300 lines, or the length it is known to have."""
    allowed, _ = LONGER.get(path.relative_to(ROOT).as_posix(), (MOST_LINES, ""))

    assert len(path.read_text(encoding="utf-8").splitlines()) <= allowed


@pytest.mark.parametrize("name", LONGER)
def test_the_list_of_long_modules_only_shrinks(name):
    """A listed module is there, is still too long, and has a reason."""
    allowed, reason = LONGER[name]
    length = len((ROOT / name).read_text(encoding="utf-8").splitlines())

    assert MOST_LINES < length <= allowed
    assert reason


def test_the_install_line_installs_the_project_too():
    """`-e .` stands in requirements.txt, so that notebooks find both packages."""
    lines = (ROOT / "requirements.txt").read_text(encoding="utf-8").splitlines()

    assert "-e ." in lines


@pytest.mark.parametrize("name", requirements())
def test_a_requirement_has_a_compatible_bound(name):
    """`~=` with two or three numbers: repairs come in, breaking editions do not."""
    assert re.fullmatch(r"~=\d+(\.\d+){1,2}", requirements()[name])


def test_every_import_is_in_requirements():
    """What widgets and quizzes import from outside has a line of its own."""
    outside = set().union(*(imported(path) for path in MODULES))
    outside -= {*sys.stdlib_module_names, "widgets", "quizzes"}
    providers = metadata.packages_distributions()
    asked = requirements()
    left_out = {
        name
        for name in outside
        if not {dist.lower().replace("_", "-") for dist in providers.get(name, [name])} & set(asked)
    }

    assert not left_out


def test_no_module_is_imported_from_another_peoples_private_part():
    """No `utils`, `helpers`, `manager`, `data` or `info`: a module is called after its subject."""
    vague = {"utils", "util", "helpers", "helper", "manager", "data", "info", "common", "misc"}

    assert not [path for path in MODULES if path.stem in vague]


def test_no_folder_shows_more_than_a_shelf():
    """About fifteen modules of one kind in a folder, the list of charts apart: each draws one figure."""
    counts: dict[Path, int] = {}
    for package in ("widgets", "quizzes"):
        for path in (ROOT / package).rglob("*"):
            if path.suffix in {".py", ".js"} and path.name != "__init__.py":
                counts[path.parent] = counts.get(path.parent, 0) + 1
    crowded = {
        str(folder.relative_to(ROOT)): count
        for folder, count in counts.items()
        if count > MOST_IN_A_FOLDER and folder.name != "charts"
    }

    assert not crowded

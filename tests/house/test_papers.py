"""README and DEVELOPERS say what is so: their commands, paths, modules and tests exist."""

import ast
import re
from pathlib import Path

import pytest

from widgets.brake.sizes.sheet import SizeRow

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
SET_UP = "python3 -m venv .venv && .venv/bin/pip install -r requirements.txt && "
RUN = SET_UP + ".venv/bin/python -m quizzes serve --demo"
TEST = SET_UP + ".venv/bin/pytest"
FOLDERS = sorted(
    path.parent.relative_to(ROOT).as_posix()
    for package in ("widgets", "quizzes")
    for path in (ROOT / package).glob("*/**/__init__.py")
)
IN_TICKS = re.compile(r"`([^`\n]+)`")
PATH = re.compile(r"(?:widgets|quizzes|tests|lessons|binder|\.ci)/[\w./-]*")
LINK = re.compile(r"\]\(([^)#\s]+)[^)]*\)")


def paths_in(text: str) -> set[str]:
    """Return what a paper names in ticks as a path of the project; patterns are left out."""
    return {quoted for quoted in IN_TICKS.findall(text) if PATH.fullmatch(quoted)}


@pytest.mark.parametrize("command", [RUN, TEST], ids=["run", "test"])
def test_the_readme_has_the_two_commands_word_for_word(command):
    """Each stands on a line of its own, to be copied as it is."""
    assert command in README.splitlines()


def test_the_test_command_is_the_one_that_is_checked():
    """`.ci/run` calls the README's test command and no other."""
    assert TEST in (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()


def test_the_windows_form_is_the_same_three_steps():
    """The same install line and the same two programs, with the paths of Windows."""
    for words in (
        "py -3 -m venv .venv",
        r".venv\Scripts\pip install -r requirements.txt",
        r".venv\Scripts\python -m quizzes serve --demo",
        r".venv\Scripts\pytest",
    ):
        assert words in README


@pytest.mark.parametrize("text", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_every_path_that_is_named_exists(text):
    """A file that was moved or renamed is moved or renamed in the papers too."""
    named = paths_in(text) | {link for link in LINK.findall(text) if "://" not in link}
    missing = sorted(path for path in named if not (ROOT / path).exists())

    assert named
    assert not missing


@pytest.mark.parametrize("folder", FOLDERS)
def test_the_map_says_of_each_folder_what_the_folder_says_of_itself(folder):
    """One line a folder, with the first line of its `__init__.py` word for word."""
    text = (ROOT / folder / "__init__.py").read_text(encoding="utf-8")
    said = (ast.get_docstring(ast.parse(text)) or "").splitlines()[0]

    assert f"| `{folder}/` | {said} |" in DEVELOPERS


def test_a_bare_module_name_means_a_module_that_exists():
    """No `something.py` in DEVELOPERS.md is a name that nothing has."""
    bare = {q for q in IN_TICKS.findall(DEVELOPERS) if re.fullmatch(r"\w+\.(?:py|js|css|toml)", q)}
    files = {path.name for path in ROOT.rglob("*.*") if ".venv" not in path.parts}

    assert not sorted(bare - files)


def test_every_test_that_holds_an_invariant_exists():
    """`file::test` names a test, or a class of tests, that is there."""
    missing = [
        quoted
        for quoted in IN_TICKS.findall(DEVELOPERS)
        if "::" in quoted and not _is_defined(*quoted.split("::", 1))
    ]

    assert DEVELOPERS.count("::test_") > 10
    assert not missing


def _is_defined(path: str, name: str) -> bool:
    file = ROOT / path
    defined = rf"^(?:async )?\s*(?:def|class) {re.escape(name)}\b"
    return file.is_file() and bool(
        re.search(defined, file.read_text(encoding="utf-8"), re.MULTILINE)
    )


@pytest.mark.parametrize("field", [*SizeRow.model_fields, "title", "source", "invented"])
def test_every_field_of_a_limits_sheet_is_explained(field):
    """The error message of an unknown field sends its reader to this list."""
    assert f"`{field}`" in DEVELOPERS


def test_the_readmes_example_is_a_good_limits_sheet(tmp_path):
    """The sheet that README prints can be loaded as it stands, from the three columns alone."""
    from widgets.brake.sizes.sheet import load_sheet

    (example,) = re.findall(r"```toml\n(.*?)```", README, re.DOTALL)
    file = tmp_path / "own.toml"
    file.write_text(example, encoding="utf-8")
    sheet = load_sheet(file)

    assert not sheet.invented
    assert all(size.estimated for size in sheet.sizes)


def test_what_trainers_must_know_is_dated():
    """Changes that move a rubric are listed with their day."""
    after = README.split("## What changed for trainers", 1)[1]

    assert re.search(r"\b20\d\d-\d\d-\d\d\b", after)

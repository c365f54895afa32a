"""How prose is set that a page shows: apostrophes are curly, days have no nought in front."""

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import nbformat
import pytest

ROOT = Path(__file__).parents[2]
SAYING = ("quizzes/desks", "quizzes/grading", "quizzes/job_sheet", "widgets/bench")
MODULES = sorted(path for folder in SAYING for path in (ROOT / folder).rglob("*.py"))
TABLES = sorted((ROOT / "quizzes").rglob("*.toml"))
LESSONS = sorted((ROOT / "lessons").glob("*.ipynb"))
SCRIPTS = sorted(
    path
    for folder in ("quizzes", "widgets", "lessons")
    for kind in ("*.js", "*.j2", "*.html")
    for path in (ROOT / folder).rglob(kind)
)
UNSAID = re.compile(r"/\*.*?\*/|\{#.*?#\}|(?:^|(?<=\s))//[^\n]*", re.DOTALL)  # comments
STRAIGHT = re.compile(r"[A-Za-z]'[a-z]")
WITH_NOUGHT = re.compile(r"%d %[Bb]")


def strings_of(path: Path) -> Iterator[str]:
    """Yield what a file can show: strings of a table or module, Markdown, a script's own text."""
    if path.suffix == ".toml":
        yield from _in(tomllib.loads(path.read_text("utf-8")))
    elif path.suffix == ".ipynb":
        cells = nbformat.read(path, 4).cells
        yield from (cell.source for cell in cells if cell.cell_type == "markdown")
    elif path.suffix in {".js", ".j2", ".html"}:
        yield UNSAID.sub("", path.read_text("utf-8"))
    else:
        tree = ast.parse(path.read_text("utf-8"))
        said = {id(one.value) for one in ast.walk(tree) if isinstance(one, ast.Expr)}  # docstrings
        for one in ast.walk(tree):
            if isinstance(one, ast.Constant) and isinstance(one.value, str):
                yield from () if id(one) in said else (one.value,)


def _in(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict | list):
        for one in value.values() if isinstance(value, dict) else value:
            yield from _in(one)


@pytest.mark.parametrize(
    "paths",
    [MODULES, TABLES, LESSONS, SCRIPTS],
    ids=["modules", "tables", "lessons", "scripts and templates"],
)
def test_apostrophes_in_prose_are_curly(paths):
    """“the maker’s data”, in what a page shows; docstrings and code are another matter."""
    read = [(path, said) for path in paths for said in strings_of(path)]

    assert len(read) >= len(paths) > 10
    assert [(path.name, said) for path, said in read if STRAIGHT.search(said)] == []


def test_no_day_has_a_nought_in_front():
    """“6 December 2026”: `day_words` says it so, the format `%d %B` says “06”."""
    sources = [*(ROOT / "quizzes").rglob("*"), *(ROOT / "widgets").rglob("*.py"), *LESSONS]
    texts = {path: path.read_text("utf-8") for path in sources if path.suffix in {".py", ".j2", ".ipynb"}}  # fmt: skip

    assert len(texts) > 400
    assert [path.name for path, text in texts.items() if WITH_NOUGHT.search(text)] == []

"""What reaches a browser: no address outside the machine, no stored output, no way to hide state."""

import importlib
import pkgutil
import re
from pathlib import Path

import anywidget
import nbformat
import pytest

import quizzes
import widgets

ROOT = Path(__file__).parents[2]
SHOWN = {".js", ".css", ".html", ".j2", ".svg", ".json", ".ipynb", ".mplstyle"}
FILES = sorted(
    path
    for folder in ("lessons", "widgets", "quizzes")
    for path in (ROOT / folder).rglob("*")
    if path.suffix in SHOWN and ".ipynb_checkpoints" not in path.parts
)
SCRIPTS = [path for path in FILES if path.suffix == ".js"]
NOTEBOOKS = [path for path in FILES if path.suffix == ".ipynb"]
MOST_LINES = 300
OWN_TRAITS = {"table_key"}

ADDRESS = re.compile(r"(?:https?|wss?|ftp):\\?/\\?/[^\s\"'<>)]+", re.IGNORECASE)
PROTOCOL_RELATIVE = re.compile(r"""(?:src|href|url)\s*[=(]\s*["']?//""", re.IGNORECASE)
# Names, not places: nothing is fetched from a namespace. And the machine itself.
HARMLESS = re.compile(
    r"https://json-schema\.org/draft/2020-12/schema|http://www\.w3\.org/\d{4}/|(?:http|ws)://(?:127\.0\.0\.1|localhost)\b"
)

named = {"ids": lambda path: str(path.relative_to(ROOT))}


@pytest.mark.parametrize("path", FILES, **named)
def test_no_file_points_outside_the_machine(path):
    """Template, style, script, sheet and notebook name no address but this machine's own."""
    text = path.read_text(encoding="utf-8")
    abroad = [found for found in ADDRESS.findall(text) if not HARMLESS.match(found)]

    assert not abroad
    assert not PROTOCOL_RELATIVE.search(text)


def test_the_search_for_addresses_finds_some():
    """The pattern above sees plain, secure and socket addresses, escaped ones too."""
    examples = [
        "https://example.org/a.js",
        "ws://example.org",
        "http:\\/\\/example.org",
        "ftp://x.y",
    ]
    found = [ADDRESS.search(f'"{example}"') for example in examples]

    assert all(found)
    assert not any(HARMLESS.match(match[0]) for match in found)
    assert PROTOCOL_RELATIVE.search('<script src="//example.org/x.js">')
    assert not HARMLESS.match("http://127.0.0.1.example.org"[:7] + "evil.org")


@pytest.mark.parametrize("path", NOTEBOOKS, **named)
def test_a_notebook_stores_no_output(path):
    """Outputs are made by running; only text that nbval compares may be stored."""
    code = [cell for cell in nbformat.read(path, as_version=4).cells if cell.cell_type == "code"]
    stored = [c for c in code if c.outputs and "# NBVAL_CHECK_OUTPUT" not in c.source]

    assert not stored
    assert not [cell for cell in code if cell.execution_count is not None]


@pytest.mark.parametrize("path", SCRIPTS, **named)
def test_a_script_makes_no_markup_and_reaches_no_network(path):
    """No text becomes markup or program, nothing is fetched; at most 300 lines."""
    text = path.read_text(encoding="utf-8")
    code = re.sub(r"//[^\n]*|/\*.*?\*/", "", text, flags=re.DOTALL)
    banned = (
        r"\b(?:innerHTML|outerHTML|insertAdjacentHTML|document\.write|XMLHttpRequest"
        r"|WebSocket|EventSource|sendBeacon|importScripts)\b|\bfetch\s*\(|\beval\s*\(|new Function\b"
        r"|\bimport\s*\("
    )

    if path.is_relative_to(ROOT / "lessons"):
        # The template's own script watches the kernel's line that the libraries open.
        code = code.replace("WebSocket", "")
    if path.name in {"who_on_page.js", "progress_on_page.js"}:
        # They ask the page's own server who is there, or tell it what was read, and no other place.
        assert len(re.findall(r"\bfetch\s*\(", code)) == code.count('credentials: "same-origin"')
        code = re.sub(r"\bfetch\s*\(", "(", code)

    assert not re.findall(banned, code)
    assert len(text.splitlines()) <= MOST_LINES
    assert text.startswith("//")  # what it draws, what it sends, what it does not do


def our_widgets() -> list[type[anywidget.AnyWidget]]:
    """Return every widget class that the two packages define."""
    for package in (widgets, quizzes):
        for module in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
            if module.name != "quizzes.__main__" and ".migrations." not in module.name:
                importlib.import_module(module.name)
    found, stack = [], [anywidget.AnyWidget]
    while stack:
        below = stack.pop().__subclasses__()
        stack += below
        found += [kind for kind in below if kind.__module__.split(".")[0] in {"widgets", "quizzes"}]
    return found


def test_the_browser_shares_one_trait_of_ours_and_no_other():
    """What is synced can be read: beside what the libraries sync there is the bench's key alone."""
    # anywidget puts a part's script and style on its class once one of it was made.
    theirs = {*anywidget.AnyWidget.class_traits(sync=True), "_anywidget_id", "_esm", "_css"}
    ours = {kind: set(kind.class_traits(sync=True)) - theirs for kind in our_widgets()}

    assert len(ours) >= 8  # the panels are there to be looked at
    assert set().union(*ours.values()) == OWN_TRAITS

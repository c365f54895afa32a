"""Where each part of a lesson stands on a wide page: in the text, beside it, or across the page."""

import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

TEXT, BESIDE, ACROSS, COLUMNS = "text", "beside", "across", "columns"
SHORTEST_TEXT = 220  # characters; a shorter one stands over its figure instead of beside it
LONG_TEXT = 700  # characters; alone it has two columns, and beside it is room for two things
# What needs the whole width: a bench, the questions, a check of one's own hand.
WIDE = ("lesson_check(", "lesson_bench(", "lesson_runs(", "own_hand")
TOLD, SOLVED = ".chapter(", "worked("  # a story is text, though a cell tells it
_WORDS = {"text", "heading", "line"}


def places(cells: Sequence[Mapping[str, Any]]) -> tuple[str, ...]:
    """Return the place of each cell, in order.

    A figure, a living drawing or printed numbers stand beside the text before
    them; a figure with a short line over it stands under what is beside the
    text already. Text that nothing stands beside, and whatever needs the room,
    goes across the page, in two columns if it is long.

    Parameters
    ----------
    cells : sequence of mapping
        A notebook's cells, each with `cell_type` and `source`.
    """
    kinds = [_kind(cell) for cell in cells]
    found = [COLUMNS if _length(cell) >= LONG_TEXT else ACROSS for cell in cells]
    for index in range(1, len(cells)):
        pair = before, after = kinds[index - 1], kinds[index]
        if after == "told" and before in _WORDS:
            found[index - 1], found[index] = TEXT, TEXT
        elif pair in {("text", "shown"), ("told", "shown")} or (
            after == "solution" and before in _WORDS
        ):
            found[index - 1], found[index] = TEXT, BESIDE
        elif pair == ("line", "shown") and _has_room(cells, found, index - 1):
            found[index - 1], found[index] = BESIDE, BESIDE
    return tuple(found)


def _has_room(cells: Sequence[Mapping[str, Any]], found: Sequence[str], index: int) -> bool:
    """Return whether the text before is long enough for a second thing beside it."""
    if tuple(found[max(0, index - 2) : index]) != (TEXT, BESIDE):
        return False
    text = cells[index - 2]
    return _kind(text) == "told" or _length(text) >= LONG_TEXT


def _kind(cell: Mapping[str, Any]) -> str:
    source = "".join(cell["source"])
    if cell["cell_type"] == "markdown":
        return "text" if len(source) >= SHORTEST_TEXT else "heading" if "#" in source else "line"
    for word, kind in ((TOLD, "told"), (SOLVED, "solution")):
        if word in source:
            return kind
    return "wide" if any(word in source for word in WIDE) else "shown"


def _length(cell: Mapping[str, Any]) -> int:
    """Return how many characters of text a cell has, none if it is code."""
    return len("".join(cell["source"])) if cell["cell_type"] == "markdown" else 0


def places_of(notebook: Path) -> tuple[str, ...]:
    """Return the places of a notebook's cells; none of a file that is not a notebook."""
    try:
        return places(json.loads(notebook.read_text(encoding="utf-8"))["cells"])
    except (OSError, ValueError, KeyError, TypeError):
        return ()

"""Where each part of a lesson stands on a wide page: in the text, beside it, or across the page."""

import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

TEXT, BESIDE, ACROSS = "text", "beside", "across"
SHORTEST_TEXT = 220  # characters; a shorter one stands over its figure instead of beside it
# What needs the whole width: a bench, the questions, a check of one's own hand.
WIDE = ("lesson_check(", "lesson_bench(", "lesson_runs(", "own_hand")


def places(cells: Sequence[Mapping[str, Any]]) -> tuple[str, ...]:
    """Return the place of each cell, in order.

    A figure, a living drawing or printed numbers stand beside the text before
    them. Text that nothing stands beside, and whatever needs the room, goes
    across the page.

    Parameters
    ----------
    cells : sequence of mapping
        A notebook's cells, each with `cell_type` and `source`.
    """
    found = [ACROSS] * len(cells)
    for index in range(1, len(cells)):
        before, cell = cells[index - 1], cells[index]
        if before["cell_type"] != "markdown" or cell["cell_type"] != "code":
            continue
        text, code = ("".join(one["source"]) for one in (before, cell))
        if len(text) < SHORTEST_TEXT or any(word in code for word in WIDE):
            continue
        found[index - 1], found[index] = TEXT, BESIDE
    return tuple(found)


def places_of(notebook: Path) -> tuple[str, ...]:
    """Return the places of a notebook's cells; none of a file that is no notebook."""
    try:
        return places(json.loads(notebook.read_text(encoding="utf-8"))["cells"])
    except (OSError, ValueError, KeyError, TypeError):
        return ()

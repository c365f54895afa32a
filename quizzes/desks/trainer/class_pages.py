"""The pages that a class can be given to work through, and how far somebody has come with them."""

import json
import re
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path

LESSONS = Path(__file__).parents[3] / "lessons"
_LESSON = re.compile(r"(\d\d)_\w+\.ipynb")
_OTHERS = {
    "bench.ipynb": "Practice bench",
    "job_sheet.ipynb": "Job sheet",
    "limits_sheet.ipynb": "Limits sheet",
    "glossary.ipynb": "Glossary",
}
DONE, OPENED, NOT_YET = "done", "opened", "not yet"


@cache
def pages_to_give() -> Mapping[str, str]:
    """Return the title of each page that a class can work through, by its file, in order."""
    lessons = {
        path.name: f"Lesson {int(path.name[:2])}: {_title(path)}"
        for path in sorted(LESSONS.glob("*.ipynb"))
        if _LESSON.fullmatch(path.name)
    }
    return lessons | {name: words for name, words in _OTHERS.items() if (LESSONS / name).exists()}


def _title(path: Path) -> str:
    try:
        return str(json.loads(path.read_text(encoding="utf-8"))["metadata"]["title"])
    except (OSError, ValueError, KeyError, TypeError):
        return path.stem[3:].replace("_", " ")


def pages_of(typed: str) -> tuple[str, ...]:
    """Return the pages of a list with commas, in the order of the course.

    Raises
    ------
    ValueError
        If one of them is not a page that a class can be given.
    """
    named = {one.strip() for one in typed.split(",") if one.strip()}
    if unknown := sorted(named - set(pages_to_give())):
        raise ValueError(f"Pages: {unknown[0]!r:.60} is not a page that a class can be given.")
    return tuple(page for page in pages_to_give() if page in named)


def state_of(page: str, seen: Mapping[str, tuple[int, int]]) -> str:
    """Return how far somebody has come with a page.

    Examples
    --------
    >>> state_of("01_x.ipynb", {}), state_of("01_x.ipynb", {"01_x.ipynb": (2, 5)})
    ('not yet', 'opened')
    >>> state_of("01_x.ipynb", {"01_x.ipynb": (5, 5)}), state_of("b.ipynb", {"b.ipynb": (0, 0)})
    ('done', 'done')
    """
    if page not in seen:
        return NOT_YET
    right, of = seen[page]
    # A lesson is done once every question of its check is right; another page once it was opened.
    is_done = right >= of > 0 if _LESSON.fullmatch(page) else True
    return DONE if is_done else OPENED


def where_on(page: str, seen: Mapping[str, tuple[int, int]]) -> str:
    """Return a page as the board says where somebody is, with the questions answered right."""
    title = pages_to_give().get(page, "")
    short = title.split(":")[0].lower()
    right, of = seen.get(page, (0, 0))
    return f"{short}, {right} of {of} questions right" if of else short


def states_of(pages: Sequence[str], seen: Mapping[str, tuple[int, int]]) -> tuple[str, ...]:
    """Return how far somebody has come with each page that the class was given."""
    return tuple(state_of(page, seen) for page in pages)

"""The pages of the suite and the way between them: the one list that every header shows."""

import json
import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from quizzes.server.pages.places import places_of
from quizzes.sittings.in_force import place

FRONT_END = "suite_front_end"  # among a server's settings: the address of the one script
PEOPLE = "suite_people"  # who sits at which browser
AT_WORK = "suite_class_at_work"  # the demo's class, while it works
LIVING_DOOR = "suite_living_door"  # the address of the moving brake of the front door
LESSONS = Path(__file__).parents[2] / "lessons"
NUMBERED = re.compile(r"(\d\d)_\w+\.ipynb")
LONGEST_TITLE = 60  # characters; what the lessons' own check allows


@dataclass(frozen=True, slots=True)
class Page:
    """One page a person can go to.

    Parameters
    ----------
    key : str
        What the template calls it.
    title : str
        What the header calls it.
    path : str
        The notebook's file name in `lessons/`; empty for the front door.
    group : str
        Under which word the header folds it away: `Lessons`, `Sheets`; empty
        for a page that stands in the header itself.
    """

    key: str
    title: str
    path: str
    group: str = ""


# Pages that are not numbered lessons, in the order of the header; a missing one is left out.
_DESKS = (
    Page("bench", "Bench", "bench.ipynb"),
    Page("stage", "Stage", "stage.ipynb"),
    Page("class", "Class", "class.ipynb"),
    Page("assessment", "Assessment", "assessment.ipynb"),
    Page("results", "Results", "results.ipynb"),
    Page("forms", "Forms", "forms.ipynb", "Sheets"),
    Page("limits_sheet", "Limits sheet", "limits_sheet.ipynb", "Sheets"),
    Page("job_sheet", "Job sheet", "job_sheet.ipynb", "Sheets"),
    Page("due", "Who is due", "due.ipynb", "Sheets"),
    Page("panel", "Judges’ panel", "panel.ipynb", "Sheets"),
    Page("verify", "Check a record", "verify.ipynb", "Sheets"),
    Page("glossary", "Glossary", "glossary.ipynb", "Sheets"),
)
_GUIDE = Page("trainers_guide", "Trainer’s guide", "trainers_guide.ipynb", "Lessons")


def pages_in(folder: Path) -> tuple[Page, ...]:
    """Return the pages that a folder of notebooks offers, in the order of the header.

    Parameters
    ----------
    folder : Path
        Where the notebooks are; what is not a notebook is passed over.

    Returns
    -------
    tuple of Page
        The front door, the numbered lessons, the trainer's guide, the desks,
        the sheets, and last any other notebook, by its own title.
    """
    there = sorted(path.name for path in folder.glob("*.ipynb"))
    lessons = [_lesson(folder / name) for name in there if NUMBERED.fullmatch(name)]
    known = [page for page in (_GUIDE, *_DESKS) if page.path in there]
    listed = {page.path for page in (*lessons, *known)}
    others = [_other(folder / name) for name in there if name not in listed]
    return (Page("front", "Front door", ""), *lessons, *known, *others)


def _lesson(path: Path) -> Page:
    number = int(path.name[:2])
    key = "lesson" if number == 1 else f"lesson_{number}"
    return Page(key, f"{number}. {_title(path)}", path.name, "Lessons")


def _other(path: Path) -> Page:
    return Page(path.stem, _title(path), path.name, "Sheets")


def _title(path: Path) -> str:
    """Return the title that a notebook gives itself, or one made of its name."""
    try:
        said = json.loads(path.read_text(encoding="utf-8"))["metadata"]["title"]
    except (OSError, ValueError, KeyError, TypeError):
        said = ""
    made = re.sub(r"^\d\d_", "", path.stem).replace("_", " ").capitalize()
    return str(said or made).replace("'", "’")[:LONGEST_TITLE]


PAGES = pages_in(LESSONS)


def add_navigation(
    page_config: dict[str, Any],
    *,
    notebook_path: str = "",
    settings: Mapping[str, Any] | None = None,
    **_rest: object,
) -> dict[str, Any]:
    """Return the page's settings with our pages and place in them.

    Voila calls this for every page it renders, the front door too, so that the
    template finds the list in the same name under our server and on Binder.

    Parameters
    ----------
    page_config : dict
        Settings of the page, as Voila made them; added to in place.
    notebook_path : str
        The notebook asked for, relative to the server's root.
    settings : mapping, optional
        The server's; `FRONT_END` in it is the address of the joined front end.

    Returns
    -------
    dict
        The same dictionary, with `suite`: pages, folder, current page, the
        lessons before and after it, the words it explains, number of the lesson
        (0 on other pages) and of how many, where its parts stand, place, who is
        known here, front end, moving brake.
    """
    where = place()
    people = (settings or {}).get(PEOPLE)
    at_work = (settings or {}).get(AT_WORK)
    # Binder serves the whole project, our own server only the lessons.
    folder = "lessons/" if where == "binder" else ""
    asked = notebook_path.strip("/")
    current = "" if f"{asked}/" == folder else asked.removeprefix(folder)
    before, after = _neighbours(current)
    page_config["suite"] = {
        "pages": [asdict(page) for page in PAGES],
        "folder": folder,
        "home": "voila/tree/lessons" if folder else "",
        "current": current,
        "before": before and asdict(before),
        "after": after and asdict(after),
        "terms": _terms(current),
        "lesson": int(current[:2]) if current in _lesson_paths() else 0,
        "lessons": len(_lesson_paths()),
        "places": places_of(LESSONS / current) if current in _lesson_paths() else (),
        "place": where,
        "people": bool(people and people.in_use),
        "demo": bool(people and people.how.demo),
        "at_work": bool(at_work and at_work.works),
        "front_end": (settings or {}).get(FRONT_END, ""),
        "living_door": (settings or {}).get(LIVING_DOOR, ""),
    }
    # Without an address the front end typesets with the copy it brings; as part of another
    # server Voila would name a public one.
    page_config["fullMathjaxUrl"] = page_config["mathjaxConfig"] = None
    return page_config


def _lesson_paths() -> tuple[str, ...]:
    return tuple(page.path for page in PAGES if NUMBERED.fullmatch(page.path))


def _neighbours(current: str) -> tuple[Page | None, Page | None]:
    """Return the lessons before and after the one shown; none of a page that is no lesson."""
    lessons = [page for page in PAGES if NUMBERED.fullmatch(page.path)]
    paths = [page.path for page in lessons]
    if current not in paths:
        return None, None
    at = paths.index(current)
    return (
        lessons[at - 1] if at else None,
        lessons[at + 1] if at + 1 < len(lessons) else None,
    )


def _terms(current: str) -> list[dict[str, Any]]:
    """Return the words that a lesson explains where it first uses them; none on other pages."""
    if not (NUMBERED.fullmatch(current) or current == _GUIDE.path):
        return []
    from quizzes.desks.glossary.terms import glossary  # noqa: PLC0415 (late: slow to import)

    return [term.brief() for term in glossary() if not term.common]

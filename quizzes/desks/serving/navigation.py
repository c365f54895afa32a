"""The pages of the suite and the way between them: the one list that every header shows."""

import os
from dataclasses import asdict, dataclass
from typing import Any

PLACES = ("web", "lab", "binder")


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
    """

    key: str
    title: str
    path: str


PAGES = (
    Page("front", "Front door", ""),
    Page("lesson", "Lesson", "01_how_the_brake_holds.ipynb"),
    Page("bench", "Bench", "bench.ipynb"),
    Page("assessment", "Assessment", "assessment.ipynb"),
    Page("results", "Results", "results.ipynb"),
)


def place() -> str:
    """Return where the pages run: `web`, `lab` or `binder`.

    Returns
    -------
    str
        What the server put into `GAL_PLACE`; `lab` where nobody did, because
        a notebook opened by itself has a kernel that its reader commands.
    """
    said = os.environ.get("GAL_PLACE", "lab")
    return said if said in PLACES else "lab"


def add_navigation(
    page_config: dict[str, Any], *, notebook_path: str = "", **_rest: object
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

    Returns
    -------
    dict
        The same dictionary, with `plate`: pages, folder, current page, place.
    """
    where = place()
    # Binder serves the whole project, our own server only the lessons.
    folder = "lessons/" if where == "binder" else ""
    asked = notebook_path.strip("/")
    page_config["plate"] = {
        "pages": [asdict(page) for page in PAGES],
        "folder": folder,
        "home": "voila/tree/lessons" if folder else "",
        "current": "" if f"{asked}/" == folder else asked.removeprefix(folder),
        "place": where,
    }
    # Without an address the front end typesets with the copy it brings; as part of another
    # server Voila would name a public one.
    page_config["fullMathjaxUrl"] = page_config["mathjaxConfig"] = None
    return page_config

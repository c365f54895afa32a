"""Which page is whose: one table, asked before a page's kernel is made."""

import re

CANDIDATE, TRAINER, ASSESSOR = "apprentice", "trainer", "assessor"
LESSON = re.compile(r"\d\d_\w+\.ipynb")
# Whose each page is; a lesson is everybody's, and a page that is not named here the trainer's.
PAGES = {
    "bench.ipynb": CANDIDATE,
    "assessment.ipynb": CANDIDATE,
    "job_sheet.ipynb": CANDIDATE,
    "limits_sheet.ipynb": CANDIDATE,
    "glossary.ipynb": CANDIDATE,
    "stage.ipynb": TRAINER,
    "forms.ipynb": TRAINER,
    "trainers_guide.ipynb": TRAINER,
    "results.ipynb": ASSESSOR,
}


def whose(page: str) -> str:
    """Return the role for which a page is.

    Parameters
    ----------
    page : str
        The notebook's name.

    Examples
    --------
    >>> whose("01_how_the_brake_holds.ipynb"), whose("results.ipynb"), whose("new.ipynb")
    ('apprentice', 'assessor', 'trainer')
    """
    return CANDIDATE if LESSON.fullmatch(page) else PAGES.get(page, TRAINER)


def is_for_candidates(page: str) -> bool:
    """Return whether a page may be read by whoever is in the room."""
    return whose(page) == CANDIDATE

"""How a desk's page opens: for those it is for, or with a sentence in its place."""

import logging
from collections.abc import Callable

from ipywidgets import Widget

from quizzes.access.table import NotAllowedError, Thing
from quizzes.desks.sheets.result_sheets import sheet_html, shown
from quizzes.desks.visitor import need

_LOG = logging.getLogger("gap_and_lining")


def opened(
    thing: Thing, make: Callable[[], Widget], title: str, *troubles: type[Exception]
) -> Widget:
    """Return a page, or a sentence.

    Parameters
    ----------
    thing : Thing
        What the page is for; whoever may not has the sentence that says whose it is.
    make : callable
        Returns the page.
    title : str
        What is over the sentence.
    *troubles : type of Exception
        What else may be in the way, told by its own sentence.
    """
    in_the_way: tuple[type[Exception], ...] = (NotAllowedError, *troubles)
    try:
        need(thing)
        return make()
    except in_the_way as error:
        _LOG.warning("%s: %s", title, error)
        return shown(sheet_html("trouble", title=title, words=str(error)))

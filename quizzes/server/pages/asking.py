"""For whom a page is being made, known to whatever makes it, and told to it by the server alone."""

from contextvars import ContextVar
from dataclasses import dataclass

from quizzes.desks.visitor import Visitor


@dataclass(frozen=True, slots=True)
class Asking:
    """Who asks for a page.

    Parameters
    ----------
    visit : str
        The browser's visit, to which the page's kernel will belong.
    visitor : Visitor
        Role, person, class and place, for the kernel.
    query : str
        What is after the question mark of the page's address; it comes from outside.
    """

    visit: str
    visitor: Visitor
    query: str = ""


ASKING: ContextVar[Asking | None] = ContextVar("asking", default=None)

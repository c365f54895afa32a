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
    address : str
        From which machine of the room; empty for the serving machine itself.
    """

    visit: str
    visitor: Visitor
    query: str = ""
    address: str = ""

    @property
    def person(self) -> str:
        """The person of a class, by one word; empty outside a class."""
        return person_word(self.visitor.class_id, self.visitor.person_id)


ASKING: ContextVar[Asking | None] = ContextVar("asking", default=None)


def person_word(class_id: str, person_id: str) -> str:
    """Return one word for a person of a class; empty outside a class."""
    return f"{class_id} {person_id}" if class_id else ""

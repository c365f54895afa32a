"""Whom a page is for: role, person, class and place, as the server said when it began.

The server hands it to a kernel's process at the start; nothing that a browser sends reaches it.
A page asks `allowed(Thing.RESULTS)`, or lets `need(Thing.EXPORT)` raise the sentence that it shows.
"""

import json
import os
from dataclasses import asdict, dataclass
from functools import cache

from quizzes.access.table import Role, Thing, may, refuse_unless

VISITOR = "GAL_VISITOR"  # in a kernel's environment, always set by the server


@dataclass(frozen=True, slots=True)
class Visitor:
    """Who looks at a page, and from where.

    Parameters
    ----------
    role : str
        One of `Role`; `anyone` where nobody signs in, who may then be most of them.
    person_id, class_id : str
        Identities in the record store; empty where nobody has signed in or joined a class.
        Of a trainer, assessor or administrator `person_id` is the account's.
    place : str
        `here` for the serving machine itself, `room` for another machine.
    name : str
        What a page calls them; empty where nobody has signed in.

    Raises
    ------
    ValueError
        If the role is none of those.
    """

    role: str = Role.ANYONE
    person_id: str = ""
    class_id: str = ""
    place: str = "here"
    name: str = ""

    def __post_init__(self) -> None:
        if self.role not in set(Role):
            raise ValueError(f"role must be one of {', '.join(Role)}, got {self.role!r}")

    def text(self) -> str:
        """Return the visitor as one line for a kernel's environment."""
        return json.dumps(asdict(self))


def visitor_of(text: str) -> Visitor:
    """Return the visitor that a line describes.

    Parameters
    ----------
    text : str
        What `Visitor.text` made; empty for anyone.

    Returns
    -------
    Visitor
        With what the line says.

    Examples
    --------
    >>> visitor_of(Visitor("trainer", place="room").text()).role
    'trainer'
    """
    return Visitor(**json.loads(text)) if text else Visitor()


@cache
def visitor() -> Visitor:
    """Return whom this process works for.

    Returns
    -------
    Visitor
        Anyone, where no server said (a notebook opened by itself).
    """
    return visitor_of(os.environ.get(VISITOR, ""))


def allowed(thing: Thing) -> bool:
    """Return whether the person this process works for may see or do a thing."""
    return may(visitor().role, thing)


def need(thing: Thing) -> None:
    """Pass if the person this process works for may see or do a thing.

    Raises
    ------
    NotAllowedError
        A `ValueError` with the sentence for the page, if not.
    """
    refuse_unless(visitor().role, thing)

"""For whom a page stands: role, person, class and place, as the server said when it began.

The server hands it to a kernel's process at the start; nothing that a browser sends reaches it.
"""

import json
import os
from dataclasses import asdict, dataclass
from functools import cache

VISITOR = "GAL_VISITOR"  # in a kernel's environment, always set by the server
ROLES = ("anyone", "apprentice", "trainer", "assessor", "administrator")


@dataclass(frozen=True, slots=True)
class Visitor:
    """Who looks at a page, and from where.

    Parameters
    ----------
    role : str
        One of `ROLES`; `anyone` where nobody signs in, who may then be all of them.
    person_id, class_id : str
        Identities in the record store; empty where nobody has signed in.
    place : str
        `here` for the serving machine itself, `room` for another machine.

    Raises
    ------
    ValueError
        If the role is none of those.
    """

    role: str = "anyone"
    person_id: str = ""
    class_id: str = ""
    place: str = "here"

    def __post_init__(self) -> None:
        if self.role not in ROLES:
            raise ValueError(f"role must be one of {', '.join(ROLES)}, got {self.role!r}")

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
    >>> visitor_of(Visitor("trainer", place="room").text())
    Visitor(role='trainer', person_id='', class_id='', place='room')
    """
    return Visitor(**json.loads(text)) if text else Visitor()


@cache
def visitor() -> Visitor:
    """Return for whom this process stands.

    Returns
    -------
    Visitor
        Anyone, where no server said (a notebook opened by itself).
    """
    return visitor_of(os.environ.get(VISITOR, ""))

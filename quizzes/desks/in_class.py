"""A candidate who has joined a class: name, number and form come from its list, not the page."""

import datetime as dt
from dataclasses import dataclass
from typing import Any

from quizzes.desks.apprentice.practice import CAUTION
from quizzes.desks.visitor import visitor
from quizzes.forms.offered import Offer
from quizzes.records import default_url
from quizzes.records.room.rows import CLOSED, PAUSED, Member, SchoolClass
from quizzes.records.room.store import RoomStore, owner_in_class

PAUSE = "The trainer has paused the class. Nothing has changed; go on when the class goes on."
CLOSE = "The trainer has closed the class. What you did is kept; nothing more is added."
FREED = "The trainer has taken you off this class's list. What you did is kept."


@dataclass(frozen=True, slots=True)
class PlaceInClass:
    """The place of this page's person in their class.

    Parameters
    ----------
    room : RoomStore
        Asked anew at each step: the trainer may have paused the class.
    class_id, person_id : str
        Which class, and whose place.
    """

    room: RoomStore
    class_id: str
    person_id: str

    @property
    def owner(self) -> str:
        """As whose the sittings are kept."""
        return owner_in_class(self.class_id, self.person_id)

    def school_class(self) -> SchoolClass:
        """Return the class as it stands now."""
        found = self.room.school_class(self.class_id)
        if found is None:
            raise ValueError("This class is not in the record store any more. Ask the trainer.")
        return found

    def member(self) -> Member:
        """Return what the list says of the person now."""
        found = self.room.member(self.class_id, self.person_id)
        if found is None:
            raise ValueError(FREED)
        return found

    def objection(self) -> str:
        """Return why nothing may be done now; empty if it may."""
        state = self.school_class().state
        return {PAUSED: PAUSE, CLOSED: CLOSE}.get(state, "")

    def start(self, now: dt.datetime) -> dict[str, Any]:
        """Return who begins a sitting."""
        member = self.member()
        return {
            "name": member.name or f"number {member.number}",
            "number": member.number,
            "owner": self.owner,
            "started_at": now,
        }

    def form_id(self) -> str:
        """Return the form of the class, or the other one that the person was given."""
        return self.member().form_id or self.school_class().form_id


def place_in_class() -> PlaceInClass | None:
    """Return the place of whoever this process stands for; None outside a class."""
    who = visitor()
    if not (who.class_id and who.person_id):
        return None
    return PlaceInClass(RoomStore(default_url()), who.class_id, who.person_id)


def class_form(place: PlaceInClass, offer: Offer, said: str) -> dict[str, Any]:
    """Return the form with which a person of a class begins: there is nothing to choose."""
    member, school_class = place.member(), place.school_class()
    words = [
        f"{member.name or 'You'}, number {member.number}, in the class {school_class.name}.",
        f"{offer.title}: {offer.words}",
        "Everything you do is kept as it happens. If the page closes, open it again and go on.",
    ]
    if member.extra_minutes:
        words.append(f"You have {member.extra_minutes} minutes more than the others.")
    return {
        "title": "Assessment",
        "words": words,
        "danger": CAUTION,
        "buttons": [("start", "Begin")],
        "said": said or place.objection(),
    }

"""A candidate who has joined a class: name, number and form come from its list, not the page."""

import datetime as dt
from dataclasses import dataclass
from typing import Any

from quizzes.desks.apprentice.practice import CAUTION
from quizzes.desks.visitor import visitor
from quizzes.forms.offered import Offer
from quizzes.records import Records, default_url
from quizzes.records.room.rows import CLOSED, PAUSED, Member, SchoolClass
from quizzes.records.room.store import RoomStore, owner_in_class
from quizzes.sittings.in_class.allowed import TIME_IS_UP, close_own_overdue, own_time_left
from quizzes.sittings.in_force import now

PAUSE = "The trainer has paused the class. Nothing has changed; carry on when the class does."
CLOSE = "The trainer has closed the class. What you did is kept; nothing more is added."
SAT = "You have sat the form of this class. Ask the trainer whether you should sit another."
FREED = "The trainer has taken you off this class’s list. What you did is kept."


@dataclass(frozen=True, slots=True)
class PlaceInClass:
    """The place of this page's person in their class.

    Parameters
    ----------
    room : RoomStore
        Asked again at each step: the trainer may have paused the class.
    records : Records
        Where the sittings are.
    class_id, person_id : str
        Which class, and whose place.
    """

    room: RoomStore
    records: Records
    class_id: str
    person_id: str

    @property
    def owner(self) -> str:
        """The person under whom the sittings are kept."""
        return owner_in_class(self.class_id, self.person_id)

    def school_class(self) -> SchoolClass:
        """Return the class as it stands now."""
        found = self.room.school_class(self.class_id)
        if found is None:
            raise ValueError("This class is no longer in the record store. Ask the trainer.")
        return found

    def member(self) -> Member:
        """Return what the list says of the person now."""
        found = self.room.member(self.class_id, self.person_id)
        if found is None:
            raise ValueError(FREED)
        return found

    def objection(self) -> str:
        """Return why nothing may be done now; empty if it may."""
        one = self.school_class()
        if one.keeps_time and one.state not in (PAUSED, CLOSED):
            if self.sat():
                return SAT  # an older sitting that was left open is no way round the clock
            left = own_time_left(self.records, self.room, self.class_id, self.person_id, now())
            return TIME_IS_UP if left is not None and left.is_up else ""
        return {PAUSED: PAUSE, CLOSED: CLOSE}.get(one.state, "")

    def sat(self) -> str:
        """Return the sitting by which this person has had their time; empty while they have it."""
        newest = self.room.progress_of_person(self.class_id, self.person_id)
        if newest is None or not newest.finished or newest.form_id != self.form_id():
            return ""
        return newest.sitting_id if self.school_class().keeps_time else ""

    def objection_to_begin(self) -> str:
        """Return why no sitting may be begun now; empty if it may."""
        return SAT if self.sat() else self.objection()

    def close_if_time_is_up(self) -> bool:
        """Close this person's sitting if its minutes are up, and return whether they are."""
        return close_own_overdue(self.records, self.room, self.class_id, self.person_id, now())

    def start(self, at: dt.datetime) -> dict[str, Any]:
        """Return who begins a sitting."""
        member = self.member()
        return {
            "name": member.name or f"number {member.number}",
            "number": member.number,
            "owner": self.owner,
            "started_at": at,
        }

    def form_id(self) -> str:
        """Return the form of the class, or the other one that the person was given."""
        return self.member().form_id or self.school_class().form_id


def place_in_class() -> PlaceInClass | None:
    """Return the place of whoever this process works for; None outside a class."""
    who = visitor()
    if not (who.class_id and who.person_id):
        return None
    url = default_url()
    return PlaceInClass(RoomStore(url), Records(url), who.class_id, who.person_id)


def class_form(place: PlaceInClass, offer: Offer, said: str) -> dict[str, Any]:
    """Return the form with which a person of a class begins: there is nothing to choose."""
    member, school_class = place.member(), place.school_class()
    words = [
        f"{member.name or 'You'}, number {member.number}, in the class {school_class.name}.",
        f"{offer.title}: {offer.words}",
        "Everything you do is kept as it happens. If the page closes, open it again and carry on.",
    ]
    words.append(minutes_words(offer.blueprint.minutes, member.extra_minutes, school_class))
    return {
        "title": "Begin the sitting of your class",
        "words": words,
        "danger": CAUTION,
        "buttons": [("start", "Begin")],
        "said": said or place.objection_to_begin(),
    }


def minutes_words(allowed: int, extra: int, school_class: SchoolClass) -> str:
    """Return how many minutes a person of a class has, and what happens when they are up."""
    more = f", {extra} more than the others" if extra else ""
    said = f"You have {allowed + extra} minutes{more}, from your first press on Begin."
    if school_class.keeps_time:
        return (
            f"{said} When they are up, the sitting is closed and graded as it stands. "
            "A pause of the class does not count."
        )
    return f"{said} The header shows how many have passed; nobody is stopped."

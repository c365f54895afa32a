"""A person joins a class, and what their header shows of it."""

import math
import re
from typing import Any

from quizzes.access.table import closed_to
from quizzes.desks.trainer.class_pages import pages_to_give, state_of
from quizzes.desks.visitor import Visitor
from quizzes.forms.offered import offers
from quizzes.records import RecordsError
from quizzes.records.room.classes import typed_code
from quizzes.records.room.rows import PAUSED, Member, SchoolClass
from quizzes.server.border.guard import refused
from quizzes.sittings.in_class.allowed import own_time_left

from .page import PeoplePage, now

WRONG_CODE = "No class has this code today. Look at the board or the projector again."
WRONG_NUMBER = "Nobody on this class’s list has this number. Ask the trainer which is yours."
WRONG_LABEL = "No label has this code. Type its eight characters again, or ask the trainer."


class Join(PeoplePage):
    """A person of a class, by its code and their number, or by the code on their label."""

    def get(self) -> None:
        """Ask for them; a label's own code may stand in the address."""
        label = typed_code(self.get_query_argument("label", "")[:40])
        self.show("join.html", said="", typed={"label": label})

    def post(self) -> None:
        """Let somebody in, or say what does not fit."""
        typed = {name: self.typed(name) for name in ("code", "number", "label")}
        key = f"join {self.request.remote_ip}"
        said = self.slow_down(key)
        if said:
            self.show("join.html", 429, said=said, typed=typed)
            return
        try:
            member, said = self._found(**typed)
            if member is not None:
                self.take_seat(member)
        except (RecordsError, ValueError) as error:
            member, said = None, str(error)
        else:
            self.failed(key) if member is None else self.succeeded(key)
        if member is None:
            self.show("join.html", 403, said=said, typed=typed)
            return
        self.go()

    def _found(self, code: str, number: str, label: str) -> tuple[Member | None, str]:
        """Return whom it names, or why it names nobody."""
        store = self.people.store
        if label:
            member = store.labelled(label)
            return member, "" if member else WRONG_LABEL
        if not code or not number:
            return None, "Type the class code and your number, or the code on your label."
        joined = store.class_of_code(code)
        if joined is None:
            return None, WRONG_CODE
        same = [
            one
            for one in store.members(joined.id)
            if one.number.casefold() == " ".join(number.casefold().split())
        ]
        return (same[0], "") if len(same) == 1 else (None, WRONG_NUMBER)


class Who(PeoplePage):
    """What a page's header shows: who is here, what the class is told."""

    def get(self) -> None:
        """Answer with a few facts of this browser's own person."""
        visitor = self.visitor()
        self.set_header("Cache-Control", "no-store")
        said: dict[str, Any] = {"role": visitor.role, "name": visitor.name}
        said["closed"] = closed_to(visitor.role)
        school_class = visitor.class_id and self.people.store.school_class(visitor.class_id)
        if school_class:
            member = self.people.store.member(visitor.class_id, visitor.person_id)
            said |= {
                "class": school_class.name,
                "form": self._form(school_class, member),
                "pages": _pages(school_class, member),
                "minutes": self._minutes(visitor),
                "word": school_class.word,
                "paused": school_class.state == PAUSED,
                "hand": bool(member and member.hand_at),
            }
        self.finish(said)

    def _form(self, school_class: SchoolClass, member: Member | None) -> str:
        offer = offers().get((member and member.form_id) or school_class.form_id)
        return offer.title if offer else ""

    def _minutes(self, visitor: Visitor) -> dict[str, Any] | None:
        """Return how the open sitting stands against its clock; None without one."""
        store, records = self.people.store, self.people.records
        left = own_time_left(records, store, visitor.class_id, visitor.person_id, now())
        if left is None:
            return None
        return {
            "used_s": int(left.used_s),
            "left_s": math.ceil(left.left_s),
            "allowed": round(left.allowed_s / 60),
            "kept": left.kept,
        }


def _pages(school_class: SchoolClass, member: Member | None) -> list[dict[str, Any]]:
    """Return the pages that the class works through, and how far this person has come."""
    seen = member.seen if member else {}
    told = []
    for page in school_class.pages:
        right, of = seen.get(page, (0, 0))
        said = {"title": pages_to_give().get(page, page), "state": state_of(page, seen)}
        told.append({"path": page, "right": right, "of": of, **said})
    return told


class Seen(PeoplePage):
    """How many of a page's questions somebody of a class has answered right."""

    def post(self) -> None:
        """Note it for the trainer's board; it is for nobody's grade."""
        self.refuse_if_too_often()
        visitor, page = self.visitor(), self.typed("page")
        counts = [self.typed(name) for name in ("right", "of")]
        known = page in pages_to_give()
        if not (visitor.class_id and known and all(re.fullmatch(r"[0-9]{1,2}", c) for c in counts)):
            raise refused("Expected a page of the class and how many of its questions are right.")
        right, of = map(int, counts)
        self.people.store.note_answers(
            visitor.class_id, visitor.person_id, page, right=min(right, of), of=of
        )
        self.set_status(204)
        self.finish()


class Hand(PeoplePage):
    """A hand up, or down again."""

    def post(self) -> None:
        """Note it for the trainer's board."""
        self.refuse_if_too_often()
        visitor = self.visitor()
        if not visitor.class_id:
            raise refused("A hand is for people who have joined a class.")
        up = now() if self.typed("up") == "yes" else None
        self.people.store.raise_hand(visitor.class_id, visitor.person_id, up)
        self.set_status(204)
        self.finish()

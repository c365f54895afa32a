"""The live board: who is where, how far, for how long, stuck, hand up. No widgets, no clock."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from quizzes.records.room.rows import Member, Progress
from quizzes.records.room.store import owner_in_class
from quizzes.sittings.in_class.allowed import used_s

from .class_pages import states_of, where_on

STUCK_MINUTES = 6.0  # without an act in a case: longer than careful work thinks; a choice


@dataclass(frozen=True, slots=True)
class Length:
    """How long a sitting is: cases, whether questions follow them, minutes allowed for all."""

    cases: int
    questions: bool
    minutes: float


@dataclass(frozen=True, slots=True)
class Watched:
    """What the board uses besides its people: the pages given, the pauses, the time in UTC."""

    pages: Sequence[str]
    pauses: Sequence[tuple[dt.datetime, dt.datetime | None]]
    now: dt.datetime


@dataclass(frozen=True, slots=True)
class BoardRow:
    """What the board shows of one person.

    Parameters
    ----------
    id : str
        The person's pseudonym, by which the page asks for more.
    name, number : str
        As on the list.
    where : str
        What they are at, in words.
    done, of : int
        Parts of the sitting handed over, and all of them; 0 of 0 before it begins.
    minutes, allowed_minutes : int
        Since the sitting began, and what the form and the person are given; 0 before.
    quiet_minutes : int
        Since the last act.
    stuck, hand : bool
        Whether nothing has happened for long, and whether the hand is up.
    note : str
        Another form or more time.
    pages : tuple of str
        For each page that the class was given: `done`, `opened` or `not yet`.
    """

    id: str
    name: str
    number: str
    where: str
    done: int = 0
    of: int = 0
    minutes: int = 0
    allowed_minutes: int = 0
    quiet_minutes: int = 0
    stuck: bool = False
    hand: bool = False
    note: str = ""
    pages: tuple[str, ...] = ()

    def to_json(self) -> dict[str, Any]:
        """Return the row as the page draws it."""
        return asdict(self)


def board_rows(
    members: Sequence[Member],
    progress: Sequence[Progress],
    lengths: Mapping[str, Length],
    watched: Watched,
) -> list[BoardRow]:
    """Return a row for each person: hands first, then who is stuck, then by name.

    Parameters
    ----------
    members : sequence of Member
        The class's list.
    progress : sequence of Progress
        Its sittings, the newest first.
    lengths : mapping
        By sitting.
    watched : Watched
        Pages, pauses and the time.
    """
    newest: dict[str, Progress] = {}
    for one in progress:
        newest.setdefault(one.owner, one)
    rows = []
    for member in members:
        sitting = newest.get(owner_in_class(member.class_id, member.person_id))
        length = lengths.get(sitting.sitting_id) if sitting else None
        rows.append(_row(member, sitting, length, watched))
    return sorted(rows, key=lambda row: (not row.hand, not row.stuck))


def _row(
    member: Member,
    sitting: Progress | None,
    length: Length | None,
    watched: Watched,
) -> BoardRow:
    known: dict[str, Any] = {
        "id": member.person_id,
        "name": member.name or "name erased",
        "number": member.number,
        "hand": member.hand_at is not None,
        "note": _note(member),
        "pages": states_of(watched.pages, member.seen),
    }
    if sitting is None or length is None:
        if not member.joined and member.page_at is None:
            return BoardRow(where="has not joined", **known)
        page = _page(member)
        return BoardRow(where=page if member.joined else f"has left; last: {page}", **known)
    parts = length.cases + length.questions
    quiet = _minutes(sitting.last_at, watched)
    known |= {
        "done": min(sitting.cases, parts),
        "of": parts,
        "allowed_minutes": round(length.minutes) + member.extra_minutes,
    }
    if sitting.finished:
        took = _minutes(sitting.started_at, watched, sitting.last_at)
        return BoardRow(where=f"finished: {sitting.outcome}", minutes=took, **known)
    at = "the questions" if sitting.cases >= length.cases else f"case {sitting.cases + 1}"
    return BoardRow(
        where=at if member.joined else f"has left at {at}",
        minutes=_minutes(sitting.started_at, watched),
        quiet_minutes=quiet,
        stuck=quiet >= STUCK_MINUTES,
        **known,
    )


def _note(member: Member) -> str:
    given = [
        f"{member.extra_minutes} minutes more" if member.extra_minutes else "",
        "another form" if member.form_id else "",
    ]
    return ", ".join(filter(None, given))


def _page(member: Member) -> str:
    """Return on which page somebody is, in words."""
    if member.page == "assessment.ipynb":
        return "the assessment, not begun"
    return where_on(member.page, member.seen) or "the front door"


def _minutes(since: dt.datetime, watched: Watched, until: dt.datetime | None = None) -> int:
    """Return whole minutes, pauses of the class left out; a clock that was set back gives none."""
    return int(used_s(since, until or watched.now, watched.pauses) // 60)

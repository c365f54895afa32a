"""What the room's part of the store gives out: frozen dataclasses, no database object."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

OPEN, PAUSED, CLOSED = "open", "paused", "closed"


@dataclass(frozen=True, slots=True)
class Account:
    """Somebody who signs in.

    Parameters
    ----------
    id : str
        A random UUID.
    name : str
        As typed.
    role : str
        `trainer`, `assessor` or `administrator`.
    passphrase : str
        Its Argon2 hash.
    """

    id: str
    name: str
    role: str
    passphrase: str = field(repr=False)


@dataclass(frozen=True, slots=True)
class ClassPlan:
    """A class as the trainer asks for it.

    Parameters
    ----------
    name : str
        What it is called, 1 to 80 characters.
    on_day : date
        The day.
    form_id : str
        The form that its people sit.
    pages : tuple of str
        Pages to work through, by their file names.
    people : tuple of (str, str)
        Names and numbers.
    keeps_time : bool
        Whether a sitting is closed when its allowed minutes are up.
    """

    name: str
    on_day: date
    form_id: str
    pages: tuple[str, ...]
    people: tuple[tuple[str, str], ...]
    keeps_time: bool = False


@dataclass(frozen=True, slots=True)
class SchoolClass:
    """A class.

    Parameters
    ----------
    id : str
        A random UUID.
    name : str
        What the trainer calls it.
    on_day : date
        The day for which it was made.
    code : str
        What a person types to join.
    form_id : str
        The form that its people sit.
    pages : tuple of str
        Pages to work through, by their file names.
    state : str
        `open`, `paused` or `closed`.
    word : str
        What the trainer says to everybody now; empty for nothing.
    keeps_time : bool
        Whether a sitting is closed when its allowed minutes are up.
    awake_at : datetime or None
        When the server last noted that it runs, UTC; None before it has.
    """

    id: str
    name: str
    on_day: date
    code: str
    form_id: str
    pages: tuple[str, ...]
    state: str
    word: str
    keeps_time: bool = False
    awake_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Member:
    """One person on a class's list.

    Parameters
    ----------
    class_id, person_id : str
        Which class, and whose pseudonym.
    name : str or None
        As on the list; None once erased.
    number : str
        As on the list.
    label : str
        The code on the person's printed label.
    form_id : str
        Another form than the class's; empty for the same.
    extra_minutes : int
        More time, minutes.
    reason : str
        Why there is another form or more time.
    hand_at, page_at : datetime or None
        Since when the hand is up, and since when the page is open; UTC.
    page : str
        The page that was opened last; empty before the first.
    joined : bool
        Whether a browser is theirs now.
    seen : mapping
        By page: how many of its questions were answered right, and of how many; 0 of 0 for a page
        that was opened and has none yet.
    """

    class_id: str
    person_id: str
    name: str | None
    number: str
    label: str
    form_id: str
    extra_minutes: int
    reason: str
    hand_at: datetime | None
    page: str
    page_at: datetime | None
    joined: bool
    seen: Mapping[str, tuple[int, int]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Seat:
    """Who has signed in or joined at a browser; an account, or a person of a class."""

    account: Account | None = None
    member: Member | None = None


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a sitting has come, by its log alone.

    Parameters
    ----------
    sitting_id, owner, form_id : str
        Which, of whom (a hash), through which form.
    cases : int
        Grades kept, the questions' among them.
    acts : int
        Actions kept.
    started_at, last_at : datetime
        UTC.
    finished : bool
        Whether there is an outcome.
    outcome : str or None
        Its word.
    """

    sitting_id: str
    owner: str
    form_id: str
    cases: int
    acts: int
    started_at: datetime
    last_at: datetime
    finished: bool
    outcome: str | None

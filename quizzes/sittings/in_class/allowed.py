"""The minutes that a sitting in a class is allowed: how many are left, and its end when none are.

The clock of a class stands still while the class is paused, and while the machine that serves it
sleeps. More minutes for one person count from the moment they are given.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from quizzes.records import Records, StaleSitting
from quizzes.records.kept_sitting import read_kept
from quizzes.records.room.clock import ASLEEP_S
from quizzes.records.room.rows import Member, Progress, SchoolClass
from quizzes.records.room.store import RoomStore, owner_in_class
from quizzes.sittings.run import SittingRun

Pauses = Iterable[tuple[dt.datetime, dt.datetime | None]]
TIME_IS_UP = (
    "The time is up. What you did is kept and has been graded as it stands; nothing more is added."
)


@dataclass(frozen=True, slots=True)
class ClassClock:
    """The clock of a class: whether it is kept, when it stood still, and the time now in UTC."""

    kept: bool
    pauses: tuple[tuple[dt.datetime, dt.datetime | None], ...]
    now: dt.datetime


def clock_of(room: RoomStore, one: SchoolClass, now: dt.datetime) -> ClassClock:
    """Return the clock of a class.

    It stands where the server last noted that it runs, if that is long ago: the machine has just
    woken, and the server will write down in a moment how long it slept.
    """
    awake = one.awake_at
    if awake is not None and (now - awake).total_seconds() > ASLEEP_S:
        now = awake
    return ClassClock(one.keeps_time, room.pauses(one.id), now)


@dataclass(frozen=True, slots=True)
class TimeLeft:
    """How a sitting stands against its clock.

    Parameters
    ----------
    used_s, allowed_s : float
        s since it began, pauses of the class left out, and allowed in all.
    kept : bool
        Whether it is closed when no time is left.
    """

    used_s: float
    allowed_s: float
    kept: bool

    @property
    def left_s(self) -> float:
        """Time that is left, s; none below 0."""
        return max(0.0, self.allowed_s - self.used_s)

    @property
    def is_up(self) -> bool:
        """Whether the sitting has to be closed now."""
        return self.kept and self.left_s <= 0


def used_s(began: dt.datetime, now: dt.datetime, pauses: Pauses) -> float:
    """Return the time between two moments, pauses left out, s.

    Examples
    --------
    >>> at = [dt.datetime(2026, 11, 28, 9, minute, tzinfo=dt.UTC) for minute in range(10)]
    >>> used_s(at[1], at[9], [(at[0], at[2]), (at[4], at[6]), (at[8], None)]) / 60
    4.0
    """
    paused = sum(
        max(0.0, (min(until or now, now) - max(since, began)).total_seconds())
        for since, until in pauses
    )
    return max(0.0, (now - began).total_seconds() - paused)


@lru_cache(maxsize=512)
def minutes_allowed(records: Records, sitting_id: str) -> int:
    """Return the minutes that the form of a sitting allows, as it was kept when it began."""
    return read_kept(sitting_id, records.kept(sitting_id)).blueprint.minutes


def time_left(records: Records, clock: ClassClock, member: Member, sitting: Progress) -> TimeLeft:
    """Return how a sitting of a person of a class stands against its clock.

    Parameters
    ----------
    records : Records
        Where it is kept.
    clock : ClassClock
        Of the class.
    member, sitting : Member, Progress
        Whose, and which.
    """
    allowed = minutes_allowed(records, sitting.sitting_id) + member.extra_minutes
    # A clock that was set back gives nobody their minutes back.
    until = sitting.last_at if sitting.finished else max(clock.now, sitting.last_at)
    return TimeLeft(used_s(sitting.started_at, until, clock.pauses), 60.0 * allowed, clock.kept)


def own_time_left(
    records: Records, room: RoomStore, class_id: str, person_id: str, now: dt.datetime
) -> TimeLeft | None:
    """Return how the open sitting of a person of a class stands; None if none is open."""
    found = _open_sitting(room, class_id, person_id)
    if found is None:
        return None
    one, member, sitting = found
    return time_left(records, clock_of(room, one, now), member, sitting)


def _open_sitting(
    room: RoomStore, class_id: str, person_id: str
) -> tuple[SchoolClass, Member, Progress] | None:
    one, member = room.school_class(class_id), room.member(class_id, person_id)
    newest = room.progress_of_person(class_id, person_id)
    if one is None or member is None or newest is None or newest.finished:
        return None
    return one, member, newest


def close_own_overdue(
    records: Records, room: RoomStore, class_id: str, person_id: str, now: dt.datetime
) -> bool:
    """Close the open sitting of one person of a class if its minutes are up; return whether."""
    found = _open_sitting(room, class_id, person_id)
    if found is None:
        return False
    one, member, sitting = found
    left = time_left(records, clock_of(room, one, now), member, sitting)
    if left.is_up:
        _close(records, room, member, sitting, left, now)
    return left.is_up


def close_overdue(records: Records, room: RoomStore, one: SchoolClass, now: dt.datetime) -> int:
    """Close every sitting of a class whose minutes are up, and return how many those were.

    Parameters
    ----------
    records, room : Records, RoomStore
        Where sittings and class are kept.
    one : SchoolClass
        Which class; one that keeps no time is left alone.
    now : datetime
        UTC.
    """
    if not one.keeps_time:
        return 0
    members = {owner_in_class(one.id, member.person_id): member for member in room.members(one.id)}
    clock, closed = clock_of(room, one, now), 0
    for sitting in room.progress(one.id):
        member = members.get(sitting.owner)
        if sitting.finished or member is None:
            continue
        left = time_left(records, clock, member, sitting)
        closed += left.is_up and _close(records, room, member, sitting, left, now)
    return closed


def _close(  # noqa: PLR0917 (private, all of one sitting)
    records: Records,
    room: RoomStore,
    member: Member,
    sitting: Progress,
    left: TimeLeft,
    now: dt.datetime,
) -> bool:
    """Close a sitting and note it; False if another window has closed it in this moment."""
    try:
        end_as_it_stands(SittingRun(records, records.sitting(sitting.sitting_id), lambda: now))
    except StaleSitting:
        return False
    room.note_time_up(member, sitting.sitting_id, round(left.allowed_s / 60), now)
    return True


def end_as_it_stands(run: SittingRun) -> None:
    """Close a sitting whose time is up: grade the case in hand as it stands, and the answers.

    A case that was not begun gets no grade; the outcome says how many were done.

    Raises
    ------
    RecordsError
        If the store cannot be used, or another window has closed the sitting in this moment.
    """
    if not run.cases_done and (session := run.session()).events:
        run.hand_in(session)
    if run.questions and run.questions_grade is None:
        run.hand_in_questions()
    run.close()

"""Seats: which browser is whose. A person of a class has one at a time, an account any number."""

from datetime import datetime

from sqlalchemy import ColumnElement, Connection, delete, insert, select

from quizzes.records.database.room import AccountRow, ClassRow, SeatRow
from quizzes.records.room.classes import change_member, members
from quizzes.records.room.rows import CLOSED, Account, Member, Seat


class TakenSeatError(ValueError):
    """Somebody has joined as this person at another browser."""


def seat_of(connection: Connection, visit_sha256: str) -> Seat | None:
    """Return who sits at a browser; None if nobody does, or their class is closed."""
    found = connection.execute(select(SeatRow).where(SeatRow.visit_sha256 == visit_sha256)).first()
    if found is None:
        return None
    if found.account_id:
        columns = (AccountRow.id, AccountRow.name, AccountRow.role, AccountRow.passphrase)
        row = connection.execute(select(*columns).where(AccountRow.id == found.account_id)).first()
        return Seat(account=Account(*row)) if row else None
    state = select(ClassRow.state).where(ClassRow.id == found.class_id)
    if connection.execute(state).scalar_one_or_none() in (None, CLOSED):
        return None
    of = members(connection, found.class_id, person_id=found.person_id)
    return Seat(member=of[0]) if of else None


def sign_in(connection: Connection, visit_sha256: str, account: Account, at: datetime) -> None:
    """Let an account sit at a browser."""
    _take(connection, visit_sha256, at, account_id=account.id)


def join(connection: Connection, visit_sha256: str, member: Member, at: datetime) -> None:
    """Let a person of a class sit at a browser.

    Raises
    ------
    TakenSeatError
        If they sit at another one.
    """
    mine = (SeatRow.class_id == member.class_id, SeatRow.person_id == member.person_id)
    elsewhere = select(SeatRow.visit_sha256).where(*mine, SeatRow.visit_sha256 != visit_sha256)
    if connection.execute(elsewhere).first() is not None:
        raise TakenSeatError(
            f"{member.name or member.number} is at work on another device. Hand that one back "
            "there first, or ask the trainer to free the place."
        )
    _take(connection, visit_sha256, at, class_id=member.class_id, person_id=member.person_id)


def _take(
    connection: Connection,
    visit_sha256: str,
    at: datetime,
    *,
    account_id: str = "",
    class_id: str = "",
    person_id: str = "",
) -> None:
    connection.execute(delete(SeatRow).where(SeatRow.visit_sha256 == visit_sha256))
    connection.execute(
        insert(SeatRow).values(
            visit_sha256=visit_sha256,
            account_id=account_id,
            class_id=class_id,
            person_id=person_id,
            since_at=at,
        )
    )


def leave(connection: Connection, visit_sha256: str) -> tuple[str, ...]:
    """Give up a browser's seat, and all others of the same account or person.

    Returns
    -------
    tuple of str
        The hashes of the visits that have ended.
    """
    found = connection.execute(select(SeatRow).where(SeatRow.visit_sha256 == visit_sha256)).first()
    if found is None:
        return ()
    if found.account_id:
        return _end(connection, SeatRow.account_id == found.account_id)
    return free(connection, found.class_id, found.person_id)


def free(connection: Connection, class_id: str, person_id: str) -> tuple[str, ...]:
    """Free the place of a person of a class, and return the hashes of the visits that ended.

    Their hand goes down: they are not there to be helped.
    """
    change_member(connection, class_id, person_id, hand_at=None)
    return _end(connection, SeatRow.class_id == class_id, SeatRow.person_id == person_id)


def leave_account(connection: Connection, account_id: str) -> tuple[str, ...]:
    """Sign an account out everywhere, and return the hashes of the visits that ended."""
    return _end(connection, SeatRow.account_id == account_id)


def _end(connection: Connection, *whose: ColumnElement[bool]) -> tuple[str, ...]:
    ended = tuple(connection.execute(select(SeatRow.visit_sha256).where(*whose)).scalars())
    connection.execute(delete(SeatRow).where(*whose))
    return ended

"""Accounts: who signs in, by name, with the hash of a passphrase."""

import uuid
from datetime import datetime

from sqlalchemy import Connection, delete, func, insert, select, update

from quizzes.records.beginning import same_as
from quizzes.records.checks import person_name
from quizzes.records.database.room import AccountRow, SeatRow
from quizzes.records.room.rows import Account

_ACCOUNTS = select(AccountRow.id, AccountRow.name, AccountRow.role, AccountRow.passphrase)
ADMINISTRATOR = "administrator"


def accounts_of(connection: Connection) -> tuple[Account, ...]:
    """Return everybody who signs in, by role and name."""
    found = connection.execute(_ACCOUNTS.order_by(AccountRow.role, AccountRow.same_as))
    return tuple(Account(*row) for row in found)


def any_account(connection: Connection) -> bool:
    """Return whether anybody signs in at all."""
    return bool(connection.execute(select(func.count(AccountRow.id))).scalar_one())


def account_of(connection: Connection, name: str) -> Account | None:
    """Return the account of a name as typed; None if there is none."""
    found = connection.execute(_ACCOUNTS.where(AccountRow.same_as == same_as(name, ""))).first()
    return Account(*found) if found else None


def add_account(connection: Connection, name: str, role: str, hashed: str, at: datetime) -> Account:
    """Add somebody who signs in.

    Raises
    ------
    ValueError
        If the name is taken or cannot be, or if the first one is not an administrator.
    """
    name = person_name(name)
    if account_of(connection, name) is not None:
        raise ValueError(f"{name} signs in here already. Choose another name, or change that one.")
    if role != ADMINISTRATOR and not any_account(connection):
        raise ValueError("The first to sign in must be an administrator, who adds the others.")
    made = Account(str(uuid.uuid4()), name, role, hashed)
    connection.execute(
        insert(AccountRow).values(
            id=made.id,
            name=name,
            same_as=same_as(name, ""),
            role=role,
            passphrase=hashed,
            set_at=at,
        )
    )
    return made


def set_passphrase(connection: Connection, account_id: str, hashed: str, at: datetime) -> None:
    """Exchange the hash of a passphrase; whoever has signed in with the old one is signed out."""
    mine = AccountRow.id == account_id
    connection.execute(update(AccountRow).where(mine).values(passphrase=hashed, set_at=at))


def remove_account(connection: Connection, account_id: str) -> None:
    """Take an account away.

    Raises
    ------
    ValueError
        If it is the last administrator's: nobody could add another.
    """
    others = select(func.count(AccountRow.id)).where(
        AccountRow.role == ADMINISTRATOR, AccountRow.id != account_id
    )
    if not connection.execute(others).scalar_one():
        raise ValueError("The last administrator stays: nobody else could add another.")
    connection.execute(delete(SeatRow).where(SeatRow.account_id == account_id))
    connection.execute(delete(AccountRow).where(AccountRow.id == account_id))

"""Tables of the room: who signs in, classes, their lists, who sits where. These rows change.

Nothing here is evidence; what has to be proved later is in the ledger.
"""

from datetime import date, datetime

from sqlalchemy import CheckConstraint, Date, ForeignKey, String, Text, UniqueConstraint, false
from sqlalchemy.orm import Mapped, mapped_column

from quizzes.records.database.models import CHANGES, Base


class AccountRow(Base):
    """Somebody who signs in with a passphrase."""

    __tablename__ = "account"
    __table_args__ = (
        UniqueConstraint("same_as", name="one_account_a_name"),
        CheckConstraint("role IN ('trainer', 'assessor', 'administrator')", name="known_role"),
        {"info": {CHANGES: True}},
    )

    id: Mapped[str] = mapped_column(String(36), primary_key=True)
    name: Mapped[str] = mapped_column(String(80))
    same_as: Mapped[str] = mapped_column(Text)
    role: Mapped[str] = mapped_column(String(20))
    passphrase: Mapped[str] = mapped_column(Text)  # its Argon2 hash, in the PHC string format
    set_at: Mapped[datetime]


class ClassRow(Base):
    """A class: what it is called, its code, its form, how it stands."""

    __tablename__ = "school_class"
    __table_args__ = (
        UniqueConstraint("code", name="one_class_a_code"),
        CheckConstraint("state IN ('open', 'paused', 'closed')", name="known_state"),
        {"info": {CHANGES: True}},
    )

    id: Mapped[str] = mapped_column(String(36), primary_key=True)
    name: Mapped[str] = mapped_column(String(80))
    on_day: Mapped[date] = mapped_column(Date)
    code: Mapped[str] = mapped_column(String(10))
    form_id: Mapped[str] = mapped_column(String(80))
    pages: Mapped[str] = mapped_column(Text)  # JSON, a list of pages
    state: Mapped[str] = mapped_column(String(10))
    word: Mapped[str] = mapped_column(Text)
    made_at: Mapped[datetime]
    keeps_time: Mapped[bool] = mapped_column(server_default=false())
    awake_at: Mapped[datetime | None]  # when the server last noted that it runs


class MemberRow(Base):
    """One person on a class's list."""

    __tablename__ = "class_member"
    __table_args__ = (
        UniqueConstraint("label", name="one_person_a_label"),
        {"info": {CHANGES: True}},
    )

    class_id: Mapped[str] = mapped_column(ForeignKey("school_class.id"), primary_key=True)
    person_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    label: Mapped[str] = mapped_column(String(10))
    form_id: Mapped[str] = mapped_column(String(80))  # another than the class's; empty for none
    extra_minutes: Mapped[int]
    reason: Mapped[str] = mapped_column(Text)
    hand_at: Mapped[datetime | None]
    page: Mapped[str] = mapped_column(String(80))
    page_at: Mapped[datetime | None]
    seen: Mapped[str] = mapped_column(
        Text, server_default="{}"
    )  # JSON: right answers and all, by page


class SeatRow(Base):
    """A browser at which somebody has signed in or joined; the hash of its visit, not the visit."""

    __tablename__ = "seat"
    __table_args__ = ({"info": {CHANGES: True}},)

    visit_sha256: Mapped[str] = mapped_column(String(64), primary_key=True)
    account_id: Mapped[str] = mapped_column(String(36), index=True)
    class_id: Mapped[str] = mapped_column(String(36), index=True)
    person_id: Mapped[str] = mapped_column(String(36), index=True)
    since_at: Mapped[datetime]

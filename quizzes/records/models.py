"""The tables. Nothing in them is ever changed; only a person's name can be erased."""

from datetime import UTC, datetime

from sqlalchemy import (
    CheckConstraint,
    DateTime,
    Dialect,
    ForeignKey,
    ForeignKeyConstraint,
    Index,
    LargeBinary,
    String,
    Text,
    TypeDecorator,
    UniqueConstraint,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

from quizzes.records.triggers import guard

EDITION = 1  # of the tables; raise it with every change to them


class UtcMoment(TypeDecorator[datetime]):
    """A moment in UTC, to the microsecond, with its time zone put back on the way out.

    SQLite keeps no time zone and PostgreSQL answers in the session's own.
    """

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Bring a moment to UTC on its way in."""
        if value is None:
            return None
        utc = value.astimezone(UTC)
        return utc if dialect.name == "postgresql" else utc.replace(tzinfo=None)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002 - the base class's signature
        """Put UTC back on the way out."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


class Base(DeclarativeBase):
    """All tables of the store."""

    type_annotation_map = {datetime: UtcMoment}  # noqa: RUF012 - as SQLAlchemy declares it


class RecordStoreRow(Base):
    """One row: which edition of these tables this is."""

    __tablename__ = "record_store"
    __table_args__ = (CheckConstraint("id = 1", name="one_record_store"),)

    id: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    edition: Mapped[int]
    made_at: Mapped[datetime]


class PersonRow(Base):
    """A person, by pseudonym alone."""

    __tablename__ = "person"

    id: Mapped[str] = mapped_column(String(36), primary_key=True)
    made_at: Mapped[datetime]


class PersonNameRow(Base):
    """The name of a person, apart, so that it can be erased and the record stay."""

    __tablename__ = "person_name"

    person_id: Mapped[str] = mapped_column(ForeignKey("person.id"), primary_key=True)
    display_name: Mapped[str] = mapped_column(String(80))
    sought_as: Mapped[str] = mapped_column(Text)


class SittingRow(Base):
    """What was known when a sitting began."""

    __tablename__ = "sitting"
    __table_args__ = (
        CheckConstraint("place IN ('web', 'lab', 'binder', 'test')", name="known_place"),
    )

    id: Mapped[str] = mapped_column(String(36), primary_key=True)
    person_id: Mapped[str] = mapped_column(ForeignKey("person.id"), index=True)
    form_id: Mapped[str] = mapped_column(String(80))
    form_edition: Mapped[str] = mapped_column(String(80))
    place: Mapped[str] = mapped_column(String(10))
    owner: Mapped[str] = mapped_column(String(64), index=True)
    key: Mapped[bytes] = mapped_column(LargeBinary(32))
    return_code_sha256: Mapped[str] = mapped_column(String(64), unique=True)
    software_version: Mapped[str] = mapped_column(String(80))
    rules_edition: Mapped[str] = mapped_column(String(80))
    started_at: Mapped[datetime] = mapped_column(index=True)


class EntryRow(Base):
    """One link of a sitting's chain: an event, the grade of a case, or the outcome."""

    __tablename__ = "entry"
    __table_args__ = (
        UniqueConstraint("sitting_id", "slot", "step", name="one_entry_a_step"),
        UniqueConstraint("sitting_id", "supersedes", name="one_correction_each"),
        ForeignKeyConstraint(
            ["sitting_id", "supersedes"],
            ["entry.sitting_id", "entry.position"],
            name="corrects_an_entry",
        ),
        CheckConstraint(
            "(kind = 'event' AND slot IS NOT NULL AND step IS NOT NULL AND supersedes IS NULL)"
            " OR (kind = 'grade' AND slot IS NOT NULL AND step IS NULL)"
            " OR (kind = 'outcome' AND slot IS NULL AND step IS NULL AND outcome IS NOT NULL)",
            name="known_kind",
        ),
        Index("entry_by_kind", "sitting_id", "kind"),
    )

    sitting_id: Mapped[str] = mapped_column(ForeignKey("sitting.id"), primary_key=True)
    position: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    kind: Mapped[str] = mapped_column(String(10))
    slot: Mapped[int | None]
    step: Mapped[int | None]
    at: Mapped[datetime]
    body: Mapped[str] = mapped_column(Text)
    outcome: Mapped[str | None] = mapped_column(String(80))
    supersedes: Mapped[int | None]
    previous_sha256: Mapped[str] = mapped_column(String(64))
    sha256: Mapped[str] = mapped_column(String(64))


for _row in (RecordStoreRow, PersonRow, SittingRow, EntryRow):
    guard(Base.metadata.tables[_row.__tablename__])
guard(Base.metadata.tables[PersonNameRow.__tablename__], erasable=True)

"""The ledger's tables. No row is ever changed; only that of a person can be erased."""

from datetime import UTC, datetime
from typing import Any

from sqlalchemy import (
    CheckConstraint,
    DateTime,
    Dialect,
    ForeignKey,
    Index,
    LargeBinary,
    String,
    Text,
    TypeDecorator,
    UniqueConstraint,
)
from sqlalchemy.dialects.sqlite import DATETIME
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column
from sqlalchemy.types import TypeEngine

VERSIONS = (
    "0001",
    "0002",
    "0003",
    "0004",
    "0005",
)  # of the tables, oldest first, as in migrations/versions; the last is in use


CHANGES = "changes"  # noted with a table whose rows may change, so that nothing guards them
ERASABLE = "erasable"  # noted with a table whose rows may be erased, but never changed


NO_MOMENT = datetime(1970, 1, 1)  # noqa: DTZ001 - read where something else stands than a moment


class _Text(DATETIME):
    """A moment that SQLite keeps as text."""

    def result_processor(self, dialect: Dialect, coltype: object) -> Any:  # noqa: ANN401, ARG002 - the base class's signature
        """Return what reads one."""

        def read(kept: object) -> datetime | None:
            try:
                return None if kept is None else datetime.fromisoformat(str(kept))
            except ValueError:
                return NO_MOMENT

        return read


_TEXT = _Text()  # type: ignore[no-untyped-call]


class UtcMoment(TypeDecorator[datetime]):
    """A moment in UTC, to the microsecond, with its time zone put back on the way out.

    SQLite keeps no time zone and PostgreSQL answers in the session's own.
    """

    impl = DateTime(timezone=True)
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[datetime]:
        """Read SQLite's texts ourselves: one that is no moment must not hide every other row."""
        kept: TypeEngine[datetime] = _TEXT if dialect.name == "sqlite" else self.impl_instance
        return dialect.type_descriptor(kept)

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


class SureMoment(UtcMoment):
    """A moment that is never missing: a spoilt byte that makes it so must hide nothing either."""

    cache_ok = True

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime:
        """Read a moment that is missing as one that never was."""
        return super().process_result_value(value, dialect) or NO_MOMENT.replace(tzinfo=UTC)


class Base(DeclarativeBase):
    """All tables of the store."""

    type_annotation_map = {datetime: UtcMoment}  # noqa: RUF012 - as SQLAlchemy declares it


class RecordStoreRow(Base):
    """One row: the ledger's identity. Who writes to the ledger holds this row's lock."""

    __tablename__ = "record_store"
    __table_args__ = (CheckConstraint("id = 1", name="one_record_store"),)

    id: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    ledger_id: Mapped[str] = mapped_column(String(36))
    made_at: Mapped[datetime]


class PersonRow(Base):
    """Who somebody is: one row with the name, so that it can be erased and the record stay."""

    __tablename__ = "person"
    __table_args__ = (
        UniqueConstraint("same_as", name="one_row_a_person"),
        {"info": {ERASABLE: True}},
    )

    id: Mapped[str] = mapped_column(String(36), primary_key=True)
    salt: Mapped[bytes] = mapped_column(LargeBinary(32))
    display_name: Mapped[str] = mapped_column(String(80))
    number: Mapped[str] = mapped_column(String(40))
    same_as: Mapped[str] = mapped_column(Text)
    sought_as: Mapped[str] = mapped_column(Text)


class SittingRow(Base):
    """Where to find a sitting; everything here stands in its first entry as well."""

    __tablename__ = "sitting"
    __table_args__ = (
        CheckConstraint("place IN ('web', 'lab', 'binder', 'test')", name="known_place"),
        UniqueConstraint("return_code_sha256", name="one_sitting_a_code"),
    )

    id: Mapped[str] = mapped_column(String(36), primary_key=True)
    person_id: Mapped[str] = mapped_column(String(36), index=True)
    form_id: Mapped[str] = mapped_column(String(80))
    form_edition: Mapped[str] = mapped_column(String(80))
    place: Mapped[str] = mapped_column(String(10))
    owner: Mapped[str] = mapped_column(String(64), index=True)
    key: Mapped[bytes] = mapped_column(LargeBinary(32))
    return_code_sha256: Mapped[str] = mapped_column(String(64))
    software_version: Mapped[str] = mapped_column(String(80))
    rules_edition: Mapped[str] = mapped_column(String(80))
    started_at: Mapped[datetime] = mapped_column(SureMoment, index=True)


class EntryRow(Base):
    """One entry of the ledger: whatever happened, in the order in which it was kept."""

    __tablename__ = "entry"
    __table_args__ = (
        UniqueConstraint("sitting_id", "slot", "step", name="one_entry_a_step"),
        UniqueConstraint("supersedes", name="one_correction_each"),
        CheckConstraint(
            "kind NOT IN ('event', 'grade', 'outcome', 'sitting', 'person', 'erasure')"
            " OR (kind = 'event' AND slot IS NOT NULL AND step IS NOT NULL AND supersedes IS NULL)"
            " OR (kind = 'grade' AND slot IS NOT NULL AND step IS NULL)"
            " OR (kind = 'outcome' AND slot IS NULL AND step IS NULL AND outcome IS NOT NULL)"
            " OR (kind = 'sitting' AND sitting_id IS NOT NULL AND slot IS NULL AND step IS NULL)"
            " OR (kind IN ('person', 'erasure') AND sitting_id IS NULL AND slot IS NULL)",
            name="known_kind",
        ),
        Index("entry_by_kind", "sitting_id", "kind"),
    )

    seq: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    sitting_id: Mapped[str | None] = mapped_column(ForeignKey("sitting.id"))
    kind: Mapped[str] = mapped_column(String(20))
    slot: Mapped[int | None]
    step: Mapped[int | None]
    at: Mapped[datetime]
    body: Mapped[str] = mapped_column(Text)
    outcome: Mapped[str | None] = mapped_column(String(80))
    supersedes: Mapped[int | None] = mapped_column(ForeignKey("entry.seq"))
    previous_sha256: Mapped[str] = mapped_column(String(64))
    sha256: Mapped[str] = mapped_column(String(64))

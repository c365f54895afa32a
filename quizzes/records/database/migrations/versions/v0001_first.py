"""The first tables: persons, sittings, one ledger.

A version that was once in use is never changed again: the next one changes the tables.
"""

import sqlalchemy as sa
from alembic import op

from quizzes.records.database.models import UtcMoment
from quizzes.records.database.triggers import guarding

revision = "0001"
down_revision = None

_KNOWN_KIND = (
    "kind NOT IN ('event', 'grade', 'outcome', 'sitting', 'person', 'erasure')"
    " OR (kind = 'event' AND slot IS NOT NULL AND step IS NOT NULL AND supersedes IS NULL)"
    " OR (kind = 'grade' AND slot IS NOT NULL AND step IS NULL)"
    " OR (kind = 'outcome' AND slot IS NULL AND step IS NULL AND outcome IS NOT NULL)"
    " OR (kind = 'sitting' AND sitting_id IS NOT NULL AND slot IS NULL AND step IS NULL)"
    " OR (kind IN ('person', 'erasure') AND sitting_id IS NULL AND slot IS NULL)"
)


def upgrade() -> None:
    """Make the tables, their indexes and the triggers that keep rows as they are."""
    guarded = [(_record_store(), False), (_person(), True), (_sitting(), False), (_entry(), False)]
    for column in ("person_id", "owner", "started_at"):
        op.create_index(f"ix_sitting_{column}", "sitting", [column])
    op.create_index("entry_by_kind", "entry", ["sitting_id", "kind"])
    dialect = op.get_bind().dialect.name
    for table, erasable in guarded:
        for statement in guarding(dialect, table, erasable=erasable):
            op.execute(statement)


def _record_store() -> sa.Table:
    return op.create_table(
        "record_store",
        sa.Column("id", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("ledger_id", sa.String(36), nullable=False),
        sa.Column("made_at", UtcMoment, nullable=False),
        sa.CheckConstraint("id = 1", name="one_record_store"),
    )


def _person() -> sa.Table:
    return op.create_table(
        "person",
        sa.Column("id", sa.String(36), primary_key=True),
        sa.Column("salt", sa.LargeBinary(32), nullable=False),
        sa.Column("display_name", sa.String(80), nullable=False),
        sa.Column("number", sa.String(40), nullable=False),
        sa.Column("same_as", sa.Text, nullable=False),
        sa.Column("sought_as", sa.Text, nullable=False),
        sa.UniqueConstraint("same_as", name="one_row_a_person"),
    )


def _sitting() -> sa.Table:
    return op.create_table(
        "sitting",
        sa.Column("id", sa.String(36), primary_key=True),
        sa.Column("person_id", sa.String(36), nullable=False),
        sa.Column("form_id", sa.String(80), nullable=False),
        sa.Column("form_edition", sa.String(80), nullable=False),
        sa.Column("place", sa.String(10), nullable=False),
        sa.Column("owner", sa.String(64), nullable=False),
        sa.Column("key", sa.LargeBinary(32), nullable=False),
        sa.Column("return_code_sha256", sa.String(64), nullable=False),
        sa.Column("software_version", sa.String(80), nullable=False),
        sa.Column("rules_edition", sa.String(80), nullable=False),
        sa.Column("started_at", UtcMoment, nullable=False),
        sa.CheckConstraint("place IN ('web', 'lab', 'binder', 'test')", name="known_place"),
        sa.UniqueConstraint("return_code_sha256", name="one_sitting_a_code"),
    )


def _entry() -> sa.Table:
    return op.create_table(
        "entry",
        sa.Column("seq", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("sitting_id", sa.String(36), sa.ForeignKey("sitting.id")),
        sa.Column("kind", sa.String(20), nullable=False),
        sa.Column("slot", sa.Integer),
        sa.Column("step", sa.Integer),
        sa.Column("at", UtcMoment, nullable=False),
        sa.Column("body", sa.Text, nullable=False),
        sa.Column("outcome", sa.String(80)),
        sa.Column("supersedes", sa.Integer, sa.ForeignKey("entry.seq")),
        sa.Column("previous_sha256", sa.String(64), nullable=False),
        sa.Column("sha256", sa.String(64), nullable=False),
        sa.UniqueConstraint("sitting_id", "slot", "step", name="one_entry_a_step"),
        sa.UniqueConstraint("supersedes", name="one_correction_each"),
        sa.CheckConstraint(_KNOWN_KIND, name="known_kind"),
    )

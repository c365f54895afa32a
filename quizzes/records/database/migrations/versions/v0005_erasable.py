"""Words about a person and photographs beside the ledger, so that they can be erased.

A version that was once in use is never changed again: the next one changes the tables.
"""

import sqlalchemy as sa
from alembic import op

from quizzes.records.database.triggers import guarding

revision = "0005"
down_revision = "0004"


def upgrade() -> None:
    """Make the two tables, and the triggers that let a row be erased and never changed."""
    tables = (_apart(), _photograph())
    op.create_index("ix_apart_person_id", "apart", ["person_id"])
    for table in tables:
        for statement in guarding(op.get_bind().dialect.name, table, erasable=True):
            op.execute(statement)


def _apart() -> sa.Table:
    return op.create_table(
        "apart",
        sa.Column("commitment", sa.String(64), primary_key=True),
        sa.Column("person_id", sa.String(36), nullable=False),
        sa.Column("salt", sa.LargeBinary(32), nullable=False),
        sa.Column("words", sa.Text, nullable=False),
    )


def _photograph() -> sa.Table:
    return op.create_table(
        "photograph",
        sa.Column("person_id", sa.String(36), primary_key=True),
        sa.Column("sha256", sa.String(64), primary_key=True),
        sa.Column("content", sa.LargeBinary, nullable=False),
    )

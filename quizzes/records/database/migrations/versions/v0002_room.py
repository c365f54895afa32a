"""Tables of the room: accounts, classes, their members, seats. Their rows change, so no triggers.

A version that was once in use is never changed again: the next one changes the tables.
"""

import sqlalchemy as sa
from alembic import op

from quizzes.records.database.models import UtcMoment

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Make the tables."""
    op.create_table(
        "account",
        sa.Column("id", sa.String(36), primary_key=True),
        sa.Column("name", sa.String(80), nullable=False),
        sa.Column("same_as", sa.Text, nullable=False),
        sa.Column("role", sa.String(20), nullable=False),
        sa.Column("passphrase", sa.Text, nullable=False),
        sa.Column("set_at", UtcMoment, nullable=False),
        sa.UniqueConstraint("same_as", name="one_account_a_name"),
        sa.CheckConstraint("role IN ('trainer', 'assessor', 'administrator')", name="known_role"),
    )
    op.create_table(
        "school_class",
        sa.Column("id", sa.String(36), primary_key=True),
        sa.Column("name", sa.String(80), nullable=False),
        sa.Column("on_day", sa.Date, nullable=False),
        sa.Column("code", sa.String(10), nullable=False),
        sa.Column("form_id", sa.String(80), nullable=False),
        sa.Column("pages", sa.Text, nullable=False),
        sa.Column("state", sa.String(10), nullable=False),
        sa.Column("word", sa.Text, nullable=False),
        sa.Column("made_at", UtcMoment, nullable=False),
        sa.UniqueConstraint("code", name="one_class_a_code"),
        sa.CheckConstraint("state IN ('open', 'paused', 'closed')", name="known_state"),
    )
    op.create_table(
        "class_member",
        sa.Column("class_id", sa.String(36), sa.ForeignKey("school_class.id"), primary_key=True),
        sa.Column("person_id", sa.String(36), primary_key=True),
        sa.Column("label", sa.String(10), nullable=False),
        sa.Column("form_id", sa.String(80), nullable=False),
        sa.Column("extra_minutes", sa.Integer, nullable=False),
        sa.Column("reason", sa.Text, nullable=False),
        sa.Column("hand_at", UtcMoment),
        sa.Column("page", sa.String(80), nullable=False),
        sa.Column("page_at", UtcMoment),
        sa.UniqueConstraint("label", name="one_person_a_label"),
    )
    op.create_table(
        "seat",
        sa.Column("visit_sha256", sa.String(64), primary_key=True),
        sa.Column("account_id", sa.String(36), nullable=False),
        sa.Column("class_id", sa.String(36), nullable=False),
        sa.Column("person_id", sa.String(36), nullable=False),
        sa.Column("since_at", UtcMoment, nullable=False),
    )
    for column in ("account_id", "class_id", "person_id"):
        op.create_index(f"ix_seat_{column}", "seat", [column])

"""A class that keeps the allowed minutes, and which of its pages each person has worked through.

A version that was once in use is never changed again: the next one changes the tables.
"""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    """Add the two columns; classes made before keep no time and have no page seen."""
    op.add_column(
        "school_class",
        sa.Column("keeps_time", sa.Boolean, nullable=False, server_default=sa.false()),
    )
    op.add_column("class_member", sa.Column("seen", sa.Text, nullable=False, server_default="{}"))

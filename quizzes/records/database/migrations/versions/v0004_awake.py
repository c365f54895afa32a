"""When the server last said that it runs, for the clock of a class while the machine sleeps.

A version that was once in use is never changed again: the next one changes the tables.
"""

import sqlalchemy as sa
from alembic import op

from quizzes.records.database.models import UtcMoment

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    """Add the column; a class made before has not been watched yet."""
    op.add_column("school_class", sa.Column("awake_at", UtcMoment))

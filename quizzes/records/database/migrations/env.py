"""What Alembic runs first: the connection comes from `opening.create`, in one transaction."""

from alembic import context

from quizzes.records.database.models import Base
from quizzes.records.database.room import AccountRow  # noqa: F401 (declares the tables)

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Base.metadata,
    transactional_ddl=True,
)
context.run_migrations()

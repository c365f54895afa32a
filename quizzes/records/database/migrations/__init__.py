"""Versions of the tables, each a step from the one before. Alembic runs them."""

"""Triggers that refuse any change to a stored row, on SQLite and on PostgreSQL."""

from sqlalchemy import Table, UniqueConstraint

_REFUSED = "records are append-only"
FUNCTION = "gap_and_lining_refuse"  # of PostgreSQL


def guarding(dialect: str, table: Table, *, erasable: bool = False) -> list[str]:
    """Return the statements that make triggers which refuse any change to a row of a table.

    Parameters
    ----------
    dialect : str
        `sqlite` or `postgresql`; nothing is guarded in any other.
    table : Table
        Made before.
    erasable : bool
        True if a row may be deleted (never changed) all the same.

    Notes
    -----
    The triggers stop slips and honest programs. Who owns the database can drop them, which the
    hash chain is there to show. On SQLite `INSERT OR REPLACE` deletes without a delete trigger,
    so an insert over an existing row is refused as well.

    Source: sqlite.org/lang_conflict.html, REPLACE; PostgreSQL 15 manual, CREATE TRIGGER.
    """
    if dialect == "sqlite":
        return _sqlite_triggers(table, erasable=erasable)
    return _postgresql_triggers(table, erasable=erasable) if dialect == "postgresql" else []


def _sqlite_triggers(table: Table, *, erasable: bool) -> list[str]:
    name = table.name
    refuse = f"BEGIN SELECT RAISE(ABORT, '{_REFUSED}'); END"
    keys = [[column.name for column in table.primary_key]]
    keys += [
        [column.name for column in constraint.columns]
        for constraint in table.constraints
        if isinstance(constraint, UniqueConstraint)
    ]
    same = " OR ".join(
        "(" + " AND ".join(f"{column} = NEW.{column}" for column in key) + ")" for key in keys
    )
    taken = f"EXISTS (SELECT 1 FROM {name} WHERE {same})"  # noqa: S608 - names of our own tables
    statements = [
        f"CREATE TRIGGER {name}_no_update BEFORE UPDATE ON {name} {refuse}",
        f"CREATE TRIGGER {name}_no_replace BEFORE INSERT ON {name} WHEN {taken} {refuse}",
    ]
    if not erasable:
        statements.append(f"CREATE TRIGGER {name}_no_delete BEFORE DELETE ON {name} {refuse}")
    return statements


def _postgresql_triggers(table: Table, *, erasable: bool) -> list[str]:
    name = table.name
    changes = "UPDATE" if erasable else "UPDATE OR DELETE"
    call = f"EXECUTE FUNCTION {FUNCTION}()"
    body = f"$$ BEGIN RAISE EXCEPTION '{_REFUSED}'; END $$ LANGUAGE plpgsql"
    return [
        f"CREATE OR REPLACE FUNCTION {FUNCTION}() RETURNS trigger AS {body}",
        f"CREATE TRIGGER {name}_no_change BEFORE {changes} ON {name} FOR EACH ROW {call}",
        f"CREATE TRIGGER {name}_no_truncate BEFORE TRUNCATE ON {name} FOR EACH STATEMENT {call}",
    ]

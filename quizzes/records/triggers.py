"""Triggers that refuse any change to a stored row, on SQLite and on PostgreSQL."""

from sqlalchemy import DDL, Table, UniqueConstraint, event

_REFUSED = "records are append-only"


def guard(table: Table, *, erasable: bool = False) -> None:
    """Have a table made with triggers that refuse any change to a row.

    Parameters
    ----------
    table : Table
        Not made yet.
    erasable : bool
        True if a row may be deleted (never changed) all the same.

    Notes
    -----
    The triggers stop slips and honest programs. Who owns the database can drop them, which the
    hash chain is there to show. On SQLite `INSERT OR REPLACE` deletes without a delete trigger,
    so an insert over an existing row is refused as well.

    Source: sqlite.org/lang_conflict.html, REPLACE; PostgreSQL 15 manual, CREATE TRIGGER.
    """
    for statement in _sqlite_triggers(table, erasable=erasable):
        event.listen(table, "after_create", _on("sqlite", statement))
    for statement in _postgresql_triggers(table, erasable=erasable):
        event.listen(table, "after_create", _on("postgresql", statement))


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
    call = "EXECUTE FUNCTION gap_and_lining_refuse()"
    body = f"$$ BEGIN RAISE EXCEPTION '{_REFUSED}'; END $$ LANGUAGE plpgsql"
    return [
        f"CREATE OR REPLACE FUNCTION gap_and_lining_refuse() RETURNS trigger AS {body}",
        f"CREATE TRIGGER {name}_no_change BEFORE {changes} ON {name} FOR EACH ROW {call}",
        f"CREATE TRIGGER {name}_no_truncate BEFORE TRUNCATE ON {name} FOR EACH STATEMENT {call}",
    ]


def _on(dialect: str, statement: str) -> DDL:
    ddl = DDL(statement)  # type: ignore[no-untyped-call]  # SQLAlchemy 2.1 gives it no types
    return ddl.execute_if(dialect=dialect)

"""What guards the rows, looked at: triggers, tables that are tables, indexes that miss no row."""

import re
from collections.abc import Iterator

from sqlalchemy import Connection, Table, text

from quizzes.records.database.models import CHANGES, ERASABLE, Base
from quizzes.records.database.triggers import guarding

_TRIGGER = "CREATE TRIGGER"
# Bits of pg_trigger.tgtype. Source: PostgreSQL 15, src/include/catalog/pg_trigger.h.
_ROW, _BEFORE, _DELETE, _UPDATE, _TRUNCATE = 1, 2, 8, 16, 32
_FOUND = {
    "sqlite": "SELECT name, tbl_name, sql FROM sqlite_master WHERE type = 'trigger'",
    # Of one that is switched off, or on for replicas alone, nothing is found: it does nothing.
    "postgresql": (
        "SELECT tgname, relname, CASE WHEN tgenabled IN ('O', 'A') THEN tgtype || ' '"
        " || (tgqual IS NULL AND cardinality(tgattr::int2[]) = 0) || prosrc END"
        " FROM pg_trigger JOIN pg_class ON pg_class.oid = tgrelid"
        " JOIN pg_proc ON pg_proc.oid = tgfoid"
        " JOIN pg_namespace ON pg_namespace.oid = relnamespace"
        " WHERE NOT tgisinternal AND nspname = current_schema()"
    ),
}
_BETWEEN = {
    "sqlite": "SELECT 'view ' || name FROM sqlite_master WHERE type = 'view'",
    "postgresql": "SELECT 'rule ' || rulename FROM pg_rules WHERE schemaname = current_schema()",
}


def guards_lacking(connection: Connection) -> Iterator[str]:
    """Say what no longer guards the rows as it did, or stands between them and us."""
    dialect = connection.dialect.name
    if dialect not in _FOUND:
        return
    found = {
        (name, table): _spelt(does or "")
        for name, table, does in connection.execute(text(_FOUND[dialect]))
    }
    tables = [one for one in Base.metadata.sorted_tables if not one.info.get(CHANGES)]
    wanted = {key: _spelt(does) for table in tables for key, does in _wanted(dialect, table)}
    for key, does in wanted.items():
        if key not in found:
            yield f"the trigger {key[0]} that keeps rows as they are is missing"
        elif found[key] != does:
            yield f"the trigger {key[0]} that keeps rows as they are does something else"
    for name, table in sorted(found.keys() - wanted.keys()):
        yield f"on {table} there is a trigger {name} that is not ours"
    for (name,) in connection.execute(text(_BETWEEN[dialect])):
        yield f"in the database there is a {name} that is not ours"


def _wanted(dialect: str, table: Table) -> Iterator[tuple[tuple[str, str], str]]:
    """Return name, table and work of each trigger of a table, spelt as the query above does."""
    statements = guarding(dialect, table, erasable=ERASABLE in table.info)
    does = statements[0].split("$$")[1] if dialect == "postgresql" else ""
    for statement in (one for one in statements if one.startswith(_TRIGGER)):
        kind = _BEFORE | _TRUNCATE
        if "FOR EACH ROW" in statement:
            kind = _BEFORE | _ROW | _UPDATE | (_DELETE if "OR DELETE" in statement else 0)
        spelt = f"{kind} true{does}" if dialect == "postgresql" else statement
        yield (statement.split()[2], table.name), spelt


def _spelt(statement: str) -> tuple[str, ...]:
    """Return a trigger without its spaces; in what order it looks at the keys tells nothing."""
    plain = " ".join(re.findall(r"[^\s()]+|[()]", statement))
    head, where, rest = plain.partition("WHERE ")
    keys, end, does = rest.rpartition(") BEGIN")
    return (head, where, *sorted(one.strip() for one in keys.split(" OR ")), end, does)


def rows_hidden(connection: Connection) -> str:
    """Return what SQLite finds wrong between a table and its indexes; empty if nothing is.

    Notes
    -----
    Pages find rows by an index, the walk along the ledger by their place. An index from which a
    row was taken out hides it from the pages alone.
    """
    if connection.dialect.name != "sqlite":
        return ""
    said = connection.execute(text("PRAGMA integrity_check(1)")).scalar_one()
    return "" if said == "ok" else f"the database does not fit its own indexes ({said!s:.80})"

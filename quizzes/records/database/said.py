"""What a database answered, in one sentence: SQLite's result codes and PostgreSQL's states."""

import shutil
from pathlib import Path

from sqlalchemy.engine import URL
from sqlalchemy.exc import DBAPIError, InvalidRequestError

from quizzes.records.errors import RecordsError, refusal, shown

_NOT_A_DATABASE = (
    "is not a database",
    "Nothing was changed. Move the file away, or point GAL_RECORDS at another place.",
)
UNREADABLE = (
    "cannot be read or opened",
    "Check that the folder exists and that this user may read and write it and the file.",
)
_READ_ONLY = (
    "is read-only",
    "Give this user the right to write the file and its folder, then try again.",
)
_LOCKED = (
    "is locked by another program",
    "Close what else has it open (a backup, a database browser), then try again.",
)
_FULL = ("has no room left: the disk is full", "Free some space, then try again.")
# Size of a first -shm file. Source: sqlite.org/walformat.html, section 2.2.
_WAL_INDEX_BYTES = 32_768
_IO_ERROR = (
    "could not be read or written: the disk reports an error",
    "Check the disk and its connection before going on.",
)
_TOO_LARGE = (
    "holds a value that is too large for a record store",
    "Another program wrote it: go back to a backup.",
)
_DAMAGED = (
    "is damaged",
    "Change nothing: copy the file and the -wal file beside it, then go back to a backup.",
)
MISSING_TABLES = (
    "lacks tables",
    "Check the address (GAL_RECORDS or --records); python -m quizzes serve makes a new store.",
)
_UNREACHABLE = (
    "cannot be reached or refuses the login",
    "Check that the database server runs and that address, user and password are right.",
)
_NOT_ALLOWED = (
    "does not let this user do that",
    "Ask who runs the database for the right to read and insert.",
)

# Result codes of sqlite.org/rescode.html; the low byte is the primary code.
_SQLITE_SAYS = {
    3: _NOT_ALLOWED,
    5: _LOCKED,
    6: _LOCKED,
    8: _READ_ONLY,
    10: _IO_ERROR,
    11: _DAMAGED,
    13: _FULL,
    14: UNREADABLE,
    18: _TOO_LARGE,
    23: _NOT_ALLOWED,
    26: _NOT_A_DATABASE,
}
# SQLSTATE, PostgreSQL 15 manual, appendix A; the longest prefix that fits is taken.
_POSTGRESQL_SAYS = {
    "08": _UNREACHABLE,
    "25006": _READ_ONLY,
    "28": _UNREACHABLE,
    "3D000": ("does not exist on its server", "Create the database, or correct its name."),
    "42501": _NOT_ALLOWED,
    "42P01": MISSING_TABLES,
    "53": _FULL,
    "55P03": _LOCKED,
    "57P": _UNREACHABLE,
    "XX": _DAMAGED,
}


def explained(url: URL, error: Exception) -> RecordsError:
    """Return the sentence for what the database said.

    Parameters
    ----------
    url : URL
        Of the store.
    error : Exception
        As SQLAlchemy or the driver raised it.

    Returns
    -------
    RecordsError
        To be raised `from None`: PostgreSQL quotes whole rows in its details, keys among them.
    """
    orig = error.orig if isinstance(error, DBAPIError) else error
    happened = _happened(orig)
    if happened is _IO_ERROR and _is_full(url):  # SQLite does not say so of what lies beside it
        happened = _FULL
    return refusal(shown(url), *happened)


def _is_full(url: URL) -> bool:
    """Return whether the disk of a store's file has no room for the index of its -wal file."""
    try:
        return shutil.disk_usage(Path(url.database or "").parent).free < _WAL_INDEX_BYTES
    except OSError:
        return False


def _happened(orig: BaseException | None) -> tuple[str, str]:
    if isinstance(orig, InvalidRequestError):  # no row, or several, where one belongs
        return _DAMAGED
    code = getattr(orig, "sqlite_errorcode", None)
    if code is not None:
        if "no such table" in str(orig):
            return MISSING_TABLES
        if code & 0xFF in _SQLITE_SAYS:
            return _SQLITE_SAYS[code & 0xFF]
    state = getattr(orig, "sqlstate", None) or getattr(orig, "pgcode", None)
    for length in (5, 3, 2):
        if state and state[:length] in _POSTGRESQL_SAYS:
            return _POSTGRESQL_SAYS[state[:length]]
    if state is None and type(orig).__name__ == "OperationalError":
        return _UNREACHABLE
    named = f"{type(orig).__name__} {code or state or ''}".strip()
    return (
        f"answered with an error that we do not know ({named})",
        "Nothing was written. Try again; if that fails, show this line to whoever runs the suite.",
    )

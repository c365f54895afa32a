"""What is in force for every page: the limits sheet, the record store, the time."""

import datetime as dt
import hashlib
import os
import tomllib
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

from quizzes import records
from quizzes.records import Records
from widgets.brake.sizes.sheet import INVENTED, LimitsSheet, load_sheet
from widgets.brake.sizes.table import SheetInForce

SOFTWARE = "gap-and-lining 0.1.0"
Clock = Callable[[], dt.datetime]


class NotNowError(ValueError):
    """Nothing may be added to a sitting now; the message says why, as in a class that is paused."""


PLACES = ("web", "lab", "binder")
COUNTING_PLACES = ("web", "test")  # elsewhere the candidate commands the kernel


def now() -> dt.datetime:
    """Return the time, UTC."""
    return dt.datetime.now(dt.UTC)


def sheet_in_force() -> SheetInForce:
    """Return the limits sheet in force: the trainer's own (`GAL_LIMITS`), or the invented one.

    Raises
    ------
    LimitsSheetError
        If the file named is not a good sheet.
    """
    path = Path(os.environ.get("GAL_LIMITS") or INVENTED).absolute()
    try:
        about = path.stat()
    except OSError:
        return _read(path, ())  # which says what is wrong
    return _read(path, (about.st_mtime_ns, about.st_size, about.st_ino))


# A kernel finds what was read before its fork, as long as the file is the same.
@lru_cache(maxsize=4)
def _read(path: Path, _stamp: tuple[int, ...]) -> SheetInForce:
    sheet = load_sheet(path)
    source = tomllib.loads(path.read_text(encoding="utf-8")).get("source", "")
    dated = dt.datetime.fromtimestamp(path.stat().st_mtime).astimezone().date()
    return SheetInForce(sheet, str(source), path.name, dated)


def the_sheet() -> LimitsSheet:
    """Return the sizes of the limits sheet in force.

    Raises
    ------
    LimitsSheetError
        If the file named is not a good sheet.
    """
    return sheet_in_force().sheet


def the_records() -> Records:
    """Return the record store in force.

    Raises
    ------
    RecordsError
        If it cannot be used.
    """
    return Records(records.default_url())


def owner_of(browser_key: str) -> str:
    """Return what the store keeps of a browser's key."""
    return hashlib.sha256(browser_key.encode()).hexdigest()


def question_key(key: bytes) -> bytes:
    """Return the dice of a sitting's questions from the sitting's key, 32 bytes."""
    return hashlib.blake2b(b"questions", key=key[:64], digest_size=32).digest()


def place() -> str:
    """Return where the pages run: `web`, `lab` or `binder`.

    Returns
    -------
    str
        What the server put into `GAL_PLACE`; `lab` where nobody did, because
        a notebook opened by itself has a kernel that its reader commands.
    """
    said = os.environ.get("GAL_PLACE", "lab")
    return said if said in PLACES else "lab"

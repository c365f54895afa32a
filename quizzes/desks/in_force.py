"""What is in force for every page: the limits sheet, the record store, the time."""

import datetime as dt
import hashlib
import os
from collections.abc import Callable

from quizzes import records
from quizzes.records import Records
from widgets.brake.sheet import INVENTED, LimitsSheet, load_sheet

SOFTWARE = "gap-and-lining 0.1.0"
Clock = Callable[[], dt.datetime]


def now() -> dt.datetime:
    """Return the time, UTC."""
    return dt.datetime.now(dt.UTC)


def the_sheet() -> LimitsSheet:
    """Return the limits sheet in force: the trainer's own (`GAL_LIMITS`), or the invented one.

    Raises
    ------
    LimitsSheetError
        If the file named is not a good sheet.
    """
    return load_sheet(os.environ.get("GAL_LIMITS") or INVENTED)


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

"""What is fit to keep: names, labels, moments and whole numbers, refused in one sentence."""

import re
import unicodedata
from datetime import UTC, datetime

NAME_LIMIT = 80  # characters
LABEL_LIMIT = 80  # characters
REASON_LIMIT = 500  # characters
NUMBER_LIMIT = 1_000_000  # slots and steps: far beyond any sitting, well within a database integer

# Marks that turn the direction of text round could make one name look like another.
_TURNING = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_UNSEEN = ("Cc", "Cs", "Cn", "Co", "Zl", "Zp")


def person_name(name: str) -> str:
    """Return a name fit to keep: trimmed, Unicode NFC.

    Parameters
    ----------
    name : str
        As typed.

    Returns
    -------
    str
        1 to 80 characters.

    Raises
    ------
    ValueError
        If it is empty, too long, or holds control characters or marks that turn text round.
    """
    return plain_text("name", name, NAME_LIMIT)


def plain_text(label: str, value: object, limit: int = LABEL_LIMIT) -> str:
    """Return a short text fit to keep, or refuse it as `person_name` does.

    Parameters
    ----------
    label : str
        The argument as its caller knows it.
    value : str
        The text.
    limit : int
        The longest allowed, characters.

    Returns
    -------
    str
        1 to `limit` characters.

    Raises
    ------
    ValueError
        If it is anything else.
    """
    if not isinstance(value, str):
        raise ValueError(f"{label} must be text, got {type(value).__name__}")  # noqa: TRY004 - ValueError is the house rule
    text = unicodedata.normalize("NFC", value[: 20 * limit]).strip()
    if not 1 <= len(text) <= limit or len(value) > 20 * limit:
        raise ValueError(f"{label} must be 1 to {limit} characters, got {len(value.strip())}")
    kinds = [unicodedata.category(sign) for sign in text]
    bad = [s for s, kind in zip(text, kinds, strict=True) if kind in _UNSEEN or s in _TURNING]
    if bad:
        raise ValueError(f"{label} must hold no control characters, got U+{ord(bad[0]):04X}")
    if all(kind[0] in "CMZ" for kind in kinds):
        raise ValueError(f"{label} must hold at least one character that can be seen")
    return text


def checked_owner(owner: str) -> str:
    """Return `owner` if it is the hash of a browser's key.

    Parameters
    ----------
    owner : str
        64 hexadecimal digits in small letters.

    Returns
    -------
    str
        The same.

    Raises
    ------
    ValueError
        If it is anything else; the value is not repeated, in case it was the key itself.
    """
    if not isinstance(owner, str) or not re.fullmatch(r"[0-9a-f]{64}", owner):
        raise ValueError("owner must be a SHA-256 in 64 hexadecimal digits (value not shown)")
    return owner


def aware(label: str, moment: datetime) -> datetime:
    """Return a moment as UTC.

    Parameters
    ----------
    label : str
        The argument as its caller knows it.
    moment : datetime
        With a time zone.

    Returns
    -------
    datetime
        UTC.

    Raises
    ------
    ValueError
        If it has no time zone: nobody could say later when it was.
    """
    if not isinstance(moment, datetime) or moment.utcoffset() is None:
        raise ValueError(f"{label} must be a datetime with a time zone, got {moment!r:.60}")
    return moment.astimezone(UTC)


def whole(label: str, value: int, low: int, high: int) -> int:
    """Return a whole number if it is within its bounds.

    Parameters
    ----------
    label : str
        The argument as its caller knows it.
    value : int
        Not a bool, not a float.
    low, high : int
        Closed bounds.

    Returns
    -------
    int
        The same.

    Raises
    ------
    ValueError
        If it is anything else.
    """
    if not isinstance(value, int) or isinstance(value, bool) or not low <= value <= high:
        raise ValueError(f"{label} must be a whole number {low} to {high}, got {value!r:.40}")
    return value

"""Bytes from anywhere as JSON: refused before they are parsed if they are too many."""

import json
from pathlib import Path
from typing import Any

LARGEST_BYTES = 256_000  # a credential with 60 elements at their longest has some 100 kB
_MOST_DIGITS = 40


class UnreadableError(ValueError):
    """A file is not what it should be: which, what was expected, what was found."""


def file_bytes(path: Path, largest_bytes: int = LARGEST_BYTES) -> bytes:
    """Return what a file holds, unless it is too large to be what is asked for.

    Raises
    ------
    UnreadableError
        If it is missing, no file, or too large; nothing is read of it then.
    """
    try:
        if path.is_dir():
            raise UnreadableError(f"{path} is a folder; expected a file.")
        if not path.is_file():  # a pipe or a device would be read forever
            raise UnreadableError(f"There is no file {path}.")
        size = path.stat().st_size
        if size > largest_bytes:
            raise UnreadableError(
                f"{path.name} has {size:,} bytes; what is read here has at most "
                f"{largest_bytes:,}. It was not read."
            )
        with path.open("rb") as file:
            return file.read(largest_bytes)
    except OSError as error:
        raise UnreadableError(f"{path.name} cannot be read: {error.strerror}.") from None


def parsed(content: bytes, name: str) -> Any:  # noqa: ANN401 (whatever the JSON holds)
    """Return what JSON holds; twice the same key, or a number that is none, is refused.

    Raises
    ------
    UnreadableError
        With the name, and what is wrong with it.
    """
    if len(content) > LARGEST_BYTES:
        raise UnreadableError(
            f"{name} has {len(content):,} bytes; what is read here has at most {LARGEST_BYTES:,}."
        )
    if not content.strip():
        raise UnreadableError(f"{name} is empty.")
    try:
        return json.loads(
            content.decode("utf-8-sig"),  # some editors put a mark first, which says nothing
            object_pairs_hook=_once,
            parse_constant=_no_number,
            parse_int=_whole,
        )
    except UnicodeDecodeError:
        raise UnreadableError(f"{name} is not a text file in UTF-8; it may be a picture.") from None
    except json.JSONDecodeError as error:
        raise UnreadableError(
            f"{name} is not JSON, or was cut off: {error.msg} in line {error.lineno}."
        ) from None
    except RecursionError:
        raise UnreadableError(f"{name} is nested too deeply.") from None
    except ValueError as error:
        raise UnreadableError(f"{name} is not valid JSON: {error}.") from None


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """Return an object; readers differ on which of two equal keys counts, so it is refused."""
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("a key comes twice in one object")
    return found


def _whole(digits: str) -> int:
    if len(digits) > _MOST_DIGITS:
        raise ValueError(f"a number has {len(digits)} digits")
    return int(digits)


def _no_number(word: str) -> float:
    raise ValueError(f"{word} is not a number")

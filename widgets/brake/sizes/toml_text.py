"""A TOML file as text and table, or in words what is wrong with it and where."""

import re
import tomllib
from pathlib import Path
from typing import Any

BYTE_ORDER_MARK = "\ufeff"
_PLACE = re.compile(r"^(.*) \(at (?:line (\d+), column (\d+)|end of document)\)$")
_LONG_KEY = re.compile(r"(?<![\w-])(?:[\w-]+[ \t]*\.[ \t]*){64}")
_DECIMAL_COMMA = re.compile(r"""\s*[\w"'.-]+\s*=\s*([-+]?\d+),(\d+)\s*(?:#.*)?""")


class TomlTextError(ValueError):
    """A file that is not TOML: where, what was expected, what is there.

    `line` and `column` count from 1 and are 0 where they are not known; `of_file` says that the
    whole file is wrong and not a place in its text.
    """

    def __init__(
        self, line: int, column: int, expected: str, got: str, *, of_file: bool = False
    ) -> None:
        self.line, self.column, self.expected, self.got = line, column, expected, got
        self.of_file = of_file
        super().__init__(f"expected {expected}, got {got}")

    @property
    def place(self) -> str:
        """Where it is, in words."""
        if self.of_file:
            return "the file"
        return f"line {self.line}, column {self.column}" if self.line else "the end"


def read_table(path: Path, largest_bytes: int) -> tuple[str, dict[str, Any]]:
    """Return the text of a TOML file, and the table that it holds.

    Parameters
    ----------
    path : Path
        The file.
    largest_bytes : int
        A larger file is refused unread.

    Raises
    ------
    TomlTextError
        If it cannot be read, is too large, is not UTF-8 or not TOML.
    """
    text = _text(path, largest_bytes)
    return text, table_of(text)


def _text(path: Path, largest_bytes: int) -> str:
    try:
        if not path.is_file() and not path.is_dir():
            path.stat()  # which raises where there is nothing
            raise TomlTextError(0, 0, "a plain file", "a device or a pipe", of_file=True)
        if path.stat().st_size > largest_bytes:
            expected = f"a file of at most {largest_bytes:,} bytes"
            raise TomlTextError(0, 0, expected, "a larger one", of_file=True)
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        raise TomlTextError(0, 0, "text in UTF-8", "other bytes", of_file=True) from None
    except OSError as error:
        got = error.strerror or "an error"
        raise TomlTextError(0, 0, "a file that can be read", got, of_file=True) from None


def table_of(text: str) -> dict[str, Any]:
    """Return the table that a TOML text holds.

    Raises
    ------
    TomlTextError
        If it is not TOML. A byte order mark and a decimal comma, which office
        programs write, are named as such.
    """
    if text.startswith(BYTE_ORDER_MARK):
        expected = 'text in UTF-8 without a byte order mark (save it as "UTF-8", not "with BOM")'
        raise TomlTextError(1, 1, expected, "a byte order mark")
    if _LONG_KEY.search(text):  # reading one takes as long as its parts squared
        raise TomlTextError(0, 0, "keys of a usual length", "a longer one")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _in_words(error, text) from None
    except (ValueError, RecursionError):  # a number of thousands of digits, lists in lists
        raise TomlTextError(0, 0, "numbers and lists of a usual length", "longer ones") from None


def _in_words(error: tomllib.TOMLDecodeError, text: str) -> TomlTextError:
    found = _PLACE.match(str(error))
    if not found:
        return TomlTextError(0, 0, "TOML", str(error))
    line, column = int(found[2] or 0), int(found[3] or 0)
    lines = text.split("\n")
    comma = _DECIMAL_COMMA.fullmatch(lines[line - 1]) if 0 < line <= len(lines) else None
    if comma:
        whole, part = comma.groups()
        return TomlTextError(line, column, f"a decimal point, {whole}.{part}", f"{whole},{part}")
    fault = found[1].lower()
    got = f"a text with a fault ({fault})" if fault.startswith("expected") else fault
    return TomlTextError(line, column, "TOML", got)

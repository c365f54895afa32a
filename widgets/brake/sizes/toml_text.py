"""The text of a TOML file as a table, or in words what is wrong with it and where."""

import re
import tomllib
from typing import Any

BYTE_ORDER_MARK = "\ufeff"
_PLACE = re.compile(r"^(.*) \(at (?:line (\d+), column (\d+)|end of document)\)$")
_DECIMAL_COMMA = re.compile(r"""\s*[\w"'.-]+\s*=\s*([-+]?\d+),(\d+)\s*(?:#.*)?""")


class TomlTextError(ValueError):
    """A text that is not TOML: where, what was expected, what stands there.

    `line` and `column` count from 1 and are 0 where they are not known.
    """

    def __init__(self, line: int, column: int, expected: str, got: str) -> None:
        self.line, self.column, self.expected, self.got = line, column, expected, got
        super().__init__(f"expected {expected}, got {got}")


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

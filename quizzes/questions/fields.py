"""Read the fields of a question's table: a good value, or one sentence that names the place."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

MOST_CHARACTERS = 2000
NO_QUESTION = "-"  # in place of an id, if the fault is one of the file


class BankError(ValueError):
    """A bank that cannot be used: file, question, field, what was found and what was expected."""

    def __init__(self, file: str, item: str, name: str, got: object, expected: str) -> None:
        self.file, self.item, self.field, self.expected = file, item, name, expected
        found = "nothing" if got is None else f"{got!r:.80}"
        where = f"{name}" if item == NO_QUESTION else f"question {item!r}, field {name!r}"
        super().__init__(f"{file}, {where}: expected {expected}, found {found}")


@dataclass(slots=True)
class Fields:
    """A table of the file that knows where it stands, and which of its fields were not read."""

    file: str
    item: str
    table: Mapping[str, Any]
    within: str = ""
    _read: set[str] = field(default_factory=set)

    def refuse(self, name: str, expected: str) -> BankError:
        """Return the error that says what field `name` should hold."""
        return BankError(self.file, self.item, self.within + name, self.table.get(name), expected)

    def text(self, name: str, *, default: str | None = None) -> str:
        """Return a text of 1 to 2000 characters without line ends of its own."""
        value = self._get(name, default)
        if default is not None and value is default:
            return default
        if not isinstance(value, str) or not value.strip() or len(value) > MOST_CHARACTERS:
            raise self.refuse(name, f"a text of 1 to {MOST_CHARACTERS} characters")
        return " ".join(value.split())

    def one_of(self, name: str, allowed: Mapping[str, object]) -> str:
        """Return a text that is one of the names of `allowed`."""
        value: Any = self._get(name, None)
        if not isinstance(value, str) or value not in allowed:
            raise self.refuse(name, f"one of {', '.join(allowed)}")
        return value

    def number(self, name: str, low: float, high: float, *, default: float | None = None) -> float:
        """Return a number from `low` to `high`, in the unit of the field."""
        value: Any = self._get(name, default)
        if not is_number(value) or not low <= value <= high:
            raise self.refuse(name, f"a number from {low:g} to {high:g}")
        return float(value)

    def whole(self, name: str, low: int, high: int, *, default: int | None = None) -> int:
        """Return a whole number from `low` to `high`."""
        value = self._get(name, default)
        if type(value) is not int or not low <= value <= high:
            raise self.refuse(name, f"a whole number from {low} to {high}")
        return value

    def flag(self, name: str) -> bool:
        """Return true or false; false if it is left out."""
        value = self._get(name, default=False)
        if not isinstance(value, bool):
            raise self.refuse(name, "true or false")
        return value

    def name_or_number(self, name: str) -> str | float:
        """Return the name of a value of the model, or a number."""
        value = self._get(name, None)
        if isinstance(value, str) and value.isidentifier():
            return value
        if not is_number(value):
            raise self.refuse(name, "a number, or the name of a value that the model gives")
        return float(value)

    def texts(self, name: str, least: int, *, default: tuple[str, ...] | None = None) -> list[str]:
        """Return a list of at least `least` texts."""
        value = self._get(name, default)
        if value is default and default is not None:
            return list(default)
        good = isinstance(value, list) and all(
            isinstance(one, str) and one.strip() for one in value
        )
        if not good or not isinstance(value, list) or not least <= len(value) <= 24:
            raise self.refuse(name, f"a list of {least} to 24 texts")
        return [" ".join(one.split()) for one in value]

    def sequence(self, name: str) -> list[Any]:
        """Return a list, empty if it is left out; its members are for the caller to judge."""
        value = self._get(name, [])
        if not isinstance(value, list):
            raise self.refuse(name, "a list")
        return value

    def table_of(self, name: str) -> "Fields":
        """Return a table inside this one, empty if it is left out."""
        value = self._get(name, {})
        if not isinstance(value, dict):
            raise self.refuse(name, "a table")
        return Fields(self.file, self.item, value, f"{self.within}{name}.")

    def tables(self, name: str, least: int) -> list["Fields"]:
        """Return the tables of a `[[question.name]]` list."""
        value = self._get(name, [])
        good = isinstance(value, list) and all(isinstance(one, dict) for one in value)
        if not good or not least <= len(value) <= 24:
            raise self.refuse(name, f"{least} to 24 tables [[question.{name}]]")
        return [
            Fields(self.file, self.item, one, f"{self.within}{name} {at}, ")
            for at, one in enumerate(value, start=1)
        ]

    def done(self) -> None:
        """Refuse a field that nothing has read: it is misspelt or of another kind of question."""
        left = [name for name in self.table if name not in self._read]
        if left:
            known = ", ".join(sorted(self._read))
            raise self.refuse(left[0], f"no such field here, only {known}")

    def _get(self, name: str, default: object) -> Any:  # noqa: ANN401 (what TOML holds)
        self._read.add(name)
        return self.table.get(name, default)


def is_number(value: object) -> bool:
    """Return whether a value is a finite number, and not true or false."""
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)

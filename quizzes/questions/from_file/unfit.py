"""What is wrong in the bank's files: in the whole file, or at one place of one question."""

from collections.abc import Mapping
from typing import Any

from widgets.brake.sizes.readable import Fault, Place, shown

NO_QUESTION = "-"  # in place of an id, if the fault is one of the file


class BankError(ValueError):
    """A bank that cannot be used: file, question, field, what was found and what was expected."""

    def __init__(self, file: str, item: str, name: str, got: object, expected: str) -> None:
        self.file, self.item, self.field, self.expected = file, item, name, expected
        found = "nothing" if got is None else shown(got)
        where = f"{name}" if item == NO_QUESTION else f"question {item!r}, field {name!r}"
        super().__init__(f"{file}, {where}: expected {expected}, found {found}")


class UnfitError(ValueError):
    """Parts of a question that do not go together: the place that is blamed, what it should be."""

    def __init__(self, place: Place, expected: str) -> None:
        self.place, self.expected = place, expected
        super().__init__(f"{Fault(place, expected, '').name}: expected {expected}")


def value_at(row: Mapping[str, Any], place: Place) -> object:
    """Return what a row holds at a place, nothing where it holds no such place."""
    found: Any = row
    for step in place:
        if isinstance(found, dict):
            found = found.get(step)
        elif isinstance(found, list) and isinstance(step, int) and step < len(found):
            found = found[step]
        else:
            return None
    return found

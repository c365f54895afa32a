"""Reading one table of a blueprint: every fault is a sentence with file, line, key and rule."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

_NONE: Any = object()
LONGEST_TEXT = 80
MOST_ENTRIES = 100


class BlueprintError(ValueError):
    """A blueprint that cannot be used; the text is one sentence for the trainer."""


@dataclass(frozen=True, slots=True)
class Fields:
    """One table of a blueprint file, and where it stands.

    `place` is empty for the top of the file, or "cases 2" for its second `[[cases]]`.
    """

    file: str
    source: str
    place: str
    table: Mapping[str, Any]

    def wrong(self, key: str, expected: str, got: object) -> BlueprintError:
        """Return the error for a key: file, line, place, what was expected, what stood there."""
        where = f"{self.file}, line {self._line(key)}"
        name = f"{self.place}: {key}" if self.place else key
        return BlueprintError(f"{where}, {name}: expected {expected}, got {got!r:.80}.")

    def only(self, known: Collection[str]) -> None:
        """Refuse a key that means nothing here."""
        for key in self.table:
            if key not in known:
                raise self.wrong(key, f"one of the keys {', '.join(sorted(known))}", key)

    def text(
        self,
        key: str,
        *,
        among: Collection[str] = (),
        default: str = _NONE,
        most: int = LONGEST_TEXT,
    ) -> str:
        """Return a text of 1 to `most` characters, one of `among` if any are given."""
        value = self._value(key, default)
        if default is not _NONE and value == default:
            return str(value)
        if not isinstance(value, str) or not 0 < len(value) <= most:
            raise self.wrong(key, f"a text of 1 to {most} characters", value)
        if among and value not in among:
            raise self.wrong(key, f"one of {', '.join(among)}", value)
        return value

    def texts(
        self, key: str, *, among: Collection[str] = (), default: tuple[str, ...] = _NONE
    ) -> tuple[str, ...]:
        """Return a list of different texts, each one of `among` if any are given."""
        value = self._value(key, default)
        if default is not _NONE and value == default:
            return tuple(value)
        if not isinstance(value, list) or not 0 < len(value) <= MOST_ENTRIES:
            raise self.wrong(key, f"a list of 1 to {MOST_ENTRIES} texts", value)
        for one in value:
            if not isinstance(one, str) or not 0 < len(one) <= LONGEST_TEXT:
                raise self.wrong(key, f"texts of 1 to {LONGEST_TEXT} characters", one)
            if among and one not in among:
                raise self.wrong(key, f"only {', '.join(among)}", one)
        if len(set(value)) < len(value):
            raise self.wrong(key, "each only once", value)
        return tuple(value)

    def whole(self, key: str, low: int, high: int, *, default: int = _NONE) -> int:
        """Return a whole number from low to high."""
        value = self._value(key, default)
        if type(value) is not int or not low <= value <= high:
            raise self.wrong(key, f"a whole number from {low} to {high}", value)
        return value

    def pair(
        self, key: str, low: float, high: float, *, default: tuple[float, float]
    ) -> tuple[float, float]:
        """Return two numbers, the smaller first, both from low to high."""
        value = self._value(key, list(default))
        good = isinstance(value, list) and len(value) == 2
        good = good and all(type(one) in {int, float} for one in value)
        if not good or not low <= value[0] <= value[1] <= high:
            raise self.wrong(key, f"two numbers from {low:g} to {high:g}, the smaller first", value)
        return float(value[0]), float(value[1])

    def tables(self, key: str, *, least: int = 1) -> Iterator["Fields"]:
        """Return the tables of an array of tables, in order."""
        value = self._value(key, [] if least == 0 else _NONE)
        if not isinstance(value, list) or not least <= len(value) <= MOST_ENTRIES:
            raise self.wrong(key, f"{least} to {MOST_ENTRIES} tables [[{key}]]", value)
        for number, table in enumerate(value, start=1):
            if not isinstance(table, dict):
                raise self.wrong(key, f"tables [[{key}]]", table)
            yield Fields(self.file, self.source, f"{key} {number}", table)

    def _value(self, key: str, default: Any) -> Any:  # noqa: ANN401 (whatever TOML holds)
        if key in self.table:
            return self.table[key]
        if default is not _NONE:
            return default
        raise self.wrong(key, "this key", "nothing")

    def _line(self, key: str) -> int:
        """Return the line of a key, or of its table where the key is not there; 1 at the top."""
        lines = self.source.splitlines() or [""]
        start = self._start(lines)
        for number, line in enumerate(lines[start:], start=start + 1):
            if number > start + 1 and line.lstrip().startswith("["):
                break
            if line.split("=")[0].strip().strip('"') == key:
                return number
        return max(1, start)

    def _start(self, lines: list[str]) -> int:
        if not self.place:
            return 0
        name, _, number = self.place.partition(" ")
        heads = [
            at for at, line in enumerate(lines, start=1)
            if line.split("#")[0].replace(" ", "").strip() == f"[[{name}]]"
        ]  # fmt: skip
        return heads[int(number) - 1] if len(heads) >= int(number) else 0

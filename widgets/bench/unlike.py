"""Where today's model shows something else than a log holds: both values, side by side.

A log is what somebody saw. If the model has been bettered since, that is worth a notice and no
more; whether a log was altered, the ledger tells.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Notice:
    """A place in a line of a log at which today's model shows something else.

    Attributes
    ----------
    line : int
        Of the log, from 1.
    place : str
        In the observation, dotted.
    kept, today : object
        Both values as JSON has them; None where there is none.
    """

    line: int
    place: str
    kept: Any
    today: Any

    def to_json(self) -> dict[str, Any]:
        """Return the notice as plain JSON."""
        return {"line": self.line, "place": self.place, "kept": self.kept, "today": self.today}


def unlike(kept: Mapping[str, Any], today: Mapping[str, Any], line: int) -> tuple[Notice, ...]:
    """Return a notice for each place at which a kept observation and today's differ.

    Examples
    --------
    >>> unlike({"facts": {"gap_mm": 0.35}}, {"facts": {"gap_mm": 0.34}}, line=3)
    (Notice(line=3, place='facts.gap_mm', kept=0.35, today=0.34),)
    """
    return tuple(Notice(line, *found) for found in _places("", kept, today))


def _places(place: str, kept: object, today: object) -> Iterator[tuple[str, object, object]]:
    if isinstance(kept, Mapping) and isinstance(today, Mapping):
        for key in dict.fromkeys([*kept, *today]):
            inner = f"{place}.{key}" if place else str(key)
            yield from _places(inner, kept.get(key), today.get(key))
    elif _plain(kept) != _plain(today):
        yield place, _plain(kept), _plain(today)


def _plain(value: object) -> object:
    return [_plain(one) for one in value] if isinstance(value, list | tuple) else value

"""Where today's model shows something else than a log holds: both values, side by side.

A log is what somebody saw. If the model has been bettered since, that is worth a notice and no
more; whether a log was altered, the ledger tells.
"""

from collections.abc import Iterator, Mapping
from typing import Any


def unlike(kept: Mapping[str, Any], today: Mapping[str, Any]) -> tuple[str, ...]:
    """Return a phrase for each place at which a kept observation and today's differ.

    Examples
    --------
    >>> unlike({"facts": {"gap_mm": 0.35}}, {"facts": {"gap_mm": 0.34}})
    ("facts.gap_mm: kept 0.35, today's model shows 0.34",)
    """
    return tuple(_places("", kept, today))


def _places(place: str, kept: object, today: object) -> Iterator[str]:
    if isinstance(kept, Mapping) and isinstance(today, Mapping):
        for key in dict.fromkeys([*kept, *today]):
            inner = f"{place}.{key}" if place else str(key)
            yield from _places(inner, kept.get(key, "nothing"), today.get(key, "nothing"))
    elif _plain(kept) != _plain(today):
        yield f"{place}: kept {kept!s:.80}, today's model shows {today!s:.80}"


def _plain(value: object) -> object:
    return [_plain(one) for one in value] if isinstance(value, list | tuple) else value

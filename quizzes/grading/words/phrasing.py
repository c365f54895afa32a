"""How a table of words says facts: plain sentences, yes or no, lists."""

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from .names import act_words

Facts = Mapping[str, Any]
Words = str | Callable[[Facts], str]


def kept(what: str) -> Callable[[Facts], str]:
    """Return words for a check that was kept or not."""
    return lambda facts: f"{'Yes' if facts['kept'] else 'No'}: {what}.".format(**facts)


def done(words: str) -> Callable[[Facts], str]:
    """Return words for an act and its place in the log."""
    return lambda facts: f"{act_words(facts['act'])} at step {facts['step']} {words}"


def number_of(count: int, one: str, more: str) -> str:
    """Return a number with its noun: “1 place”, “3 places”."""
    return f"{count} {one if count == 1 else more}"


def listed(values: Iterable[Any], names: Mapping[str, str] | None = None, by: str = ", ") -> str:
    """Return values in one phrase, by their names where these are given."""
    return by.join(names[one] if names else f"{one}" for one in values)


def placed(angles_deg: Iterable[float]) -> str:
    """Return places round the rim."""
    return ", ".join(f"{angle_deg:.0f}°" for angle_deg in angles_deg)

"""Words that depend on a fact of what was seen."""

from collections.abc import Callable, Mapping
from typing import Any

Facts = Mapping[str, Any]
Words = str | Callable[[Facts], str]


def if_so(fact: str, yes: str, no: str = "") -> Callable[[Facts], str]:
    """Return words that depend on one fact."""
    return lambda facts: (yes if facts[fact] else no).format(**facts)


def and_so(first: str, fact: str, more: str) -> Callable[[Facts], str]:
    """Return a sentence, with a second one if a fact is so."""
    return lambda facts: (f"{first} {more}" if facts[fact] else first).format(**facts)

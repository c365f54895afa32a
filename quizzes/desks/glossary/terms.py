"""The glossary: every word of the trade that the suite uses, explained."""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

BOOK = Path(__file__).with_name("glossary.toml")
_FIELDS = {"term", "means", "also", "common"}


@dataclass(frozen=True, slots=True)
class Term:
    """One word: as the lessons write it, what it means, and by what other names it goes.

    Attributes
    ----------
    term : str
        The word.
    means : str
        One or two plain sentences.
    also : tuple of str
        Other names and forms, in any order.
    common : bool
        Whether everyday English uses the word too, so that lessons do not mark it.
    """

    term: str
    means: str
    also: tuple[str, ...] = ()
    common: bool = False

    @property
    def anchor(self) -> str:
        """What is behind the `#` of the glossary's address: `air-gap`."""
        return re.sub(r"[^a-z0-9]+", "-", self.term.lower()).strip("-")

    def brief(self) -> dict[str, Any]:
        """Return the term as the page's script reads it."""
        return {
            "term": self.term,
            "means": self.means,
            "also": list(self.also),
            "anchor": self.anchor,
        }


def read_glossary(path: Path) -> tuple[Term, ...]:
    """Return the terms of a glossary file, in the order of the alphabet.

    Parameters
    ----------
    path : Path
        A TOML file with a `[[term]]` for each word.

    Raises
    ------
    ValueError
        If the file is not TOML, a field is missing, unknown or empty, or a
        name belongs to two terms; the sentence names the term.
    """
    try:
        table = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise ValueError(f"{path.name}: expected TOML, {error}") from None
    rows = table.get("term")
    if not isinstance(rows, list) or not rows:
        raise ValueError(f"{path.name}: expected at least one [[term]]")
    terms = tuple(_term(path, number, row) for number, row in enumerate(rows, start=1))
    _refuse_twins(path, terms)
    return tuple(sorted(terms, key=lambda term: term.term.lower()))


def _term(path: Path, number: int, row: object) -> Term:
    where = f"{path.name}, term {number}"
    if not isinstance(row, Mapping) or set(row) - _FIELDS:
        raise ValueError(
            f"{where}: expected the fields term, means, also and common, got {row!r:.60}"
        )
    for name in ("term", "means"):
        if not isinstance(row.get(name), str) or not row[name].strip():
            raise ValueError(f"{where}, {name}: expected words, got {row.get(name)!r:.60}")
    also = row.get("also", [])
    if not isinstance(also, list) or not all(isinstance(one, str) and one.strip() for one in also):
        raise ValueError(f"{where}, also: expected a list of names, got {also!r:.60}")
    common = row.get("common", False)
    if not isinstance(common, bool):
        said = f"{where}, common: expected true or false, got {common!r:.60}"
        raise ValueError(said)  # noqa: TRY004 (the file is wrong, not a caller)
    names = tuple(one.strip() for one in also)
    return Term(row["term"].strip(), row["means"].strip(), names, common)


def _refuse_twins(path: Path, terms: tuple[Term, ...]) -> None:
    owners: dict[str, str] = {}
    for term in terms:
        for name in (term.term, *term.also):
            owner = owners.setdefault(name.lower(), term.term)
            if owner != term.term:
                raise ValueError(f"{path.name}: {name!r} belongs to {owner!r} and {term.term!r}")


@cache
def glossary() -> tuple[Term, ...]:
    """Return the suite's own glossary, in the order of the alphabet."""
    return read_glossary(BOOK)

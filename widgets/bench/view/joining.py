"""A part's ES module as one text, with the modules that it imports before it.

A page's module reaches the browser as one text, from which it cannot import its neighbours.
"""

import re
from pathlib import Path

_IMPORT = re.compile(r'^import (\{[^}]*\}) from "(\.{1,2}/[\w./]+)\.js";$', re.MULTILINE)
_EXPORT = re.compile(r"^export (?:const|function|class) (\w+)", re.MULTILINE)


def joined_file(path: Path) -> str:
    """Return an ES module with the modules that it imports put before it, each once.

    Each neighbour keeps a scope of its own, and is named after its file.

    Parameters
    ----------
    path : Path
        The module's file; it imports by names in braces, from files beside or below other folders.

    Raises
    ------
    FileNotFoundError
        If there is no such module, or one that it imports is not there.
    """
    neighbours: dict[Path, str] = {}  # each after those that it imports itself
    own = _linked(path, neighbours)
    return "\n".join([*neighbours.values(), own])


def _linked(path: Path, neighbours: dict[Path, str]) -> str:
    """Return a module's text with its imports taken from the scopes of its neighbours."""

    def from_neighbour(found: re.Match[str]) -> str:
        other = (path.parent / f"{found[2]}.js").resolve()
        if other not in neighbours:
            neighbours[other] = _scoped(other, neighbours)
        return f"const {found[1]} = from_{other.stem};"

    return _IMPORT.sub(from_neighbour, path.read_text(encoding="utf-8"))


def _scoped(path: Path, neighbours: dict[Path, str]) -> str:
    linked = _linked(path, neighbours)
    exported = ", ".join(_EXPORT.findall(linked))
    inside = re.sub(r"^export ", "", linked, flags=re.MULTILINE)
    return f"const from_{path.stem} = (() => {{\n{inside}\nreturn {{ {exported} }};\n}})();"

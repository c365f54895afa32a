"""A part's ES module as one text, with the modules that it imports before it.

A page's module reaches the browser as one text, from which it cannot import its neighbours.
What is not understood is refused: a module joined wrongly would fail in the browser, silently.
"""

import re
from collections.abc import Iterator
from pathlib import Path

_IMPORT = re.compile(
    r'^import \{\s*([\w$]+(?:\s*,\s*[\w$]+)*)\s*,?\s*\} from "(\.{1,2}/[\w./]+)\.js";$',
    re.MULTILINE,
)
_EXPORT = re.compile(r"^export (?:async )?(?:const|let|function\*?|class) ([\w$]+)", re.MULTILINE)
_DEFAULT = re.compile(r"^export default ", re.MULTILINE)
_IMPORT_WORD = re.compile(r"^\s*import\b(?!\s*\()", re.MULTILINE)
_EXPORT_WORD = re.compile(r"^\s*export\b", re.MULTILINE)
_COMMENT = re.compile(r"/\*[\s\S]*?\*/|^[ \t]*//[^\n]*", re.MULTILINE)


class JoiningError(ValueError):
    """A module that cannot be joined; the sentence names file, line and what was expected."""


def joined_file(path: Path) -> str:
    """Return an ES module with the modules that it imports put before it, each once.

    Each neighbour keeps a scope of its own, and is named after its file.

    Parameters
    ----------
    path : Path
        The module's file; it imports by plain names in braces, `import { a, b } from "./c.js";`.

    Raises
    ------
    FileNotFoundError
        If there is no such module, or one that it imports is not there.
    JoiningError
        If a module imports or exports in another form (an alias, a star, a list, a default below
        the first module), imports what its neighbour does not export, or imports in a circle, or
        if two modules have the same file name.
    """
    own = path.resolve()
    joiner = _Joiner(own)
    text = joiner.linked(own, ())
    return "\n".join([*joiner.neighbours.values(), text])


class _Joiner:
    """The modules joined so far, each after those that it imports itself."""

    def __init__(self, first: Path) -> None:
        self.neighbours: dict[Path, str] = {}
        self._exports: dict[Path, frozenset[str]] = {}
        self._stems = {first.stem: first}

    def linked(self, path: Path, above: tuple[Path, ...]) -> str:
        """Return a module's text with its imports taken from the scopes of its neighbours."""
        if path in above:
            circle = " -> ".join(one.name for one in (*above[above.index(path) :], path))
            raise JoiningError(f"{path.name} is imported in a circle: {circle}")
        text = path.read_text(encoding="utf-8")
        _refuse_other_forms(path, text, first=not above)

        def from_neighbour(found: re.Match[str]) -> str:
            other = (path.parent / f"{found[2]}.js").resolve()
            names = [name.strip() for name in found[1].split(",")]
            self._add(other, (*above, path))
            for name in names:
                if name not in self._exports[other]:
                    raise JoiningError(f"{path.name} imports {name}, which {other.name} lacks")
            return f"const {{ {', '.join(names)} }} = from_{other.stem};"

        return _IMPORT.sub(from_neighbour, text)

    def _add(self, path: Path, above: tuple[Path, ...]) -> None:
        if path in self.neighbours:
            return
        known = self._stems.setdefault(path.stem, path)
        if known != path:
            raise JoiningError(f"{known} and {path} have the same file name; rename one of them")
        text = self.linked(path, above)
        exported = _EXPORT.findall(text)
        inside = re.sub(r"^export ", "", text, flags=re.MULTILINE)
        self._exports[path] = frozenset(exported)
        self.neighbours[path] = (
            f"const from_{path.stem} = (() => {{\n{inside}\nreturn {{ {', '.join(exported)} }};\n"
            "})();"
        )


def _refuse_other_forms(path: Path, text: str, *, first: bool) -> None:
    known = {found.start() for found in (*_IMPORT.finditer(text), *_EXPORT.finditer(text))}
    if first:
        known |= {found.start() for found in _DEFAULT.finditer(text)}
    for at in _statements(text):
        if at not in known:
            line = text.count("\n", 0, at) + 1
            words = text[at:].split("\n", 1)[0].strip()
            raise JoiningError(
                f'{path.name}, line {line}: expected `import {{ name }} from "./file.js";` or '
                f"`export const|function|class name`, got `{words[:80]}`"
            )


def _statements(text: str) -> Iterator[int]:
    """Yield where a line begins with `import` or `export`, comments left out."""
    bare = _COMMENT.sub(lambda found: re.sub(r"[^\n]", " ", found[0]), text)
    for word in (_IMPORT_WORD, _EXPORT_WORD):
        for found in word.finditer(bare):
            start = found.start()
            yield start + len(found[0]) - len(found[0].lstrip())

"""A part of the findings of a job sheet, as page and paper show it."""

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Block:
    """A part of the findings: a heading, lines, and a table where there is one."""

    title: str
    lines: tuple[str, ...]
    heads: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()

    def to_json(self) -> dict[str, Any]:
        """Return the block as the page's script draws it."""
        return {
            "title": self.title,
            "lines": list(self.lines),
            "heads": list(self.heads),
            "rows": [list(row) for row in self.rows],
        }

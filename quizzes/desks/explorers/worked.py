"""A worked solution, folded away until somebody wants it; and the paragraphs of a story."""

import html
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Lines:
    """Sentences on a page: numbered, and folded under a summary.

    Parameters
    ----------
    lines : sequence of str
        Plain sentences; they are never taken for markup.
    summary : str
        What is on the fold.
    """

    lines: Sequence[str]
    summary: str

    def __post_init__(self) -> None:
        if not self.lines:
            raise ValueError("lines must hold at least one sentence, got none")

    def _repr_html_(self) -> str:
        items = "".join(f"<li>{html.escape(line)}</li>" for line in self.lines)
        fold = html.escape(self.summary)
        return f'<details class="sum"><summary>{fold}</summary><ol>{items}</ol></details>'

    def __str__(self) -> str:
        return "\n".join(self.lines)


@dataclass(frozen=True, slots=True)
class Prose:
    """Paragraphs of a story; plain text, never taken for markup."""

    paragraphs: Sequence[str]

    def _repr_html_(self) -> str:
        told = "".join(f"<p>{html.escape(one, quote=False)}</p>" for one in self.paragraphs)
        return f'<div class="told">{told}</div>'

    def __str__(self) -> str:
        return "\n\n".join(self.paragraphs)


def worked(*lines: str) -> Lines:
    """Return a worked solution, folded under its summary.

    Examples
    --------
    >>> print(worked("Half of 62 days:", "31 days."))
    Half of 62 days:
    31 days.
    """
    return Lines(lines, "Worked solution")

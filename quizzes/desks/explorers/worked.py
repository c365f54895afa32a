"""A worked solution, folded away until somebody wants it; and lines of a story, in their order."""

import html
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Lines:
    """Sentences on a page: numbered, and folded under a summary if there is one.

    Parameters
    ----------
    lines : sequence of str
        Plain sentences; they are never taken for markup.
    summary : str
        What stands on the fold; nothing for lines that are open.
    """

    lines: Sequence[str]
    summary: str = ""

    def __post_init__(self) -> None:
        if not self.lines:
            raise ValueError("lines must hold at least one sentence, got none")

    def _repr_html_(self) -> str:
        items = "".join(f"<li>{html.escape(line)}</li>" for line in self.lines)
        if not self.summary:
            return f'<ol class="told">{items}</ol>'
        fold = html.escape(self.summary)
        return f'<details class="sum"><summary>{fold}</summary><ol>{items}</ol></details>'

    def __str__(self) -> str:
        return "\n".join(self.lines)


def worked(*lines: str) -> Lines:
    """Return a worked solution, folded under its summary.

    Examples
    --------
    >>> print(worked("Half of 62 days:", "31 days."))
    Half of 62 days:
    31 days.
    """
    return Lines(lines, "Worked solution")

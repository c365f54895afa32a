"""Lines of a log: none is forged, none is endless, and no place fills the file by itself."""

import logging
import re
import time
from collections import Counter

LONGEST = 2_000  # characters of a line; a story of what went wrong may have as many lines
MOST_A_MINUTE = 120  # lines from one place in the code
CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]")
STORY = "    | "  # before each line of a traceback: no line of it passes for one of the log


def plain(text: str) -> str:
    r"""Return a text as one line of bounded length.

    Examples
    --------
    >>> plain("who\n2026-01-01 INFO server: all is well")
    'who\\n2026-01-01 INFO server: all is well'
    """
    cut = text[:LONGEST]
    shown = CONTROL.sub(lambda found: found[0].encode("unicode_escape").decode(), cut)
    return shown if len(cut) == len(text) else f"{shown}… ({len(text)} characters)"


def story(text: str) -> str:
    """Return a traceback's lines, each marked and bounded, the middle left out where it is long."""
    lines = text.splitlines()
    most = LONGEST // 20
    if len(lines) > most:
        lines = [*lines[: most // 2], f"… {len(lines) - most} lines …", *lines[-most // 2 :]]
    return "\n".join(STORY + plain(line) for line in lines)


class NoFlood(logging.Filter):
    """Lets only so many lines a minute through from one place; says how many it kept back."""

    def __init__(self) -> None:
        super().__init__()
        self._minute = 0
        self._lines: Counter[tuple[str, int]] = Counter()

    def filter(self, record: logging.LogRecord) -> bool:
        """Return whether a line is written."""
        minute = int(time.monotonic() // 60)
        if minute != self._minute:
            self._minute = minute
            self._lines.clear()
        place = record.pathname, record.lineno
        self._lines[place] += 1
        if self._lines[place] == MOST_A_MINUTE:
            record.msg = f"{record.msg} (further lines like this are left out for a minute)"
        return self._lines[place] <= MOST_A_MINUTE

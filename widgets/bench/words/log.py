"""A log read again, in words: a line that is none, and what today's model shows otherwise."""

from collections.abc import Mapping

from widgets.bench.unlike import Notice

ALTERED: Mapping[str, str] = {
    "log.no-action": "line {line} of the log is not an action",
    "log.no-observation": "line {line} of the log is not an observation",
}


def altered_words(code: str, line: int) -> str:
    """Return what is wrong with a line of a log, counted from 1, as a clause.

    Raises
    ------
    KeyError
        If there is no such code.
    """
    return ALTERED[code].format(line=line)


def notice_words(notice: Notice) -> str:
    """Return a notice as a clause.

    Examples
    --------
    >>> notice_words(Notice(3, "facts.gap_mm", 0.35, 0.34))
    'line 3, facts.gap_mm: kept 0.35, today’s model shows 0.34'
    """
    kept, today = (
        "nothing" if value is None else f"{value!s:.80}" for value in (notice.kept, notice.today)
    )
    return f"line {notice.line}, {notice.place}: kept {kept}, today’s model shows {today}"

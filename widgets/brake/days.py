"""Days as a page says them."""

import datetime as dt


def day_words(on: dt.date, month: str = "%B") -> str:
    """Return a day in words, without a zero in front of it.

    Parameters
    ----------
    on : date
        The day, or a moment of it.
    month : str
        How its month is written: `%B` in full, `%b` in short.

    Examples
    --------
    >>> day_words(dt.date(2026, 12, 6))
    '6 December 2026'
    """
    return f"{on.day} {on:{month} %Y}"

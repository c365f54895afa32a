"""Which store is in use, said at the start: a mistyped address begins an empty one."""

from quizzes.records import Records
from quizzes.records.errors import parsed, shown


def store_words(url: str, *, demo: bool) -> str:
    """Return the line about the store.

    Parameters
    ----------
    url : str
        Its SQLAlchemy address; no password of it is shown.
    demo : bool
        Whether it is thrown away at the end.

    Raises
    ------
    RecordsError
        If it cannot be used.
    """
    if demo:
        return "Records: of invented people, thrown away when this demo ends."
    with Records(url) as store:
        empty = not store.results(limit=1)
    place = f"Records: {shown(parsed(url))}"
    if not empty:
        return place
    return f"{place} (no sitting yet; did you expect some? Check GAL_RECORDS or --records)"

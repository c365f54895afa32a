"""Questions that go over many sittings: whose is open, whose code is this, the list of results."""

import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any, TypedDict

from sqlalchemy import ColumnElement, Connection, and_, exists, func, select
from sqlalchemy.orm import aliased

from quizzes.records.canonical import parsed_object
from quizzes.records.checks import aware, whole
from quizzes.records.codes import return_code_sha256, same_hash
from quizzes.records.database.models import EntryRow, PersonRow, SittingRow
from quizzes.records.errors import LOG
from quizzes.records.rows import PRACTICE, ResultRow, Sitting

_FIRST = aliased(EntryRow)  # the outcome with which a sitting was finished
_STANDING = aliased(EntryRow)  # the outcome that no other corrects
_LATER = aliased(EntryRow)


def sought(name: str) -> str:
    """Return a name as it is looked for: no capitals, no accents.

    Parameters
    ----------
    name : str
        A name or a part of one.

    Returns
    -------
    str
        `muller` for `Müller`. Kept beside the name, since SQLite folds ASCII letters only.
    """
    apart = unicodedata.normalize("NFKD", name.strip()).casefold()
    return "".join(sign for sign in apart if not unicodedata.combining(sign))


NEWEST, OLDEST, BY_NAME, BY_OUTCOME = "newest", "oldest", "name", "outcome"
_ORDERS: dict[str, tuple[Any, ...]] = {
    NEWEST: (SittingRow.started_at.desc(),),
    OLDEST: (SittingRow.started_at,),
    BY_NAME: (PersonRow.sought_as.is_(None), PersonRow.sought_as, SittingRow.started_at.desc()),
    BY_OUTCOME: (_STANDING.outcome.is_(None), _STANDING.outcome, SittingRow.started_at.desc()),
}
PAGE_LIMIT = 500  # rows of a list at once


class Asked(TypedDict, total=False):
    """What may be asked of the list; each as in `Search`."""

    name: str | None
    person_id: str | None
    outcome: str | None
    finished: bool | None
    since: datetime | None
    until: datetime | None
    form_id: str | None
    owners: tuple[str, ...] | None
    order: str
    limit: int
    offset: int


@dataclass(frozen=True, slots=True)
class Search:
    """What is looked for on the assessor's list; None for whatever is there.

    Parameters
    ----------
    name : str, optional
        A part of the name; capitals and accents make no difference.
    person_id : str, optional
        Of this person alone.
    outcome : str, optional
        The word of the outcome that stands.
    finished : bool, optional
        True or False for one kind only; attempts that were not finished are listed otherwise.
    since, until : datetime, optional
        Begun at `since` or later, and before `until`; with a time zone.
    form_id : str, optional
        Of this form alone.
    owners : tuple of str, optional
        Of these alone, as those of a class.
    order : str
        `newest`, `oldest`, `name` or `outcome`; what is equal there, the newest first.
    limit : int
        How many rows, 1 to 500.
    offset : int
        How many to pass over first.

    Raises
    ------
    ValueError
        If one of these is out of its bounds.
    """

    name: str | None = None
    person_id: str | None = None
    outcome: str | None = None
    finished: bool | None = None
    since: datetime | None = None
    until: datetime | None = None
    form_id: str | None = None
    owners: tuple[str, ...] | None = None
    order: str = NEWEST
    limit: int = 50
    offset: int = 0

    def __post_init__(self) -> None:
        whole("limit", self.limit, 1, PAGE_LIMIT)
        whole("offset", self.offset, 0, 10**9)
        if self.order not in _ORDERS:
            raise ValueError(f"order must be one of {', '.join(_ORDERS)}, got {self.order!r:.40}")
        for moment in ("since", "until"):
            if (at := getattr(self, moment)) is not None:
                object.__setattr__(self, moment, aware(moment, at))


_COLUMNS = (
    SittingRow.id,
    SittingRow.person_id,
    PersonRow.display_name.label("name"),
    SittingRow.form_id,
    SittingRow.form_edition,
    SittingRow.place,
    SittingRow.owner,
    SittingRow.key,
    SittingRow.software_version,
    SittingRow.rules_edition,
    SittingRow.started_at,
    _FIRST.at.label("finished_at"),
    PersonRow.number,
)


def _sittings(*conditions: ColumnElement[bool]) -> Any:  # noqa: ANN401 - a Select of many columns
    first = and_(
        _FIRST.sitting_id == SittingRow.id, _FIRST.kind == "outcome", _FIRST.supersedes.is_(None)
    )
    return (
        select(*_COLUMNS)
        .select_from(SittingRow)
        .outerjoin(PersonRow, PersonRow.id == SittingRow.person_id)
        .outerjoin(_FIRST, first)
        .where(*conditions)
        .order_by(SittingRow.started_at.desc(), SittingRow.id)
    )


def _only(connection: Connection, query: Any) -> Sitting | None:  # noqa: ANN401 - as above
    for found in connection.execute(query.limit(1)).mappings():
        return Sitting(**found, return_code=None)
    return None


def sitting_of(connection: Connection, sitting_id: str) -> Sitting | None:
    """Return one sitting.

    Parameters
    ----------
    connection : Connection
        An open one.
    sitting_id : str
        Which.

    Returns
    -------
    Sitting or None
        None if there is none of this id.
    """
    return _only(connection, _sittings(SittingRow.id == str(sitting_id)))


def open_sitting_of(connection: Connection, owner: str, form_id: str | None) -> Sitting | None:
    """Return the newest unfinished sitting of a browser.

    Parameters
    ----------
    connection : Connection
        An open one.
    owner : str
        Hash of the browser's key.
    form_id : str or None
        Of this form alone; None for any but practice.

    Returns
    -------
    Sitting or None
        None if nothing is open.
    """
    form = SittingRow.form_id != PRACTICE if form_id is None else SittingRow.form_id == form_id
    return _only(connection, _sittings(SittingRow.owner == owner, form, _FIRST.at.is_(None)))


def sitting_of_code(connection: Connection, code: str) -> Sitting | None:
    """Return the sitting that a return code opens.

    Parameters
    ----------
    connection : Connection
        An open one.
    code : str
        As typed.

    Returns
    -------
    Sitting or None
        None, and a line in the log without the code, if it opens none.
    """
    wanted = return_code_sha256(code)
    if wanted is not None:
        stored = connection.execute(
            select(SittingRow.id, SittingRow.return_code_sha256).where(
                SittingRow.return_code_sha256 == wanted
            )
        ).one_or_none()
        if stored is not None and same_hash(stored.return_code_sha256, wanted):
            return sitting_of(connection, stored.id)
    LOG.warning("a return code was tried that opens no sitting")
    return None


def result_rows(connection: Connection, search: Search) -> tuple[ResultRow, ...]:
    """Return a page of the assessor's list, without practice."""
    query = _sittings(*_conditions(search)).add_columns(
        _STANDING.outcome, _STANDING.body, _STANDING.supersedes
    )
    query = query.outerjoin(_STANDING, _standing()).limit(search.limit).offset(search.offset)
    query = query.order_by(None).order_by(*_ORDERS[search.order], SittingRow.id)
    return tuple(_result(found) for found in connection.execute(query))


def how_many(connection: Connection, search: Search) -> int:
    """Return how many sittings a search finds."""
    found = _sittings(*_conditions(search)).outerjoin(_STANDING, _standing()).order_by(None)
    query = select(func.count()).select_from(found.subquery())
    return int(connection.execute(query).scalar_one())


def _standing() -> ColumnElement[bool]:
    corrected = exists().where(_LATER.supersedes == _STANDING.seq)
    return and_(_STANDING.sitting_id == SittingRow.id, _STANDING.kind == "outcome", ~corrected)


def _conditions(search: Search) -> Iterator[ColumnElement[bool]]:
    yield SittingRow.form_id != PRACTICE
    if search.name is not None:
        yield PersonRow.sought_as.contains(sought(search.name), autoescape=True)
    if search.person_id is not None:
        yield SittingRow.person_id == search.person_id
    if search.outcome is not None:
        yield _STANDING.outcome == search.outcome
    if search.finished is not None:
        yield _FIRST.at.is_not(None) if search.finished else _FIRST.at.is_(None)
    if search.since is not None:
        yield SittingRow.started_at >= search.since
    if search.until is not None:
        yield SittingRow.started_at < search.until
    if search.form_id is not None:
        yield SittingRow.form_id == search.form_id
    if search.owners is not None:
        yield SittingRow.owner.in_(search.owners)


def _result(found: Any) -> ResultRow:  # noqa: ANN401 - a row of the query above
    return ResultRow(
        sitting_id=found.id,
        person_id=found.person_id,
        name=found.name,
        form_id=found.form_id,
        form_edition=found.form_edition,
        place=found.place,
        started_at=found.started_at,
        finished_at=found.finished_at,
        outcome=found.outcome,
        content=_content(found.body),
        corrected=found.supersedes is not None,
    )


def _content(body: str | None) -> dict[str, Any] | None:
    """Return the outcome in a body; None where there is none, or none that can be read."""
    try:
        content = parsed_object(body or "{}").get("content")
    except (ValueError, AttributeError):
        return None
    return content if isinstance(content, dict) else None


def last_sittings_of(connection: Connection) -> dict[str, datetime]:
    """Return when each person last began a sitting."""
    query = select(SittingRow.person_id, func.max(SittingRow.started_at))
    found = connection.execute(query.group_by(SittingRow.person_id))
    return {person_id: began for person_id, began in found}  # noqa: C416 - rows are not tuples

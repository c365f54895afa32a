"""Questions that go over many sittings: whose is open, whose code is this, the list of results."""

import unicodedata
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Connection, and_, exists, func, select
from sqlalchemy.orm import aliased

from quizzes.records.canonical import parsed_object
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


def result_rows(
    connection: Connection,
    *,
    name: str | None,
    person_id: str | None,
    outcome: str | None,
    finished: bool | None,
    since: datetime | None,
    until: datetime | None,
    limit: int,
    offset: int,
) -> tuple[ResultRow, ...]:
    """Return a page of the assessor's list, newest first.

    Parameters
    ----------
    connection : Connection
        An open one.
    name, person_id, outcome, finished, since, until, limit, offset
        As `Records.results` takes them.

    Returns
    -------
    tuple of ResultRow
        Without practice.
    """
    corrected = exists().where(_LATER.supersedes == _STANDING.seq)
    standing = and_(_STANDING.sitting_id == SittingRow.id, _STANDING.kind == "outcome", ~corrected)
    query = _sittings(SittingRow.form_id != PRACTICE).add_columns(
        _STANDING.outcome, _STANDING.body, _STANDING.supersedes
    )
    query = query.outerjoin(_STANDING, standing).limit(limit).offset(offset)
    if name is not None:
        query = query.where(PersonRow.sought_as.contains(sought(name), autoescape=True))
    if person_id is not None:
        query = query.where(SittingRow.person_id == person_id)
    if outcome is not None:
        query = query.where(_STANDING.outcome == outcome)
    if finished is not None:
        query = query.where(_FIRST.at.is_not(None) if finished else _FIRST.at.is_(None))
    if since is not None:
        query = query.where(SittingRow.started_at >= since)
    if until is not None:
        query = query.where(SittingRow.started_at < until)
    return tuple(_result(found) for found in connection.execute(query))


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
    return {person_id: began for person_id, began in found}  # noqa: C416 - rows are no tuples

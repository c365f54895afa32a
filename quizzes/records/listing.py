"""Questions that go over many sittings: whose is open, whose code is this, the list of results."""

import unicodedata
from datetime import datetime

from sqlalchemy import ColumnElement, Select, and_, exists, select
from sqlalchemy.orm import Session, aliased

from quizzes.records.canonical import parsed_object
from quizzes.records.codes import return_code_sha256, same_hash
from quizzes.records.errors import LOG
from quizzes.records.models import EntryRow, PersonNameRow, SittingRow
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


def _sittings(*conditions: ColumnElement[bool]) -> Select[SittingRow, str | None, datetime | None]:
    first = and_(
        _FIRST.sitting_id == SittingRow.id, _FIRST.kind == "outcome", _FIRST.supersedes.is_(None)
    )
    return (
        select(SittingRow, PersonNameRow.display_name, _FIRST.at)
        .outerjoin(PersonNameRow, PersonNameRow.person_id == SittingRow.person_id)
        .outerjoin(_FIRST, first)
        .where(*conditions)
        .order_by(SittingRow.started_at.desc(), SittingRow.id)
    )


def _only(
    session: Session, query: Select[SittingRow, str | None, datetime | None]
) -> Sitting | None:
    for row, name, finished_at in session.execute(query.limit(1)):
        return _sitting(row, name, finished_at)
    return None


def _sitting(row: SittingRow, name: str | None, finished_at: datetime | None) -> Sitting:
    return Sitting(
        id=row.id,
        person_id=row.person_id,
        name=name,
        form_id=row.form_id,
        form_edition=row.form_edition,
        place=row.place,
        owner=row.owner,
        key=row.key,
        return_code=None,
        software_version=row.software_version,
        rules_edition=row.rules_edition,
        started_at=row.started_at,
        finished_at=finished_at,
    )


def sitting_of(session: Session, sitting_id: str) -> Sitting | None:
    """Return one sitting.

    Parameters
    ----------
    session : Session
        An open one.
    sitting_id : str
        Which.

    Returns
    -------
    Sitting or None
        None if there is none of this id.
    """
    return _only(session, _sittings(SittingRow.id == str(sitting_id)))


def open_sitting_of(session: Session, owner: str, form_id: str | None) -> Sitting | None:
    """Return the newest unfinished sitting of a browser.

    Parameters
    ----------
    session : Session
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
    return _only(session, _sittings(SittingRow.owner == owner, form, _FIRST.at.is_(None)))


def sitting_of_code(session: Session, code: str) -> Sitting | None:
    """Return the sitting that a return code opens.

    Parameters
    ----------
    session : Session
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
        stored = session.execute(
            select(SittingRow.id, SittingRow.return_code_sha256).where(
                SittingRow.return_code_sha256 == wanted
            )
        ).one_or_none()
        if stored is not None and same_hash(stored.return_code_sha256, wanted):
            return sitting_of(session, stored.id)
    LOG.warning("a return code was tried that opens no sitting")
    return None


def result_rows(
    session: Session,
    *,
    name: str | None,
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
    session : Session
        An open one.
    name, outcome, finished, since, until, limit, offset
        As `Records.results` takes them.

    Returns
    -------
    tuple of ResultRow
        Without practice.
    """
    corrected = exists().where(
        _LATER.sitting_id == _STANDING.sitting_id, _LATER.supersedes == _STANDING.position
    )
    standing = and_(_STANDING.sitting_id == SittingRow.id, _STANDING.kind == "outcome", ~corrected)
    query = _sittings(SittingRow.form_id != PRACTICE).add_columns(
        _STANDING.outcome, _STANDING.body, _STANDING.supersedes
    )
    query = query.outerjoin(_STANDING, standing).limit(limit).offset(offset)
    if name is not None:
        query = query.where(PersonNameRow.sought_as.contains(sought(name), autoescape=True))
    if outcome is not None:
        query = query.where(_STANDING.outcome == outcome)
    if finished is not None:
        query = query.where(_FIRST.at.is_not(None) if finished else _FIRST.at.is_(None))
    if since is not None:
        query = query.where(SittingRow.started_at >= since)
    if until is not None:
        query = query.where(SittingRow.started_at < until)
    return tuple(_result(*found) for found in session.execute(query))


def _result(  # noqa: PLR0917 - the columns of the query, in order
    row: SittingRow,
    name: str | None,
    finished_at: datetime | None,
    outcome: str | None,
    body: str | None,
    supersedes: int | None,
) -> ResultRow:
    return ResultRow(
        sitting_id=row.id,
        person_id=row.person_id,
        name=name,
        form_id=row.form_id,
        form_edition=row.form_edition,
        place=row.place,
        started_at=row.started_at,
        finished_at=finished_at,
        outcome=outcome,
        content=None if body is None else parsed_object(body)["content"],
        corrected=supersedes is not None,
    )

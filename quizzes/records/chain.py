"""The log of one sitting: how an entry is added to its chain, and how the chain is checked."""

from datetime import UTC, datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from quizzes.records.canonical import link_sha256
from quizzes.records.errors import LOG, NoSuchSitting
from quizzes.records.models import EntryRow, SittingRow
from quizzes.records.rows import ChainCheck


def sitting_row(session: Session, sitting_id: str, *, lock: bool = False) -> SittingRow:
    """Return the row of a sitting.

    Parameters
    ----------
    session : Session
        An open one.
    sitting_id : str
        Which.
    lock : bool
        True to let nobody else write to this sitting until the transaction ends. SQLite has
        locked the whole store by then and takes no notice.

    Returns
    -------
    SittingRow
        Not to leave the session.

    Raises
    ------
    NoSuchSitting
        If there is none.
    """
    query = select(SittingRow).where(SittingRow.id == str(sitting_id))
    row = session.scalars(query.with_for_update() if lock else query).one_or_none()
    if row is None:
        message = f"The record store holds no sitting {sitting_id!s:.40}. Begin a new one."
        LOG.warning("%s", message)
        raise NoSuchSitting(message)
    return row


def add_entry(
    session: Session,
    sitting: SittingRow,
    *,
    kind: str,
    at: datetime,
    body: str,
    slot: int | None = None,
    step: int | None = None,
    outcome: str | None = None,
    supersedes: int | None = None,
) -> EntryRow:
    """Add one link to the chain of a sitting.

    Parameters
    ----------
    session : Session
        One that holds the lock of the sitting.
    sitting : SittingRow
        Whose log.
    kind : str
        `event`, `grade` or `outcome`.
    at : datetime
        With a time zone.
    body : str
        Canonical JSON.
    slot, step, outcome, supersedes
        As the kind asks for.

    Returns
    -------
    EntryRow
        Sent to the database, not committed.
    """
    query = select(EntryRow.position, EntryRow.sha256).where(EntryRow.sitting_id == sitting.id)
    last = session.execute(query.order_by(EntryRow.position.desc()).limit(1)).one_or_none()
    position, previous = (last.position, last.sha256) if last else (0, _root_sha256(sitting))
    entry = EntryRow(
        sitting_id=sitting.id,
        position=position + 1,
        kind=kind,
        slot=slot,
        step=step,
        at=at,
        body=body,
        outcome=outcome,
        supersedes=supersedes,
        previous_sha256=previous,
    )
    entry.sha256 = _entry_sha256(entry)
    session.add(entry)
    session.flush()
    return entry


def _root_sha256(sitting: SittingRow) -> str:
    """Return what the first entry hangs on: all of the sitting's row, so that it stays too."""
    facts: dict[str, object] = {
        column: getattr(sitting, column)
        for column in (
            "id",
            "person_id",
            "form_id",
            "form_edition",
            "place",
            "owner",
            "return_code_sha256",
            "software_version",
            "rules_edition",
        )
    }
    return link_sha256(
        "", facts | {"key": sitting.key.hex(), "started_at": _iso(sitting.started_at)}
    )


def _entry_sha256(entry: EntryRow) -> str:
    facts: dict[str, object] = {
        column: getattr(entry, column)
        for column in (
            "sitting_id",
            "position",
            "kind",
            "slot",
            "step",
            "body",
            "outcome",
            "supersedes",
        )
    }
    return link_sha256(entry.previous_sha256, facts | {"at": _iso(entry.at)})


def _iso(moment: datetime) -> str:
    return moment.astimezone(UTC).isoformat(timespec="microseconds")


def checked(session: Session, sitting_id: str) -> ChainCheck:
    """Return what a walk along the chain of a sitting found.

    Parameters
    ----------
    session : Session
        An open one.
    sitting_id : str
        Which.

    Returns
    -------
    ChainCheck
        With the first place that does not fit.
    """
    sitting = sitting_row(session, sitting_id)
    query = select(EntryRow).where(EntryRow.sitting_id == sitting.id).order_by(EntryRow.position)
    head, fitting = _root_sha256(sitting), 0
    for entry in session.scalars(query):
        reason = _misfit(entry, fitting + 1, head)
        if reason:
            # The sitting's own row is what the first entry hangs on.
            at_root = fitting == 0 and entry.position == 1 and entry.sha256 == _entry_sha256(entry)
            place = 0 if at_root else fitting + 1
            return ChainCheck(sitting.id, False, fitting, head, place, reason)  # noqa: FBT003
        head, fitting = entry.sha256, fitting + 1
    return ChainCheck(sitting.id, True, fitting, head, None, "")  # noqa: FBT003


def _misfit(entry: EntryRow, position: int, head: str) -> str:
    if entry.position != position:
        return f"entry {position} is missing"
    if entry.previous_sha256 != head:
        return f"entry {position} does not follow what stands before it"
    if entry.sha256 != _entry_sha256(entry):
        return f"entry {position} was altered"
    return ""

"""What a sitting's log says, and what may still be added to it."""

from sqlalchemy import func, select
from sqlalchemy.orm import Session, aliased

from quizzes.records.canonical import parsed_object
from quizzes.records.chain import sitting_row
from quizzes.records.errors import LOG, StaleSitting
from quizzes.records.models import EntryRow, SittingRow
from quizzes.records.rows import Event, Judgement


def refuse_late(session: Session, sitting: SittingRow, slot: int | None, step: int | None) -> None:
    """Refuse an entry that another window has forestalled.

    Parameters
    ----------
    session : Session
        One that holds the lock of the sitting.
    sitting : SittingRow
        Whose log.
    slot, step : int or None
        Of the new entry; no step for a grade, neither for an outcome.

    Raises
    ------
    StaleSitting
        If the sitting is finished, the case handed over or the step written.
    ValueError
        If the step would leave a gap: the one before it was never stored.
    """
    mine = EntryRow.sitting_id == sitting.id
    judged = select(EntryRow.kind, EntryRow.slot).where(
        mine, EntryRow.kind.in_(("grade", "outcome"))
    )
    for kind, judged_slot in session.execute(judged):
        if kind == "outcome":
            raise _stale(sitting, "is finished")
        if judged_slot == slot:
            raise _stale(sitting, f"has handed over case {slot} already")
    if step is None:
        return
    latest = select(func.max(EntryRow.step)).where(mine, EntryRow.slot == slot)
    last = session.execute(latest).scalar_one()
    written = 0 if last is None else last + 1
    if step < written:
        raise _stale(sitting, f"has gone on in another window (case {slot}, step {step})")
    if step > written:
        raise ValueError(f"step must be {written}, the next in slot {slot}, got {step}")


def refuse_corrected(session: Session, sitting: SittingRow, old: Judgement) -> None:
    """Refuse to correct what is not there or what somebody has corrected already.

    Parameters
    ----------
    session : Session
        One that holds the lock of the sitting.
    sitting : SittingRow
        Whose log.
    old : Judgement
        What is to be corrected, as it was read.

    Raises
    ------
    StaleSitting
        If a later entry corrects it.
    ValueError
        If no such grade or outcome is stored.
    """
    kind = "outcome" if old.slot is None else "grade"
    stored = judgements_of(session, sitting.id, kind, history=True)
    found = [each for each in stored if (each.position, each.slot) == (old.position, old.slot)]
    if not found:
        raise ValueError(f"old must be a stored {kind}, got position {old.position}")
    if found[0].superseded:
        raise _stale(sitting, f"has had this {kind} corrected by somebody else")


def _stale(sitting: SittingRow, happened: str) -> StaleSitting:
    message = f"This sitting {happened}. Nothing was lost: load the page again to see it."
    LOG.warning("sitting %s: %s", sitting.id, message)
    return StaleSitting(message)


def events_of(session: Session, sitting_id: str, slot: int) -> tuple[Event, ...]:
    """Return the events of one case, in order.

    Parameters
    ----------
    session : Session
        An open one.
    sitting_id : str
        Which sitting.
    slot : int
        Which case.

    Returns
    -------
    tuple of Event
        Empty before the first.
    """
    sitting = sitting_row(session, sitting_id)
    query = select(EntryRow).where(
        EntryRow.sitting_id == sitting.id, EntryRow.kind == "event", EntryRow.slot == slot
    )
    return tuple(_event(entry) for entry in session.scalars(query.order_by(EntryRow.step)))


def _event(entry: EntryRow) -> Event:
    body = parsed_object(entry.body)
    return Event(
        sitting_id=entry.sitting_id,
        slot=entry.slot or 0,
        step=entry.step or 0,
        position=entry.position,
        at=entry.at,
        action=body["action"],
        observation=body["observation"],
        sha256=entry.sha256,
    )


def judgements_of(
    session: Session, sitting_id: str, kind: str, *, history: bool
) -> tuple[Judgement, ...]:
    """Return the grades or the outcome of a sitting.

    Parameters
    ----------
    session : Session
        An open one.
    sitting_id : str
        Which sitting.
    kind : str
        `grade` or `outcome`.
    history : bool
        True for those that were corrected as well.

    Returns
    -------
    tuple of Judgement
        By case, then in the order in which they were given.
    """
    sitting = sitting_row(session, sitting_id)
    later = aliased(EntryRow)
    same = (later.sitting_id == EntryRow.sitting_id) & (later.supersedes == EntryRow.position)
    query = (
        select(EntryRow, later.position)
        .outerjoin(later, same)
        .where(EntryRow.sitting_id == sitting.id, EntryRow.kind == kind)
        .order_by(EntryRow.slot, EntryRow.position)
    )
    if not history:
        query = query.where(later.position.is_(None))
    return tuple(
        judgement(entry, superseded=corrected is not None)
        for entry, corrected in session.execute(query)
    )


def judgement(entry: EntryRow, *, superseded: bool = False) -> Judgement:
    """Return what a grade or outcome entry says.

    Parameters
    ----------
    entry : EntryRow
        Of kind `grade` or `outcome`.
    superseded : bool
        True if a later entry corrects it.

    Returns
    -------
    Judgement
        Free of the session.
    """
    body = parsed_object(entry.body)
    return Judgement(
        sitting_id=entry.sitting_id,
        slot=entry.slot,
        position=entry.position,
        at=entry.at,
        content=body["content"],
        supersedes=entry.supersedes,
        superseded=superseded,
        author=body.get("author"),
        reason=body.get("reason"),
    )

"""What a sitting's log says, and what may still be added to it."""

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, case, select
from sqlalchemy.orm import aliased

from quizzes.records.attachments.apart import whole_body
from quizzes.records.canonical import parsed_object
from quizzes.records.chain import ENTRIES, Entry, Writer, sitting_row
from quizzes.records.database.models import EntryRow, SittingRow
from quizzes.records.decisions.acts import ERASABLE, Act, Entered, read_act
from quizzes.records.errors import LOG, RecordsError, StaleSitting
from quizzes.records.rows import Event, Judgement

_OTHER = -1  # in place of no slot: an outcome


def refuse_late(writer: Writer, sitting_id: str, slot: int | None, step: int | None) -> None:
    """Refuse an entry that another window has forestalled.

    Parameters
    ----------
    writer : Writer
        It holds the lock of the ledger, and was asked about this sitting and slot.
    sitting_id : str
        Whose log.
    slot, step : int or None
        Of the new entry; no step for a grade, neither for an outcome.

    Raises
    ------
    NoSuchSitting
        If there is no such sitting.
    StaleSitting
        If the sitting is finished, the case handed over or the step written.
    ValueError
        If the step would leave a gap: the one before it was never stored.
    """
    sitting_id = str(sitting_id)
    if writer.closed == "outcome":
        raise _stale(sitting_id, "is finished")
    if writer.closed:
        raise _stale(sitting_id, f"has handed over case {slot} already")
    last = writer.last_step
    if last is None:
        writer.has_sitting(sitting_id)
    if step is None:
        return
    written = 0 if last is None else last + 1
    if step < written:
        raise _stale(sitting_id, f"has gone on in another window (case {slot}, step {step})")
    if step > written:
        raise ValueError(f"step must be {written}, the next in slot {slot}, got {step}")


def refuse_forestalled(writer: Writer, sitting_id: str, after: int) -> None:
    """Refuse an entry if its sitting has one that its author has not seen.

    Raises
    ------
    StaleSitting
        If it has.
    """
    ((last,),) = writer.rows("SELECT max(seq) FROM entry WHERE sitting_id = ?", str(sitting_id))
    if last != after:
        raise _stale(sitting_id, "has gone on since you opened it")


def refuse_corrected(connection: Connection, old: Judgement) -> None:
    """Refuse to correct what is not there or what somebody has corrected already.

    Parameters
    ----------
    connection : Connection
        One that holds the lock of the ledger.
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
    stored = judgements_of(connection, old.sitting_id, kind, history=True)
    found = [each for each in stored if (each.position, each.slot) == (old.position, old.slot)]
    if not found:
        raise ValueError(f"old must be a stored {kind}, got position {old.position}")
    if found[0].superseded:
        raise _stale(old.sitting_id, f"has had this {kind} corrected by somebody else")


def whose(connection: Connection, sitting_id: str) -> str:
    """Return the pseudonym of a sitting's person.

    Raises
    ------
    NoSuchSitting
        If there is no such sitting.
    """
    query = select(SittingRow.person_id).where(SittingRow.id == sitting_row(connection, sitting_id))
    return connection.execute(query).scalar_one()


def act_of(entry: Entry, words: Mapping[str, dict[str, Any]]) -> Entered:
    """Return the act that an entry states, with the words that are kept beside the ledger.

    Raises
    ------
    RecordsError
        If it cannot be read; the sentence names sitting, entry and reason.
    """
    try:
        kind = Act(entry.kind)
        body = whole_body(body_of(entry), words, ERASABLE[kind])
        return Entered(entry.seq, entry.at, kind, read_act(entry.kind, body))
    except ValueError as error:
        raise unreadable(entry.sitting_id, entry.seq, str(error)) from None


OWN = ("person", "sitting", "event", "grade", "outcome", "erasure")  # kinds that the log uses


def entered_of(connection: Connection, sitting_id: str | None, kind: str = "") -> tuple[Entry, ...]:
    """Return what was entered beside the log, of one sitting or of all, in the ledger's order."""
    query = ENTRIES.where(EntryRow.kind.not_in(OWN))
    if sitting_id is not None:
        query = query.where(EntryRow.sitting_id == sitting_row(connection, sitting_id))
    if kind:
        query = query.where(EntryRow.kind == kind)
    return tuple(Entry(*entry) for entry in connection.execute(query))


def _stale(sitting_id: str, happened: str) -> StaleSitting:
    message = f"This sitting {happened}. Nothing was lost: load the page again to see it."
    LOG.warning("sitting %s: %s", sitting_id, message)
    return StaleSitting(message)


def events_of(connection: Connection, sitting_id: str, slot: int) -> tuple[Event, ...]:
    """Return the events of one case, in order; none before the first."""
    mine = (EntryRow.sitting_id == sitting_row(connection, sitting_id), EntryRow.slot == slot)
    query = ENTRIES.where(EntryRow.kind == "event", *mine)
    return tuple(_event(Entry(*entry)) for entry in connection.execute(query))


def _event(entry: Entry) -> Event:
    body = body_of(entry)
    return Event(
        sitting_id=entry.sitting_id or "",
        slot=entry.slot or 0,
        step=entry.step or 0,
        position=entry.seq,
        at=entry.at,
        action=body["action"],
        observation=body["observation"],
        sha256=entry.sha256,
    )


_NEEDED = {"event": ("action", "observation"), "grade": ("content",), "outcome": ("content",)}


def body_of(entry: Entry) -> dict[str, Any]:
    """Return what an entry says.

    Raises
    ------
    RecordsError
        If it is not a JSON object or lacks a part; the sentence names sitting, entry and reason.
    """
    try:
        body = parsed_object(entry.body)
        lacking = [name for name in _NEEDED.get(entry.kind, ()) if name not in body]
    except ValueError as error:
        raise unreadable(
            entry.sitting_id, entry.seq, f"it is not a JSON object ({error})"
        ) from None
    if lacking:
        raise unreadable(entry.sitting_id, entry.seq, f"it lacks {lacking[0]!r}")
    return body


def unreadable(sitting_id: str | None, seq: int, reason: str) -> RecordsError:
    """Return the error that names the place in the ledger that cannot be read, and why."""
    whose = f"Sitting {sitting_id}" if sitting_id else "The ledger"
    message = (
        f"{whose} cannot be read at entry {seq} of the ledger: {reason}. "
        "Everything else in the store can be used."
    )
    LOG.error("%s", message)
    return RecordsError(message)


def judgements_of(
    connection: Connection, sitting_id: str, kind: str, *, history: bool
) -> tuple[Judgement, ...]:
    """Return the grades or the outcome of a sitting.

    Parameters
    ----------
    connection : Connection
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
    later = aliased(EntryRow)
    query = (
        ENTRIES.add_columns(later.seq.label("later"))
        .outerjoin(later, later.supersedes == EntryRow.seq)
        .where(EntryRow.sitting_id == sitting_row(connection, sitting_id), EntryRow.kind == kind)
        .order_by(None)
        .order_by(case((EntryRow.slot.is_(None), _OTHER), else_=EntryRow.slot), EntryRow.seq)
    )
    if not history:
        query = query.where(later.seq.is_(None))
    found: Sequence[Any] = connection.execute(query).all()
    return tuple(
        judgement(Entry(*entry), superseded=corrected is not None) for *entry, corrected in found
    )


def judgement(entry: Entry, *, superseded: bool = False) -> Judgement:
    """Return what a grade or outcome entry says; `superseded` if a later one corrects it."""
    body = body_of(entry)
    return Judgement(
        sitting_id=entry.sitting_id or "",
        slot=entry.slot,
        position=entry.seq,
        at=entry.at,
        content=body["content"],
        supersedes=entry.supersedes,
        superseded=superseded,
        author=body.get("author"),
        reason=body.get("reason"),
        sha256=entry.sha256,
    )

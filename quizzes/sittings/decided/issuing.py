"""A decided sitting's record signed: the credential, its pointer, and the list of withdrawals."""

import datetime as dt
import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from quizzes.records import Records
from quizzes.records.auditing.signing import sign_head
from quizzes.records.credentials.document import issued
from quizzes.records.credentials.pointer import Pointer, digest_of, pointer_to
from quizzes.records.credentials.record import CompetencyRecord, StatusPlace
from quizzes.records.credentials.status import Withdrawals, status_list
from quizzes.records.decisions.acts import Act, Issued, Verdict
from quizzes.records.decisions.state import State
from quizzes.records.keys.issuer import Issuer, the_issuer
from quizzes.sittings.decided.record import NoRecordError, competency_record, record_id
from quizzes.sittings.standing import Standings

_LISTS = uuid.UUID("5d4e8f0a-6a38-5e0e-9f0b-8b6f6d2a7c55")  # this suite's own space of names


@dataclass(frozen=True, slots=True)
class HandedOut:
    """What goes to the holder of a record.

    Parameters
    ----------
    record : CompetencyRecord
        What it says.
    issuer : str
        Who issues.
    credential : dict or None
        The signed credential; None where nothing is awarded.
    pointer : Pointer or None
        What its QR code says.
    """

    record: CompetencyRecord
    issuer: str
    credential: dict[str, Any] | None = None
    pointer: Pointer | None = None


def handed_out(store: Records, sitting_id: str, at: dt.datetime) -> HandedOut:
    """Return the record of a decided sitting, signed if it is a competent one.

    The first time, and whenever it would say something else, an entry of the ledger tells that it
    was signed.

    Raises
    ------
    NoRecordError
        If the sitting has no record, or does not hold.
    KeyFileError
        If the issuer's key cannot be used.
    RecordsError
        If the store cannot be used.
    """
    standings = Standings(store)
    sitting = store.sitting(sitting_id)
    if sitting.name is None:
        raise NoRecordError("The person was erased, so there is nobody to hand a record of it to.")
    standing = standings.of(sitting, again=True)
    if standing.trouble:
        raise NoRecordError(
            f"Nothing is handed out of a record that does not hold. {standing.trouble}"
        )
    state = standings.state(store.acts(sitting_id))
    if not standings.vouches(state):
        raise NoRecordError(
            "Nothing is handed out on a decision for which no signed head vouches: it was written "
            "by something other than this suite, or the key was away when it was made. Whoever "
            "decided must confirm it; python -m quizzes head then signs the ledger."
        )
    issuer = the_issuer(at)
    before = state.issued[-1] if state.issued else None
    if state.verdict is not Verdict.COMPETENT:
        head = standings.audit.head.code
        return HandedOut(competency_record(store, sitting_id, state, head), issuer.name)
    last = state.standing
    assert last is not None
    newest = max(one.seq for one in state.acts if one.kind is Act.CREDENTIAL) if before else 0
    if before and before.key == issuer.key.public.did and newest > last.seq:
        made = _signed(store, sitting_id, state, issuer, before, _moment(state, before))
        if digest_of(made.credential or {}).hex() == before.digest:
            return made
    place = before.index if before else _free_place(store, standings)
    told = Issued(
        record_id(sitting_id), place, "", standings.audit.head.code, issuer.key.public.did
    )
    made = _signed(store, sitting_id, state, issuer, told, at)
    assert made.credential is not None
    kept = Issued(told.record_id, told.index, digest_of(made.credential).hex(), told.head, told.key)
    seen = standings.audit.last_of[sitting_id]
    seq = store.act(sitting_id, Act.CREDENTIAL, kept, at, after=seen)
    if sign_head(store, at, seq) is None:
        raise NoRecordError(
            "Nothing is handed out: the ledger does not fit the head signed before. "
            "Run: python -m quizzes verify"
        )
    return made


def _moment(state: State, act: Issued) -> dt.datetime:
    return next(one.at for one in state.acts if one.act is act)


def _signed(  # noqa: PLR0917 - what a signature covers
    store: Records,
    sitting_id: str,
    state: State,
    issuer: Issuer,
    told: Issued,
    at: dt.datetime,
) -> HandedOut:
    status = StatusPlace(list_id(store), told.index)
    record = competency_record(store, sitting_id, state, told.head, status)
    credential = issued(record, issuer.key, issuer.name, at)
    return HandedOut(record, issuer.name, credential, pointer_to(credential, issuer.key))


def list_id(store: Records) -> str:
    """Return the identity of a store's list of withdrawals: always the same one."""
    return str(uuid.uuid5(_LISTS, store.ledger_id()))


def _free_place(store: Records, standings: Standings) -> int:
    states = [standings.state(acts) for acts in store.acts_of_all().values()]
    return max((one.index for state in states for one in state.issued), default=-1) + 1


def withdrawn_places(states: Iterable[State]) -> tuple[int, ...]:
    """Return the places of all records that were handed out and do not stand any more."""
    places: set[int] = set()
    for state in states:
        if state.verdict is not Verdict.COMPETENT:
            places |= {one.index for one in state.issued}
    return tuple(sorted(places))


def withdrawals(store: Records, at: dt.datetime) -> dict[str, Any]:
    """Return the signed list of withdrawals as it stands at a moment.

    Raises
    ------
    KeyFileError, RecordsError
        As in `handed_out`.
    """
    issuer = the_issuer(at)
    standings = Standings(store)
    states = (standings.state(acts) for acts in store.acts_of_all().values())
    places = Withdrawals.of(withdrawn_places(states))
    return status_list(list_id(store), places, issuer.key, issuer.name, at)

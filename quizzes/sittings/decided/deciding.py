"""What a person may decide about a sitting, and the decision kept: nothing is ever changed."""

import contextlib
import datetime as dt
from collections.abc import Mapping
from dataclasses import replace

from quizzes.records import Records, StaleSitting
from quizzes.records.auditing.signing import sign_head, unsignable
from quizzes.records.decisions.acts import (
    Act,
    AnyAct,
    Circumstances,
    Decision,
    Entered,
    Seat,
    Statement,
    Verdict,
)
from quizzes.records.decisions.alike import as_read
from quizzes.records.decisions.practical import Practical
from quizzes.records.decisions.state import SEATS, State, refused, state_of
from quizzes.sittings.decided.dossier import Dossier, dossier, not_competent

_UNSIGNED = (
    "It was kept, but the ledger does not fit the head signed before, so it could not be signed "
    "for and counts for nothing. Run: python -m quizzes verify"
)
_TRIES = 4  # to keep what does not depend on what others do meanwhile


class NotAllowedError(ValueError):
    """An act that may not be done: why, in one sentence."""


def decide(  # noqa: PLR0917 - what a decision holds
    store: Records,
    found: Dossier,
    person_id: str,
    verdict: Verdict,
    reasons: str,
    at: dt.datetime,
    *,
    role: str = "assessor",
    second_wanted: bool = False,
) -> State:
    """Keep a person's decision and return where the sitting stands then.

    Parameters
    ----------
    store : Records
        Where it is kept.
    found : Dossier
        What the person had before them.
    person_id : str
        Who decides.
    verdict : Verdict
        What.
    reasons : str
        Why, 1 to 500 characters.
    at : datetime
        With a time zone.
    role : str
        In what role.
    second_wanted : bool
        Whether a second assessor is to decide as well, without knowing this decision.

    Raises
    ------
    NotAllowedError
        If that may not be decided, or not by this person.
    StaleSitting
        If somebody else did something about it meanwhile.
    """
    _allowed(store, found, Act.DECISION, person_id)
    if verdict is Verdict.COMPETENT and (why := not_competent(found)):
        raise NotAllowedError(why)
    seat = SEATS[found.state.stage]
    decision = Decision(
        verdict,
        reasons,
        person_id,
        role,
        seat,
        str(found.proposed.get("outcome", "not finished")),
        second_wanted and seat is Seat.FIRST,
    )
    return _kept(store, found, Act.DECISION, decision, at)


def stated(  # noqa: PLR0917 - what a statement holds
    store: Records,
    found: Dossier,
    kind: Act,
    person_id: str,
    words: str,
    at: dt.datetime,
    *,
    role: str = "assessor",
    upheld: bool = False,
) -> State:
    """Keep an appeal, the ruling on it, a withdrawal or a waiver; return where it stands then.

    Parameters
    ----------
    store, found, person_id, at, role
        As in `decide`.
    kind : Act
        `APPEAL`, `RULING`, `WITHDRAWAL` or `WAIVER`.
    words : str
        Grounds or reasons.
    upheld : bool
        Of a ruling: whether the appeal is upheld.

    Raises
    ------
    NotAllowedError, StaleSitting
        As in `decide`.
    """
    _allowed(store, found, kind, person_id)
    return _kept(store, found, kind, Statement(words, person_id, role, upheld), at)


def circumstances_stated(
    store: Records, found: Dossier, facts: Circumstances, at: dt.datetime
) -> State:
    """Keep in what circumstances a sitting was held; the last statement stands.

    Raises
    ------
    NotAllowedError
        If it is the candidate who states it.
    """
    _allowed(store, found, Act.CIRCUMSTANCES, facts.person_id)
    return _kept(store, found, Act.CIRCUMSTANCES, facts, at)


def observed(store: Records, found: Dossier, sheet: Practical, at: dt.datetime) -> State:
    """Keep an observer's sheet of a practical; a later one of the same observer replaces it.

    Raises
    ------
    NotAllowedError
        If the candidate observes themselves.

    Notes
    -----
    What was seen does not depend on what others did meanwhile, so it is kept whatever they did:
    two observers finish at the same moment.
    """
    first = found.state.observers.first
    if first and _same_name(store, sheet.person_id, first.person_id):
        sheet = replace(sheet, person_id=first.person_id)  # not a second observer
    for _ in range(_TRIES):
        _allowed(store, found, Act.PRACTICAL, sheet.person_id)
        with contextlib.suppress(StaleSitting):
            return _kept(store, found, Act.PRACTICAL, sheet, at)
        found = dossier(store, found.sitting.id)
    return _kept(store, found, Act.PRACTICAL, sheet, at)


def why_not(found: Dossier, kind: Act, name: str, ids: Mapping[str, str]) -> str:
    """Return why whoever signs in by this name may not do this now; empty if they may.

    `ids` holds the IDs of everybody who has no number, by name.
    """
    candidate = found.sitting.person_id
    own = as_read(name) == as_read(found.sitting.name or "")
    return _refusal(found, kind, candidate if own else ids.get(name, ""))


def _refusal(found: Dossier, kind: Act, person_id: str) -> str:
    why = refused(found.state, kind, person_id, found.sitting.person_id)
    if not why and found.standing.word is None and kind is not Act.WAIVER:
        return "The sitting is not finished; it can be decided afterwards."
    return why


def _allowed(store: Records, found: Dossier, kind: Act, person_id: str) -> None:
    candidate = found.sitting.person_id
    decided = (one.person_id for one in found.state.decisions)
    others = () if kind is Act.APPEAL else (candidate, *decided)
    # One person typed twice, or with letters that look the same.
    whom = next((one for one in others if _same_name(store, person_id, one)), person_id)
    if why := _refusal(found, kind, whom):
        raise NotAllowedError(why)


def _same_name(store: Records, one: str, other: str) -> bool:
    """Return whether two people bear one name, and no number tells them apart."""
    named = {person.id: person for person in store.persons()}
    first, second = named.get(one), named.get(other)
    if first is None or second is None:
        return one == other
    return as_read(first.name) == as_read(second.name) and not (first.number and second.number)


def _kept(
    store: Records,
    found: Dossier,
    kind: Act,
    act: AnyAct,
    at: dt.datetime,
) -> State:
    if why := unsignable(store, at):
        raise NotAllowedError(why)
    seq = store.act(found.sitting.id, kind, act, at, after=found.last_seq)
    if sign_head(store, at, seq) is None:
        raise NotAllowedError(_UNSIGNED)
    state = state_of((*found.state.acts, Entered(seq, at, kind, act)))
    return replace(state, unsigned=found.state.unsigned)

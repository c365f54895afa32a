"""The head signed for each act that somebody answers for, kept in the ledger and beside it.

A head that is signed for an act ends with its entry: it vouches for that act, and for no other
one that somebody may have added before it.
"""

import datetime as dt

from quizzes.records.auditing.audit import HEAD, counts
from quizzes.records.errors import LOG
from quizzes.records.heads.checking import head_at, held_against
from quizzes.records.heads.head import SignedHead, head_json, head_of, signed_head
from quizzes.records.heads.keeping import heads_kept, keep_head
from quizzes.records.keys.errors import KeyFileError
from quizzes.records.keys.issuer import issuer_trust, the_issuer
from quizzes.records.keys.trust import utc_text
from quizzes.records.writing import Records

SEAL = "seal"  # the kind of an entry of nobody, under which the ledger is signed as it stands


def sign_head(store: Records, at: dt.datetime, seq: int | None = None) -> SignedHead | None:
    """Sign the ledger for an act, keep the head in it and beside the keys, and return it.

    Parameters
    ----------
    store : Records
        Whose ledger.
    at : datetime
        The moment of the act.
    seq : int, optional
        Place of the act's entry, which is the last that the head covers. Left out, the whole
        ledger is signed, under an entry that is nobody's act.

    Returns
    -------
    SignedHead or None
        None where it could not be signed; the log says why. What is in the ledger stands.

    Notes
    -----
    A ledger that does not begin with what the issuer signed last was bent, and is not signed: the
    signature would vouch for the forger.
    """
    try:
        issuer = the_issuer(at)
        last = store.enter(SEAL, {}, at) if seq is None else seq
        before = heads_kept(issuer.folder, store.ledger_id())[-1:]  # before the ledger is read
        ledger_id, everything = store.ledger()
        if not held_against(ledger_id, everything, before).sound:
            LOG.error("the ledger is not signed: it does not fit head %s", before[0].head.code)
            return None
        signed = signed_head(head_at(ledger_id, everything[:last], at), issuer.key)
        store.enter(HEAD, dict(head_json(signed)), at)
        keep_head(issuer.folder, signed)
    except (KeyFileError, ValueError) as error:
        LOG.error("the ledger could not be signed: %s", error)
        return None
    return signed


def unsignable(store: Records, at: dt.datetime) -> str:
    """Return why nothing can be signed now, whole sentences; empty if it can.

    Asked before an act is kept: one that nobody signs for would count for nothing.
    """
    try:
        issuer = the_issuer(at)
        before = heads_kept(issuer.folder, store.ledger_id())[-1:]
        now = at.replace(microsecond=0)
        if not any(one.in_use(now) for one in issuer.trust.holder(issuer.key.public)):
            why = f"The clock shows {utc_text(now)}, before the key was in use: set the clock."
        elif held_against(*store.ledger(), before).sound:
            return ""
        else:
            why = "The ledger does not fit the head signed before. Run: python -m quizzes verify"
    except (KeyFileError, ValueError) as error:
        why = str(error)
    return f"Nothing was kept, since it could not be signed for. {why}"


def is_signed_for(store: Records, seq: int, at: dt.datetime) -> bool:
    """Return whether the house signed a head for the act at this place, of this moment.

    For acts that are looked up while people wait. Whether the entries are still those that were
    signed, the audit says.
    """
    try:
        ledger_id, trust = store.ledger_id(), issuer_trust()
    except KeyFileError:
        return False
    for one in store.entered(HEAD):
        if one.seq > seq and one.body.get("size") == seq:
            try:
                signed = head_of(one.body)
            except (ValueError, KeyError, TypeError):
                continue
            head = signed.head
            if (head.ledger, head.at) == (ledger_id, at.replace(microsecond=0)) and (
                counts(signed, trust)
            ):
                return True
    return False

"""The head signed at a sitting's end and after each decision, kept in the ledger and beside it."""

import datetime as dt

from quizzes.records.auditing.audit import HEAD
from quizzes.records.errors import LOG
from quizzes.records.heads.checking import head_at, held_against
from quizzes.records.heads.head import SignedHead, head_json, signed_head
from quizzes.records.heads.keeping import heads_kept, keep_head
from quizzes.records.keys.errors import KeyFileError
from quizzes.records.keys.issuer import the_issuer
from quizzes.records.writing import Records


def sign_head(store: Records, at: dt.datetime) -> SignedHead | None:
    """Sign the ledger as it is now, keep the head in it and beside the keys, and return it.

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
        ledger_id, entries = store.ledger()
        before = heads_kept(issuer.folder, ledger_id)[-1:]
        if not held_against(ledger_id, entries, before).sound:
            LOG.error("the ledger is not signed: it does not fit head %s", before[0].head.code)
            return None
        signed = signed_head(head_at(ledger_id, entries, at), issuer.key)
        store.enter(HEAD, dict(head_json(signed)), at)
        keep_head(issuer.folder, signed)
    except (KeyFileError, ValueError) as error:
        LOG.error("the ledger could not be signed: %s", error)
        return None
    return signed

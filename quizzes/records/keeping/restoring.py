"""What a store says after it was put back from a backup: how much was lost, for good and openly."""

import datetime as dt

from quizzes.records.auditing.signing import sign_head
from quizzes.records.heads.checking import held_against
from quizzes.records.heads.keeping import heads_kept, keep_heads_instead
from quizzes.records.keys.keeping import default_folder
from quizzes.records.writing import Records

RESTORED = "restored"  # the kind of the entry


def restored(store: Records, at: dt.datetime) -> tuple[str, ...]:
    """Enter that a store was put back, with the heads that were lost; return it in sentences.

    Notes
    -----
    Heads signed after the backup speak of entries that are gone. They are set aside beside the
    keys and named in the ledger, so that whoever holds one of them learns what became of it.
    """
    ledger_id, entries = store.ledger()
    kept = heads_kept(default_folder(), ledger_id)
    good = [one for one in kept if held_against(ledger_id, entries, [one]).sound]
    lost = [one for one in kept if one not in good]
    body = {"entries": len(entries), "lost_heads": [one.head.code for one in lost]}
    seq = store.enter(RESTORED, body, at)
    if lost:
        keep_heads_instead(default_folder(), ledger_id, good)
    sign_head(store, at, seq)
    if not lost:
        return ()
    most = max(one.head.size for one in lost)
    gone = max(most - len(entries), 1)
    words = (
        f"Entries that were signed for after this backup are lost, {gone} at least, unless another "
        "backup is newer. Signed heads that speak of them, named in the ledger and set aside "
        f"beside the keys: {len(lost)}."
    )
    return (words,)

"""Files about the ledger that an auditor holds: a head, a receipt, a growth, each checked alone."""

import datetime as dt
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from quizzes.records.credentials.reading import file_bytes, parsed
from quizzes.records.credentials.verifying import Finding, Verified
from quizzes.records.heads.handed import GROWTH, RECEIPT, Growth, Receipt, handed_of
from quizzes.records.heads.head import KIND, SignedHead, head_of, typed_code
from quizzes.records.keys.trust import TrustList, utc_text

_KINDS = (KIND, RECEIPT, GROWTH)


def is_of_ledger(found: object) -> bool:
    """Return whether parsed JSON calls itself one of these files."""
    return isinstance(found, Mapping) and found.get("kind") in _KINDS


def kept_heads(words: Sequence[str]) -> tuple[SignedHead | str, ...]:
    """Return the heads that an auditor brings back, for `heads.checking.held_against`.

    Parameters
    ----------
    words : sequence of str
        Codes as typed from printed records, or files: a signed head, a receipt, a growth.

    Raises
    ------
    ValueError
        If one is neither a code nor such a file; the sentence names it.
    """
    kept: list[SignedHead | str] = []
    for word in words:
        path = Path(word)
        if not path.is_file():
            kept.append(typed_code(word))
            continue
        found = parsed(file_bytes(path), path.name)
        if not is_of_ledger(found):
            raise ValueError(f"{path.name} is not a head, receipt or growth of a ledger.")
        try:
            kept += _heads(head_of(found) if found["kind"] == KIND else handed_of(found))
        except (ValueError, TypeError) as error:
            raise ValueError(f"{path.name} is not a {found['kind']}: {error}.") from None
    return tuple(kept)


def ledger_file_checked(found: Mapping[str, Any], trust: TrustList, now: dt.datetime) -> Verified:
    """Return what there is to say about a file of the ledger.

    Parameters
    ----------
    found : mapping
        Parsed JSON of which `is_of_ledger` is true.
    trust : TrustList
        Whose signatures count.
    now : datetime
        With a time zone.
    """
    try:
        handed = head_of(found) if found["kind"] == KIND else handed_of(found)
    except (ValueError, TypeError) as error:
        return Verified(Finding.UNREADABLE, (f"It is not a {found['kind']}: {error}.",))
    if not handed.holds:
        return Verified(Finding.TAMPERED, (f"This {found['kind']} does not hold.",))
    heads = _heads(handed)
    for signed in heads:
        stranger = _stranger(signed, trust)
        if stranger:
            return Verified(Finding.UNKNOWN_ISSUER, (stranger,))
    late = [signed.head for signed in heads if signed.head.at > now]
    if late:
        return Verified(
            Finding.NOT_YET_VALID,
            (f"It is dated {utc_text(late[0].at)}, later than this machine’s clock.",),
        )
    return Verified(Finding.GOOD, (_sentence(handed, trust),))


def _heads(handed: SignedHead | Receipt | Growth) -> tuple[SignedHead, ...]:
    if isinstance(handed, SignedHead):
        return (handed,)
    if isinstance(handed, Receipt):
        return (handed.signed,)
    return (handed.earlier, handed.later)


def _stranger(signed: SignedHead, trust: TrustList) -> str:
    held = trust.holder(signed.key)
    if any(one.in_use(signed.head.at) for one in held):
        return ""
    why = "was not in use then" if held else "is not among the trusted keys"
    return f"The head {signed.head.code} is signed, but its key {signed.key.did} {why}."


def _sentence(handed: SignedHead | Receipt | Growth, trust: TrustList) -> str:
    last = _heads(handed)[-1]
    house = trust.holder(last.key)[0].name
    told = f"signed by {house} on {utc_text(last.head.at)}"
    if isinstance(handed, SignedHead):
        return f"The head {last.head.code} is {told}. It says nothing of what came later."
    if isinstance(handed, Receipt):
        return f"Entry {handed.index + 1} is in the ledger with the head {last.head.code}, {told}."
    return (
        f"The ledger only grew: its {last.head.size} entries begin with the "
        f"{handed.earlier.head.size} that were there before. Its head {last.head.code} is {told}."
    )

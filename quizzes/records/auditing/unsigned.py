"""Acts in the ledger for which the house signed no head: what somebody may have added by hand."""

import datetime as dt
from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Any

from quizzes.records.canonical import parsed_object
from quizzes.records.decisions.acts import Act
from quizzes.records.rows import Broken

Signed = Mapping[int, Collection[dt.datetime]]  # at which seconds, by place in the ledger
PANEL = "panel"
_LISTED = (*(one.value for one in Act), PANEL)
_BREAKING = {
    "erasure": "a name was erased, and no signed head vouches for that",
    "accommodation": "a form or minutes were given, and no signed head vouches for that",
}
_MARKS = {kind: f'"kind":"{kind}"'.encode() for kind in (*_LISTED, *_BREAKING)}


def is_signed(signed: Signed, seq: int, at: dt.datetime) -> bool:
    """Return whether a head was signed for the entry at this place, at the second of its act."""
    return at.replace(microsecond=0) in signed.get(seq, ())


def unsigned_acts(entries: Sequence[bytes], signed: Signed) -> Iterator[Broken]:
    """Return what was given or erased by hand, as far as nobody has done it again since."""
    last: dict[tuple[object, ...], tuple[int, dict[str, Any]]] = {}
    for seq, stated in _stated(entries, _BREAKING):
        body = stated["body"]
        last[stated["kind"], body.get("class"), body.get("person")] = (seq, stated)
    for (kind, _, person), (seq, stated) in last.items():
        if not is_signed(signed, seq, _moment(stated)):
            yield Broken(seq, None, _BREAKING[str(kind)], str(person))


def unsigned_words(entries: Sequence[bytes], signed: Signed) -> tuple[str, ...]:
    """Return a sentence for each act that counts for nothing, since no head was signed for it."""
    return tuple(
        f"Entry {seq} ({stated['kind']}{_whose(stated)}) counts for nothing: no head was signed "
        "for it, so it was added by hand, or the key was away."
        for seq, stated in _stated(entries, _LISTED)
        if not is_signed(signed, seq, _moment(stated))
    )


def _stated(
    entries: Sequence[bytes], kinds: Collection[str]
) -> Iterator[tuple[int, dict[str, Any]]]:
    """Return place and content of each entry of some kinds; what cannot be read is left out."""
    marks = [_MARKS[kind] for kind in kinds]
    for seq, entry in enumerate(entries, start=1):
        if any(mark in entry for mark in marks):
            try:
                stated = parsed_object(entry.decode())
                readable = isinstance(stated["body"], dict) and _moment(stated)
            except (ValueError, KeyError, TypeError):
                continue
            if readable and stated["kind"] in kinds:
                yield seq, stated


def _moment(stated: Mapping[str, Any]) -> dt.datetime:
    return dt.datetime.fromisoformat(stated["at"])


def _whose(stated: Mapping[str, Any]) -> str:
    sitting = stated.get("sitting")
    return f", sitting {sitting}" if sitting else ""

"""Whom a verifier trusts: public keys, each from when until when, and how one follows another."""

import datetime as dt
import json
from collections.abc import Mapping
from dataclasses import dataclass, replace

import rfc8785

from quizzes.records.checks import aware, plain_text
from quizzes.records.keys import multibase
from quizzes.records.keys.errors import KeyFileError
from quizzes.records.keys.signing import PublicKey, SigningKey

KIND = "gap-and-lining trusted issuers"
CHANGE = "gap-and-lining key change"
VERSION = 1
LARGEST_BYTES = 1_000_000  # a thousand keys take some 300 kB
_CHANGE_FIELDS = frozenset({"kind", "old", "new", "at", "signed_by_old", "signed_by_new"})


def utc_text(moment: dt.datetime) -> str:
    """Return a moment as `2026-11-28T09:30:00Z`, to the second."""
    return f"{aware('moment', moment):%Y-%m-%dT%H:%M:%SZ}"


def moment_of(text: object) -> dt.datetime:
    """Return the moment that a text with date, time and zone names (RFC 3339).

    Raises
    ------
    ValueError
        If it names none.
    """
    if not isinstance(text, str) or len(text) > 40 or "T" not in text:
        raise ValueError(f"expected a moment like 2026-11-28T09:30:00Z, got {text!r:.40}")
    try:
        found = dt.datetime.fromisoformat(text)
    except ValueError:
        found = None
    if found is None or found.utcoffset() is None:
        raise ValueError(f"expected a moment like 2026-11-28T09:30:00Z, got {text!r:.40}")
    return found.astimezone(dt.UTC)


@dataclass(frozen=True, slots=True)
class TrustedKey:
    """A key that is trusted for what it signed in a time.

    Parameters
    ----------
    key : PublicKey
        Whose signature.
    name : str
        The body that issues under it.
    since : datetime
        First moment, with a time zone.
    until : datetime or None
        Last moment; None while it is in use.
    """

    key: PublicKey
    name: str
    since: dt.datetime
    until: dt.datetime | None = None

    def __post_init__(self) -> None:
        object.__setattr__(self, "name", plain_text("name", self.name))
        object.__setattr__(self, "since", aware("since", self.since))
        if self.until is not None:
            object.__setattr__(self, "until", aware("until", self.until))
            if self.until < self.since:
                raise ValueError(f"until must not be before since, got {self.until} < {self.since}")

    def in_use(self, at: dt.datetime) -> bool:
        """Return whether what was signed at a moment counts."""
        return self.since <= at and (self.until is None or at <= self.until)


@dataclass(frozen=True, slots=True)
class KeyChange:
    """One key handing over to the next, signed by both.

    Parameters
    ----------
    old, new : PublicKey
        Which key ends and which begins.
    at : datetime
        When.
    signed_by_old, signed_by_new : bytes
        Signatures over the statement.
    """

    old: PublicKey
    new: PublicKey
    at: dt.datetime
    signed_by_old: bytes
    signed_by_new: bytes

    @property
    def holds(self) -> bool:
        """Whether both have signed this statement."""
        said = _change_said(self.old, self.new, self.at)
        return self.old.signed(self.signed_by_old, said) and self.new.signed(
            self.signed_by_new, said
        )


def changed(old: SigningKey, new: SigningKey, at: dt.datetime) -> KeyChange:
    """Return the statement that a new key takes over from an old one, signed by both."""
    said = _change_said(old.public, new.public, at)
    return KeyChange(
        old.public, new.public, moment_of(utc_text(at)), old.sign(said), new.sign(said)
    )


def _change_said(old: PublicKey, new: PublicKey, at: dt.datetime) -> bytes:
    return rfc8785.dumps({"kind": CHANGE, "old": old.did, "new": new.did, "at": utc_text(at)})


@dataclass(frozen=True, slots=True)
class TrustList:
    """The keys that a verifier trusts.

    Parameters
    ----------
    keys : tuple of TrustedKey
        In any order.
    changes : tuple of KeyChange
        How keys followed one another, oldest first; kept as evidence.
    """

    keys: tuple[TrustedKey, ...] = ()
    changes: tuple[KeyChange, ...] = ()

    def holder(self, key: PublicKey) -> tuple[TrustedKey, ...]:
        """Return the entries of a key; empty if it is unknown."""
        return tuple(one for one in self.keys if one.key == key)

    def after(self, change: KeyChange) -> "TrustList":
        """Return the list after a change of keys: trust in the old one passes to the new.

        Raises
        ------
        KeyFileError
            If the old key is not trusted at that moment, or one of the signatures does not hold.
        """
        held = [one for one in self.holder(change.old) if one.in_use(change.at)]
        if not change.holds or not held:
            raise KeyFileError(
                f"The change of keys of {utc_text(change.at)} does not count: "
                + ("it is not signed by both keys." if held else "its old key is not trusted.")
            )
        if self.holder(change.new):
            return self
        kept = [one for one in self.keys if one not in held]
        ended = [replace(one, until=change.at) for one in held]
        begun = TrustedKey(change.new, held[0].name, change.at)
        return TrustList((*kept, *ended, begun), (*self.changes, change))


def trust_text(trust: TrustList) -> str:
    """Return a list of trusted keys as the JSON that `trust_of` reads."""
    issuers = [
        {
            "did": one.key.did,
            "name": one.name,
            "from": utc_text(one.since),
            "until": None if one.until is None else utc_text(one.until),
        }
        for one in trust.keys
    ]
    listed = {"kind": KIND, "version": VERSION, "issuers": issuers}
    listed["changes"] = [_change_json(change) for change in trust.changes]
    return json.dumps(listed, indent=1, ensure_ascii=False) + "\n"


def _change_json(change: KeyChange) -> dict[str, str]:
    return {
        "kind": CHANGE,
        "old": change.old.did,
        "new": change.new.did,
        "at": utc_text(change.at),
        "signed_by_old": multibase.encoded(change.signed_by_old),
        "signed_by_new": multibase.encoded(change.signed_by_new),
    }


def trust_of(found: object) -> TrustList:
    """Return the list of trusted keys that parsed JSON holds.

    Raises
    ------
    KeyFileError
        If it is no such list; the sentence says what was expected.
    """
    if not isinstance(found, Mapping) or found.get("kind") != KIND:
        raise KeyFileError(f'It is not a list of trusted issuers: expected "kind": "{KIND}".')
    if found.get("version") != VERSION:
        raise KeyFileError(
            f"The list of trusted issuers is of version {found.get('version')!r:.20}; "
            f"this program reads version {VERSION}."
        )
    try:
        keys = tuple(_trusted(row) for row in found["issuers"])
        changes = tuple(_change(row) for row in found.get("changes", []))
    except (KeyError, TypeError, ValueError) as error:
        raise KeyFileError(f"The list of trusted issuers is damaged: {error}.") from None
    if not keys:
        raise KeyFileError("The list of trusted issuers is empty: expected one key at least.")
    if not all(change.holds for change in changes):
        raise KeyFileError("The list holds a change of keys that is not signed by both keys.")
    return TrustList(keys, changes)


def _trusted(row: object) -> TrustedKey:
    if not isinstance(row, Mapping):
        raise TypeError("an issuer is not an object")
    until = row.get("until")
    return TrustedKey(
        PublicKey.from_did(row["did"]),
        row["name"],
        moment_of(row["from"]),
        None if until is None else moment_of(until),
    )


def _change(row: object) -> KeyChange:
    if not isinstance(row, Mapping) or set(row) != _CHANGE_FIELDS:
        raise ValueError("a change of keys has other fields than expected")
    return KeyChange(
        PublicKey.from_did(row["old"]),
        PublicKey.from_did(row["new"]),
        moment_of(row["at"]),
        multibase.decoded(row["signed_by_old"]),
        multibase.decoded(row["signed_by_new"]),
    )

"""The whole store held against itself and against every head: what stands, what does not, where.

The chain inside shows slips and clumsy edits. The heads show the rest: those that the house signed
at the end of each sitting, kept in the ledger and beside the keys, and those that an auditor
brings back from paper or from another organisation.
"""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from quizzes.records.auditing.unsigned import is_signed, unsigned_acts, unsigned_words
from quizzes.records.canonical import parsed_object
from quizzes.records.database.identity import last_written
from quizzes.records.heads.checking import LedgerCheck, head_at, held_against
from quizzes.records.heads.head import SignedHead, TreeHead, head_of
from quizzes.records.heads.keeping import HEADS, heads_kept
from quizzes.records.keys.errors import KeyFileError
from quizzes.records.keys.issuer import issuer_trust
from quizzes.records.keys.keeping import PUBLIC, default_folder
from quizzes.records.keys.trust import TrustList
from quizzes.records.rows import Broken, StoreCheck
from quizzes.records.writing import Records

_ALL = "*"  # whose is what concerns every sitting
HEAD = "head"  # the kind of entry that holds a head of the entries before it


@dataclass(frozen=True, slots=True)
class Audit:
    """What was found of a whole store.

    Parameters
    ----------
    check : StoreCheck
        Of the ledger against itself and what is beside it.
    heads : LedgerCheck
        Of the ledger against the heads.
    head : TreeHead
        The ledger as it is now.
    trouble : str
        Why the house's own heads could not be looked at; empty if they could.
    last_of : mapping
        Place of the last entry of each sitting.
    signed_at : mapping
        At which seconds the house signed for each place in the ledger, of heads that agree.
    unsigned : tuple of str
        A sentence for each act for which the house signed no head.
    """

    check: StoreCheck
    heads: LedgerCheck
    head: TreeHead
    trouble: str = ""
    last_of: Mapping[str, int] = field(default_factory=dict, repr=False)
    signed_at: Mapping[int, frozenset[dt.datetime]] = field(default_factory=dict, repr=False)
    unsigned: tuple[str, ...] = ()
    _bent: dict[str, Broken] = field(default_factory=dict, repr=False)

    @property
    def sound(self) -> bool:
        """Whether nothing is broken and no head disagrees."""
        return self.check.sound and self.heads.sound

    @property
    def vouched(self) -> int:
        """How many entries, from the first, a head that agrees vouches for."""
        bad = self.heads.first_bad
        sizes = [one.size for one in self.heads.findings if one.agrees]
        return max((size for size in sizes if bad is None or size < bad), default=0)

    def was_signed(self, seq: int, at: dt.datetime) -> bool:
        """Return whether the house signed for the very act that it kept here, then.

        A later head covers whatever had been added by then, by whomever: it vouches for no act.
        """
        return is_signed(self.signed_at, seq, at)

    def broken_of(self, sitting_id: str, person_id: str = "") -> Broken | None:
        """Return the first place that does not hold and concerns a sitting, or its person."""
        if not self._bent:
            for one in self.check.broken:
                for whose in (one.sitting_id, one.person_id, _ALL if one.everywhere else None):
                    if whose:
                        self._bent.setdefault(whose, one)
        found = self._bent.get(sitting_id) or self._bent.get(person_id) or self._bent.get(_ALL)
        first, last = self.heads.first_bad, self.heads.last_bad
        if found is None and first is not None and self.last_of.get(sitting_id, 0) >= first:
            reason = f"entries {first} to {last} are not those that a signed head vouches for"
            return Broken(first, sitting_id, reason)
        return found

    def sentences(self) -> tuple[str, ...]:
        """Return all of it in words, a thought a line."""
        lines = [f"Ledger {self.check.ledger_id}: {self.check.entries} entries."]
        lines += [f"{_place(one).capitalize()}.{_whose(one)}" for one in self.check.broken]
        if self.check.sound:
            lines.append("Each entry fits the one before it, and the names fit their commitments.")
        if self.check.erased:
            many = "1 person" if self.check.erased == 1 else f"{self.check.erased} people"
            lines.append(f"{many} erased: name, words and photographs are gone, as entries say.")
        lines += [one.sentence for one in self.heads.findings if not one.agrees]
        agreeing = sum(one.agrees for one in self.heads.findings)
        if agreeing and not self.heads.sound:
            lines.append(f"{agreeing} heads agree.")
        lines += [
            one
            for one in self.heads.sentences()
            if one not in {f.sentence for f in self.heads.findings}
        ]
        lines += self.unsigned
        if self.trouble:
            lines.append(self.trouble)
        lines.append(f"Its head now: {self.head.code}")
        return tuple(lines)


def _place(one: Broken) -> str:
    named = one.position and f"entry {one.position}" not in one.reason
    return f"at entry {one.position}: {one.reason}" if named else one.reason


def _whose(one: Broken) -> str:
    return f" Sitting {one.sitting_id}." if one.sitting_id else ""


_OTHERS = (
    "Beside the keys there are signed heads of other ledgers and none of this one, though sittings "
    "have ended in it: it was exchanged or renamed, or was never signed here."
)
_last: dict[tuple[object, ...], Audit] = {}  # of this process, one at most


def audited_lately(store: Records) -> Audit:
    """Return the audit of a store as it stands now, made only once while no file is written.

    For pages: one page asks several times what stands. A database on a server is audited again
    each time, and so is a file that was written just now.
    """
    folder = default_folder()
    files = store.files()
    mark = last_written((*files, folder / HEADS, folder / PUBLIC)) if files else None
    if mark is None:
        return audited(store)
    if mark not in _last:
        found = audited(store)
        _last.clear()
        _last[mark] = found
    return _last[mark]


def audited(
    store: Records,
    brought: Sequence[SignedHead | str] = (),
    at: dt.datetime | None = None,
    *,
    contents: bool = False,
) -> Audit:
    """Return what is to be said of a whole store.

    Parameters
    ----------
    store : Records
        The store.
    brought : sequence of SignedHead or str
        Heads that other parties kept: signed ones, or codes typed from a printed record.
    at : datetime, optional
        Now.
    contents : bool
        Whether photographs are read as well, and held against their digests.

    Raises
    ------
    RecordsError
        If the store cannot be used.
    ValueError
        If a head that was brought is none, or of another ledger.
    """
    ledger_id, entries = store.ledger()
    own, trouble = _own_heads(ledger_id, entries)
    wanted = {_key(one): one for one in (*own, *brought)}
    try:
        trust = issuer_trust()
    except KeyFileError as error:
        trust, trouble = TrustList(), str(error)
    counted = [one for one in wanted.values() if isinstance(one, str) or counts(one, trust)]
    for one in brought:
        if not isinstance(one, str) and one not in counted:
            held_against(ledger_id, (), [one], trust)  # raises, in words
    found = held_against(ledger_id, entries, counted)
    moment = at or dt.datetime.now(dt.UTC)
    head = head_at(ledger_id, entries, moment)
    agreeing = {one.name for one in found.findings if one.agrees}
    signed_at: dict[int, frozenset[dt.datetime]] = {}
    for one in counted:
        if not isinstance(one, str) and one.head.code in agreeing:
            size = one.head.size
            signed_at[size] = signed_at.get(size, frozenset()) | {one.head.at}
    check = store.check(contents=contents)
    unsigned: tuple[str, ...] = ()
    if found.sound:  # otherwise heads that were signed do not count, and each act would be named
        check = replace(check, broken=(*check.broken, *unsigned_acts(entries, signed_at)))
        unsigned = unsigned_words(entries, signed_at)
    return Audit(check, found, head, trouble, store.last_entries(), signed_at, unsigned)


def _key(one: SignedHead | str) -> str:
    return one if isinstance(one, str) else one.head.code


def counts(one: SignedHead, trust: TrustList) -> bool:
    """Return whether a head is signed as it should be, by a key that was in use then."""
    return one.holds and any(held.in_use(one.head.at) for held in trust.holder(one.key))


def _own_heads(ledger_id: str, entries: Sequence[bytes]) -> tuple[list[SignedHead], str]:
    """Return the heads that stand in the ledger and beside the keys, and why not all of them."""
    found, trouble = [], ""
    for entry in entries:
        if b'"kind":"head"' in entry:
            try:
                stated = parsed_object(entry.decode())
                signed = head_of(stated["body"]) if stated["kind"] == HEAD else None
            except (ValueError, KeyError, TypeError):
                continue  # what cannot be read vouches for nothing
            if signed and signed.head.ledger == ledger_id:
                found.append(signed)
    try:
        beside = heads_kept(default_folder())
        found += [one for one in beside if one.head.ledger == ledger_id]
        if beside and not found and any(b'"kind":"outcome"' in entry for entry in entries):
            trouble = _OTHERS
    except KeyFileError as error:
        trouble = str(error)
    return found, trouble

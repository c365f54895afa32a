"""A ledger held against heads that others kept: what was changed, and between which of them.

A hash chain inside the ledger's own file shows slips and clumsy edits. Whoever holds the file can
remake the whole chain, and then only a head kept elsewhere tells. An auditor asks two parties
for heads (a code on a printed record is one) and gives them to `held_against`.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from quizzes.records.heads.head import SignedHead, TreeHead, typed_code
from quizzes.records.heads.merkle import Frontier, leaf_hash
from quizzes.records.keys.trust import TrustList, utc_text


@dataclass(frozen=True, slots=True)
class Finding:
    """What one kept head says of the ledger.

    Parameters
    ----------
    size : int
        How long the ledger was when the head was made.
    name : str
        The head's printed code.
    agrees : bool
        Whether the ledger still begins with exactly those entries.
    sentence : str
        The same in words.
    """

    size: int
    name: str
    agrees: bool
    sentence: str


@dataclass(frozen=True, slots=True)
class LedgerCheck:
    """What all kept heads together say.

    Parameters
    ----------
    size : int
        Entries of the ledger as it is now.
    findings : tuple of Finding
        One for each head, smallest first.
    sound : bool
        Whether all agree. With no head this says nothing, and `sentences` says so.
    first_bad, last_bad : int or None
        Entries, from 1, among which the first change must lie.
    """

    size: int
    findings: tuple[Finding, ...]
    sound: bool
    first_bad: int | None
    last_bad: int | None

    def sentences(self) -> tuple[str, ...]:
        """Return the check in words, a thought a line."""
        lines = [finding.sentence for finding in self.findings]
        if not self.findings:
            lines.append(
                f"No head was given, so nobody can say whether these {self.size} entries were "
                "remade as a whole. Ask a candidate or the second organisation for one."
            )
        elif self.sound:
            newest = self.findings[-1].size
            lines.append(
                f"The first {newest} of {self.size} entries are those that were there when the "
                "head was made. "
                + (
                    f"No head speaks of the {self.size - newest} after them yet."
                    if self.size > newest
                    else "That is all of them."
                )
            )
        else:
            lines.append(
                f"The first change lies at or after entry {self.first_bad} and no later than "
                f"entry {self.last_bad}."
            )
        return tuple(lines)


def head_at(ledger: str, entries: Iterable[bytes], at: datetime) -> TreeHead:
    """Return the head of a ledger's entries, each given by its bytes."""
    frontier = Frontier()
    for entry in entries:
        frontier = frontier.added(leaf_hash(entry))
    return TreeHead(ledger, frontier.size, frontier.root, at)


def held_against(
    ledger: str,
    entries: Iterable[bytes],
    kept: Sequence[SignedHead | str],
    trust: TrustList | None = None,
) -> LedgerCheck:
    """Return what heads kept by others say of a ledger as it is now.

    Parameters
    ----------
    ledger : str
        Identity of the ledger.
    entries : iterable of bytes
        Its entries in order, each as the bytes that the ledger hashes.
    kept : sequence of SignedHead or str
        Signed heads, or codes from printed records.
    trust : TrustList, optional
        Whose signatures count; a signed head of anybody else is refused.

    Raises
    ------
    ValueError
        If a code cannot be one, or a signed head is of another ledger or not signed as it should.
    """
    wanted = sorted((_wanted(one, ledger, trust) for one in kept), key=lambda pair: pair[0])
    sizes = {size for size, _ in wanted}
    codes, frontier = {}, Frontier()
    if 0 in sizes:
        codes[0] = _code(ledger, frontier)
    for entry in entries:
        frontier = frontier.added(leaf_hash(entry))
        if frontier.size in sizes:
            codes[frontier.size] = _code(ledger, frontier)
    findings = tuple(_finding(size, code, codes.get(size), frontier.size) for size, code in wanted)
    return _concluded(frontier.size, findings)


# A code binds ledger, size and root, not the moment, so any moment serves to compute it.
_ANY_MOMENT = datetime.fromisoformat("2000-01-01T00:00:00+00:00")


def _code(ledger: str, frontier: Frontier) -> str:
    return TreeHead(ledger, frontier.size, frontier.root, _ANY_MOMENT).code


def _wanted(one: SignedHead | str, ledger: str, trust: TrustList | None) -> tuple[int, str]:
    if isinstance(one, str):
        code = typed_code(one)
        return int(code.split("-", 1)[0]), code
    head = one.head
    if head.ledger != ledger:
        raise ValueError(f"The head {head.code} is of ledger {head.ledger}, not of {ledger}.")
    if not one.holds:
        raise ValueError(f"The head {head.code} is not signed by the key that it names.")
    if trust is not None and not any(held.in_use(head.at) for held in trust.holder(one.key)):
        raise ValueError(
            f"The head {head.code} of {utc_text(head.at)} is signed by a key that is not "
            f"trusted for that time: {one.key.did}."
        )
    return head.size, head.code


def _finding(size: int, kept: str, found: str | None, now: int) -> Finding:
    if found == kept:
        return Finding(size, kept, True, f"Head {kept} agrees: its {size} entries stand.")  # noqa: FBT003
    if found is None:
        sentence = f"Head {kept} had {size} entries; only {now} are left: the end was cut off."
    else:
        sentence = f"Head {kept} does not agree: among the first {size} entries something changed."
    return Finding(size, kept, False, sentence)  # noqa: FBT003


def _concluded(now: int, findings: tuple[Finding, ...]) -> LedgerCheck:
    bad = [finding for finding in findings if not finding.agrees]
    if not bad:
        return LedgerCheck(now, findings, True, None, None)  # noqa: FBT003
    # The tree of a size covers all entries before it: what one good head vouches for, stands.
    good = max((finding.size for finding in findings if finding.agrees), default=0)
    last = min(finding.size for finding in bad)
    first = min(good, last - 1) + 1
    return LedgerCheck(now, findings, False, max(first, 1), last)  # noqa: FBT003

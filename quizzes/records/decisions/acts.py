"""One act of a person about a sitting, as it is kept: who, in what role, what, why.

Names stay out of the ledger, which can never forget: people are named by their pseudonym.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

from quizzes.records.checks import REASON_LIMIT, plain_text
from quizzes.records.decisions.practical import Practical, practical_of
from quizzes.records.decisions.pseudonyms import pseudonym

LINE_LIMIT = 200  # characters of a fact about the circumstances
ERASED = "erased with the person’s name"


class Verdict(StrEnum):
    """What a person decides."""

    COMPETENT = "competent"
    NOT_YET = "not yet competent"
    MORE = "more evidence needed"


class Act(StrEnum):
    """What kind of act it is: the kind of its entry in the ledger."""

    DECISION = "decision"
    APPEAL = "appeal"
    RULING = "ruling"
    WITHDRAWAL = "withdrawal"
    CIRCUMSTANCES = "circumstances"
    CREDENTIAL = "credential"
    PRACTICAL = "practical"
    WAIVER = "waiver"


class Seat(StrEnum):
    """In what place a decision is taken."""

    FIRST = "first"
    SECOND = "second"
    SETTLEMENT = "settlement"
    CORRECTION = "correction"


@dataclass(frozen=True, slots=True)
class Decision:
    """A person's decision about a sitting.

    Parameters
    ----------
    verdict : Verdict
        What was decided.
    reasons : str
        Why, 1 to 500 characters.
    person_id : str
        Who: a pseudonym, a UUID.
    role : str
        In what role: assessor, second assessor.
    seat : Seat
        First, second, settlement of a difference, or correction.
    proposed : str
        What the grading proposed at that moment.
    second_wanted : bool
        Of a first decision: whether a second assessor is to decide as well, not knowing it.
    """

    verdict: Verdict
    reasons: str
    person_id: str
    role: str
    seat: Seat
    proposed: str
    second_wanted: bool = False

    def __post_init__(self) -> None:
        object.__setattr__(self, "verdict", Verdict(self.verdict))
        object.__setattr__(self, "seat", Seat(self.seat))
        _texts(self, reasons=REASON_LIMIT, role=80, proposed=80)
        object.__setattr__(self, "person_id", pseudonym(self.person_id))
        if self.second_wanted and self.seat is not Seat.FIRST:
            raise ValueError("only a first decision can ask for a second assessor")

    def body(self) -> dict[str, Any]:
        """Return what the ledger keeps."""
        return {
            "verdict": self.verdict.value,
            "reasons": self.reasons,
            "person": self.person_id,
            "role": self.role,
            "seat": self.seat.value,
            "proposed": self.proposed,
            "second_wanted": self.second_wanted,
        }


@dataclass(frozen=True, slots=True)
class Statement:
    """An appeal, the ruling on it, a withdrawal, or a waiver of the wait before the next attempt.

    Parameters
    ----------
    words : str
        Grounds or reasons, 1 to 500 characters.
    person_id : str
        Who: a pseudonym.
    role : str
        In what role.
    upheld : bool
        Of a ruling: whether the appeal is upheld.
    """

    words: str
    person_id: str
    role: str
    upheld: bool = False

    def __post_init__(self) -> None:
        _texts(self, words=REASON_LIMIT, role=80)
        object.__setattr__(self, "person_id", pseudonym(self.person_id))

    def body(self) -> dict[str, Any]:
        """Return what the ledger keeps."""
        told = {"words": self.words, "person": self.person_id, "role": self.role}
        return {**told, "upheld": self.upheld}


# What is asked of a sitting beside its log, with the question as the page puts it.
# Source: fields after ISO/IEC 17024:2012, clauses 7.4 and 9 (from memory).
CIRCUMSTANCES: Mapping[str, str] = {
    "identity": "How the candidate was identified (what was seen, by whom)",
    "invigilated": "Who was in the room and watched, by role",
    "accommodations": "Special arrangements for the candidate",
    "place": "Where the sitting was held",
    "instruments": "Instruments used beside the bench, with calibration",
    "incidents": "Interruptions and incidents",
}


@dataclass(frozen=True, slots=True)
class Circumstances:
    """In what circumstances a sitting was held; the last that was stated stands.

    Parameters
    ----------
    facts : mapping
        Of `CIRCUMSTANCES`; what is left out was not stated.
    person_id : str
        Who states it.
    """

    facts: Mapping[str, str] = field(default_factory=dict)
    person_id: str = ""

    def __post_init__(self) -> None:
        kept = {}
        for name, said in self.facts.items():
            if name not in CIRCUMSTANCES:
                raise ValueError(f"expected {', '.join(CIRCUMSTANCES)}, got {name!r:.40}")
            if said.strip():
                kept[name] = plain_text(CIRCUMSTANCES[name], said, LINE_LIMIT)
        object.__setattr__(self, "facts", kept)
        object.__setattr__(self, "person_id", pseudonym(self.person_id))

    def body(self) -> dict[str, Any]:
        """Return what the ledger keeps."""
        return {"facts": dict(self.facts), "person": self.person_id}


@dataclass(frozen=True, slots=True)
class Issued:
    """A credential that was signed and handed out.

    Parameters
    ----------
    record_id : str
        UUID of the record, the same however often it is handed out.
    index : int
        Its place in the list of withdrawals.
    digest : str
        SHA-256 of what it says, 64 hexadecimal digits.
    head : str
        Code of the ledger's head that it names.
    key : str
        Whose signature, `did:key:...`.
    """

    record_id: str
    index: int
    digest: str
    head: str
    key: str

    def body(self) -> dict[str, Any]:
        """Return what the ledger keeps."""
        return {
            "record": self.record_id,
            "index": self.index,
            "sha256": self.digest,
            "head": self.head,
            "key": self.key,
        }


AnyAct = Decision | Statement | Circumstances | Issued | Practical

_STATED = {"words": ERASED}
# What an act says in free words of the person whose sitting it is, and what stands for it once
# erased. It is kept beside the ledger, which holds a salted digest of it.
ERASABLE: Mapping[Act, Mapping[str, Any]] = {
    Act.DECISION: {"reasons": ERASED},
    Act.APPEAL: _STATED,
    Act.RULING: _STATED,
    Act.WITHDRAWAL: _STATED,
    Act.WAIVER: _STATED,
    Act.CIRCUMSTANCES: {"facts": {}},
    Act.PRACTICAL: {"notes": ERASED, "photographs": []},
    Act.CREDENTIAL: {},
}


@dataclass(frozen=True, slots=True)
class Entered:
    """An act with its place in the ledger.

    Parameters
    ----------
    seq : int
        Place in the ledger, from 1.
    at : datetime
        UTC.
    kind : Act
        What it is.
    act : Decision, Statement, Circumstances, Issued or Practical
        What it says.
    """

    seq: int
    at: dt.datetime
    kind: Act
    act: AnyAct


def read_act(kind: str, body: Mapping[str, Any]) -> AnyAct:
    """Return the act that an entry states.

    Raises
    ------
    ValueError
        If it states none.
    """
    try:
        return _read(Act(kind), body)
    except (KeyError, TypeError, AttributeError) as error:
        raise ValueError(f"{kind}: its body cannot be read: {error!r:.80}") from None


def _read(kind: Act, body: Mapping[str, Any]) -> AnyAct:
    if kind is Act.DECISION:
        given = {name: body[name] for name in ("verdict", "reasons", "role", "seat", "proposed")}
        return Decision(
            person_id=body["person"], second_wanted=body["second_wanted"] is True, **given
        )
    if kind is Act.CIRCUMSTANCES:
        return Circumstances(body["facts"], body["person"])
    if kind is Act.PRACTICAL:
        return practical_of(body)
    if kind is Act.CREDENTIAL:
        return Issued(body["record"], body["index"], body["sha256"], body["head"], body["key"])
    return Statement(body["words"], body["person"], body["role"], body["upheld"] is True)


def _texts(holder: object, **limits: int) -> None:
    for name, limit in limits.items():
        object.__setattr__(holder, name, plain_text(name, getattr(holder, name), limit))

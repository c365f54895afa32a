"""What goes into the store and comes out of it: frozen dataclasses, no database object."""

import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Literal, get_args

from quizzes.records.checks import aware, checked_owner, person_name, plain_text

Place = Literal["web", "lab", "binder", "test"]
PLACES: tuple[str, ...] = get_args(Place)
NUMBER_LENGTH = 40  # characters of a person's number
PRACTICE = "practice"  # the form id of a log that is kept but never listed as a result


@dataclass(frozen=True, slots=True)
class Start:
    """What is known when a person begins.

    Parameters
    ----------
    name : str
        As typed, 1 to 80 characters; trimmed and brought to Unicode NFC.
    form_id, form_edition : str
        The form; `practice` is logged but never a result.
    place : str
        `web`, `lab`, `binder` or `test`: where the sitting is made.
    owner : str
        SHA-256 of the browser's key, 64 hexadecimal digits.
    software_version, rules_edition : str
        What drew the case and what will judge it.
    started_at : datetime
        With a time zone; kept as UTC.
    number : str
        Staff or class number, up to 40 characters; it tells two people of one name apart.
    key : bytes
        32 random bytes, the dice key of the form. Never shown, sent or logged.
    kept : mapping
        Plain JSON: all that the sitting needs from now on.

    Raises
    ------
    ValueError
        If one of these is not so.
    """

    name: str
    form_id: str
    form_edition: str
    place: Place
    owner: str = field(repr=False)
    software_version: str
    rules_edition: str
    started_at: datetime
    number: str = ""
    key: bytes = field(default_factory=lambda: secrets.token_bytes(32), repr=False)
    kept: Mapping[str, Any] = field(default_factory=dict, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "name", person_name(self.name))
        for label in ("form_id", "form_edition", "software_version", "rules_edition"):
            object.__setattr__(self, label, plain_text(label, getattr(self, label)))
        if self.place not in PLACES:
            raise ValueError(f"place must be one of {', '.join(PLACES)}, got {self.place!r:.40}")
        checked_owner(self.owner)
        if self.number.strip():
            object.__setattr__(self, "number", plain_text("number", self.number, NUMBER_LENGTH))
        if not isinstance(self.key, bytes) or len(self.key) != 32:
            raise ValueError("key must be 32 bytes (value not shown)")
        object.__setattr__(self, "started_at", aware("started_at", self.started_at))


@dataclass(frozen=True, slots=True)
class Sitting:
    """One person's work through one form.

    Parameters
    ----------
    id, person_id : str
        Random UUIDs; the person's is a pseudonym.
    name, number : str or None
        As typed; None once erased.
    key : bytes
        32 random bytes that seed the cases. Never shown, sent or logged.
    return_code : str or None
        Known only at the moment of `begin_sitting`; the store keeps its hash.
    started_at, finished_at : datetime
        UTC; `finished_at` is None while it runs.
    form_id, form_edition, place, owner, software_version, rules_edition
        As in `Start`.
    """

    id: str
    person_id: str
    name: str | None
    form_id: str
    form_edition: str
    place: str
    owner: str = field(repr=False)
    key: bytes = field(repr=False)
    return_code: str | None = field(repr=False)
    software_version: str
    rules_edition: str
    started_at: datetime
    finished_at: datetime | None
    number: str | None = None


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody whose name is kept: pseudonym, name and number as typed."""

    id: str
    name: str
    number: str


@dataclass(frozen=True, slots=True)
class Stated:
    """An entry that concerns no sitting, such as a panel: place in the ledger, moment, body."""

    seq: int
    at: datetime
    body: dict[str, Any]


@dataclass(frozen=True, slots=True)
class Event:
    """One action and what was observed, as logged.

    Parameters
    ----------
    sitting_id : str
        Whose.
    slot, step : int
        Which case of the form, and which step in it; both count from 0.
    position : int
        Place in the ledger, from 1.
    at : datetime
        UTC.
    action, observation : dict
        Plain JSON; a copy of one's own.
    sha256 : str
        This entry's hash.
    """

    sitting_id: str
    slot: int
    step: int
    position: int
    at: datetime
    action: dict[str, Any]
    observation: dict[str, Any]
    sha256: str


@dataclass(frozen=True, slots=True)
class Judgement:
    """A grade of one case, or the outcome of a whole sitting, as stored.

    Parameters
    ----------
    sitting_id, position : str, int
        Whose, and its place in the ledger, from 1.
    slot : int or None
        Which case; None for the outcome of the sitting.
    at : datetime
        UTC.
    content : dict
        The grade or the outcome.
    supersedes : int or None
        Position of the judgement that this one corrects.
    superseded : bool
        True if a later one corrects it.
    author, reason : str or None
        Of a correction: who (an id, not a name) and why.
    sha256 : str
        This entry's hash.
    """

    sitting_id: str
    slot: int | None
    position: int
    at: datetime
    content: dict[str, Any]
    supersedes: int | None
    superseded: bool
    author: str | None
    reason: str | None
    sha256: str = ""


@dataclass(frozen=True, slots=True)
class ResultRow:
    """One line of the assessor's list.

    Parameters
    ----------
    sitting_id, person_id, name, form_id, form_edition, place, started_at
        As in `Sitting`.
    finished_at : datetime or None
        UTC; None for an attempt that was not finished, which counts as an attempt all the same.
    outcome : str or None
        The word of the outcome that stands now.
    content : dict or None
        The whole of that outcome.
    corrected : bool
        True if that outcome corrects an earlier one.
    """

    sitting_id: str
    person_id: str
    name: str | None
    form_id: str
    form_edition: str
    place: str
    started_at: datetime
    finished_at: datetime | None
    outcome: str | None
    content: dict[str, Any] | None
    corrected: bool


@dataclass(frozen=True, slots=True)
class Broken:
    """One place of the ledger that does not hold.

    Parameters
    ----------
    position : int
        Which entry, from 1; 0 for what is beside the ledger, such as a name.
    sitting_id, person_id : str or None
        Whom it concerns, where it concerns one.
    reason : str
        What is wrong there, in words.
    everywhere : bool
        Whether it concerns all.
    """

    position: int
    sitting_id: str | None
    reason: str
    person_id: str | None = None
    everywhere: bool = False


@dataclass(frozen=True, slots=True)
class StoreCheck:
    """What a walk along the whole ledger found.

    Parameters
    ----------
    ledger_id, head_sha256 : str
        Which ledger, and the hash of its last entry.
    entries, erased : int
        How many entries there are, and how many people were erased.
    broken : tuple of Broken
        In the order of the ledger; empty if all holds.
    """

    ledger_id: str
    entries: int
    head_sha256: str
    broken: tuple[Broken, ...]
    erased: int = 0

    @property
    def sound(self) -> bool:
        """Whether nothing is broken."""
        return not self.broken


@dataclass(frozen=True, slots=True)
class ChainCheck:
    """What a walk along the ledger found of one sitting.

    Parameters
    ----------
    sitting_id : str
        Whose.
    sound : bool
        True if each of its entries holds, and so do its row and its person's name.
    entries : int
        How many entries of the ledger are its own.
    head_sha256 : str
        The last hash of the ledger; written down elsewhere, it also exposes a remade ledger.
    position : int or None
        Where in the ledger the first bad entry is; 0 is the sitting's row or name.
    reason : str
        What is wrong there, in words; empty if sound.
    """

    sitting_id: str
    sound: bool
    entries: int
    head_sha256: str
    position: int | None
    reason: str

"""A competency record: who showed what on which brakes, who judged it, what it does not say."""

import datetime as dt
import re
import uuid
from dataclasses import dataclass
from enum import StrEnum

from quizzes.records.checks import aware, plain_text, whole

TITLE_LIMIT, LINE_LIMIT = 200, 1_000  # characters
MOST_LINES = 60
MOST_CASES = 10_000
# Where a sitting was made; a record of a demonstration says that nobody worked.
PLACES = {"web": "at this suite’s pages", "test": "by a program, for a demonstration"}
DEFERENCE = (
    "The maker's data, the local code and licensed practice stand above this record. "
    "It is evidence of competency. It is not a licence and permits nobody to work alone."
)


class Outcome(StrEnum):
    """What an assessor decided."""

    COMPETENT = "competent"
    NOT_YET = "not yet competent"


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who takes part in a record.

    Parameters
    ----------
    id : str
        A UUID, the person's pseudonym.
    name : str
        As it is printed, 1 to 80 characters.
    role : str
        What they were in it: candidate, assessor, second assessor.
    """

    id: str
    name: str
    role: str

    def __post_init__(self) -> None:
        _checked_uuid(self, "id")
        _text(self, "name", 80)
        _text(self, "role", 80)


@dataclass(frozen=True, slots=True)
class Scope:
    """Which brakes and which work the record is about.

    Parameters
    ----------
    design : str
        The design of brake.
    sizes : tuple of str
        Sizes that were worked on, by their plates.
    tasks : tuple of str
        What was asked: inspect, adjust, re-line.
    """

    design: str
    sizes: tuple[str, ...]
    tasks: tuple[str, ...]

    def __post_init__(self) -> None:
        _text(self, "design", TITLE_LIMIT)
        _lines(self, "sizes", TITLE_LIMIT, least=1)
        _lines(self, "tasks", TITLE_LIMIT, least=1)


@dataclass(frozen=True, slots=True)
class ElementShown:
    """One element of competency and the evidence behind it.

    Parameters
    ----------
    id, title : str
        As the scheme names it.
    shown, asked : int
        In how many cases it was shown, of how many that called for it.
    evidence : tuple of str
        What the person did, in words.
    critical : bool
        Whether the record cannot stand without it.
    """

    id: str
    title: str
    shown: int
    asked: int
    evidence: tuple[str, ...]
    critical: bool = False

    def __post_init__(self) -> None:
        _text(self, "id", 40)
        _text(self, "title", TITLE_LIMIT)
        whole("asked", self.asked, 1, MOST_CASES)
        whole("shown", self.shown, 0, self.asked)
        _lines(self, "evidence", LINE_LIMIT)


@dataclass(frozen=True, slots=True)
class Basis:
    """What the decision rests on, so that it can be looked up again.

    Parameters
    ----------
    sitting_id : str
        UUID of the sitting.
    form_id, form_edition, rules_edition : str
        What was sat and by which rules it was graded.
    limits_sheet : str
        Name and mark of the limits sheet.
    place : str
        Where it was sat.
    ledger_head : str
        Printed code of the ledger's head after the decision.
    practical : str
        Of an observed practical: when, by whom; empty if there was none.
    """

    sitting_id: str
    form_id: str
    form_edition: str
    rules_edition: str
    limits_sheet: str
    place: str
    ledger_head: str
    practical: str = ""

    def __post_init__(self) -> None:
        _checked_uuid(self, "sitting_id")
        for name in ("form_id", "form_edition", "rules_edition", "place", "ledger_head"):
            _text(self, name, 80)
        _text(self, "limits_sheet", TITLE_LIMIT)
        if self.practical:
            _text(self, "practical", LINE_LIMIT)


@dataclass(frozen=True, slots=True)
class StatusPlace:
    """Where to look whether the record was withdrawn.

    Parameters
    ----------
    list_id : str
        UUID of the house's status list.
    index : int
        Its place in that list.
    """

    list_id: str
    index: int

    def __post_init__(self) -> None:
        _checked_uuid(self, "list_id")
        whole("index", self.index, 0, 10_000_000)


@dataclass(frozen=True, slots=True)
class CompetencyRecord:
    """All that a competency record says.

    Parameters
    ----------
    id : str
        UUID of the record.
    holder, assessor : Person
        Whose it is and who decided; never the same person.
    outcome : Outcome
        What was decided.
    scheme, scheme_edition : str
        The scheme of assessment.
    criteria : str
        What had to be reached: cut, critical errors.
    scope : Scope
        Which brakes, which work.
    elements : tuple of ElementShown
        One at least.
    basis : Basis
        Sitting, form, editions, head of the ledger.
    shows, shows_not : tuple of str
        What the evidence shows, with its bound, and what it does not show.
    reasons : str
        The assessor's own.
    decided_at, valid_until : datetime
        With a time zone; kept to the second, UTC.
    second : Person or None
        The second assessor, if there was one.
    status : StatusPlace or None
        Where a withdrawal would show.
    deference : str
        What takes precedence over the record.
    """

    id: str
    holder: Person
    assessor: Person
    outcome: Outcome
    scheme: str
    scheme_edition: str
    criteria: str
    scope: Scope
    elements: tuple[ElementShown, ...]
    basis: Basis
    shows: tuple[str, ...]
    shows_not: tuple[str, ...]
    reasons: str
    decided_at: dt.datetime
    valid_until: dt.datetime
    second: Person | None = None
    status: StatusPlace | None = None
    deference: str = DEFERENCE

    def __post_init__(self) -> None:
        _checked_uuid(self, "id")
        _text(self, "scheme", TITLE_LIMIT)
        _text(self, "scheme_edition", 80)
        for name in ("criteria", "reasons", "deference"):
            _text(self, name, LINE_LIMIT)
        _lines(self, "shows", LINE_LIMIT, least=1)
        _lines(self, "shows_not", LINE_LIMIT, least=1)
        for name in ("decided_at", "valid_until"):
            moment = aware(name, getattr(self, name)).replace(microsecond=0)
            object.__setattr__(self, name, moment)
        self._fits_together()

    def _fits_together(self) -> None:
        if not 1 <= len(self.elements) <= MOST_LINES:
            raise ValueError(f"elements must be 1 to {MOST_LINES}, got {len(self.elements)}")
        if len({element.id for element in self.elements}) != len(self.elements):
            raise ValueError("elements must each have an id of their own")
        if self.valid_until <= self.decided_at:
            raise ValueError(
                f"valid_until must be after decided_at, got {self.valid_until} and "
                f"{self.decided_at}"
            )
        deciders = [person.id for person in (self.assessor, self.second) if person]
        if self.holder.id in deciders or len(set(deciders)) != len(deciders):
            raise ValueError("holder, assessor and second assessor must be different people")
        if self.outcome is Outcome.COMPETENT and any(
            element.critical and element.shown < element.asked for element in self.elements
        ):
            raise ValueError("competent needs every critical element in every case that asked it")


def _checked_uuid(holder: object, name: str) -> None:
    """Keep a UUID in its usual spelling."""
    value = getattr(holder, name)
    if not isinstance(value, str) or not re.fullmatch(r"[0-9a-fA-F-]{36}", value):
        raise ValueError(f"{name} must be a UUID in 36 characters, got {value!r:.60}")
    object.__setattr__(holder, name, str(uuid.UUID(value)))


def _text(holder: object, name: str, limit: int) -> None:
    object.__setattr__(holder, name, plain_text(name, getattr(holder, name), limit))


def _lines(holder: object, name: str, limit: int, least: int = 0) -> None:
    lines = getattr(holder, name)
    if not isinstance(lines, tuple) or not least <= len(lines) <= MOST_LINES:
        raise ValueError(f"{name} must be a tuple of {least} to {MOST_LINES} texts")
    kept = tuple(plain_text(name, line, limit) for line in lines)
    object.__setattr__(holder, name, kept)

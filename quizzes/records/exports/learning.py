"""A sitting as xAPI statements, for a learning record store: a pseudonym, never a name or address.

Source: xAPI 1.0.3 (ADL, 2016), and 2.0 as IEEE 9274.1.1 has it (from memory): the statements here
differ in their version only.
"""

import datetime as dt
import uuid
from dataclasses import dataclass
from typing import Any, Literal, get_args

from quizzes.records.checks import aware, plain_text, whole

Version = Literal["1.0.3", "2.0.0"]
Kind = Literal["case", "question"]
HOME = "https://gap-and-lining.invalid"  # RFC 2606: names nobody's site; a house sets its own
_ADL = "http://adlnet.gov/expapi"
_MOST_MARKS = 100


@dataclass(frozen=True, slots=True)
class Item:
    """One case or question of a sitting, as it was judged.

    Parameters
    ----------
    kind : str
        `case` or `question`.
    number : int
        Its place in the form, from 1.
    marks : int
        0 to 100.
    right : bool
        As judged.
    at : datetime
        When it was handed over.
    seconds : int
        How long it took.
    response : str
        The answer as recorded; empty for a case, whose answer is its log.
    """

    kind: Kind
    number: int
    marks: int
    right: bool
    at: dt.datetime
    seconds: int
    response: str = ""

    def __post_init__(self) -> None:
        if self.kind not in get_args(Kind):
            raise ValueError(f"kind must be case or question, got {self.kind!r:.40}")
        whole("number", self.number, 1, 10_000)
        whole("marks", self.marks, 0, _MOST_MARKS)
        whole("seconds", self.seconds, 0, 10_000_000)
        object.__setattr__(self, "at", aware("at", self.at))
        if self.response:
            object.__setattr__(self, "response", plain_text("response", self.response, 2_000))


@dataclass(frozen=True, slots=True)
class SittingDone:
    """A sitting from its begin to its outcome.

    Parameters
    ----------
    sitting_id, person_id : str
        UUIDs; the person's is a pseudonym.
    form_id, form_edition, scheme : str
        What was sat.
    started_at, finished_at : datetime
        `finished_at` is None for an attempt that was not finished.
    items : tuple of Item
        What was judged of it.
    marks : int
        Of the whole, 0 to 100.
    competent : bool
        The outcome that stands.
    assessor_id : str
        Pseudonym of who decided; empty if nobody has.
    """

    sitting_id: str
    person_id: str
    form_id: str
    form_edition: str
    scheme: str
    started_at: dt.datetime
    finished_at: dt.datetime | None
    items: tuple[Item, ...]
    marks: int
    competent: bool
    assessor_id: str = ""

    def __post_init__(self) -> None:
        for name in ("sitting_id", "person_id"):
            object.__setattr__(self, name, str(uuid.UUID(getattr(self, name))))
        for name in ("form_id", "form_edition", "scheme"):
            object.__setattr__(self, name, plain_text(name, getattr(self, name), 200))
        whole("marks", self.marks, 0, _MOST_MARKS)
        object.__setattr__(self, "started_at", aware("started_at", self.started_at))
        if self.finished_at is not None:
            object.__setattr__(self, "finished_at", aware("finished_at", self.finished_at))
            if self.finished_at < self.started_at:
                raise ValueError("finished_at must not be before started_at")


def statements(
    sitting: SittingDone, home: str = HOME, version: Version = "1.0.3"
) -> list[dict[str, Any]]:
    """Return a sitting as statements: attempted, then each item, then passed or failed.

    Parameters
    ----------
    sitting : SittingDone
        What happened.
    home : str
        Address that stands for this house; pseudonyms are unique under it.
    version : str
        `1.0.3` or `2.0.0`.

    Notes
    -----
    The same sitting gives the same statements with the same identities, so that a store which gets
    them twice keeps them once.
    """
    if version not in get_args(Version):
        raise ValueError(f"version must be 1.0.3 or 2.0.0, got {version!r:.20}")
    form = f"{home}/forms/{sitting.form_id}/{sitting.form_edition}"
    made = [_statement(sitting, home, version, "attempted", activity=_form(sitting, form))]
    for item in sitting.items:
        verb = "completed" if item.kind == "case" else "answered"
        made.append(
            _statement(sitting, home, version, verb, activity=_activity(item, form), item=item)
        )
    if sitting.finished_at is not None:
        verb = "passed" if sitting.competent else "failed"
        made.append(_statement(sitting, home, version, verb, activity=_form(sitting, form)))
    return made


def voiding(
    statement: dict[str, Any], assessor_id: str, at: dt.datetime, home: str = HOME
) -> dict[str, Any]:
    """Return the statement that takes an earlier one back, after a correction.

    Parameters
    ----------
    statement : dict
        What no longer stands.
    assessor_id : str
        Pseudonym of who corrected it.
    at : datetime
        When.
    home : str
        As in `statements`.
    """
    return {
        "id": str(uuid.uuid5(uuid.UUID(statement["id"]), "voided")),
        "actor": _account(home, assessor_id),
        "verb": {"id": f"{_ADL}/verbs/voided", "display": {"en": "voided"}},
        "object": {"objectType": "StatementRef", "id": statement["id"]},
        "timestamp": _moment(aware("at", at)),
        "version": statement["version"],
    }


def _statement(
    sitting: SittingDone,
    home: str,
    version: str,
    verb: str,
    *,
    activity: dict[str, Any],
    item: Item | None = None,
) -> dict[str, Any]:
    told = f"{verb} {item.kind} {item.number}" if item else verb
    made: dict[str, Any] = {
        "id": str(uuid.uuid5(uuid.UUID(sitting.sitting_id), told)),
        "actor": _account(home, sitting.person_id),
        "verb": {"id": f"{_ADL}/verbs/{verb}", "display": {"en": verb}},
        "object": activity,
        "context": _context(sitting, home, verb),
        "timestamp": _moment(_when(sitting, verb, item)),
        "version": version,
    }
    if item:
        made["result"] = _result(item.marks, item.seconds, right=item.right)
        if item.response:
            made["result"]["response"] = item.response
    elif verb in ("passed", "failed"):
        assert sitting.finished_at is not None  # a verb of the finished
        seconds = int((sitting.finished_at - sitting.started_at).total_seconds())
        made["result"] = _result(sitting.marks, seconds, right=sitting.competent)
        made["result"]["completion"] = True
    return made


def _when(sitting: SittingDone, verb: str, item: Item | None) -> dt.datetime:
    if item:
        return item.at
    ended = sitting.finished_at if verb in ("passed", "failed") else None
    return ended or sitting.started_at


def _result(marks: int, seconds: int, *, right: bool) -> dict[str, Any]:
    return {
        "score": {"scaled": marks / _MOST_MARKS, "raw": marks, "min": 0, "max": _MOST_MARKS},
        "success": right,
        "duration": f"PT{seconds}S",
    }


def _account(home: str, pseudonym: str) -> dict[str, Any]:
    return {"objectType": "Agent", "account": {"homePage": home, "name": pseudonym}}


def _context(sitting: SittingDone, home: str, verb: str) -> dict[str, Any]:
    made: dict[str, Any] = {
        "registration": sitting.sitting_id,
        "contextActivities": {"grouping": [{"id": f"{home}/schemes/{_slug(sitting.scheme)}"}]},
        "language": "en",
    }
    if sitting.assessor_id and verb in ("passed", "failed"):
        made["instructor"] = _account(home, sitting.assessor_id)
    return made


def _form(sitting: SittingDone, form: str) -> dict[str, Any]:
    named = {"en": f"Form {sitting.form_id}, edition {sitting.form_edition}"}
    return {
        "objectType": "Activity",
        "id": form,
        "definition": {"type": f"{_ADL}/activities/assessment", "name": named},
    }


def _activity(item: Item, form: str) -> dict[str, Any]:
    definition: dict[str, Any] = {
        "type": f"{_ADL}/activities/simulation",
        "name": {"en": f"{item.kind.capitalize()} {item.number}"},
    }
    if item.kind == "question":
        definition |= {"type": f"{_ADL}/activities/cmi.interaction", "interactionType": "other"}
    return {
        "objectType": "Activity",
        "id": f"{form}/{item.kind}s/{item.number}",
        "definition": definition,
    }


def _slug(text: str) -> str:
    signs = "".join(sign if sign.isascii() and sign.isalnum() else "-" for sign in text.lower())
    return "-".join(part for part in signs.split("-") if part) or "scheme"


def _moment(at: dt.datetime) -> str:
    return f"{at.astimezone(dt.UTC).isoformat(timespec='milliseconds').removesuffix('+00:00')}Z"

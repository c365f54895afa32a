"""An exported sitting graded again from itself alone: the same, or what differs and where.

The export is one JSON object::

    {
      "kind": "gap-and-lining sitting",
      "version": 2,
      "sitting": "<id>",
      "ledger": {"ledger": "<id>", "head_code": "<code>", "head_sha256": "<hex>",
                 "sound": true, "position": null, "reason": ""},
      "kept": {...},                    # quizzes/records/kept_sitting_1.schema.json
      "cases": [                        # one for each case of the form
        {
          "events": [{"action": {...}, "observation": {...}}, ...],
          "grade": {...}                # CaseGrade.to_json(), as it was kept; null if not graded
        }
      ],
      "questions": {"answers": [{"at": 0, "answer": {...}}, ...], "grade": {...}},
      "outcome": {...},                 # null while it is open
      "signed": {"key": "did:key:...", "signature": "z..."}   # over all the rest
    }

Nothing that is in force here is read, but for the rules of grading and the model of the bench.
Grades are compared by codes and numbers. Where today's model shows another number than the log
holds, that is a notice with both; whether a log was altered, the ledger tells.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from quizzes.grading.comparison import differing_lines
from quizzes.grading.editions import EDITIONS
from quizzes.grading.evidence.gathering import AlteredLogError, gather
from quizzes.grading.grade import CaseGrade, grade_evidence
from quizzes.grading.outcome import judge_sitting
from quizzes.records import RecordsError
from quizzes.records.kept_sitting import KeptSitting, read_kept
from widgets.bench.session import Event
from widgets.bench.unlike import Notice
from widgets.bench.words import altered_words, notice_words

from .deciding import rule_for
from .export_signature import signature_of
from .question_marks import differing_marks, marks_of, questions_of

KIND, VERSION = "gap-and-lining sitting", 2
MOST_CASES, MOST_EVENTS = 200, 5_000  # no sitting has more; a larger export is refused unread
Notices = tuple[Notice, ...]


class BadExportError(ValueError):
    """An export that cannot be graded again; its text names the place and the reason."""


@dataclass(frozen=True, slots=True)
class ReplayedCase:
    """One case graded again: whether the grade is the same, what differs, what to note."""

    number: int
    family: str
    same: bool | None  # None: nothing was kept to compare with
    lines: tuple[str, ...]
    grade: CaseGrade
    notices: Notices = ()


@dataclass(frozen=True, slots=True)
class Replayed:
    """A whole export graded again; each of the last three holds what differs, if anything."""

    edition: str
    cases: tuple[ReplayedCase, ...]
    questions: tuple[str, ...] = ()
    outcome: tuple[str, ...] = ()
    ledger: tuple[str, ...] = ()
    word: str | None = None  # the outcome that follows from the log; None while it is open
    vouching: str = ""  # whose signature the export carries, or that it carries none

    @property
    def same(self) -> bool:
        """Whether everything kept came out the same, and the ledger held when it was exported."""
        differing = self.questions or self.outcome or self.ledger
        return not differing and all(case.same is not False for case in self.cases)

    def sentences(self) -> Iterator[str]:
        """Yield a sentence for each case and one for the whole."""
        for case in self.cases:
            differing = "; ".join(line.rstrip(".") for line in case.lines)
            said = "the same, line by line" if case.same else differing
            yield f"Case {case.number}: {'no grade was kept' if case.same is None else said}."
            for notice in case.notices:
                yield f"Note on case {case.number}: {notice_words(notice)}."
        yield f"Questions: {'; '.join(self.questions) or 'the same, mark by mark'}."
        yield f"Outcome: {'; '.join(self.outcome) or 'the same'}."
        for words in self.ledger:
            yield f"Ledger: {words}."
        if self.vouching:
            yield self.vouching
        differ = sum(case.same is False for case in self.cases) + bool(self.questions)
        whole = "Every grade is the same"
        if differ:
            whole = "1 grade differs" if differ == 1 else f"{differ} grades differ"
        elif self.outcome or self.ledger:
            whole = "The grades are the same, and what is said above is not"
        yield f"{whole}, by edition {self.edition} of the rules."

    def to_json(self) -> dict[str, Any]:
        """Return the outcome as plain JSON."""
        return {
            "edition": self.edition,
            "same": self.same,
            "cases": [
                {
                    "case": case.number,
                    "same": case.same,
                    "differs": list(case.lines),
                    "notices": [notice.to_json() for notice in case.notices],
                    "standing": case.grade.standing.value,
                }
                for case in self.cases
            ],
            "questions": {"same": not self.questions, "differs": list(self.questions)},
            "outcome": {
                "same": not self.outcome,
                "differs": list(self.outcome),
                "follows": self.word,
            },
            "ledger": list(self.ledger),
            "signature": self.vouching,
        }


def replay_export(export: object, edition: str | None = None) -> Replayed:
    """Return an exported sitting graded again on the brakes that it holds.

    Parameters
    ----------
    export : object
        The JSON object of this module's docstring, as `json.load` gives it.
    edition : str, optional
        Rules to grade by; those that the sitting began with, if not given.

    Raises
    ------
    BadExportError
        If it is not an export, or a part of it cannot be read; the sentence names the place.
    """
    whole = _checked(export)
    kept = _kept(whole)
    rules = edition or kept.grading_edition
    if rules not in EDITIONS:
        known = ", ".join(EDITIONS)
        raise BadExportError(f"grading_edition: known are {known}, the export says {rules!r:.40}.")
    if len(whole["cases"]) != len(kept.cases):
        raise BadExportError(
            f"cases: the form has {len(kept.cases)}, the export holds {len(whole['cases'])}."
        )
    cases = tuple(_again(whole, kept, place, rules) for place in range(len(kept.cases)))
    questions = _questions(whole, kept)
    word, outcome = _outcome(whole, kept, cases)
    if rules != kept.grading_edition:
        outcome = ()
    forged, vouching = signature_of(whole)
    return Replayed(rules, cases, questions, outcome, (*_ledger(whole), *forged), word, vouching)


def _kept(whole: Mapping[str, Any]) -> KeptSitting:
    kept = whole.get("kept")
    if not isinstance(kept, Mapping):
        raise BadExportError("kept: it is not an object.")
    try:
        return read_kept(str(whole.get("sitting"))[:40], kept)
    except RecordsError as error:
        raise BadExportError(str(error)) from None


def _again(whole: Mapping[str, Any], kept: KeptSitting, place: int, rules: str) -> ReplayedCase:
    entry, number, case = whole["cases"][place], place + 1, kept.cases[place]
    events = [
        Event(line, dict(event["action"]), dict(event["observation"]))
        for line, event in enumerate(entry["events"])
    ]
    try:
        evidence = gather(case, events)
    except AlteredLogError as error:
        raise BadExportError(f"Case {number}: {altered_words(error.code, error.line)}.") from None
    grade = grade_evidence(evidence, rules)
    return _compared(whole, number, case.family, grade, evidence.notices)


def _compared(
    whole: Mapping[str, Any], number: int, family: str, grade: CaseGrade, notices: Notices
) -> ReplayedCase:
    kept = whole["cases"][number - 1].get("grade")
    if kept is None:
        if whole.get("outcome") is None or not whole["cases"][number - 1]["events"]:
            return ReplayedCase(number, family, None, (), grade, notices)
        words = ("its grade is missing, though the sitting is finished",)
        return ReplayedCase(number, family, False, words, grade, notices)  # noqa: FBT003
    try:
        lines = tuple(differing_lines(kept, grade.to_json()))
    except (KeyError, TypeError, AttributeError):
        raise BadExportError(f"Case {number}: its kept grade is not a grade.") from None
    return ReplayedCase(number, family, not lines, lines, grade, notices)


def _questions(whole: Mapping[str, Any], kept: KeptSitting) -> tuple[str, ...]:
    if not kept.questions:
        return ()
    try:
        graded = whole["questions"]["grade"]
        if graded is None:
            missing = "their marks are missing, though the sitting is finished"
            return (missing,) if whole.get("outcome") is not None else ()
        return differing_marks(graded, marks_of(kept, _answers(whole)))
    except (KeyError, ValueError, TypeError, AttributeError) as error:
        raise BadExportError(f"Questions: they cannot be marked again: {error!r:.80}.") from None


def _outcome(
    whole: Mapping[str, Any], kept: KeptSitting, cases: Sequence[ReplayedCase]
) -> tuple[str | None, tuple[str, ...]]:
    """Return the outcome that follows from the log, and what the kept one says otherwise."""
    outcome = whole.get("outcome")
    if outcome is None:
        return None, ()
    grades = [
        case.grade.to_json() for case in cases if whole["cases"][case.number - 1].get("grade")
    ]
    try:
        asked = questions_of(marks_of(kept, _answers(whole))) if kept.questions else None
        form, of = kept.blueprint, len(kept.cases)
        again = judge_sitting(
            grades, of, enough=rule_for(form), questions=asked, promised=form.elements,
            ending=form.ends,
        )  # fmt: skip
        word, wanted = outcome["outcome"], str(again["outcome"])
    except (KeyError, ValueError, TypeError, AttributeError) as error:
        raise BadExportError(f"outcome: it cannot be judged again: {error!r:.80}.") from None
    if word == wanted:
        return wanted, ()
    return wanted, (f"“{word!s:.40}” kept, “{wanted}” follows from the log",)


def _answers(whole: Mapping[str, Any]) -> dict[int, Mapping[str, Any]]:
    return {one["at"]: one["answer"] for one in whole["questions"]["answers"]}


def _ledger(whole: Mapping[str, Any]) -> tuple[str, ...]:
    ledger = whole.get("ledger")
    if not isinstance(ledger, Mapping) or not isinstance(ledger.get("head_sha256"), str):
        raise BadExportError("ledger: expected the head at the time of export.")
    if ledger.get("sound") is True:
        return ()
    return (f"at entry {ledger.get('position')!r:.20}: {ledger.get('reason')!s:.200}",)


def _checked(export: object) -> Mapping[str, Any]:
    """Return an export whose outline is as it must be.

    Raises
    ------
    BadExportError
        In one sentence, for the first thing that is not.
    """
    if not isinstance(export, Mapping) or export.get("kind") != KIND:
        raise BadExportError(f"This is not an export of a sitting: its kind is not “{KIND}”.")
    if export.get("version") != VERSION:
        raise BadExportError(
            f"version: this program reads {VERSION}, the export says {export.get('version')!r:.20}."
        )
    cases = export.get("cases")
    if not isinstance(cases, Sequence) or isinstance(cases, str) or not cases:
        raise BadExportError("cases: there are none.")
    if len(cases) > MOST_CASES:
        raise BadExportError(f"cases: at most {MOST_CASES}, the export has {len(cases)}.")
    for number, entry in enumerate(cases, start=1):
        _check_case(number, entry)
    return export


def _check_case(number: int, entry: object) -> None:
    if not isinstance(entry, Mapping):
        raise BadExportError(f"Case {number}: it is not an object.")
    events = entry.get("events")
    if not isinstance(events, Sequence) or isinstance(events, str):
        raise BadExportError(f"Case {number}: it has no list of events.")
    if len(events) > MOST_EVENTS:
        raise BadExportError(f"Case {number}: at most {MOST_EVENTS} events, it has {len(events)}.")
    for line, event in enumerate(events, start=1):
        held = event if isinstance(event, Mapping) else {}
        if not all(isinstance(held.get(part), Mapping) for part in ("action", "observation")):
            raise BadExportError(
                f"Case {number}: line {line} of the log has no action and observation."
            )
    if not isinstance(entry.get("grade"), Mapping | None):
        raise BadExportError(f"Case {number}: its kept grade is not an object.")

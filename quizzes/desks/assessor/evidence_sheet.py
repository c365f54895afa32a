"""One sitting laid open for the assessor: outcome, questions, cases with their logs, editions."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from quizzes.analysis.people.calibration import calibration
from quizzes.cases.case import Case
from quizzes.desks.assessor.acts_in_words import (
    acts_in_words,
    answer_words,
    given,
    reasons_given,
)
from quizzes.desks.sheets.result_sheets import sheet_html
from quizzes.grading.comparison import EditionPair, compare_editions, differing_lines
from quizzes.grading.editions import CHANNELS, EDITION, EDITIONS
from quizzes.grading.evidence.gathering import AlteredLogError, Recorder, gather
from quizzes.grading.grade import grade_evidence
from quizzes.grading.words import TITLES
from quizzes.records import Records, RecordsError, Sitting
from quizzes.records.kept_sitting import read_kept
from quizzes.sittings.clock import clock_remarks
from quizzes.sittings.run import QUESTIONS_SLOT, SittingRun
from quizzes.sittings.standing import Standings
from quizzes.sittings.what_now import over_sittings
from widgets.bench.session import Event
from widgets.bench.words import altered_words, notice_words


@dataclass(frozen=True, slots=True)
class _Worked:
    """One case of a sitting with its log as it is kept."""

    case: Case | None  # None where it cannot be read
    grade: Mapping[str, Any]
    events: list[Event]
    times: list[str]


@dataclass(frozen=True, slots=True)
class _Again:
    """A case graded again: in what it differs from what was kept, if at all; what to note."""

    differs: str = ""
    notices: tuple[str, ...] = ()


def evidence_html(store: Records, sitting: Sitting, *, with_answers: bool = True) -> str:
    """Return the evidence of a sitting; its cases only once it is finished.

    Without `with_answers` it tells what each question earned, and keeps text and answer back.
    """
    try:
        outcomes = store.outcomes(sitting.id)
    except RecordsError:  # its standing says why
        outcomes = ()
    outcome = outcomes[-1].content if outcomes else None
    standings = Standings(store)
    standing = standings.of(sitting, again=True)
    chain = f"holds; head of the ledger {standings.audit.head.code}"
    if standing.trouble:
        chain = standing.trouble
    facts: dict[str, Any] = {
        "clock": [],
        "cases": [],
        "regraded": "after the sitting",
        "questions": None,
    }
    if outcome is not None:
        facts |= _laid_open(store, sitting)
    return sheet_html(
        "evidence",
        name=sitting.name or "name erased",
        form=f"{_title(store, sitting)} ({sitting.form_id}), edition {sitting.form_edition}",
        unnumbered=not any(one.number for one in store.persons() if one.id == sitting.person_id),
        started=f"{sitting.started_at:%Y-%m-%d %H:%M:%S} UTC",
        finished=f"{sitting.finished_at:%Y-%m-%d %H:%M:%S} UTC" if sitting.finished_at else "",
        place=sitting.place,
        rules=sitting.rules_edition,
        software=sitting.software_version,
        chain=chain,
        trouble=standing.trouble,
        outcome=outcome,
        channels=channel_shares(outcome or {}),
        calibration=calibration_words(facts["questions"], to_candidate=False),
        with_answers=with_answers,
        all=over_sittings(store, sitting.person_id) if outcome is not None else None,
        **facts,
    )


def _title(store: Records, sitting: Sitting) -> str:
    """Return what the form was called when it was sat, as far as that can be read."""
    try:
        return read_kept(sitting.id, store.kept(sitting.id)).blueprint.title
    except RecordsError:
        return "Form"


def channel_shares(outcome: Mapping[str, Any]) -> list[tuple[str, int]]:
    """Return name and share reached of each channel of an outcome, whole percent."""
    shares = outcome.get("channels") or {}
    return [
        (words.capitalize(), round(100 * shares[key]))
        for key, words in CHANNELS.items()
        if key in shares
    ]


def calibration_words(questions: Mapping[str, Any] | None, *, to_candidate: bool) -> str:
    """Return what the questions say of how sure the person was, to them or of them, if asked."""
    asked = questions["questions"] if questions else ()
    answers = [(one["confidence"], one["share"] >= 1) for one in asked if one.get("confidence")]
    if not answers:
        return ""
    found = calibration(answers)
    return found.sentence if to_candidate else found.of_candidate


def _laid_open(store: Records, sitting: Sitting) -> dict[str, Any]:
    """Return cases and questions of a finished sitting, and whether grading again is the same.

    What cannot be read or graded again is shown as it was kept, with the reason.
    """
    try:
        run = SittingRun(store, sitting)
        cases: tuple[Case | None, ...] = run.cases
    except RecordsError as error:
        kept = store.grades(sitting.id)
        grades = [one.content for one in kept if one.slot != QUESTIONS_SLOT]
        cases, said = (None,) * len(grades), str(error)
        marked = [one.content for one in kept if one.slot == QUESTIONS_SLOT]
        questions: Mapping[str, Any] | None = marked[0] if marked else None
    else:
        grades, questions, said = run.grades, _with_answers(run), ""
    worked = list(_worked(store, sitting, cases, grades))
    again = [_again(one) for one in worked]
    differing = [
        f"case {number} ({one.differs})" for number, one in enumerate(again, start=1) if one.differs
    ]
    said = said or (f"differs: {'; '.join(differing)}" if differing else "the same, line by line")
    shown = [_shown(*pair) for pair in zip(worked, again, strict=True)]
    clock = clock_remarks(store, sitting, [*range(len(cases)), QUESTIONS_SLOT])
    return {"clock": clock, "cases": shown, "regraded": said, "questions": questions}


def _with_answers(run: SittingRun) -> Mapping[str, Any] | None:
    """Return how the questions went, each with what the candidate answered, in words."""
    marked = run.questions_grade
    if marked is None:
        return None
    answers = run.answers()
    words = {
        posed.hidden.item.id: answer_words(posed.shown, answers[at])
        for at, posed in enumerate(run.questions)
        if at in answers
    }
    asked = [{**one, "given": words.get(one["item"], "")} for one in marked["questions"]]
    return {**marked, "questions": asked}


def _again(one: _Worked) -> _Again:
    """Return in what grading a case again does not give what was kept, and what to note."""
    if one.case is None:
        return _Again()
    edition = one.grade.get("edition", EDITION)
    if edition not in EDITIONS:
        return _Again(f"its edition {edition!r:.20} is not known here")
    try:
        evidence = gather(one.case, one.events)
    except AlteredLogError as error:
        return _Again(altered_words(error.code, error.line))
    notices = tuple(map(notice_words, evidence.notices))
    try:
        lines = differing_lines(one.grade, grade_evidence(evidence, edition).to_json())
        return _Again(" ".join(lines), notices)
    except (KeyError, TypeError, AttributeError):
        return _Again("its kept grade cannot be read", notices)


def _shown(one: _Worked, again: _Again) -> dict[str, Any]:
    needed = one.case and Recorder(one.case).evidence().competent_conclusion.outcome
    size = one.case.size.name if one.case else ""
    return {
        "grade": one.grade,
        "size": size,
        "competent": needed,
        "given": given(one.case) if one.case else [],
        "reasons": reasons_given(one.events),
        "lost": _lost(one.grade),
        "lines": acts_in_words(one.events, one.times),
        "notices": again.notices,
    }


def _lost(grade: Mapping[str, Any]) -> list[str]:
    """Return where marks were lost, the most first."""
    lost = [(1 - one["score"], TITLES[one["id"]]) for one in grade["elements"]]
    return [
        f"{title}: {100 * share:.0f} %"
        for share, title in sorted(lost, reverse=True)
        if share > 0.005
    ]


def _worked(
    store: Records,
    sitting: Sitting,
    cases: Iterable[Case | None],
    grades: Iterable[Mapping[str, Any]],
) -> Iterable[_Worked]:
    for slot, (case, grade) in enumerate(zip(cases, grades, strict=False)):
        kept = store.events(sitting.id, slot)
        events = [Event(n, event.action, event.observation) for n, event in enumerate(kept)]
        yield _Worked(case, grade, events, [f"{event.at:%H:%M:%S}" for event in kept])


def can_compare_editions() -> bool:
    """Return whether there is more than one edition of the rules."""
    return len(EDITIONS) > 1


def editions_html(store: Records, sitting: Sitting) -> str:
    """Return a finished sitting graded by two editions of the rules, side by side.

    Raises
    ------
    ValueError
        If it is not finished, its form is gone, or its log does not come out of its cases.
    """
    if not store.outcomes(sitting.id):
        raise ValueError("This sitting is not finished; it can be graded side by side once it is.")
    run = SittingRun(store, sitting)
    first, second = editions_to_compare(sitting.rules_edition)
    pairs = []
    for number, one in enumerate(_worked(store, sitting, run.cases, run.grades), start=1):
        assert one.case is not None
        try:
            pairs.append(compare_editions(one.case, one.events, first, second))
        except AlteredLogError as error:
            said_so = altered_words(error.code, error.line)
            raise ValueError(f"Case {number}: {said_so}.") from None
    return sheet_html(
        "editions",
        name=sitting.name or "name erased",
        first=first,
        second=second,
        outcomes=[_outcome(run, pairs, place) for place in ("first", "second")],
        pairs=pairs,
    )


def editions_to_compare(own: str) -> tuple[str, str]:
    """Return the editions to be laid side by side: the sitting's own and today's, or the last two.

    Examples
    --------
    >>> editions_to_compare("1")[0]
    '1'
    """
    if own in EDITIONS and own != EDITION:
        return own, EDITION
    before = [edition for edition in EDITIONS if edition != EDITION]
    return (before[-1] if before else EDITION), EDITION


def _outcome(run: SittingRun, pairs: list[EditionPair], place: str) -> Mapping[str, Any]:
    return run.outcome([getattr(pair, place).to_json() for pair in pairs])

"""A form that several virtual people sit: what one has done at a brake is not worked out twice.

A bench gives the same for the same acts, and so does the grading: both are pure. So whatever
comes out of here is what a bench and a grading of one's own would have said.
"""

from collections.abc import Mapping
from typing import Any, NamedTuple

from quizzes.candidates.alike import (
    OF_ALL_BEFORE,
    OF_THE_BRAKE,
    Asked,
    Way,
    ends_with_its_decision,
    take_over,
)
from quizzes.candidates.ends import unsafe_ends
from quizzes.candidates.people.stranger import Act, Stranger, acting
from quizzes.candidates.worker import work
from quizzes.cases.case import Case
from quizzes.forms.drawing import Form
from quizzes.grading.evidence.gathering import Evidence, Recorder, Step
from quizzes.grading.grade import grade_evidence
from quizzes.questions.choosing import choose_all
from quizzes.questions.own import bank_in_force
from quizzes.questions.posing import Hidden, draw_question
from widgets.bench import actions as do
from widgets.bench.machine import take
from widgets.bench.observed import Observation
from widgets.brake.sizes.sheet import LimitsSheet


class Ended(NamedTuple):
    """How a case ended: its grade as it is kept, and how it endangered somebody."""

    grade: Mapping[str, Any]
    unsafe: tuple[str, ...]


class Worked(NamedTuple):
    """How a case ended, and whether somebody did what the careful one would not have done."""

    ended: Ended
    otherwise: bool


class Question(NamedTuple):
    """A question as it was drawn: its key, whether it is on safety, how hard somebody said."""

    hidden: Hidden
    on_safety: bool
    difficulty: float


class _Done:
    """What has been done at a brake up to a step, what somebody did next, how it ended there."""

    __slots__ = ("ended", "step", "then")

    def __init__(self, step: Step) -> None:
        self.step = step
        self.then: dict[do.Action, _Done] = {}
        self.ended: Ended | None = None


class SharedBrake:
    """One brake, with what has been done at it so far and the result.

    What has been done is kept as a tree: each act leads on from what was done before it.
    """

    __slots__ = ("_decided", "_known", "_ways", "case", "first", "setup", "start")

    def __init__(self, case: Case) -> None:
        own = Recorder(case)
        self.case, self.setup, self.start = case, own.setup, own.start
        self.first: dict[do.Action, _Done] = {}
        self._ways: list[tuple[Way, Worked]] = []
        self._known: Evidence | None = None
        self._decided: dict[_Done | None, Evidence] = {}

    def worked(self, sheet: LimitsSheet, stranger: Stranger) -> Worked:
        """Return how somebody works this brake, or the result where another did the same."""
        for way, worked in self._ways:
            if way.is_of(stranger, self.case):
                return worked
        recorder, asked, other = self.recorder(), Asked(stranger.habits), list[do.Action]()

        def instead(action: do.Action, case: Case) -> list[do.Action]:
            acts = stranger.instead(action, case) if stranger.instead else [action]
            if acts != [action]:
                other.append(action)
            return acts

        act = acting(recorder.act, self.case, instead if stranger.instead else None)
        if stranger.hands:
            act = _noting(stranger.hands(recorder.act, self.case), recorder, other)
        job = work(act, sheet, asked.as_habits(), self.case.order)
        worked = Worked(self.ended(recorder), job.otherwise or bool(other))
        if not other:
            acts = tuple(step.action for step in recorder.steps)
            self._ways.append((Way(asked.answers, acts), worked))
        return worked

    def recorder(self) -> "SharedRecorder":
        """Return a bench for the next person."""
        return SharedRecorder(self)

    def ended(self, recorder: "SharedRecorder") -> Ended:
        """Return how a case ended that was worked on here."""
        done = recorder.done
        if done is not None and done.ended is not None:
            return done.ended
        evidence = recorder.evidence()
        self._take_over(evidence, recorder.before)
        ended = Ended(grade_evidence(evidence).to_json(), unsafe_ends(recorder))
        if done is not None:
            done.ended = ended
        return ended

    def _take_over(self, evidence: Evidence, before: _Done | None) -> None:
        """Take over what others' work here has shown already, and keep this for the next one."""
        if self._known is not None and not evidence.on_paper:
            take_over(evidence, self._known, OF_THE_BRAKE)
        self._known = evidence
        if not ends_with_its_decision(evidence):
            return
        if before in self._decided:
            take_over(evidence, self._decided[before], OF_ALL_BEFORE)
        self._decided[before] = evidence


def _noting(act: Act, recorder: Recorder, other: list[do.Action]) -> Act:
    """Return hands that remember, with what they do otherwise than they were asked added up."""

    def noted(action: do.Action) -> Observation:
        before = len(recorder.steps)
        seen = act(action)
        if [step.action for step in recorder.steps[before:]] != [action]:
            other.append(action)
        return seen

    return noted


class SharedRecorder(Recorder):
    """A recorder at a brake that others have worked on as well."""

    __slots__ = ("before", "done", "then")

    def __init__(self, brake: SharedBrake) -> None:
        self.case, self.setup, self.start = brake.case, brake.setup, brake.start
        self.state, self.then = brake.start, brake.first
        self.done: _Done | None = None
        self.before: _Done | None = None
        self.steps: list[Step] = []

    def act(self, action: do.Action) -> Observation:
        """Carry out one action, or recall its result, and return what is seen."""
        done = self.then.get(action)
        if done is None:
            after, observation = take(self.setup, self.state, action)
            step = Step(len(self.steps), action, observation, self.state, after)
            done = self.then[action] = _Done(step)
        step = done.step
        self.before, self.done, self.then, self.state = self.done, done, done.then, step.after
        self.steps.append(step)
        return step.observation


class SharedForm:
    """A form with its brakes and its questions, for one person after another."""

    __slots__ = ("asked", "brakes", "form")

    def __init__(self, form: Form, sheet: LimitsSheet) -> None:
        self.form = form
        self.brakes = tuple(SharedBrake(case) for case in form.cases)
        self.asked = tuple(
            Question(draw_question(item, own, sheet).hidden, item.element.startswith("S"),
                  item.difficulty)
            for item, own in choose_all(bank_in_force(sheet), form.questions, sheet)
        )  # fmt: skip

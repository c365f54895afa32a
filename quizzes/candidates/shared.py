"""A form that several virtual people sit: what one has done at a brake is not worked out twice.

A bench gives the same for the same acts, and so does the grading: both are pure. So whatever
comes out of here is what a bench and a grading of one's own would have said.
"""

from collections.abc import Mapping
from typing import Any, NamedTuple

from quizzes.candidates.ends import unsafe_ends
from quizzes.cases.case import Case
from quizzes.forms.drawing import Form
from quizzes.grading.evidence.gathering import Recorder, Step
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


class Asked(NamedTuple):
    """A question as it was drawn: its key, whether it is on safety, how hard somebody said."""

    hidden: Hidden
    on_safety: bool
    difficulty: float


class SharedBrake:
    """One brake, with what has been done at it so far and what came of it.

    What has been done is kept as a tree: each act leads on from what was done before it.
    """

    __slots__ = ("_ended", "_seen", "case", "setup", "start")

    def __init__(self, case: Case) -> None:
        first = Recorder(case)
        self.case, self.setup, self.start = case, first.setup, first.start
        self._seen: dict[tuple[int, do.Action], tuple[int, Step]] = {}
        self._ended: dict[int, Ended] = {}

    def recorder(self) -> "SharedRecorder":
        """Return a bench for the next person."""
        return SharedRecorder(self)

    def take(self, place: int, steps: list[Step], action: do.Action) -> tuple[int, Step]:
        """Carry an action out after some steps, or remember what came of it."""
        known = self._seen.get((place, action))
        if known is None:
            before = steps[-1].after if steps else self.start
            after, observation = take(self.setup, before, action)
            step = Step(len(steps), action, observation, before, after)
            known = self._seen[place, action] = (len(self._seen) + 1, step)
        return known

    def ended(self, recorder: "SharedRecorder") -> Ended:
        """Return how a case ended that was worked on here."""
        known = self._ended.get(recorder.place)
        if known is None:
            grade = grade_evidence(recorder.evidence()).to_json()
            known = self._ended[recorder.place] = Ended(grade, unsafe_ends(recorder))
        return known


class SharedRecorder(Recorder):
    """A recorder at a brake that others have worked on as well."""

    __slots__ = ("brake", "place")

    def __init__(self, brake: SharedBrake) -> None:
        self.case, self.setup, self.start = brake.case, brake.setup, brake.start
        self.brake, self.state, self.place = brake, brake.start, 0
        self.steps: list[Step] = []

    def act(self, action: do.Action) -> Observation:
        """Carry out one action and return what is seen."""
        self.place, step = self.brake.take(self.place, self.steps, action)
        self.steps.append(step)
        self.state = step.after
        return step.observation


class SharedForm:
    """A form with its brakes and its questions, for one person after another."""

    __slots__ = ("asked", "brakes", "form")

    def __init__(self, form: Form, sheet: LimitsSheet) -> None:
        self.form = form
        self.brakes = tuple(SharedBrake(case) for case in form.cases)
        places = [(slot.element, slot.difficulty, slot.key) for slot in form.questions]
        self.asked = tuple(
            Asked(draw_question(item, own, sheet).hidden, item.element.startswith("S"),
                  item.difficulty)
            for item, own in (choose_all(bank_in_force(sheet), places, sheet) if places else ())
        )  # fmt: skip

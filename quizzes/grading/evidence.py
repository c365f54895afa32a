"""What a log holds: every step replayed with the brake behind it, and what was written down.

The log is replayed on the case's own brake. An observation that comes out
differently means that the log was altered or belongs to another case.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

from quizzes.cases.case import Case
from widgets.bench import actions as do
from widgets.bench.actions import form
from widgets.bench.machine import take
from widgets.bench.measuring import SAME_PLACE_DEG
from widgets.bench.notes import DiscNote, GapNote
from widgets.bench.observed import Observation
from widgets.bench.session import Event
from widgets.bench.setup import Setup
from widgets.bench.standing import gap_now
from widgets.bench.starts import at_start
from widgets.bench.state import State
from widgets.brake.rules import Conclusion, Reading, conclude
from widgets.instruments import caliper, feeler
from widgets.instruments.feeler import ALL_LEAVES_MM, GapReading, marks_for

DISC_U_MM = caliper.budget().combined
COMPETENT_GAP_U_MM = feeler.budget(0.01, leaves=2).combined
TRUE_PLACES = 360  # one a degree: a wave of the faces must not hide between two of them
SCREW_WORK = {"loosen_lock", "turn_screw", "tighten_lock"}


class AlteredLogError(ValueError):
    """A log that does not come out of its case."""


@dataclass(frozen=True, slots=True)
class Step:
    """One line of the log with the brake before and after it."""

    number: int
    action: do.Action
    observation: Observation
    before: State
    after: State

    @property
    def done(self) -> bool:
        """Whether it was carried out."""
        return self.observation.done


@dataclass(frozen=True, slots=True)
class JudgedGap:
    """A gap that was written down: reading, error against the truth then, and how it came about.

    Attributes
    ----------
    z : float
        Reading minus truth in standard uncertainties of the reading.
    gauged : bool
        Whether a leaf was put in at that place at all since the screws last moved.
    supported : bool
        Whether both stacks were tried there and felt as written.
    """

    step: int
    reading: Reading
    z: float
    gauged: bool
    supported: bool
    energised: bool
    dusty: bool


@dataclass(frozen=True, slots=True)
class JudgedDisc:
    """A disc reading that was written down, its error, and whether a caliper showed it."""

    step: int
    reading: Reading
    z: float
    gauged: bool
    supported: bool


_Judged = TypeVar("_Judged", JudgedGap, JudgedDisc)


@dataclass(frozen=True)
class Evidence:
    """A whole job: the case, its steps, and what follows from them."""

    case: Case
    setup: Setup
    steps: tuple[Step, ...]

    @property
    def end(self) -> State:
        """The state at the end of the log."""
        return self.steps[-1].after if self.steps else at_start(self.setup)

    def did(self, *kinds: str) -> tuple[Step, ...]:
        """Return the steps of these kinds that were carried out."""
        return tuple(step for step in self.steps if step.done and step.action.kind in kinds)

    @cached_property
    def first_screw_work(self) -> int:
        """Number of the first step on a screw, or one past the end."""
        work = self.did(*SCREW_WORK)
        return work[0].number if work else len(self.steps)

    @cached_property
    def last_screw_work(self) -> int:
        """Number of the last step on a screw, or -1."""
        work = self.did(*SCREW_WORK)
        return work[-1].number if work else -1

    @cached_property
    def decision(self) -> Step | None:
        """The decision on the brake as it was found: the last before a screw was touched.

        If none was made in time, the first one after.
        """
        decisions = self.did("decide")
        in_time = [step for step in decisions if step.number < self.first_screw_work]
        if in_time:
            return in_time[-1]
        return decisions[0] if decisions else None

    @cached_property
    def decided_at(self) -> int:
        """Number of the step of the decision, or one past the end."""
        return self.decision.number if self.decision else len(self.steps)

    @cached_property
    def gaps(self) -> tuple[JudgedGap, ...]:
        """Every gap that was written down, judged, in order."""
        return tuple(_judge_gap(self, step) for step in self.did("write_gap"))

    @cached_property
    def discs(self) -> tuple[JudgedDisc, ...]:
        """Every disc reading that was written down, judged, in order."""
        return tuple(_judge_disc(self, step) for step in self.did("write_disc"))

    @cached_property
    def gaps_as_found(self) -> tuple[JudgedGap, ...]:
        """Gap readings that the decision stands on: before it and before any screw work."""
        end = min(self.decided_at, self.first_screw_work)
        return _latest(judged for judged in self.gaps if judged.step < end)

    @cached_property
    def discs_as_found(self) -> tuple[JudgedDisc, ...]:
        """Disc readings that the decision stands on."""
        return _latest(judged for judged in self.discs if judged.step < self.decided_at)

    @cached_property
    def gaps_as_left(self) -> tuple[JudgedGap, ...]:
        """Gap readings made after the last work on a screw; all as found if there was none."""
        return _latest(judged for judged in self.gaps if judged.step > self.last_screw_work)

    @cached_property
    def own_conclusion(self) -> Conclusion:
        """What the candidate's own readings support."""
        return conclude(
            self.case.size,
            [judged.reading for judged in self.gaps_as_found],
            [judged.reading for judged in self.discs_as_found],
        )

    @cached_property
    def competent_conclusion(self) -> Conclusion:
        """What a competent person's readings of the brake as found would support."""
        return _true_conclusion(
            self.setup, at_start(self.setup), COMPETENT_GAP_U_MM, DISC_U_MM
        )


def gather(case: Case, events: Iterable[Event]) -> Evidence:
    """Return the evidence of a log, replayed on the brake of its case.

    Raises
    ------
    AlteredLogError
        If an event cannot be read or its observation does not come out again.
    """
    setup = case.setup()
    state = at_start(setup)
    steps: list[Step] = []
    for event in events:
        state = _replay(setup, state, event, steps)
    return Evidence(case, setup, tuple(steps))


def _replay(setup: Setup, state: State, event: Event, steps: list[Step]) -> State:
    number = len(steps)
    try:
        action = form.from_json(dict(event.action))
    except form.BadActionError as error:
        raise AlteredLogError(f"line {number} of the log is no action: {error}") from None
    after, observation = take(setup, state, action)
    if observation.to_json() != dict(event.observation):
        raise AlteredLogError(
            f"line {number} of the log ({action.kind}) does not come out of this case again"
        )
    steps.append(Step(number, action, observation, state, after))
    return after


def true_conclusion(setup: Setup, state: State) -> Conclusion:
    """Return what the hidden truth of a brake as it stands asks for."""
    return _true_conclusion(setup, state, 1e-4, 1e-4, places=TRUE_PLACES)


def _true_conclusion(
    setup: Setup, state: State, gap_u_mm: float, disc_u_mm: float, places: int = 8
) -> Conclusion:
    gap, disc = gap_now(setup, state), setup.condition.disc
    angles = [360.0 * place / places for place in range(places)]
    return conclude(
        setup.size,
        [Reading(angle, gap.at_mm(angle), gap_u_mm) for angle in angles],
        [Reading(angle, disc.at_mm(angle, state.shaft_deg), disc_u_mm) for angle in angles],
    )


def _judge_gap(evidence: Evidence, written: Step) -> JudgedGap:
    note = written.after.gap_notes[-1]
    reading = _gap_reading(note)
    tried = _tried_at(evidence, written, note.angle_deg)
    truth_mm = gap_now(evidence.setup, written.before).at_mm(note.angle_deg)
    return JudgedGap(
        written.number,
        reading,
        (reading.value_mm - truth_mm) / reading.u_mm,
        bool(tried),
        _felt_as_written(note, tried),
        any(step.before.released for step in tried),
        any(step.before.dust_mm > 0 for step in tried),
    )


def _gap_reading(note: GapNote) -> Reading:
    leaves = max(1, _leaf_count(note.no_go_mm))
    read = GapReading(note.go_mm, note.no_go_mm, leaves)
    return Reading(note.angle_deg, read.middle_mm, read.uncertainty_mm)


def _leaf_count(thickness_mm: float) -> int:
    try:
        return len(marks_for(round(thickness_mm, 3), ALL_LEAVES_MM))
    except ValueError:
        return 1


def _tried_at(evidence: Evidence, written: Step, angle_deg: float) -> tuple[Step, ...]:
    """Return the leaves put in at a place before a note, since the screws last moved."""
    moved = [step.number for step in evidence.did(*SCREW_WORK) if step.number < written.number]
    since = moved[-1] if moved else -1
    return tuple(
        step
        for step in evidence.did("gauge_gap")
        if since < step.number < written.number
        and isinstance(step.action, do.GaugeGap)
        and _apart_deg(step.action.angle_deg, angle_deg) <= SAME_PLACE_DEG
    )


def _felt_as_written(note: GapNote, tried: Sequence[Step]) -> bool:
    went = [_stack_mm(step) for step in tried if step.observation.seen["feel"] != "will not enter"]
    stuck = [_stack_mm(step) for step in tried if step.observation.seen["feel"] == "will not enter"]
    goes = note.go_mm == 0 or any(abs(mm - note.go_mm) < 0.0051 for mm in went)
    return goes and any(abs(mm - note.no_go_mm) < 0.0051 for mm in stuck)


def _stack_mm(step: Step) -> float:
    return sum(step.action.leaves_mm) if isinstance(step.action, do.GaugeGap) else 0.0


def _judge_disc(evidence: Evidence, written: Step) -> JudgedDisc:
    note: DiscNote = written.after.disc_notes[-1]
    shown = [
        step.observation.seen["shown_mm"]
        for step in evidence.did("measure_disc")
        if step.number < written.number
        and isinstance(step.action, do.MeasureDisc)
        and _apart_deg(step.action.angle_deg, note.angle_deg) <= SAME_PLACE_DEG
    ]
    truth_mm = evidence.setup.condition.disc.at_mm(note.angle_deg, written.before.shaft_deg)
    return JudgedDisc(
        written.number,
        Reading(note.angle_deg, note.value_mm, DISC_U_MM),
        (note.value_mm - truth_mm) / DISC_U_MM,
        bool(shown),
        any(abs(mm - note.value_mm) < 0.051 for mm in shown),
    )


def _apart_deg(first_deg: float, second_deg: float) -> float:
    return abs((first_deg - second_deg + 180) % 360 - 180)


def _latest(judged: Iterable[_Judged]) -> tuple[_Judged, ...]:
    """Return the last reading at each place, in the order of the places' last readings."""
    by_place = {round(one.reading.angle_deg % 360): one for one in judged}
    return tuple(by_place.values())


def places_apart(judged: Sequence[JudgedGap | JudgedDisc], least_deg: float = 20.0) -> int:
    """Return how many places lie at least `least_deg` from each other, degrees."""
    chosen: list[float] = []
    for angle in sorted(one.reading.angle_deg % 360 for one in judged):
        if all(_apart_deg(angle, other) >= least_deg for other in chosen):
            chosen.append(angle)
    return len(chosen)

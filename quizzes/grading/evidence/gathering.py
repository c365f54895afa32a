"""What a job shows: its log with the brake behind it, and what follows from readings and looks.

A log from outside is replayed on the case's own brake; an observation that comes
out differently means that it was altered or belongs to another case. A program that
works at the bench itself is recorded as it goes, and needs no replay.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from quizzes.cases.case import Case
from quizzes.cases.next_due import growth_until_next_mm
from widgets.bench import actions as do
from widgets.bench.actions import codec as form
from widgets.bench.machine import take
from widgets.bench.observed import Observation
from widgets.bench.session import Event
from widgets.bench.setup import Setup
from widgets.bench.standing import gap_now
from widgets.bench.starts import at_start
from widgets.bench.state import State
from widgets.bench.unlike import Notice, unlike
from widgets.brake.judgement.remark import Remark, remark
from widgets.brake.judgement.rules import Conclusion, Outcome, Reading, conclude
from widgets.brake.judgement.signs import Sign, conclude_all
from widgets.instruments.written import DISC_U_MM, GAP_U_MM

from .log import Log, Step
from .plane import NamedBy, findings_of_readings
from .readings import (
    JudgedDisc,
    JudgedGap,
    JudgedValue,
    judged_discs,
    judged_gaps,
    judged_values,
    latest,
    places_apart,
)
from .shown import Shown, discs_in_evidence, felt_gaps, gaps_in_evidence, shown_discs
from .signs_seen import Overlooked, overlooked, own_signs, places_looked_at, true_signs

__all__ = [
    "AlteredLogError", "Evidence", "JudgedDisc", "JudgedGap", "JudgedValue", "Recorder", "Step",
    "gather", "places_apart",
]  # fmt: skip

_KEEPS_THE_DISC = frozenset({Outcome.FIT, Outcome.ADJUST})
_EIGHT = tuple(45.0 * place for place in range(8))


class AlteredLogError(ValueError):
    """A line of a log that cannot be read.

    Attributes
    ----------
    code : str
        What is wrong with it; `bench.words` has its clause.
    line : int
        Of the log, from 1, as it is shown.
    """

    def __init__(self, code: str, line: int) -> None:
        super().__init__(code, line)
        self.code, self.line = code, line


@dataclass(frozen=True)
class Evidence(Log):
    """A whole job, and what follows from it."""

    # ---- what was written down ----

    @cached_property
    def gaps(self) -> tuple[JudgedGap, ...]:
        """Every gap reading that is in the notes, judged, in order; a colleague's first."""
        return judged_gaps(self)

    @cached_property
    def discs(self) -> tuple[JudgedDisc, ...]:
        """Every disc reading that is in the notes, judged, in order; a colleague's first."""
        return judged_discs(self)

    @cached_property
    def values(self) -> tuple[JudgedValue, ...]:
        """Every reading of meter, release or lever that is in the notes, in order."""
        return judged_values(self)

    @cached_property
    def gaps_as_found(self) -> tuple[JudgedGap, ...]:
        """Gap readings that the decision rests on: before it and before any work."""
        return latest(one for one in self.gaps if one.step < self.as_found_until)

    @cached_property
    def discs_as_found(self) -> tuple[JudgedDisc, ...]:
        """Disc readings that the decision rests on."""
        return latest(one for one in self.discs if one.step < self.decided_at)

    @cached_property
    def gaps_as_left(self) -> tuple[JudgedGap, ...]:
        """Gap readings made after the last work on the gap; all as found if there was none."""
        return latest(one for one in self.gaps if one.step >= self.last_gap_work)

    @cached_property
    def gap_readings(self) -> tuple[Reading, ...]:
        """What leaves told of the gap before the decision, written or not, one a place."""
        largest_mm = self.case.size.gap.max_mm
        return gaps_in_evidence(
            self.gaps_as_found, felt_gaps(self, -1, self.as_found_until, largest_mm)
        )

    @cached_property
    def discs_shown(self) -> tuple[Shown, ...]:
        """Every reading of the disc that the caliper showed before the decision."""
        return shown_discs(self, self.decided_at)

    @cached_property
    def disc_readings(self) -> tuple[Reading, ...]:
        """What the caliper showed of the disc before the decision, written or not."""
        return discs_in_evidence(self.discs_as_found, self.discs_shown)

    @property
    def zs_as_found(self) -> tuple[float, ...]:
        """Error of each reading that the decision rests on, in its standard uncertainties."""
        gaps, discs = self.gaps_as_found, self.discs_as_found
        return (*(one.z for one in gaps), *(one.z for one in discs))

    # ---- what was noticed ----

    @cached_property
    def own_signs(self) -> tuple[Sign, ...]:
        """What the candidate was told, saw, felt and measured before deciding."""
        return own_signs(self, self.as_found_until)

    @cached_property
    def true_signs(self) -> tuple[Overlooked, ...]:
        """What a careful look at the brake as found shows, with the places that show it."""
        return true_signs(self.setup, self.start)

    @cached_property
    def overlooked(self) -> tuple[Overlooked, ...]:
        """What was there to be found as the brake was, where the candidate never looked."""
        return overlooked(self.true_signs, self.own_signs, self.looked_at)

    @cached_property
    def looked_at(self) -> frozenset[str]:
        """Where the candidate looked or measured before deciding."""
        return places_looked_at(self, self.as_found_until)

    @cached_property
    def named_by_readings(self) -> NamedBy:
        """Findings that the candidate's own readings call for and allow."""
        return findings_of_readings(
            self.case.size, self.gap_readings, self.disc_readings, self.growth_mm
        )

    # ---- what follows ----

    @cached_property
    def taken(self) -> Outcome | None:
        """The decision on the brake as found, or None."""
        return Outcome(self.decision.after.decision) if self.decision else None

    @cached_property
    def growth_mm(self) -> float:
        """By how much the gap grows until the planned inspection, mm: part of the work order."""
        return growth_until_next_mm(self.case.size, self.order)

    @cached_property
    def by_readings(self) -> Conclusion:
        """What the candidate's own readings support, taken by themselves."""
        return conclude(self.case.size, self.gap_readings, self.disc_readings, self.growth_mm)

    @cached_property
    def by_notes(self) -> Conclusion:
        """What readings as they were written, and findings, support together."""
        gaps = [one.reading for one in self.gaps_as_found]
        discs = [one.reading for one in self.discs_as_found]
        return conclude_all(self.case.size, gaps, discs, self.own_signs, self.growth_mm)

    @cached_property
    def own_conclusion(self) -> Conclusion:
        """What the candidate's own readings and findings support together."""
        found = self.by_readings
        if self.own_signs:
            size, signs = self.case.size, self.own_signs
            found = conclude_all(size, self.gap_readings, self.disc_readings, signs, self.growth_mm)
        if self.began_apart and found.outcome is not Outcome.REFER:
            return replace(
                found,
                outcome=Outcome.REPLACE,
                unsafe=_KEEPS_THE_DISC,
                reasons=(remark("disc.ordered"), *self._of_the_disc(found)),
            )
        return found

    def _of_the_disc(self, found: Conclusion) -> tuple[Remark, ...]:
        return tuple(one for one in found.reasons if one.code != "readings.missing")

    @cached_property
    def competent_conclusion(self) -> Conclusion:
        """What a competent person would have concluded at the brake as it was found."""
        if self.on_paper:
            return self.own_conclusion  # nobody could know more than the notes say
        gap, disc = gap_now(self.setup, self.start), self.start.brake.disc
        shaft_deg = self.start.shaft_deg
        return conclude_all(
            self.case.size,
            [Reading(angle, gap.at_mm(angle), GAP_U_MM) for angle in _EIGHT],
            [Reading(angle, disc.at_mm(angle, shaft_deg), DISC_U_MM) for angle in _EIGHT],
            [one.sign for one in self.true_signs],
            self.growth_mm,
        )

    @cached_property
    def as_left(self) -> Outcome | None:
        """What the candidate's own last readings, and what was found since, support."""
        since = max(self.last_work, self.decided_at)
        signs = own_signs(self, len(self.steps), since=since)
        if any(sign.needs is not None for sign in signs):
            return Outcome.REFER
        discs = list(self.disc_readings)
        if self.end.disc_part != "old":
            discs = [Reading(0.0, self.case.size.disc.new_mm, DISC_U_MM)]
        left = self.gaps_as_left or self.gaps_as_found
        gaps = [one.reading for one in left]
        return conclude(self.case.size, gaps, discs, self.growth_mm).outcome

    @property
    def given_back(self) -> bool:
        """Whether the job counts as done: into service, or tagged and left for its load test."""
        return self.end.into_service or self.end.awaits_test

    @cached_property
    def referred_by_sign(self) -> bool:
        """Whether something found asks to refer by itself: then no reading is needed."""
        return any(sign.needs is Outcome.REFER for sign in self.own_signs)


class Recorder:
    """A bench that is worked by a program: each step is kept with the brake before and after.

    `act` is what a virtual candidate works through; `evidence` is the result,
    without JSON and without a replay.
    """

    __slots__ = ("case", "setup", "start", "state", "steps")

    def __init__(self, case: Case) -> None:
        self.case = case
        self.setup: Setup = case.setup()
        self.start: State = at_start(self.setup)
        self.state = self.start
        self.steps: list[Step] = []

    def act(self, action: do.Action) -> Observation:
        """Carry out one action and return what is seen."""
        before = self.state
        self.state, observation = take(self.setup, before, action)
        self.steps.append(Step(len(self.steps), action, observation, before, self.state))
        return observation

    def evidence(self) -> Evidence:
        """Return what the job shows as far as it has got."""
        return Evidence(self.case, self.setup, self.start, tuple(self.steps))


def gather(case: Case, events: Iterable[Event]) -> Evidence:
    """Return the evidence of a log, replayed on the brake of its case.

    What was seen is what the log says; where today's model shows something else, `notices` of the
    evidence names line and both values.

    Raises
    ------
    AlteredLogError
        If an event cannot be read; it names the line, from 1, as the log is shown.
    """
    recorder = Recorder(case)
    notices: list[Notice] = []
    for line, event in enumerate(events, start=1):
        notices += _replay(recorder, event, line)
    return replace(recorder.evidence(), notices=tuple(notices))


def _replay(recorder: Recorder, event: Event, line: int) -> tuple[Notice, ...]:
    try:
        action = form.from_json(dict(event.action))
    except form.BadActionError as error:
        raise AlteredLogError("log.no-action", line) from error
    observation = recorder.act(action).to_json()
    if observation == event.observation:
        return ()
    try:
        seen = Observation(**event.observation)
    except TypeError:
        raise AlteredLogError("log.no-observation", line) from None
    recorder.steps[-1] = recorder.steps[-1]._replace(observation=seen)
    return unlike(event.observation, observation, line)

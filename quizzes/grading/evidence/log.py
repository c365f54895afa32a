"""The log of one job: its steps with the brake before and after each, and the turning points."""

from dataclasses import dataclass
from functools import cached_property
from itertools import chain
from operator import attrgetter
from typing import NamedTuple

from quizzes.cases.case import Case
from quizzes.cases.on_record import believed
from widgets.bench import actions as do
from widgets.bench.actions.adjusting import SETS_THE_GAP
from widgets.bench.observed import Observation
from widgets.bench.setup import Order, Setup, Start
from widgets.bench.state import State
from widgets.bench.symptoms import load_is_stuck
from widgets.bench.unlike import Notice

SCREW_WORK = frozenset(
    {"loosen_lock", "tighten_lock", "loosen_adjusting_ring", "lock_adjusting_ring", *SETS_THE_GAP}
)
BODY_WORK = frozenset(
    {"draw_lock", "start_lock", "remove_body", "fit_body", "fit_disc", "fit_wear_plate"}
)
# Refusals at the screws that end an adjustment: what comes next is not the technician's.
BEYOND_ADJUSTING = frozenset(
    {"hollow-screw.home", "shim.home", "adjusting-ring.home", "lock.thread-torn"}
)
GAP_WORK = SCREW_WORK | BODY_WORK  # after any of these the gap is another
# What puts a hand where the brake, the fan or a live terminal can hurt it.
HANDS_IN = frozenset(
    {"remove_cover", "remove_ring", "remove_fan", "remove_seal", "clean", "gauge_gap",
     "measure_disc", "try_lock", "set_lever", "disconnect_leads", "remove_lever", "hold_body",
     "remove_disc", "clean_spline", "remove_wear_plate", "turn_shaft", "find_release"}
) | GAP_WORK  # fmt: skip
WORK = GAP_WORK | {"set_lever", "connect_leads", "refit_lever"}  # after these, tests begin again


class Step(NamedTuple):
    """One line of the log, number from 0, with the brake before and after it."""

    number: int
    action: do.Action
    observation: Observation
    before: State
    after: State

    @property
    def done(self) -> bool:
        """Whether it was carried out."""
        return self.observation.done


def only_checks(step: Step) -> bool:
    """Return whether the torque of the retaining screws is the same after a step."""
    return step.before.lock_nm == step.after.lock_nm


_NUMBER = attrgetter("number")


@dataclass(frozen=True)
class Log:
    """A whole job: its case, the bench it was done on, where it began, every step.

    A screw tightened to the torque that it had was checked, not worked on: it stands under
    "check_lock", and the gap is what it was.
    """

    case: Case
    setup: Setup
    start: State
    steps: tuple[Step, ...]
    notices: tuple[Notice, ...] = ()

    @property
    def end(self) -> State:
        """The state at the end of the log."""
        return self.steps[-1].after if self.steps else self.start

    @cached_property
    def by_kind(self) -> dict[str, tuple[Step, ...]]:
        """The steps that were carried out, by the kind of their action."""
        kinds: dict[str, list[Step]] = {}
        for step in self.steps:
            if step.observation.done:
                kind: str = step.action.kind
                if kind == "tighten_lock" and only_checks(step):
                    kind = "check_lock"
                kinds.setdefault(kind, []).append(step)
        return {kind: tuple(steps) for kind, steps in kinds.items()}

    def did(self, *kinds: str) -> tuple[Step, ...]:
        """Return the steps of these kinds that were carried out, in their order."""
        if len(kinds) == 1:
            return self.by_kind.get(kinds[0], ())
        known = self._found
        if kinds not in known:
            found = [self.by_kind[kind] for kind in kinds if kind in self.by_kind]
            # Each is in order by itself, and sorting what is in order in runs merges the runs.
            merged = sorted(chain(*found), key=_NUMBER) if len(found) > 1 else chain(*found)
            known[kinds] = tuple(merged)
        return known[kinds]

    @cached_property
    def _found(self) -> dict[tuple[str, ...], tuple[Step, ...]]:
        return {}

    @cached_property
    def hands_in(self) -> tuple[Step, ...]:
        """The steps at which a hand was in the brake or at its terminals, in order.

        Voltage is measured on a live circuit, with insulated tips; ohms and insulation on a dead
        one, and a test supply is clamped to a dead one. The hoist's own supply asks for no hand;
        a shaft turned with it on is an alarm of its own.
        """
        return tuple(
            step
            for step in self.did(*HANDS_IN, "measure_coil", "energise")
            if getattr(step.action, "what", "") != "voltage"
            and getattr(step.action, "supply", "") != "hoist"
            and not (step.action.kind == "turn_shaft" and step.observation.alarm)
        )

    # ---- what kind of job ----

    @property
    def on_paper(self) -> bool:
        """Whether the brake was not there: a colleague's notes were all."""
        return self.setup.order.start is Start.NOTES

    @property
    def whole_job(self) -> bool:
        """Whether the job ran from making safe to the hand-over."""
        return not self.setup.order.ends_at_decision

    @cached_property
    def order(self) -> Order:
        """The work order, as far as the plate of the brake bears its record out."""
        size, built = self.case.size, self.setup.condition.around.built
        return believed(self.setup.order, {"torque_nm": size.torque_nm, "built": built})

    @cached_property
    def cannot_be_set(self) -> bool:
        """Whether the work showed what no adjusting cures: screws home, or a thread torn."""
        return any(step.observation.code in BEYOND_ADJUSTING for step in self.steps)

    @cached_property
    def load_stuck(self) -> bool:
        """Whether the brake was found holding a load that it would not let down."""
        return load_is_stuck(self.setup, self.start)

    @property
    def from_closed(self) -> bool:
        """Whether the brake was found closed and in service."""
        return self.setup.order.start is Start.WORK_ORDER

    @property
    def began_apart(self) -> bool:
        """Whether the magnet body was off and the order asked for a new disc: a drill."""
        return self.setup.order.start is Start.BODY_OFF

    @property
    def coil_asked(self) -> bool:
        """Whether the job asked about the coil: a drill on a brake safe and open does not."""
        return self.from_closed or not self.whole_job

    # ---- turning points, as numbers of steps ----

    @cached_property
    def first_work(self) -> int:
        """Number of the first step that changed the brake's setting, or one past the end."""
        work = self.did(*GAP_WORK, "set_lever")
        return work[0].number if work else len(self.steps)

    @cached_property
    def last_gap_work(self) -> int:
        """Number of the last step after which the gap was another, or -1."""
        work = self.did(*GAP_WORK)
        return work[-1].number if work else -1

    @cached_property
    def last_work(self) -> int:
        """Number of the last step after which tests have to begin again, or -1."""
        work = self.did(*WORK)
        return work[-1].number if work else -1

    @cached_property
    def decision(self) -> Step | None:
        """The decision on the brake as it was found: the last before any work on it.

        If none was made in time, the first one after.
        """
        decisions = self.did("decide")
        in_time = [step for step in decisions if step.number < self.first_work]
        if in_time:
            return in_time[-1]
        return decisions[0] if decisions else None

    @cached_property
    def decided_at(self) -> int:
        """Number of the step of the decision, or one past the end."""
        return self.decision.number if self.decision else len(self.steps)

    @cached_property
    def as_found_until(self) -> int:
        """Number of the step up to which a look or a reading tells of the brake as found."""
        return min(self.decided_at, self.first_work)

    @cached_property
    def struck_at(self) -> dict[tuple[str, int], int]:
        """For each line struck through, sheet and line from 0: the number of that step."""
        return {
            (step.action.sheet, step.action.line): step.number
            for step in self.did("strike_out")
            if isinstance(step.action, do.StrikeOut)
        }

    def stands(self, sheet: str, line: int, written: int) -> bool:
        """Return whether a line of the notes counts: a struck one is no evidence either way.

        A line that stood when the decision was made was part of it, whatever
        was done to it afterwards.
        """
        struck = self.struck_at.get((sheet, line))
        if struck is None:
            return True
        return written < self.decided_at < struck

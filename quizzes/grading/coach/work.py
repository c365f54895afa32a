"""What the coach has in front of it: the work so far and the person's own notes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from quizzes.cases.next_due import growth_until_next_mm
from quizzes.cases.on_record import believed
from quizzes.grading.evidence.log import SCREW_WORK
from widgets.bench import actions as do
from widgets.bench.setup import Order
from widgets.bench.state import State
from widgets.brake.judgement.rules import Conclusion, Reading, conclude
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.written import disc_reading, gap_reading

ENOUGH_PLACES = 6  # of gap readings round the rim
_SCREWED = SCREW_WORK | {"start_lock"}


@dataclass(frozen=True, slots=True)
class Hint:
    """A question, where to look, and the reasoning."""

    question: str
    where: str
    why: str

    def up_to(self, level: int) -> tuple[str, ...]:
        """Return the first `level` steps of it, 1 to 3."""
        return (self.question, self.where, self.why)[: max(1, min(3, level))]


@dataclass(frozen=True)
class Work:
    """What the coach has before him.

    Attributes
    ----------
    size : BrakeSize
        The row of the limits sheet for this brake.
    order : Order
        What the work order says.
    state : State
        Where the job stands; its hidden brake is not looked at.
    did : sequence of Action
        What was carried out, in order.
    """

    size: BrakeSize
    order: Order
    state: State
    did: Sequence[do.Action]

    def has(self, kind: str) -> bool:
        """Whether this was done at all."""
        return any(action.kind == kind for action in self.did)

    @property
    def held_on(self) -> set[str]:
        """On which brake of two a test load was lifted since the last work on a screw."""
        since = self.did[self.last_screw_work + 1 :]
        return {action.on for action in since if isinstance(action, do.TestHold)}

    def since_screws(self, kind: str) -> bool:
        """Whether this was done after the last work on a screw."""
        return any(action.kind == kind for action in self.did[self.last_screw_work + 1 :])

    @property
    def last_screw_work(self) -> int:
        """Place of the last work on a screw among what was done, or -1."""
        return max((n for n, one in enumerate(self.did) if one.kind in _SCREWED), default=-1)

    def gaps(self) -> list[Reading]:
        """Return the person's gap readings that still hold: not struck, since the screws moved."""
        kept = [n for n in self.state.gap_notes if not n.struck and n.step > self.last_screw_work]
        latest = {round(note.angle_deg): note for note in kept}.values()
        return [gap_reading(note.angle_deg, note.go_mm, note.no_go_mm) for note in latest]

    def discs(self) -> list[Reading]:
        """Return the person's disc readings that are not struck."""
        kept = [note for note in self.state.disc_notes if not note.struck]
        return [disc_reading(note.angle_deg, note.value_mm, note.tool) for note in kept]

    def conclusion(self) -> Conclusion:
        """Return what the person's own readings say."""
        plate = {"torque_nm": self.size.torque_nm, "built": self.state.brake.around.built}
        order = believed(self.order, plate) if self.state.plate_read else self.order
        growth_mm = growth_until_next_mm(self.size, order)
        return conclude(self.size, self.gaps(), self.discs(), growth_mm)


def when(is_open: bool, *words: str) -> Iterator[Hint]:  # noqa: FBT001 (reads as a sentence)
    """Return a hint where something is open, and none elsewhere."""
    if is_open:
        yield Hint(*words)


def places(readings: Sequence[Reading]) -> int:
    """Return at how many places, some 20 degrees apart, there is a reading."""
    return len({round(reading.angle_deg / 20) for reading in readings})

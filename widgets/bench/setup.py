"""What never changes during a job: the brake as found, its dice, where the job begins."""

from dataclasses import dataclass, field
from enum import StrEnum
from functools import lru_cache
from typing import Any

from widgets.brake.condition import Condition
from widgets.brake.draws import Draws
from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.feeler import LeafSet, leaf_set

from .notes import DiscNote, GapNote, Line, Record, ValueNote


class Start(StrEnum):
    """Where a job begins: the whole order, a brake safe and open, its magnet off, or notes only."""

    WORK_ORDER = "work order"
    OPEN = "open"
    BODY_OFF = "body off"
    NOTES = "notes"


TASKS = ("terminals", "load-test")  # what not everybody may do; the work order says who
# What a job ends with: a run without load; a load lifted and held; that, and stopped in lowering.
TESTS = ("run", "static", "dynamic")


@dataclass(frozen=True, slots=True)
class Order:
    """What else the work order says, and what a colleague has left behind.

    Attributes
    ----------
    start : Start
        Where the job begins.
    ends_at_decision : bool
        Whether the job is over once a decision is written.
    stops_per_day, most_days
        Brake stops a day of this hoist; the longest interval the local rule allows, days.
    planned_days : int or None
        In how many days the next inspection is planned; None leaves the date open.
    grows_mm_per_month : float or None
        By how much the gap grows in `MONTH_DAYS`, mm; None: it follows from the stops.
    recorded : bool
        Whether the records of this brake show that growth; otherwise it is an estimate.
    load_hangs : bool
        Whether a load hangs on the hook that only a brake which releases lets down.
    brakes : int
        Brakes that hold the load, 1 or 2, each meant to hold it alone.
    record : Record or None
        The last record of the hoist, if there is one.
    may : tuple of str
        Of `TASKS`, those that the order allows the person to do.
    ends_with : str
        Which of `TESTS` the job ends with before the hoist goes back into service.
    lines : tuple of Line
        A colleague's findings as codes, in their order; shown with the notes.
    gap_notes, disc_notes : tuple
        Readings a colleague has written down.
    """

    start: Start = Start.WORK_ORDER
    ends_at_decision: bool = False
    stops_per_day: float = 240.0
    most_days: int = 180
    planned_days: int | None = None
    grows_mm_per_month: float | None = None
    recorded: bool = False
    load_hangs: bool = False
    brakes: int = 1
    record: Record | None = None
    may: tuple[str, ...] = TASKS
    ends_with: str = "static"
    lines: tuple[Line, ...] = ()
    gap_notes: tuple[GapNote, ...] = ()
    disc_notes: tuple[DiscNote, ...] = ()
    value_notes: tuple[ValueNote, ...] = ()

    def __post_init__(self) -> None:
        if self.planned_days is not None:
            in_range("planned_days", self.planned_days, "days", low=1, high=self.most_days)
        if self.grows_mm_per_month is not None:
            in_range("grows_mm_per_month", self.grows_mm_per_month, "mm", above=0)
        in_range("brakes", self.brakes, "", low=1, high=2)
        for task in self.may:
            if task not in TASKS:
                raise ValueError(f"may must hold some of {', '.join(TASKS)}, got {task!r:.40}")
        if self.ends_with not in TESTS:
            one_of = ", ".join(TESTS)
            raise ValueError(f"ends_with must be one of {one_of}, got {self.ends_with!r:.40}")
        if self.load_hangs and self.start is not Start.WORK_ORDER:
            raise ValueError(
                f"load_hangs must be false where the job starts at {self.start.value!r}: there the "
                "load is landed"
            )
        if self.recorded and self.grows_mm_per_month is None:
            raise ValueError("recorded must be false where no grows_mm_per_month is given")


@dataclass(frozen=True)
class Setup:
    """The brake on the bench and the dice of its readings. Never leaves the kernel.

    `condition` is the brake as it was found; what has become of it since is in `State.brake`.
    """

    size: BrakeSize
    condition: Condition
    draws: Draws
    leaves: LeafSet
    order: Order = Order()
    # Gaps that were worked out before, by what they follow from: the same every time, only slow.
    known_gaps: dict[tuple[object, ...], Any] = field(
        default_factory=dict, compare=False, repr=False
    )

    @classmethod
    def of(
        cls, size: BrakeSize, condition: Condition, seed: bytes, order: Order | None = None
    ) -> "Setup":
        """Return a brake with a leaf set of its own, all from one seed of 16 bytes or more."""
        draws = Draws(seed)
        return cls(size, condition, draws, _leaves(draws), order or Order())


@lru_cache(maxsize=64)
def _leaves(draws: Draws) -> LeafSet:
    """Return the leaves of a seed; a case is set up when it is drawn, worked and graded."""
    return leaf_set(draws.child("leaves"))

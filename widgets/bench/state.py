"""What a bench is made of: the set-up that never changes, the state that does, what is seen."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from widgets.brake.condition import Condition, Three, gap_field
from widgets.brake.draws import Draws
from widgets.brake.gap import GapField
from widgets.brake.size import BrakeSize
from widgets.instruments.feeler import LeafSet, leaf_set

LOCK_SHARE_THAT_HOLDS = 0.5  # of the proper torque: below it a screw counts as loose; invented


@dataclass(frozen=True)
class Setup:
    """The brake on the bench and the dice of its readings. Never leaves the kernel."""

    size: BrakeSize
    condition: Condition
    draws: Draws
    leaves: LeafSet

    @classmethod
    def of(cls, size: BrakeSize, condition: Condition, seed: bytes) -> "Setup":
        """Return a brake with a leaf set of its own, all from one seed of 16 bytes or more."""
        draws = Draws(seed)
        return cls(size, condition, draws, leaf_set(draws.child("leaves")))


@dataclass(frozen=True, slots=True)
class GapNote:
    """A gap reading written down: place, stacks that go and will not, at which step."""

    angle_deg: float
    go_mm: float
    no_go_mm: float
    step: int


@dataclass(frozen=True, slots=True)
class DiscNote:
    """A disc reading that the person wrote down: place, value, at which step."""

    angle_deg: float
    value_mm: float
    step: int


@dataclass(frozen=True, slots=True)
class State:
    """Where the job stands. `step` counts the actions that were carried out.

    Attributes
    ----------
    screw_height_mm : three float
        Height each hollow screw gives with its retaining screw loose, mm.
    lock_nm : three float
        Torque each retaining screw was last tightened to, N·m; 0 is loose.
    take_up_mm : three float
        Thread play taken up at each tight retaining screw, mm.
    visit, attempt, place_deg
        Which visit to which place this is, for the hand that holds the leaf.
    """

    screw_height_mm: Three
    lock_nm: Three
    take_up_mm: Three
    dust_mm: float
    step: int = 0
    load_landed: bool = False
    isolated: bool = False
    proved_dead: bool = False
    cover_on: bool = True
    fan_on: bool = True
    seal_on: bool = True
    energised: bool = False
    released: bool = False
    shaft_deg: float = 0.0
    plate_read: bool = False
    visit: int = 0
    attempt: int = 0
    place_deg: float = -1.0
    gap_notes: tuple[GapNote, ...] = ()
    disc_notes: tuple[DiscNote, ...] = ()
    decision: str = ""
    decision_row: str = ""
    handed_over: bool = False
    into_service: bool = False
    accidents: tuple[str, ...] = ()

    @classmethod
    def at_start(cls, setup: Setup) -> "State":
        """Return a closed brake in service, locked as its last adjuster left it."""
        proper_nm = setup.size.screws.retaining_torque_nm
        return cls(
            screw_height_mm=setup.condition.screw_height_mm,
            lock_nm=(proper_nm, proper_nm, proper_nm),
            take_up_mm=setup.condition.take_up_mm,
            dust_mm=setup.condition.dust_mm,
        )

    def stand_off_mm(self) -> Three:
        """Height of the magnet body at each screw as it stands now, mm."""
        first, second, third = (
            height - (take_up if lock_nm > 0 else 0.0)
            for height, take_up, lock_nm in zip(
                self.screw_height_mm, self.take_up_mm, self.lock_nm, strict=True
            )
        )
        return first, second, third


def gap_now(setup: Setup, state: State) -> GapField:
    """Return the true gap as it stands, plate on the disc. For the kernel's eyes only."""
    return gap_field(setup.size, setup.condition, state.stand_off_mm(), state.shaft_deg)


def loose_locks(setup: Setup, state: State) -> tuple[int, ...]:
    """Return the numbers of the retaining screws that would not hold."""
    enough_nm = LOCK_SHARE_THAT_HOLDS * setup.size.screws.retaining_torque_nm
    return tuple(
        number for number, lock_nm in enumerate(state.lock_nm, start=1) if lock_nm < enough_nm
    )


@dataclass(frozen=True, slots=True)
class Observation:
    """What an action brought: whether it could be done, in words, and what can be seen or felt.

    `seen` holds plain JSON values for the page, never more than the words say.
    `alarm` is set when somebody could have been hurt.
    """

    done: bool
    words: str
    seen: Mapping[str, Any] = field(default_factory=dict)
    alarm: str = ""

    def to_json(self) -> dict[str, Any]:
        """Return the JSON form kept in the log."""
        return {
            "done": self.done,
            "words": self.words,
            "seen": dict(self.seen),
            "alarm": self.alarm,
        }


Outcome = tuple[State, Observation]


def refused(state: State, words: str) -> Outcome:
    """Return the state as it was, and what the person finds instead."""
    return state, Observation(done=False, words=words)

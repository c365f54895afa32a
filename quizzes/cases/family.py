"""What a family of cases is: how a brake of it is drawn, and what is known of every one."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from widgets.bench.setup import Order
from widgets.brake.condition import Condition
from widgets.brake.draws import Draws
from widgets.brake.judgement.rules import Outcome
from widgets.brake.sizes.size import BrakeSize

from .case import Depth
from .looking_ahead import Ahead
from .strata import Part

# Where a family can be drawn: at the job itself; there, or as a colleague's notes tell it.
ON_THE_JOB = frozenset({Depth.WORK_ORDER})
OR_ON_NOTES = ON_THE_JOB | {Depth.READING}

EVERY_DEPTH = frozenset(Depth)
NOT_OPEN = frozenset({Depth.READING, Depth.WORK_ORDER})


class Drawn(NamedTuple):
    """A brake drawn of a family: condition, faults, band of distance, part of the dose's range.

    `ahead` is what its work order says of the time to come, where that decides; `on_order` changes
    the order that was drawn; `words` is what it says beside, or how that follows from the order.
    """

    condition: Condition
    faults: tuple[str, ...]
    stratum: int | None
    dose_bin: int
    ahead: Ahead | None = None
    words: str | Callable[[Order], str] = ""
    on_order: Callable[[Order], Order] | None = None


Draw = Callable[[Draws, BrakeSize, int | None, Part], Drawn]


@dataclass(frozen=True, slots=True)
class Family:
    """One kind of case.

    Attributes
    ----------
    name : str
        Its name; no candidate sees it.
    draw : callable
        From dice, size, band of distance (None for any) and part of the range.
    meant : frozenset of Outcome
        What is right for it; where a band decides, all that can be.
    gap_normal : bool
        Whether somebody who only reads the gap would find nothing.
    near : str
        Which limit its band lies at: "gap", "disc" or none.
    depths : frozenset of Depth
        How deep a case of it can go.
    faults : tuple of str
        Faults of the catalogue that may lie on it.
    ahead : bool
        Whether the time until the next inspection decides.
    untouched : bool
        Whether the right end is reached without a hand in the brake.
    beside : bool
        Whether what decides lies beside this brake: a second one, a clutch, water, a record.
    ends_out : bool
        Whether it is kept out of service in the end, whatever was correctly decided as found.
    """

    name: str
    draw: Draw
    meant: frozenset[Outcome]
    gap_normal: bool
    near: str = ""
    depths: frozenset[Depth] = EVERY_DEPTH
    faults: tuple[str, ...] = ()
    ahead: bool = False
    untouched: bool = False
    beside: bool = False
    ends_out: bool = False

    @property
    def main(self) -> Outcome | None:
        """What somebody careful does at this bench; None where the band of distance decides."""
        if self.near:
            return None
        if self.ends_out:
            return Outcome.REFER
        able = self.meant - {Outcome.REFER} or self.meant
        return min(able)

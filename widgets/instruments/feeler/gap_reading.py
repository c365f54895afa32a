"""A gap read with a feeler gauge: the bracket it leaves, and how sure that is."""

import math
from dataclasses import dataclass

from widgets.brake.draws import Draws
from widgets.brake.ranges import in_range
from widgets.instruments.budget import Budget, normal, rectangular

from .insertion import (
    FILM_HIGH_MM,
    FILM_LOW_MM,
    STEADY_HAND,
    STRAIGHT_IN,
    Entry,
    Feel,
    Gap,
    Hand,
    insert,
)
from .leaves import MOST_LEAVES, LeafSet, leaf_tolerance_mm, marks_for


@dataclass(frozen=True, slots=True)
class GapReading:
    """The gap as a feeler tells it: at least the thickest that went in, less than what did not.

    Attributes
    ----------
    go_mm : float
        Marks of the thickest stack that went in, mm; zero if none did.
    no_go_mm : float
        Marks of the thinnest stack that did not, mm, above `go_mm`.
    leaves : int
        Leaves in the stacks, 1 to 3.
    """

    go_mm: float
    no_go_mm: float
    leaves: int = 1

    def __post_init__(self) -> None:
        in_range("go_mm", self.go_mm, "mm", low=0)
        in_range("no_go_mm", self.no_go_mm, "mm", above=self.go_mm)
        in_range("leaves", self.leaves, "", low=1, high=MOST_LEAVES)

    @property
    def middle_mm(self) -> float:
        """Middle of the bracket, mm, as one writes it down."""
        return (self.go_mm + self.no_go_mm) / 2

    @property
    def estimate_mm(self) -> float:
        """Best estimate of the gap, mm: the middle and the mean film between the leaves."""
        return self.middle_mm + (self.leaves - 1) * (FILM_LOW_MM + FILM_HIGH_MM) / 2

    @property
    def uncertainty_mm(self) -> float:
        """Standard uncertainty of `estimate_mm`, mm."""
        return self.budget().combined

    def budget(self, hand: Hand = STEADY_HAND) -> Budget:
        """Return what may be wrong with this reading, line by line, mm."""
        return budget(self.no_go_mm - self.go_mm, self.leaves, hand, self.middle_mm / self.leaves)


def budget(
    step_mm: float, leaves: int = 1, hand: Hand = STEADY_HAND, mark_mm: float = 0.30
) -> Budget:
    """Return the uncertainty of a gap read with a feeler.

    Parameters
    ----------
    step_mm : float
        From the leaf that goes to the one that does not, mm, above zero.
    leaves : int
        Leaves in the stack, 1 to 3.
    hand : Hand
        How steady the hand is.
    mark_mm : float
        Usual mark of one leaf, mm, for its tolerance.

    Returns
    -------
    Budget
        In mm.

    Notes
    -----
    The step is known to hold the gap, anywhere in it: ± step/2, rectangular.

    Source: JCGM 100:2008, 4.3.7; leaf, film and hand as in this module.

    Examples
    --------
    >>> round(budget(0.05).combined, 4)
    0.0163
    """
    in_range("step_mm", step_mm, "mm", above=0)
    in_range("leaves", leaves, "", low=1, high=MOST_LEAVES)
    tolerance_mm = leaf_tolerance_mm(mark_mm) * math.sqrt(leaves)
    lines = [
        rectangular("step from go to no-go", step_mm / 2, "mm"),
        rectangular("thickness of the leaves", tolerance_mm, "mm"),
        normal("hand", hand.noise_mm, "mm"),
    ]
    if leaves > 1:
        half_mm = (hand.film_high_mm - hand.film_low_mm) / 2 * math.sqrt(leaves - 1)
        lines.append(rectangular("film between leaves", half_mm, "mm"))
    return Budget("air gap by feeler gauge", "mm", tuple(lines))


WIDEST_MM = 2.0  # mm, beyond this a gap is no work for a feeler; common practice, no source


def read_gap(
    gauge: LeafSet,
    gap_mm: Gap,
    draws: Draws,
    *,
    visit: int = 0,
    step_mm: float = 0.05,
    entry: Entry = STRAIGHT_IN,
    hand: Hand = STEADY_HAND,
) -> GapReading:
    """Return the bracket that a careful person finds, halving what is left at each try.

    Parameters
    ----------
    gauge : LeafSet
        Leaves at hand.
    gap_mm : float, callable or array_like of shape (n,)
        Gap, mm, as for `insert`.
    draws : Draws
        Dice of this brake and gauge.
    visit : int
        Number of the visit to this place.
    step_mm : float
        From one stack to the next, mm: 0.05 with common leaves, 0.01 with thin ones.
    entry : Entry
        How the leaf is put in.
    hand : Hand
        How steady the hand is.

    Returns
    -------
    GapReading
        Thickest stack that went in, thinnest that did not.

    Raises
    ------
    ValueError
        If a stack of 2 mm still goes in, or the set cannot make up a stack it needs.
    """
    in_range("step_mm", step_mm, "mm", low=0.01, high=0.5)
    thinnest = math.ceil(min(gauge.marks_mm) / step_mm - 1e-9)
    go, no_go = thinnest - 1, math.floor(WIDEST_MM / step_mm + 1e-9) + 1
    leaves, attempt = 1, 0
    while no_go - go > 1:
        middle = (go + no_go) // 2
        stack = gauge.stack(marks_for(middle * step_mm, gauge.marks_mm))
        tried = insert(stack, gap_mm, draws, visit=visit, attempt=attempt, entry=entry, hand=hand)
        go, no_go = (go, middle) if tried.feel is Feel.WILL_NOT_ENTER else (middle, no_go)
        leaves, attempt = len(stack), attempt + 1
    if no_go * step_mm > WIDEST_MM:
        raise ValueError(f"gap_mm must be < {WIDEST_MM:g} mm to be read with a feeler")
    go_mm = 0.0 if go < thinnest else round(go * step_mm, 3)
    return GapReading(go_mm, round(no_go * step_mm, 3), leaves)

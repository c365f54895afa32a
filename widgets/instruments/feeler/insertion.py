"""One try with a stack of leaves: the hand, how they go in, and what is felt.

A leaf is 13 mm wide and rides on the smallest gap under it. The hand tells
"slides", "drags" or "will not enter", and nothing finer.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from widgets.brake.draws import Draws
from widgets.brake.ranges import in_range

from .leaves import BLADE_WIDTH_MM, MOST_LEAVES, Leaf

FULL_DEPTH_MM = 15.0  # mm, a leaf well inside the pole face; common practice, no source
CHAMFER_MM = 1.0  # mm at 45 degrees, broken edge of the pole face; common practice, no source
FILM_LOW_MM = 0.001  # mm between two leaves; common practice, no source
FILM_HIGH_MM = 0.007  # mm between two leaves; common practice, no source
DRAG_BAND_MM = 0.010  # mm of clearance within which a leaf is felt to drag; common practice
SOFT_PUSH_MM = 0.003  # mm, the most that a firm hand forces into a gap; common practice
SKEW_STIFFNESS = 0.05  # dimensionless, share of a skew that the leaf does not bend away; invented
MOST_NORMAL = 8.3  # no draw of `Draws.normal` is further from 0: it has 53 bits
ROUNDED_MM = 1e-6  # mm, more than what rounding can make of a room
ACROSS_POINTS = 5  # places across a blade at which a gap given as a function is looked up
Gap = float | Callable[[float], float] | Sequence[float] | NDArray[np.float64]


class Feel(StrEnum):
    """What the hand says of one try, from most room to least."""

    SLIDES = "slides"
    DRAGS = "drags"
    WILL_NOT_ENTER = "will-not-enter"


@dataclass(frozen=True, slots=True)
class Hand:
    """How steady the hand is that holds the gauge.

    Attributes
    ----------
    visit_mm : float
        Standard deviation, mm, of where this hand calls it "tight" at one visit to a place.
    attempt_mm : float
        Standard deviation, mm, from one try to the next at the same visit.
    push_mm : float
        What the hand forces in beyond the gap, mm; a soft hand 0, at most 0.003.
    film_low_mm, film_high_mm : float
        Least and largest film between two leaves, mm.

    Notes
    -----
    Source: operator threshold 0.004 to 0.008 mm, common practice, no source.
    Most of it stays for a visit: a person who tries again at once feels the same
    thing, and one who comes back later does not.
    """

    visit_mm: float = 0.0065
    attempt_mm: float = 0.0025
    push_mm: float = 0.0
    film_low_mm: float = FILM_LOW_MM
    film_high_mm: float = FILM_HIGH_MM

    def __post_init__(self) -> None:
        in_range("hand visit_mm", self.visit_mm, "mm", low=0, high=0.1)
        in_range("hand attempt_mm", self.attempt_mm, "mm", low=0, high=0.1)
        in_range("hand push_mm", self.push_mm, "mm", low=0, high=SOFT_PUSH_MM)
        in_range("hand film_low_mm", self.film_low_mm, "mm", low=0)
        in_range("hand film_high_mm", self.film_high_mm, "mm", low=self.film_low_mm, high=0.1)

    @property
    def noise_mm(self) -> float:
        """Standard deviation of the whole hand, mm."""
        return math.hypot(self.visit_mm, self.attempt_mm)


STEADY_HAND = Hand()
PERFECT_HAND = Hand(0.0, 0.0, 0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Entry:
    """How the leaf is put in, and what is in its way.

    Attributes
    ----------
    skew_deg : float
        Angle of the leaf out of the plane of the gap, degrees, 0 to 30: a skewed leaf needs room.
    depth_mm : float
        How far it is in, mm, above 0 to 15: less than the broken edge, and it reads high.
    dust_mm : float
        Layer of dust in the gap, mm, zero or more.
    burr_mm : float
        Height of a lip at the rim, mm, zero or more.
    lost_mm : float
        Room lost (or won, if negative) against a leaf straight and fully in, mm; it follows.
    """

    skew_deg: float = 0.0
    depth_mm: float = FULL_DEPTH_MM
    dust_mm: float = 0.0
    burr_mm: float = 0.0
    lost_mm: float = field(init=False, repr=False)

    def __post_init__(self) -> None:
        in_range("skew_deg", self.skew_deg, "deg", low=0, high=30)
        in_range("depth_mm", self.depth_mm, "mm", above=0, high=FULL_DEPTH_MM)
        in_range("dust_mm", self.dust_mm, "mm", low=0, high=5)
        in_range("burr_mm", self.burr_mm, "mm", low=0, high=5)
        skew = SKEW_STIFFNESS * BLADE_WIDTH_MM * math.sin(math.radians(self.skew_deg))
        edge = max(0.0, CHAMFER_MM - self.depth_mm)
        object.__setattr__(self, "lost_mm", skew + self.dust_mm + self.burr_mm - edge)


STRAIGHT_IN = Entry()


@dataclass(frozen=True, slots=True)
class Insertion:
    """What one try told: the feel, and its strength in four steps (0, 1/3, 2/3, 1)."""

    feel: Feel
    drag: float


_SLIDES = Insertion(Feel.SLIDES, 0.0)
_DRAGS_LIGHTLY = Insertion(Feel.DRAGS, 1 / 3)
_DRAGS_FIRMLY = Insertion(Feel.DRAGS, 2 / 3)
_WILL_NOT_ENTER = Insertion(Feel.WILL_NOT_ENTER, 1.0)


def insert(
    leaves: Sequence[Leaf],
    gap_mm: Gap,
    draws: Draws,
    *,
    visit: int = 0,
    attempt: int = 0,
    entry: Entry = STRAIGHT_IN,
    hand: Hand = STEADY_HAND,
) -> Insertion:
    """Push a stack of leaves into the gap and return what is felt.

    Parameters
    ----------
    leaves : sequence of Leaf
        From `LeafSet.stack`.
    gap_mm : float, callable or array_like of shape (n,)
        Gap, mm, zero or more: one value, those under the blade, or a function
        of the place across it, from -6.5 to +6.5 mm.
    draws : Draws
        Dice of this brake and gauge.
    visit : int
        Number of the visit to this place: part of the hand's error is one for a visit.
    attempt : int
        Number of the try: the rest of the hand's error changes with it.
    entry : Entry
        How the leaf is put in.
    hand : Hand
        How steady the hand is.

    Returns
    -------
    Insertion
        The feel, and no more.

    Raises
    ------
    ValueError
        If there is no leaf or more than three, or a gap is negative or not a number.

    Notes
    -----
    A leaf slides with more than 0.010 mm to spare, drags below that, and will
    not enter a gap smaller than itself. The hand's judgement of this scatters
    with a standard deviation of 0.007 mm.

    Source: common practice, no source.

    Examples
    --------
    A leaf of 0.35 mm, a steady hand, and five thousandths to spare:

    >>> tried = insert([Leaf(0.35)], 0.355, Draws(bytes(16)), hand=PERFECT_HAND)
    >>> str(tried.feel)
    'drags'
    """
    if not 1 <= len(leaves) <= MOST_LEAVES:
        raise ValueError(f"leaves must be 1 to {MOST_LEAVES}, got {len(leaves)}")
    room_mm = _smallest_mm(gap_mm) - entry.lost_mm
    for leaf in leaves:
        room_mm -= leaf.room_mm
    sure = _felt_for_sure(room_mm, len(leaves) - 1, hand)
    if sure is not None:
        return sure
    film_spread_mm = hand.film_high_mm - hand.film_low_mm
    for interface in range(1, len(leaves)):
        room_mm -= hand.film_low_mm
        if film_spread_mm > 0:
            room_mm -= film_spread_mm * draws.uniform("film", visit, attempt, interface)
    return _felt(room_mm + _hand_error_mm(draws, visit, attempt, hand), hand.push_mm)


def _felt_for_sure(room_mm: float, interfaces: int, hand: Hand) -> Insertion | None:
    """Return the feel that no film and no hand could change, or nothing: then dice are thrown."""
    most_mm = MOST_NORMAL * (hand.visit_mm + hand.attempt_mm) + ROUNDED_MM
    if room_mm - interfaces * hand.film_high_mm - most_mm > DRAG_BAND_MM:
        return _SLIDES
    if room_mm - interfaces * hand.film_low_mm + most_mm < -hand.push_mm:
        return _WILL_NOT_ENTER
    return None


def _smallest_mm(gap_mm: Gap) -> float:
    """Return the smallest gap under the blade, mm: that is where it rides."""
    if isinstance(gap_mm, float):
        return in_range("gap_mm", gap_mm, "mm", low=0)
    if callable(gap_mm):
        half = BLADE_WIDTH_MM / 2
        step = BLADE_WIDTH_MM / (ACROSS_POINTS - 1)
        gap_mm = [gap_mm(place * step - half) for place in range(ACROSS_POINTS)]
    values = np.atleast_1d(in_range("gap_mm", gap_mm, "mm", low=0))
    if values.size == 0:
        raise ValueError("gap_mm must hold at least one value, got none")
    return float(values.min())


def _hand_error_mm(draws: Draws, visit: int, attempt: int, hand: Hand) -> float:
    error_mm = 0.0
    if hand.visit_mm > 0:
        error_mm += hand.visit_mm * draws.normal("visit", visit)
    if hand.attempt_mm > 0:
        error_mm += hand.attempt_mm * draws.normal("attempt", visit, attempt)
    return error_mm


def _felt(room_mm: float, push_mm: float) -> Insertion:
    """Return the feel for room to spare, mm, rounded so that 0.1 + 0.2 feels like 0.3."""
    room_mm = round(room_mm, 9)
    if room_mm < -push_mm:
        return _WILL_NOT_ENTER
    if room_mm > DRAG_BAND_MM:
        return _SLIDES
    return _DRAGS_LIGHTLY if room_mm > DRAG_BAND_MM / 2 else _DRAGS_FIRMLY


def blade_angles_deg(angle_deg: float, gauging_circle_mm: float) -> NDArray[np.float64]:
    """Return the angles under a blade held at one angle of the rim.

    Parameters
    ----------
    angle_deg : float
        Angle of the middle of the blade, degrees.
    gauging_circle_mm : float
        Diameter on which the gap is gauged, mm, at least the width of a blade.

    Returns
    -------
    ndarray of shape (5,), degrees
        From edge to edge of the blade.
    """
    in_range("angle_deg", angle_deg, "deg")
    in_range("gauging_circle_mm", gauging_circle_mm, "mm", low=BLADE_WIDTH_MM)
    half_deg = math.degrees(math.asin(BLADE_WIDTH_MM / gauging_circle_mm))
    return angle_deg + half_deg * np.linspace(-1, 1, ACROSS_POINTS)

"""The feeler gauge: leaves that differ a little from their marks, and what the hand feels.

A leaf is 13 mm wide and rides on the smallest gap under it. The hand tells
"slides", "drags" or "will not enter", and nothing finer.
"""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import lru_cache
from statistics import NormalDist, fmean, pstdev

import numpy as np
from numpy.typing import NDArray

from widgets.brake.draws import Draws
from widgets.brake.ranges import in_range

from .budget import Budget, normal, rectangular

# Marks of the leaves, mm. Common practice, no source confirmed.
COMMON_LEAVES_MM = tuple(step / 100 for step in range(5, 101, 5))
THIN_LEAVES_MM = tuple(step / 100 for step in range(3, 11))
ALL_LEAVES_MM = tuple(sorted({*COMMON_LEAVES_MM, *THIN_LEAVES_MM}))

BLADE_WIDTH_MM = 13.0  # mm, usual width of a leaf; common practice, no source
FULL_DEPTH_MM = 15.0  # mm, a leaf well inside the pole face; common practice, no source
CHAMFER_MM = 1.0  # mm at 45 degrees, broken edge of the pole face; common practice, no source
MOST_LEAVES = 3  # more leaves act as a spring; common practice, no source
THIN_LEAF_TOLERANCE_MM = 0.005  # mm, up to 0.30 mm; after DIN 2275, from memory, not confirmed
THICK_LEAF_TOLERANCE_MM = 0.010  # mm, at 1.00 mm, straight line between; common practice
FILM_LOW_MM = 0.001  # mm between two leaves; common practice, no source
FILM_HIGH_MM = 0.007  # mm between two leaves; common practice, no source
DRAG_BAND_MM = 0.010  # mm of clearance within which a leaf is felt to drag; common practice
SOFT_PUSH_MM = 0.003  # mm, the most that a firm hand forces into a gap; common practice
SKEW_STIFFNESS = 0.05  # dimensionless, share of a skew that the leaf does not bend away; invented
ACROSS_POINTS = 5  # places across a blade at which a gap given as a function is looked up

Gap = float | Callable[[float], float] | Sequence[float] | NDArray[np.float64]


class Feel(StrEnum):
    """What the hand says of one try, from most room to least."""

    SLIDES = "slides"
    DRAGS = "drags"
    WILL_NOT_ENTER = "will not enter"


@dataclass(frozen=True, slots=True)
class Leaf:
    """One physical leaf: its mark, and how far it is from it, mm.

    Attributes
    ----------
    nominal_mm : float
        Thickness marked on it, mm, above zero.
    deviation_mm : float
        Real thickness less the mark, mm; negative for a worn leaf.
    kink_mm : float
        Room that a bend in it takes up, mm, zero or more: a kinked leaf reads low.
    """

    nominal_mm: float
    deviation_mm: float = 0.0
    kink_mm: float = 0.0

    def __post_init__(self) -> None:
        in_range("leaf nominal_mm", self.nominal_mm, "mm", above=0, high=2)
        in_range("leaf deviation_mm", self.deviation_mm, "mm", above=-self.nominal_mm, high=0.1)
        in_range("leaf kink_mm", self.kink_mm, "mm", low=0, high=0.5)

    @property
    def room_mm(self) -> float:
        """Room that the leaf takes up in the gap, mm."""
        return self.nominal_mm + self.deviation_mm + self.kink_mm


@dataclass(frozen=True, slots=True)
class LeafSet:
    """The leaves of one gauge, or of two carried together, each mark once.

    Raises
    ------
    ValueError
        If it holds no leaf, or one mark twice.
    """

    leaves: tuple[Leaf, ...]
    _by_um: Mapping[int, Leaf] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        by_um = {_um(leaf.nominal_mm): leaf for leaf in self.leaves}
        if not self.leaves or len(by_um) < len(self.leaves):
            raise ValueError("leaves must hold each mark once, and at least one")
        object.__setattr__(self, "_by_um", by_um)

    def __reduce__(self) -> tuple[type["LeafSet"], tuple[tuple[Leaf, ...]]]:
        """Pickle and copy by the leaves alone."""
        return LeafSet, (self.leaves,)

    @property
    def marks_mm(self) -> tuple[float, ...]:
        """Marks of the leaves, mm, thinnest first."""
        return tuple(sorted(leaf.nominal_mm for leaf in self.leaves))

    def stack(self, marks_mm: Sequence[float]) -> tuple[Leaf, ...]:
        """Return the leaves with these marks, mm, laid together.

        Raises
        ------
        ValueError
            If there is no such leaf, the same one twice, none, or more than three.
        """
        if not 1 <= len(marks_mm) <= MOST_LEAVES:
            raise ValueError(f"marks_mm must be 1 to {MOST_LEAVES} leaves, got {len(marks_mm)}")
        by_um = self._by_um
        found = {}
        for mark_mm in marks_mm:
            um = _um(mark_mm)
            if um not in by_um:
                raise ValueError(f"marks_mm must be leaves of this set, got {mark_mm!r:.40} mm")
            if um in found:
                raise ValueError(f"marks_mm must be different leaves, got {mark_mm:g} mm twice")
            found[um] = by_um[um]
        return tuple(found.values())

    def with_kink(self, mark_mm: float, kink_mm: float) -> "LeafSet":
        """Return the set with one leaf bent, so that it needs `kink_mm` more room, mm."""
        return self._with(mark_mm, kink_mm=kink_mm)

    def with_wear(self, mark_mm: float, worn_mm: float) -> "LeafSet":
        """Return the set with one leaf worn thinner by `worn_mm`, mm, zero or more."""
        (leaf,) = self.stack((mark_mm,))
        in_range("worn_mm", worn_mm, "mm", low=0, below=leaf.nominal_mm + leaf.deviation_mm)
        return self._with(mark_mm, deviation_mm=leaf.deviation_mm - worn_mm)

    def _with(self, mark_mm: float, **change: float) -> "LeafSet":
        (old,) = self.stack((mark_mm,))
        return LeafSet(
            tuple(replace(leaf, **change) if leaf is old else leaf for leaf in self.leaves)
        )


def ideal_leaf_set(marks_mm: Iterable[float] = ALL_LEAVES_MM) -> LeafSet:
    """Return leaves exactly as thick as their marks, mm."""
    return LeafSet(tuple(Leaf(mark_mm) for mark_mm in marks_mm))


def leaf_set(draws: Draws, marks_mm: Iterable[float] = ALL_LEAVES_MM) -> LeafSet:
    """Return leaves as bought: each off its mark by a fixed amount within tolerance.

    Parameters
    ----------
    draws : Draws
        Dice of this gauge; the same dice give the same gauge.
    marks_mm : iterable of float
        Marks, mm.

    Returns
    -------
    LeafSet
        Deviations even within ± `leaf_tolerance_mm`.
    """
    return LeafSet(
        tuple(
            Leaf(
                mark_mm, leaf_tolerance_mm(mark_mm) * (2 * draws.uniform("leaf", _um(mark_mm)) - 1)
            )
            for mark_mm in marks_mm
        )
    )


def leaf_tolerance_mm(mark_mm: float) -> float:
    """Return how far a good leaf may be from its mark, either way, mm.

    Parameters
    ----------
    mark_mm : float
        Mark, mm, above zero.

    Returns
    -------
    float
        Tolerance, mm.

    Notes
    -----
    Source: ± 0.005 mm up to 0.30 mm after DIN 2275, from memory and not
    confirmed; the growth to ± 0.010 mm at 1.00 mm is common practice, no source.
    """
    beyond = max(0.0, in_range("mark_mm", mark_mm, "mm", above=0) - 0.30) / 0.70
    return THIN_LEAF_TOLERANCE_MM + beyond * (THICK_LEAF_TOLERANCE_MM - THIN_LEAF_TOLERANCE_MM)


def marks_for(thickness_mm: float, marks_mm: Sequence[float] = ALL_LEAVES_MM) -> tuple[float, ...]:
    """Return the fewest leaves (thickest first) whose marks make up a thickness.

    Parameters
    ----------
    thickness_mm : float
        Thickness wanted, mm, to 0.001 mm.
    marks_mm : sequence of float
        Leaves at hand, mm.

    Returns
    -------
    tuple of float
        Marks, mm, one to three.

    Raises
    ------
    ValueError
        If no three leaves make it up.

    Examples
    --------
    >>> marks_for(0.34)
    (0.3, 0.04)
    """
    want_um = _um(in_range("thickness_mm", thickness_mm, "mm", above=0))
    found = _fewest(want_um, tuple(sorted((_um(mark_mm) for mark_mm in marks_mm), reverse=True)))
    if not found:
        raise ValueError(f"thickness_mm must be a stack of 1 to 3 leaves, got {thickness_mm:g} mm")
    return tuple(um / 1000 for um in found)


@lru_cache(maxsize=4096)
def _fewest(want_um: int, left_um: tuple[int, ...]) -> tuple[int, ...]:
    """Return the fewest of the leaves that add up, or nothing."""
    for count in range(1, MOST_LEAVES + 1):
        found = _sum_to(want_um, left_um, count)
        if found:
            return found
    return ()


def _sum_to(want_um: int, left_um: Sequence[int], count: int) -> tuple[int, ...]:
    """Return `count` different leaves that add up, or nothing; the first found has the thickest."""
    if count == 1:
        return (want_um,) if want_um in left_um else ()
    for place, um in enumerate(left_um):
        rest = _sum_to(want_um - um, left_um[place + 1 :], count - 1)
        if rest:
            return (um, *rest)
    return ()


def _um(mark_mm: float) -> int:
    """Return a mark in whole micrometres, so that 0.1 + 0.2 finds the leaf of 0.3."""
    try:
        return round(mark_mm * 1000)
    except (TypeError, ValueError, OverflowError) as error:
        raise ValueError(f"mark_mm must be a number of mm, got {mark_mm!r:.40}") from error


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
        Least and greatest film between two leaves, mm.

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
    """

    skew_deg: float = 0.0
    depth_mm: float = FULL_DEPTH_MM
    dust_mm: float = 0.0
    burr_mm: float = 0.0

    def __post_init__(self) -> None:
        in_range("skew_deg", self.skew_deg, "deg", low=0, high=30)
        in_range("depth_mm", self.depth_mm, "mm", above=0, high=FULL_DEPTH_MM)
        in_range("dust_mm", self.dust_mm, "mm", low=0, high=5)
        in_range("burr_mm", self.burr_mm, "mm", low=0, high=5)

    @property
    def lost_mm(self) -> float:
        """Room lost (or won, if negative) against a leaf straight and fully in, mm."""
        skew = SKEW_STIFFNESS * BLADE_WIDTH_MM * math.sin(math.radians(self.skew_deg))
        edge = max(0.0, CHAMFER_MM - self.depth_mm)
        return skew + self.dust_mm + self.burr_mm - edge


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
    film_spread_mm = hand.film_high_mm - hand.film_low_mm
    for interface in range(1, len(leaves)):
        room_mm -= hand.film_low_mm
        if film_spread_mm > 0:
            room_mm -= film_spread_mm * draws.uniform("film", visit, attempt, interface)
    return _felt(room_mm + _hand_error_mm(draws, visit, attempt, hand), hand.push_mm)


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


@dataclass(frozen=True, slots=True)
class BracketFit:
    """Mean and scatter of several brackets, mm.

    Attributes
    ----------
    mean_mm : float
        Most likely mean of what was measured, mm.
    sigma_mm : float
        Most likely standard deviation, mm; zero if the steps are too coarse to show any.
    """

    mean_mm: float
    sigma_mm: float

    @property
    def is_resolved(self) -> bool:
        """Whether the steps were fine enough to show a scatter at all."""
        return self.sigma_mm > 0


MOST_ROUNDS = 5000  # of the iteration; six brackets need about ten
SETTLED_MM = 1e-10  # mm, far below any leaf


def fit_brackets(readings: Sequence[GapReading]) -> BracketFit:
    """Return the mean and scatter of gaps of which only the brackets are known.

    Parameters
    ----------
    readings : sequence of GapReading
        At least one bracket; of one place again and again, or of several places.

    Returns
    -------
    BracketFit
        In mm.

    Raises
    ------
    ValueError
        If there is no reading.

    Notes
    -----
    A bracket is an interval-censored value. Each round puts in its place the
    mean and variance of a normal distribution cut to it (expectation), and takes
    the mean and variance of all (maximisation). Brackets that all share a value
    show no scatter: then the middle of what they share is returned.

    Source: Dempster, Laird & Rubin, *J. R. Stat. Soc. B* 39 (1977), 1-38.
    """
    if not readings:
        raise ValueError("readings must hold at least one bracket, got none")
    low_mm = max(reading.go_mm for reading in readings)
    high_mm = min(reading.no_go_mm for reading in readings)
    if low_mm <= high_mm + SETTLED_MM:  # 0.05 steps that touch may miss each other by a float
        return BracketFit((low_mm + high_mm) / 2, 0.0)
    middles_mm = [reading.middle_mm for reading in readings]
    mean_mm, sigma_mm = fmean(middles_mm), pstdev(middles_mm)
    for _ in range(MOST_ROUNDS):
        before = mean_mm, sigma_mm
        mean_mm, sigma_mm = _next_round(readings, *before)
        if math.dist(before, (mean_mm, sigma_mm)) < SETTLED_MM:
            break
    return BracketFit(mean_mm, sigma_mm)


def _next_round(
    readings: Sequence[GapReading], mean_mm: float, sigma_mm: float
) -> tuple[float, float]:
    """Return mean and standard deviation, mm, with each bracket filled in from the last ones."""
    cut = [
        _cut_normal((r.go_mm - mean_mm) / sigma_mm, (r.no_go_mm - mean_mm) / sigma_mm)
        for r in readings
    ]
    shift = fmean(first for first, _ in cut)
    second = fmean(square for _, square in cut)
    return mean_mm + sigma_mm * shift, sigma_mm * math.sqrt(second - shift**2)


def _cut_normal(low: float, high: float) -> tuple[float, float]:
    """Return mean and mean square of a standard normal cut to an interval, dimensionless."""
    if low + high > 0:  # both tails alike, and the lower one loses no digits
        mean, square = _cut_normal(-high, -low)
        return -mean, square
    chance = (math.erfc(-high / math.sqrt(2)) - math.erfc(-low / math.sqrt(2))) / 2
    at_low, at_high = _STANDARD.pdf(low), _STANDARD.pdf(high)
    mean = (at_low - at_high) / chance
    return mean, 1 + (low * at_low - high * at_high) / chance


_STANDARD = NormalDist()

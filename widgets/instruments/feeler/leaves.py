"""The leaves of a feeler gauge: marks, what they are off by, and which make up a thickness."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from widgets.brake.draws import Draws
from widgets.brake.ranges import in_range

# Marks of the leaves, mm. Common practice, no source confirmed.
COMMON_LEAVES_MM = tuple(step / 100 for step in range(5, 101, 5))
THIN_LEAVES_MM = tuple(step / 100 for step in range(3, 11))
ALL_LEAVES_MM = tuple(sorted({*COMMON_LEAVES_MM, *THIN_LEAVES_MM}))
BLADE_WIDTH_MM = 13.0  # mm, usual width of a leaf; common practice, no source
MOST_LEAVES = 3  # more leaves act as a spring; common practice, no source
THIN_LEAF_TOLERANCE_MM = 0.005  # mm, up to 0.30 mm; after DIN 2275, from memory, not confirmed
THICK_LEAF_TOLERANCE_MM = 0.010  # mm, at 1.00 mm, straight line between; common practice


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


class LeafSet:
    """The leaves of one gauge, or of two carried together, each mark once; it never changes.

    Parameters
    ----------
    leaves : iterable of Leaf
        One or more.

    Raises
    ------
    ValueError
        If it holds no leaf, or one mark twice.
    """

    __slots__ = ("_by_um", "_made", "_marks_um", "_stacked")

    def __init__(self, leaves: Iterable[Leaf]) -> None:
        given = tuple(leaves)
        self._by_um = {_um(leaf.nominal_mm): leaf for leaf in given}
        self._marks_um = tuple(self._by_um)
        self._made: Callable[[int], Leaf] | None = None
        self._stacked: dict[Sequence[float], tuple[Leaf, ...]] = {}
        if not given or len(self._by_um) < len(given):
            raise ValueError("leaves must hold each mark once, and at least one")

    @classmethod
    def made(cls, marks_um: tuple[int, ...], made: Callable[[int], Leaf]) -> "LeafSet":
        """Return a set of which each leaf is made when it is first taken.

        Parameters
        ----------
        marks_um : tuple of int
            Marks, micrometres, each once.
        made : callable
            From a mark to its leaf, always the same.
        """
        new = cls.__new__(cls)
        new._by_um, new._marks_um, new._made, new._stacked = {}, marks_um, made, {}  # noqa: SLF001 (its own)
        return new

    def _leaf(self, um: int) -> Leaf | None:
        leaf = self._by_um.get(um)
        if leaf is None and self._made is not None and um in self._marks_um:
            leaf = self._by_um[um] = self._made(um)
        return leaf

    @property
    def leaves(self) -> tuple[Leaf, ...]:
        """The leaves, in the order in which they were given."""
        return tuple(leaf for um in self._marks_um if (leaf := self._leaf(um)) is not None)

    def __eq__(self, other: object) -> bool:
        """Return whether the other is a set of the same leaves."""
        return isinstance(other, LeafSet) and self.leaves == other.leaves

    def __hash__(self) -> int:
        """Return a hash of the leaves."""
        return hash(self.leaves)

    def __repr__(self) -> str:
        """Return how it could be written."""
        return f"LeafSet(leaves={self.leaves!r})"

    def __reduce__(self) -> tuple[type["LeafSet"], tuple[tuple[Leaf, ...]]]:
        """Pickle and copy by the leaves alone."""
        return LeafSet, (self.leaves,)

    @property
    def marks_mm(self) -> tuple[float, ...]:
        """Marks of the leaves, mm, thinnest first."""
        return tuple(um / 1000 for um in sorted(self._marks_um))

    def stack(self, marks_mm: Sequence[float]) -> tuple[Leaf, ...]:
        """Return the leaves with these marks, mm, laid together.

        Raises
        ------
        ValueError
            If there is no such leaf, the same one twice, none, or more than three.
        """
        # A hand tries the same few stacks again and again.
        try:
            stacked = self._stacked.get(marks_mm)
        except TypeError:  # a list, or what is not a mark
            return self._laid(marks_mm)
        if stacked is None:
            stacked = self._stacked[marks_mm] = self._laid(marks_mm)
        return stacked

    def _laid(self, marks_mm: Sequence[float]) -> tuple[Leaf, ...]:
        """Return the leaves with these marks, one after another."""
        if not 1 <= len(marks_mm) <= MOST_LEAVES:
            raise ValueError(f"marks_mm must be 1 to {MOST_LEAVES} leaves, got {len(marks_mm)}")
        found = {}
        for mark_mm in marks_mm:
            um = _um(mark_mm)
            leaf = self._leaf(um)
            if leaf is None:
                raise ValueError(f"marks_mm must be leaves of this set, got {mark_mm!r:.40} mm")
            if um in found:
                raise ValueError(f"marks_mm must be different leaves, got {mark_mm:g} mm twice")
            found[um] = leaf
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
    marked = _marked(tuple(marks_mm))

    def made(mark_um: int) -> Leaf:
        mark_mm, tolerance_mm = marked[mark_um]
        return Leaf(mark_mm, tolerance_mm * (2 * draws.uniform("leaf", mark_um) - 1))

    return LeafSet.made(tuple(marked), made)


@lru_cache(maxsize=64)
def _marked(marks_mm: tuple[float, ...]) -> dict[int, tuple[float, float]]:
    """Return mark and tolerance, mm, by the mark in micrometres.

    Raises
    ------
    ValueError
        If there is no mark, or one twice.
    """
    marked = {_um(mark_mm): (mark_mm, leaf_tolerance_mm(mark_mm)) for mark_mm in marks_mm}
    if not marks_mm or len(marked) < len(marks_mm):
        raise ValueError("leaves must hold each mark once, and at least one")
    return marked


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
    found = _fewest(want_um, _thickest_first_um(tuple(marks_mm)))
    if not found:
        raise ValueError(f"thickness_mm must be a stack of 1 to 3 leaves, got {thickness_mm:g} mm")
    return tuple(um / 1000 for um in found)


@lru_cache(maxsize=64)
def _thickest_first_um(marks_mm: tuple[float, ...]) -> tuple[int, ...]:
    return tuple(sorted((_um(mark_mm) for mark_mm in marks_mm), reverse=True))


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

"""Readings that a brake of this size can hardly have: asked about before they are believed."""

from collections.abc import Sequence

from widgets.brake.judgement import COVERAGE_FACTOR
from widgets.brake.judgement.rules import Reading
from widgets.brake.sizes.size import BrakeSize

TOO_THIN = 0.5  # of the least disc: carrier and all, no disc is worn so far; a choice of ours
TOO_WIDE = 3.0  # of the largest gap: the springs would be nearly slack; a choice of ours
MM_PER_INCH = 25.4
_AGAIN = "Check the row, the unit and the reading again before you act on it."


def doubts(size: BrakeSize, gaps: Sequence[Reading], discs: Sequence[Reading]) -> tuple[str, ...]:
    """Return a sentence for each kind of reading that can hardly be, worst first; often none.

    Parameters
    ----------
    size : BrakeSize
        The row of the limits sheet that the readings are held against.
    gaps, discs : sequence of Reading
        Air gap and disc over both linings, mm; at least one each.
    """
    thickest = max(discs, key=lambda one: one.value_mm)
    thinnest = min(discs, key=lambda one: one.value_mm)
    widest = max(gaps, key=lambda one: one.value_mm)
    found = []
    # A new disc that was estimated says nothing of the real one: it is asked about.
    known_new = "disc_new_mm" not in size.estimated
    beyond_new = thickest.value_mm - COVERAGE_FACTOR * thickest.u_mm > size.disc.new_mm
    if not known_new and beyond_new:
        found.append(
            f"The disc reads {thickest.value_mm:.2f} mm. The sheet does not say how thick a new "
            f"one of {size.name} is, and {size.disc.new_mm:g} mm was estimated. How thick is a new "
            "one? Ask the maker and write it into the sheet (disc_new_mm): wear is counted from it."
        )
    if known_new and beyond_new:
        found.append(
            f"The disc reads {thickest.value_mm:.2f} mm, and a new one of {size.name} has "
            f"{size.disc.new_mm:g} mm: another disc, another row, or dirt between the jaws. "
            f"{_AGAIN}"
        )
    if thinnest.value_mm < TOO_THIN * size.disc.min_mm:
        inches = _if_inches(thinnest.value_mm, TOO_THIN * size.disc.min_mm, size.disc.new_mm)
        found.append(
            f"The disc reads {thinnest.value_mm:.2f} mm, less than half of the least, "
            f"{size.disc.min_mm:g} mm, carrier and all{inches}. {_AGAIN}"
        )
    if widest.value_mm > TOO_WIDE * size.gap.max_mm:
        found.append(
            f"The gap reads {widest.value_mm:.2f} mm, more than {TOO_WIDE:g} times the largest, "
            f"{size.gap.max_mm:g} mm: something may be holding the plate, or this is "
            f"the wrong row. {_AGAIN}"
        )
    return tuple(found)


def _if_inches(value: float, low_mm: float, high_mm: float) -> str:
    """Return the question whether inches were typed, where they would make sense."""
    as_mm = value * MM_PER_INCH
    return f"; typed in inches it would be {as_mm:.2f} mm" if low_mm <= as_mm <= high_mm else ""

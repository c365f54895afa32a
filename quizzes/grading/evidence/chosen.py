"""Of several readings at one place, which was written: the kindest, or as it came."""

from collections.abc import Sequence
from typing import NamedTuple

from widgets.bench.handlers.measuring import SAME_PLACE_DEG

from .readings import JudgedDisc, apart_deg
from .shown import Shown

WRITTEN_WITHIN_MM = 0.006  # mm, a reading written down is the one that was shown, but for rounding


class Chosen(NamedTuple):
    """At how many places the thickest of several disc readings was written, and the thinnest."""

    thickest: int
    thinnest: int


def chosen_of_several(written: Sequence[JudgedDisc], shown: Sequence[Shown]) -> Chosen:
    """Return what was written of a disc where the caliper was read more than once.

    Somebody who reads twice and picks nothing writes either as often; a mean is neither.
    """
    thickest = thinnest = 0
    for one in written:
        values = [told.reading.value_mm for told in shown if _at(told, one)]
        if not values or max(values) - min(values) <= WRITTEN_WITHIN_MM:
            continue
        thickest += abs(one.reading.value_mm - max(values)) <= WRITTEN_WITHIN_MM
        thinnest += abs(one.reading.value_mm - min(values)) <= WRITTEN_WITHIN_MM
    return Chosen(thickest, thinnest)


def _at(told: Shown, one: JudgedDisc) -> bool:
    """Return whether a reading was shown where another was written, before it was written."""
    near = apart_deg(told.reading.angle_deg, one.reading.angle_deg) <= SAME_PLACE_DEG
    return near and told.step < one.step

"""A round of readings: where it is taken, and what it shows of tilt, warp and clamping."""

import math
from collections.abc import Sequence

from widgets.brake.gap.profile import GapFit, Plane, fit_plane
from widgets.brake.judgement.rules import Reading, clamped, warped
from widgets.brake.sizes.size import BrakeSize

EIGHT = tuple(45.0 * place for place in range(8))
FOUR = (0.0, 90.0, 180.0, 270.0)
STEPS_MM = tuple(step / 100 for step in range(3, 201))  # stacks of three leaves make all of these
EVEN_ENOUGH = 0.5  # of the evenness limit: a plane taken out adds less than it again
_EIGHT_COS = tuple(math.cos(math.radians(45.0 * place)) for place in range(8))
_EIGHT_SIN = tuple(math.sin(math.radians(45.0 * place)) for place in range(8))


def plane_through(gaps: Sequence[Reading]) -> Plane:
    """Return the least-squares plane through three readings or more; eight by hand, fast.

    Source: on equal steps the coefficients are the sums of a discrete Fourier transform.
    """
    if len(gaps) == 8 and all(r.angle_deg == 45.0 * n for n, r in enumerate(gaps)):
        mm = [reading.value_mm for reading in gaps]
        cos_mm = sum(a * b for a, b in zip(mm, _EIGHT_COS, strict=True)) / 4
        sin_mm = sum(a * b for a, b in zip(mm, _EIGHT_SIN, strict=True)) / 4
        return Plane(sum(mm) / 8, cos_mm, sin_mm)
    return fit_plane([r.angle_deg for r in gaps], [r.value_mm for r in gaps]).plane


def looks_warped(row: BrakeSize, gaps: Sequence[Reading]) -> bool:
    """Return whether what no screw can take out is too much, and not the screws' own doing."""
    return looks_odd(row, gaps) == "warped"


def looks_odd(row: BrakeSize, gaps: Sequence[Reading]) -> str:
    """Return "clamped" where the readings stand high or low at the three screws by too much.

    "warped" where too much is left over that no screw takes out; nothing where neither is so.
    """
    fit = _odd_fit(row, gaps)
    if fit is None:
        return ""
    return "clamped" if clamped(fit, row.gap.evenness_mm) else "warped"


def _odd_fit(row: BrakeSize, gaps: Sequence[Reading]) -> GapFit | None:
    values = [reading.value_mm for reading in gaps]
    # The fit is slow, and readings that lie this near to each other leave nothing over.
    if len(gaps) < 3 or max(values) - min(values) <= EVEN_ENOUGH * row.gap.evenness_mm:
        return None
    u_mm = math.sqrt(sum(reading.u_mm**2 for reading in gaps) / len(gaps))
    fit = fit_plane([reading.angle_deg for reading in gaps], values, u_mm)
    return fit if warped(fit, row.gap.evenness_mm) else None

"""The example of the trade: a brake set from 0.4 to 1.0 mm whose disc may wear to 10 mm."""

from functools import cache

from widgets.brake.judgement.rules import Conclusion, Reading, conclude
from widgets.brake.sizes.estimate import complete
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.written import DISC_U_MM, GAP_U_MM

# What the chart says and what was measured, mm; common practice, no source.
SETTING_MM, LARGEST_MM, LEAST_DISC_MM, MEASURED_DISC_MM = 0.4, 1.0, 10.0, 15.0
MEASURED_GAP_MM = 1.15  # beyond the largest, clearly
_PLACES_DEG = tuple(45.0 * place for place in range(8))


@cache
def example_size() -> BrakeSize:
    """Return the brake of the example; whatever its chart leaves out is estimated."""
    chart = {
        "name": "Example",
        "gap_setting_mm": SETTING_MM,
        "gap_max_mm": LARGEST_MM,
        "disc_min_mm": LEAST_DISC_MM,
    }
    return complete(chart, invented=True)


def example_concluded(
    gap_mm: float = MEASURED_GAP_MM, disc_mm: float = MEASURED_DISC_MM
) -> Conclusion:
    """Return what gap and disc of the example say, the same at every place, mm."""
    gaps = [Reading(angle, gap_mm, GAP_U_MM) for angle in _PLACES_DEG]
    discs = [Reading(angle, disc_mm, DISC_U_MM) for angle in _PLACES_DEG[::2]]
    return conclude(example_size(), gaps, discs)

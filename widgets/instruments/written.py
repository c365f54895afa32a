"""What was written down, as a reading: its value and how sure it is by the instrument used."""

from functools import lru_cache

from widgets.brake.judgement.rules import Reading

from . import caliper, feeler, steel_rule
from .feeler import ALL_LEAVES_MM, GapReading, marks_for

# Standard uncertainties of a competent reading, mm: stacks in steps of 0.01 mm, caliper, rule.
GAP_U_MM = feeler.budget(0.01, leaves=2).combined
DISC_U_MM = caliper.budget().combined
RULE_U_MM = steel_rule.budget().combined


@lru_cache(maxsize=16384)
def gap_reading(angle_deg: float, go_mm: float, no_go_mm: float) -> Reading:
    """Return the reading that a bracket stands for.

    Parameters
    ----------
    angle_deg : float
        Place round the rim, degrees.
    go_mm, no_go_mm : float
        Thickest stack that went in and thinnest that did not, mm.

    Returns
    -------
    Reading
        The middle of the bracket, mm, with its standard uncertainty.
    """
    return Reading(angle_deg, *_middle_and_u_mm(go_mm, no_go_mm))


@lru_cache(maxsize=4096)
def _middle_and_u_mm(go_mm: float, no_go_mm: float) -> tuple[float, float]:
    """Return what a bracket says wherever it was read."""
    read = bracket(go_mm, no_go_mm)
    return read.middle_mm, read.uncertainty_mm


@lru_cache(maxsize=4096)
def bracket(go_mm: float, no_go_mm: float) -> GapReading:
    """Return a bracket with the number of leaves that its upper stack takes."""
    try:
        leaves = len(marks_for(round(no_go_mm, 3), ALL_LEAVES_MM))
    except ValueError:
        leaves = 1
    return GapReading(go_mm, no_go_mm, max(1, leaves))


@lru_cache(maxsize=16384)
def disc_reading(angle_deg: float, value_mm: float, tool: str = "caliper") -> Reading:
    """Return the reading that a caliper or a steel rule stands for, mm."""
    return Reading(angle_deg, value_mm, RULE_U_MM if tool == "rule" else DISC_U_MM)

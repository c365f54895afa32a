"""Editions of the grading rules: what counts, and how much, so that a sitting keeps its own."""

from collections.abc import Mapping
from dataclasses import dataclass

EDITION = "1"  # edition of the grading rules; a change in what a log earns raises it
PASS = 0.6  # share of an element, and of a channel, that must be reached; a choice of this scheme
CHANNELS = {
    "M": "measuring",
    "D": "deciding",
    "P": "procedure",
    "W": "written record",
}
_WEIGHTS = {"M": 30, "D": 40, "P": 20, "W": 10}  # marks a channel; a choice of this scheme


@dataclass(frozen=True, slots=True)
class Rules:
    """One edition of the rules.

    Attributes
    ----------
    edition : str
        Its name, as it stands in a kept grade.
    weights : mapping
        Marks of each channel, M, D, P, W.
    pass_share : float
        Share of each channel that a sitting must reach, 0 to 1.
    torque_share : float
        Tolerance of the tightening torque, either way, as a share of it.
    setting_share : float
        Tolerance of the gap left about its setting, as a share of the evenness limit.
    places, disc_places : int
        Places round the rim at which gap and disc must be read.
    arguable_share : float
        Share of the marks for a decision that a limit so near leaves open.
    false_finding_cost : float
        Share of the marks that each finding costs that nothing supports.
    due_slack : float
        How far the next inspection may lie beyond what wear allows, as a factor of it.
    disc_for_refer : float
        Cost of a new disc on a brake that has to be withdrawn, in units of needless work:
        the fault stays in.
    due_far : float
        Factor beyond what wear allows from which a date for the next inspection fails a case.
    widest_hole_deg : float
        Angle between neighbouring places from which the gap was not read all round, degrees.
    widest_disc_hole_deg : float
        The same for the disc.
    element_cases : int
        Cases in which an element came up from which it must be reached by itself; 0 for never.
    """

    edition: str
    weights: Mapping[str, int]
    pass_share: float = PASS
    torque_share: float = 0.15
    setting_share: float = 0.5
    places: int = 6
    disc_places: int = 3
    arguable_share: float = 1 / 3
    false_finding_cost: float = 0.25
    due_slack: float = 1.25
    disc_for_refer: float = 30.0
    due_far: float = 2.0
    widest_hole_deg: float = 120.0
    widest_disc_hole_deg: float = 130.0
    element_cases: int = 4


# One edition is in force. A change in what a log earns adds another here and raises EDITION; every
# kept sitting is graded by the one that it began with.
EDITIONS: Mapping[str, Rules] = {EDITION: Rules(EDITION, _WEIGHTS)}


def rules_of(edition: str) -> Rules:
    """Return the rules of an edition.

    Raises
    ------
    ValueError
        If there is no such edition; the sentence names them all.
    """
    if edition not in EDITIONS:
        raise ValueError(f"edition must be one of {', '.join(EDITIONS)}, got {edition!r:.40}")
    return EDITIONS[edition]

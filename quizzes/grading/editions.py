"""Editions of the grading rules: what counts, and how much, so that a sitting keeps its own."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

EDITION = "4"  # edition of the grading rules; a change in what a log earns raises it
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
    signs_count : bool
        Whether what was looked at, and what was not, weighs in the decision.
    elements : frozenset of str
        Elements that are scored; empty for all.
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
    checks_are_no_work : bool
        Whether a retaining screw tightened to the torque that it had counts as a check of it.
    struck_counts : bool
        Whether a reading that was taken, and struck through with none in its stead, counts.
    looks_before_keeping : bool
        Whether a brake that is kept in use without a look at it is not right.
    due_far : float
        Factor beyond what wear allows from which a date for the next inspection fails a case.
    widest_hole_deg : float
        Angle between neighbouring places from which the gap was not read all round, degrees.
    element_cases : int
        Cases in which an element came up from which it must be reached by itself; 0 for never.
    passing_is_no_adjusting : bool
        Whether who passes a disc under its least is told apart from who adjusts over it.
    tells_why : bool
        Whether what was too little is named, and a case not right says why in the outcome.
    shaft_locked_off : bool
        Whether a hand on the shaft with the hoist's supply on is a critical error.
    safe_in_full : bool
        Whether each part of making safe counts, and mask, eye protection and gloves.
    """

    edition: str
    weights: Mapping[str, int]
    signs_count: bool
    elements: frozenset[str] = frozenset()
    pass_share: float = PASS
    torque_share: float = 0.15
    setting_share: float = 0.5
    places: int = 6
    disc_places: int = 3
    arguable_share: float = 1 / 3
    false_finding_cost: float = 0.25
    due_slack: float = 1.25
    disc_for_refer: float = 30.0
    checks_are_no_work: bool = False
    struck_counts: bool = False
    looks_before_keeping: bool = False
    due_far: float = math.inf
    widest_hole_deg: float = 360.0
    element_cases: int = 0
    passing_is_no_adjusting: bool = False
    tells_why: bool = False
    shaft_locked_off: bool = False
    safe_in_full: bool = False


_READINGS_ONLY = frozenset(
    {"S1", "S2", "S4", "K3", "M2", "M4", "D1", "A1", "A2", "A3", "R4", "T1", "T2", "W1"}
)
# Since the third: who struck out the least reading, named every fault, never measured a coil,
# looked nowhere, gauged one half or wrote any date was competent by the second. The numbers
# are choices of ours.
_THIRD = Rules(
    "3",
    _WEIGHTS,
    signs_count=True,
    checks_are_no_work=True,
    struck_counts=True,
    looks_before_keeping=True,
    due_far=2.0,
    widest_hole_deg=120.0,
    element_cases=4,
    passing_is_no_adjusting=True,
    tells_why=True,
)
EDITIONS: Mapping[str, Rules] = {
    "1": Rules("1", _WEIGHTS, signs_count=False, elements=_READINGS_ONLY, disc_for_refer=4.0),
    "2": Rules("2", _WEIGHTS, signs_count=True),
    "3": _THIRD,
    # Since the fourth: who turned the shaft by hand with the supply restored, left the lock off,
    # did not try to start, barred no area or wore no mask earned full marks.
    EDITION: replace(_THIRD, edition=EDITION, shaft_locked_off=True, safe_in_full=True),
}


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

"""How far a person's own readings are off, and how well they repeat themselves."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, variance

from widgets.instruments.feeler import GapReading

BIAS_MM = 0.02  # mm against the reference; common practice, no source
REPEATABILITY_FACTOR = 2.8  # two readings differ by less in 95 of 100; ISO 5725-6, from memory
CHANCE = 0.05  # of calling a steady hand unsteady


@dataclass(frozen=True, slots=True)
class HandCheck:
    """What a set of repeated readings shows of the hand that took them, mm.

    Attributes
    ----------
    bias_mm : float
        Mean of reading less gap, mm: plus for one who reads high.
    repeatability_mm : float
        Standard deviation of readings at one place, pooled over the places, mm.
    expected_mm : float
        Standard uncertainty that a careful person has with the same steps, mm.
    most_mm : float
        Up to this a scatter is no worse than that, but for chance, mm.
    held : int
        Brackets that hold the gap, allowing twice the uncertainty of leaves and hand.
    count, freedom : int
        Readings; readings beyond one for each place.
    """

    bias_mm: float
    repeatability_mm: float
    expected_mm: float
    most_mm: float
    held: int
    count: int
    freedom: int

    @property
    def limit_mm(self) -> float:
        """Two readings of one place differ by less than this in 95 of 100 pairs, mm."""
        return REPEATABILITY_FACTOR * self.repeatability_mm

    @property
    def sentences(self) -> tuple[str, ...]:
        """What to make of it, one sentence a finding."""
        way = "high" if self.bias_mm > 0 else "low"
        true = f"On average you read {abs(self.bias_mm):.3f} mm {way}"
        asked = f"the aim is {BIAS_MM:g} mm or less"
        bias = f"{true}; {asked}." + ("" if abs(self.bias_mm) <= BIAS_MM else self._advice())
        if self.repeatability_mm == 0:
            same = (
                "You read the same bracket each time: your steps are too coarse to show a scatter."
            )
            return (bias, same)
        steady = self.repeatability_mm <= self.most_mm
        judged = "within what chance allows" if steady else "more than chance explains"
        more = (
            ""
            if steady
            else (" Use the same force, put the leaf in straight and fully, and take your time.")
        )
        scatter = (
            f"Your readings of one place scatter by {self.repeatability_mm:.4f} mm; a careful hand "
            f"with these steps scatters by {self.expected_mm:.4f} mm. That is {judged}.{more}"
        )
        return (bias, scatter)

    def _advice(self) -> str:
        if self.bias_mm > 0:
            return (
                " Reading high: a leaf that only enters the edge, or is forced, does not "
                "count as in."
            )
        return " Reading low: a leaf that drags does go in; try the next thicker one."


def check_hand(rounds: Sequence[Sequence[GapReading]], true_mm: Sequence[float]) -> HandCheck:
    """Return bias and repeatability of readings of the same places, round by round.

    Parameters
    ----------
    rounds : sequence of sequence of GapReading
        Two or more, each with a bracket for each place.
    true_mm : sequence of float
        The gap at each place, mm.

    Raises
    ------
    ValueError
        If there are fewer than two rounds, or one is not complete.

    Notes
    -----
    Variances of the places are pooled. A scatter is called steady up to the
    upper 5 % point of chi-squared over its degrees of freedom times the
    expected variance. Source: JCGM 100:2008, 4.2.4; ISO 5725-2, from memory.
    """
    if len(rounds) < 2:
        raise ValueError(f"rounds must be 2 or more to show how one repeats, got {len(rounds)}")
    for number, readings in enumerate(rounds, start=1):
        if len(readings) != len(true_mm):
            raise ValueError(f"round {number} must hold {len(true_mm)} brackets")
    flat = [reading for readings in rounds for reading in readings]
    errors = [
        reading.estimate_mm - gap
        for readings in rounds
        for reading, gap in zip(readings, true_mm, strict=True)
    ]
    pooled = fmean(variance([r.estimate_mm for r in place]) for place in zip(*rounds, strict=True))
    freedom = len(flat) - len(true_mm)
    expected_mm = math.sqrt(fmean(reading.uncertainty_mm**2 for reading in flat))
    return HandCheck(
        bias_mm=fmean(errors),
        repeatability_mm=0.0 if pooled < 1e-12 else math.sqrt(pooled),
        expected_mm=expected_mm,
        most_mm=expected_mm * math.sqrt(_chi2_upper(freedom) / freedom),
        held=sum(
            _holds(r, gap) for readings in rounds for r, gap in zip(readings, true_mm, strict=True)
        ),
        count=len(flat),
        freedom=freedom,
    )


def _holds(reading: GapReading, gap_mm: float) -> bool:
    return abs(reading.estimate_mm - gap_mm) <= 2 * reading.uncertainty_mm


def _chi2_upper(freedom: int) -> float:
    from scipy.special import chdtri  # noqa: PLC0415 (a page opens faster without SciPy)

    return float(chdtri(freedom, CHANCE))

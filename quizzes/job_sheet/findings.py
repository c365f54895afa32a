"""What a filled job sheet comes to: conclusion, spread, tilt and screw turns, and how sure."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from widgets.brake.gap.levelling import ScrewTurn, levelling_turns, turn_for_change_deg
from widgets.brake.gap.profile import SCREW_ANGLES_DEG, GapFit, Plane, fit_plane
from widgets.brake.gap.reversal import part_that_turns_with_the_disc
from widgets.brake.judgement import COVERAGE_FACTOR, conformance_probability
from widgets.brake.judgement.rules import Conclusion, Outcome, Reading, conclude
from widgets.brake.sizes.design import Design
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.wear.growth import adjustments_left
from widgets.instruments.caliper import budget as caliper_budget

from .doubts import doubts
from .entry import JobEntry, Place

# What asks for more comes first.
_SEVERITY = (Outcome.REFER, Outcome.REPLACE, Outcome.ADJUST, Outcome.FIT)


@dataclass(frozen=True, slots=True)
class Summary:
    """Readings in short: mean, least and largest, mm, and how many."""

    count: int
    mean_mm: float
    least_mm: float
    most_mm: float

    @property
    def spread_mm(self) -> float:
        """Largest less least, mm."""
        return self.most_mm - self.least_mm


@dataclass(frozen=True, slots=True)
class Turn:
    """What to do at one screw, and how sure that is: expanded uncertainty, k = 2."""

    turn: ScrewTurn
    expanded_mm: float
    expanded_deg: float


@dataclass(frozen=True)
class Findings:
    """What the readings support.

    Attributes
    ----------
    conclusion : Conclusion
        Of the round of gap readings that asks for more.
    gaps, turned, discs : tuple of Reading
        Readings with their standard uncertainty; `turned` after half a turn of the rotor.
    fit, turned_fit : GapFit
        Plane through each round; None without a second round.
    body, carried : Plane
        The tilt that stays when the disc turns, and the one that goes round
        with it; `carried` is None without a second round.
    covariance_mm2 : ndarray of shape (3, 3)
        Of mean, cosine and sine of `body`, mm²; of `carried` as well.
    turns : tuple of Turn
        One a screw; empty where no screw is to be turned.
    gap_chance, disc_chance : float
        How probable it is that the true widest gap and the true thinnest
        place of the disc keep their limits, 0 to 1.
    runs_left : float
        Full runs from setting to largest gap that the disc still holds.
    doubts : tuple of str
        A sentence for each reading that a brake of this size can hardly have.
    """

    conclusion: Conclusion
    gaps: tuple[Reading, ...]
    turned: tuple[Reading, ...]
    discs: tuple[Reading, ...]
    fit: GapFit
    turned_fit: GapFit | None
    body: Plane
    carried: Plane | None
    covariance_mm2: NDArray[np.float64]
    turns: tuple[Turn, ...]
    gap_chance: float
    disc_chance: float
    runs_left: float
    doubts: tuple[str, ...] = ()

    @property
    def outcome(self) -> Outcome:
        """What the brake needs, by these readings."""
        found = self.conclusion.outcome
        if found is None:  # pragma: no cover - an entry holds gap and disc readings
            raise ValueError("a job sheet must hold gap and disc readings, got too few")
        return found

    @property
    def widest(self) -> Reading:
        """The widest gap of all readings."""
        return max((*self.gaps, *self.turned), key=lambda reading: reading.value_mm)

    @property
    def tilt_shows(self) -> bool:
        """Whether the first round's tilt is more than reading scatter, so that it has a side."""
        covariance = self.fit.covariance_mm2
        u_mm = math.sqrt(float(covariance[1, 1] + covariance[2, 2]) / 2)
        return self.fit.plane.tilt_mm > COVERAGE_FACTOR * u_mm

    @property
    def carried_shows(self) -> bool:
        """Whether the tilt that goes round with the disc is more than reading scatter."""
        if self.carried is None:
            return False
        u_mm = math.sqrt((self.covariance_mm2[1, 1] + self.covariance_mm2[2, 2]) / 2)
        return self.carried.tilt_mm > COVERAGE_FACTOR * u_mm


def find(entry: JobEntry) -> Findings:
    """Return what a filled job sheet comes to.

    Parameters
    ----------
    entry : JobEntry
        As `read_entry` returns it: at least three places and one disc reading.

    Notes
    -----
    Readings at one place are independent; the two rounds weigh the same.
    Source: JCGM 100:2008, 5.1.2, for the uncertainty carried through to the screws.
    """
    size = entry.size
    gaps, turned = _gap_readings(entry.first), _gap_readings(entry.turned)
    u_mm = caliper_budget(entry.caliper_error_mm).combined
    discs = tuple(Reading(place.angle_deg, place.value_mm, u_mm) for place in entry.discs)
    rounds = [one for one in (gaps, turned) if one]
    conclusion = min((conclude(size, one, discs) for one in rounds), key=_severity)
    fits = [_fit(one) for one in rounds]
    body, carried, covariance = _parts(fits)
    widest = max((*gaps, *turned), key=lambda reading: reading.value_mm)
    thinnest = min(discs, key=lambda reading: reading.value_mm)
    screws = size.design is Design.HOLLOW_SCREWS
    may_turn = screws and conclusion.outcome in {Outcome.ADJUST, Outcome.FIT}
    return Findings(
        conclusion=conclusion,
        gaps=gaps,
        turned=turned,
        discs=discs,
        fit=fits[0],
        turned_fit=fits[1] if turned else None,
        body=body,
        carried=carried,
        covariance_mm2=covariance,
        turns=_turns(size, body, covariance) if may_turn else (),
        gap_chance=conformance_probability(widest.value_mm, widest.u_mm, upper=size.gap.max_mm),
        disc_chance=conformance_probability(
            thinnest.value_mm, thinnest.u_mm, lower=size.disc.min_mm
        ),
        runs_left=adjustments_left(
            thinnest.value_mm, size.disc.min_mm, size.gap.setting_mm, size.gap.max_mm
        ),
        doubts=doubts(size, (*gaps, *turned), discs),
    )


def summary(readings: Sequence[Reading]) -> Summary:
    """Return mean, least and largest of readings.

    Raises
    ------
    ValueError
        If there are none.
    """
    if not readings:
        raise ValueError("readings must be at least 1, got none")
    values = [reading.value_mm for reading in readings]
    return Summary(len(values), math.fsum(values) / len(values), min(values), max(values))


def _severity(conclusion: Conclusion) -> int:
    return _SEVERITY.index(conclusion.outcome) if conclusion.outcome else -1


def _gap_readings(places: Sequence[Place]) -> tuple[Reading, ...]:
    return tuple(
        Reading(place.angle_deg, place.reading.estimate_mm, place.reading.uncertainty_mm)
        for place in places
    )


def _fit(readings: Sequence[Reading]) -> GapFit:
    rms_mm = math.sqrt(math.fsum(reading.u_mm**2 for reading in readings) / len(readings))
    return fit_plane(
        [reading.angle_deg for reading in readings],
        [reading.value_mm for reading in readings],
        rms_mm,
    )


def _parts(fits: Sequence[GapFit]) -> tuple[Plane, Plane | None, NDArray[np.float64]]:
    """Return the tilt of the body, the tilt that the disc carries, and their covariance."""
    if len(fits) == 1:
        return fits[0].plane, None, fits[0].covariance_mm2
    body, carried = part_that_turns_with_the_disc(fits[0].plane, fits[1].plane)
    return body, carried, (fits[0].covariance_mm2 + fits[1].covariance_mm2) / 4


def _turns(size: BrakeSize, plane: Plane, covariance: NDArray[np.float64]) -> tuple[Turn, ...]:
    screws = size.screws
    turns = levelling_turns(plane, size.gap.setting_mm, screws.radius_ratio, screws.pitch_mm)
    found = []
    for turn, angle_deg in zip(turns, SCREW_ANGLES_DEG, strict=True):
        angle = math.radians(angle_deg)
        share = np.array([1.0, math.cos(angle), math.sin(angle)])
        share[1:] /= screws.radius_ratio
        expanded_mm = COVERAGE_FACTOR * math.sqrt(float(share @ covariance @ share))
        found.append(Turn(turn, expanded_mm, turn_for_change_deg(expanded_mm, screws.pitch_mm)))
    return tuple(found)

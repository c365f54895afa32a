"""The plane through readings round the rim, in closed form: what grading needs of it, quickly."""

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from widgets.brake.gap.places import FEWEST_FOR_PLANE
from widgets.brake.gap.profile import FEWEST_FOR_RESIDUAL, fit_plane
from widgets.brake.judgement import Zone, either_way, zone
from widgets.brake.judgement.rules import Reading, clamped, warped
from widgets.brake.judgement.signs import Finding
from widgets.brake.sizes.size import BrakeSize

TAPER_U = 6.0  # thickest less thinnest, in uncertainties of a reading; a choice of this scheme


class PlaneFit(NamedTuple):
    """Least-squares plane: mean and first harmonic, mm; what it leaves over; u of its spread."""

    mean_mm: float
    cos_mm: float
    sin_mm: float
    residual_spread_mm: float
    spread_u_mm: float

    @property
    def spread_mm(self) -> float:
        """Widest minus narrowest of the plane, mm."""
        return 2 * math.hypot(self.cos_mm, self.sin_mm)


@lru_cache(maxsize=4096)
def _cos_sin(angle_deg: float) -> tuple[float, float]:
    angle = math.radians(angle_deg)
    return math.cos(angle), math.sin(angle)


def quick_plane(readings: Sequence[Reading]) -> PlaneFit | None:
    """Return the plane through gap readings, or None where three places are not given.

    Notes
    -----
    Normal equations of g = a0 + a1 cos θ + b1 sin θ, solved about the means by Cramer's
    rule; the covariance is their inverse. Source: any text on least squares.
    """
    if len({round(one.angle_deg % 360, 6) for one in readings}) < FEWEST_FOR_PLANE:
        return None
    count = len(readings)
    places = [_cos_sin(one.angle_deg) for one in readings]
    values = [one.value_mm for one in readings]
    mean_c = math.fsum(c for c, _ in places) / count
    mean_s = math.fsum(s for _, s in places) / count
    mean_v = math.fsum(values) / count
    away = [(c - mean_c, s - mean_s, v - mean_v)
            for (c, s), v in zip(places, values, strict=True)]  # fmt: skip
    cc = math.fsum(c * c for c, _, _ in away)
    ss = math.fsum(s * s for _, s, _ in away)
    cs = math.fsum(c * s for c, s, _ in away)
    cv = math.fsum(c * v for c, _, v in away)
    sv = math.fsum(s * v for _, s, v in away)
    whole = cc * ss - cs * cs
    cos_mm, sin_mm = (cv * ss - sv * cs) / whole, (sv * cc - cv * cs) / whole
    left = [v - cos_mm * c - sin_mm * s for c, s, v in away]
    u2 = math.fsum(one.u_mm * one.u_mm for one in readings) / count
    spread_u_mm = 2 * math.sqrt(u2 * (cc + ss) / whole / 2)
    mean_mm = mean_v - cos_mm * mean_c - sin_mm * mean_s
    return PlaneFit(mean_mm, cos_mm, sin_mm, max(left) - min(left), spread_u_mm)


class NamedBy(NamedTuple):
    """Findings that readings call for (any one of each group), and those that they allow."""

    asked: tuple[frozenset[Finding], ...]
    allowed: frozenset[Finding]


def findings_of_readings(
    size: BrakeSize, gaps: Sequence[Reading], discs: Sequence[Reading], growth_mm: float = 0.0
) -> NamedBy:
    """Return what gap and disc readings by themselves are called in the trade's words.

    Near a limit a finding is allowed and not asked for: two careful people may differ. So it
    is where only the growth until the next inspection, `growth_mm`, takes a reading there.
    """
    asked: list[frozenset[Finding]] = []
    allowed: set[Finding] = set()
    if discs:
        _of_discs(size, discs, asked, allowed)
    if gaps:
        _of_gaps(size, gaps, asked, allowed)
    if growth_mm and discs and gaps:
        thinnest_mm = min(one.value_mm for one in discs)
        if thinnest_mm - growth_mm < size.disc.min_mm:
            allowed.add(Finding.DISC_WORN)
        if max(one.value_mm for one in gaps) + growth_mm > size.gap.max_mm:
            allowed.add(Finding.GAP_LARGE)
    return NamedBy(tuple(asked), frozenset(allowed))


def disc_tapers(discs: Sequence[Reading]) -> bool:
    """Return whether disc readings differ by more than their uncertainty makes of an even disc."""
    values = [one.value_mm for one in discs]
    return bool(discs) and max(values) - min(values) > TAPER_U * discs[0].u_mm


def _of_discs(
    size: BrakeSize,
    discs: Sequence[Reading],
    asked: list[frozenset[Finding]],
    allowed: set[Finding],
) -> None:
    thinnest = min(discs, key=lambda one: one.value_mm)
    found = zone(thinnest.value_mm, thinnest.u_mm, lower=size.disc.min_mm)
    near = either_way(thinnest.value_mm, thinnest.u_mm, lower=size.disc.min_mm)
    names = {Finding.DISC_WORN} if near or found is not Zone.CONTINUE else set[Finding]()
    if disc_tapers(discs):
        names.add(Finding.DISC_TAPERED)
    if found is Zone.BEYOND:
        asked.append(frozenset(names))
    allowed |= names


def _of_gaps(
    size: BrakeSize,
    gaps: Sequence[Reading],
    asked: list[frozenset[Finding]],
    allowed: set[Finding],
) -> None:
    widest = max(gaps, key=lambda one: one.value_mm)
    narrowest = min(gaps, key=lambda one: one.value_mm)
    _weigh((widest.value_mm, widest.u_mm, size.gap.max_mm), Finding.GAP_LARGE, asked, allowed)
    if narrowest.value_mm - 2 * narrowest.u_mm < size.gap.min_mm:
        allowed.add(Finding.GAP_SMALL)
    if narrowest.value_mm < size.gap.min_mm - 2 * narrowest.u_mm:
        asked.append(frozenset({Finding.GAP_SMALL}))
    plane = quick_plane(gaps)
    if plane is None:
        return
    spread = (plane.spread_mm, plane.spread_u_mm, size.gap.evenness_mm)
    _weigh(spread, Finding.GAP_UNEVEN, asked, allowed)
    if plane.residual_spread_mm > 0.9 * size.gap.evenness_mm:
        _bent(size, gaps, asked, allowed)


def _weigh(
    read: tuple[float, float, float],
    finding: Finding,
    asked: list[frozenset[Finding]],
    allowed: set[Finding],
) -> None:
    """Weigh a reading: value, its uncertainty and the upper limit."""
    value_mm, u_mm, limit_mm = read
    found = zone(value_mm, u_mm, upper=limit_mm)
    if found is Zone.BEYOND:
        asked.append(frozenset({finding}))
    if found is not Zone.CONTINUE or either_way(value_mm, u_mm, upper=limit_mm):
        allowed.add(finding)


def _bent(
    size: BrakeSize,
    gaps: Sequence[Reading],
    asked: list[frozenset[Finding]],
    allowed: set[Finding],
) -> None:
    if len(gaps) < FEWEST_FOR_RESIDUAL:
        return
    u_mm = math.sqrt(math.fsum(one.u_mm**2 for one in gaps) / len(gaps))
    fit = fit_plane([one.angle_deg for one in gaps], [one.value_mm for one in gaps], u_mm)
    names = frozenset({Finding.WARPED, Finding.GAP_UNEVEN})
    if warped(fit, size.gap.evenness_mm):
        lobes = clamped(fit, size.gap.evenness_mm)
        asked.append(names | {Finding.LOCK_LOOSE} if lobes else frozenset({Finding.WARPED}))
        allowed |= names | {Finding.LOCK_LOOSE}
    elif fit.residual_spread_mm > size.gap.evenness_mm:
        allowed |= names

"""From readings with their uncertainty and the limits to a conclusion, with its reasons.

The order of precedence is: refer (what no screw and no disc can cure), replace,
adjust, fit. A limit inside the uncertainty is taken on the safe side.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from widgets.brake.gap.profile import FEWEST_FOR_RESIDUAL, GapFit, fit_plane
from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import BrakeSize

from . import COVERAGE_FACTOR, Zone, either_way, zone
from .by_design import Asked, in_its_design, unsafe_in_its_design
from .outcome import Outcome
from .remark import Remark, remark

__all__ = ["CLAMP_LEAVES", "WARP_P", "Conclusion", "Outcome", "Reading", "clamped", "conclude",
           "tilt_spread_u_mm", "warped"]  # fmt: skip
CLAMP_LEAVES = 0.5  # of the residual spread: less without the three lobes, and they were it
WARP_P = 0.01  # chance below which residuals are no longer reading scatter; usual in testing


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading: where, degrees; what, mm; its standard uncertainty, mm."""

    angle_deg: float
    value_mm: float
    u_mm: float

    def __post_init__(self) -> None:
        in_range("reading angle_deg", self.angle_deg, "deg")
        in_range("reading value_mm", self.value_mm, "mm", low=0)
        in_range("reading u_mm", self.u_mm, "mm", above=0)


@dataclass(frozen=True, slots=True)
class Conclusion:
    """What readings and limits support.

    Attributes
    ----------
    outcome : Outcome or None
        The conclusion of the rule; None if the readings are too few for one.
    arguable : frozenset of Outcome
        Decisions that are not what the rule asks, yet no danger: a limit is near.
    unsafe : frozenset of Outcome
        Decisions that these readings rule out and that could let a load fall.
    reasons : tuple of Remark
        One a finding; `words.sentences` says them in English.
    worst_gap_mm, thinnest_disc_mm : float
        The readings that count, mm; NaN if there are none.
    """

    outcome: Outcome | None
    arguable: frozenset[Outcome]
    unsafe: frozenset[Outcome]
    reasons: tuple[Remark, ...]
    worst_gap_mm: float
    thinnest_disc_mm: float


def conclude(
    size: BrakeSize, gaps: Sequence[Reading], discs: Sequence[Reading], growth_mm: float = 0.0
) -> Conclusion:
    """Return what gap readings round the rim and disc readings say about a brake.

    Parameters
    ----------
    size : BrakeSize
        The row of the limits sheet to judge by.
    gaps, discs : sequence of Reading
        Air gap with the coil off, and disc over both linings. Either may be
        empty: then nothing is known of it, and "fit" cannot be defended.
    growth_mm : float
        By how much the gap grows, and the disc wears, until the next inspection, mm, 0 or
        more. What passes its limit before somebody looks again is dealt with today.

    Raises
    ------
    ValueError
        If `growth_mm` is below 0.

    Notes
    -----
    Common practice for the order; JCGM 106:2012 for the zones. What the gap gains the disc
    has lost: geometry.
    """
    if not gaps or not discs:
        return _too_little(size, gaps, discs)
    if growth_mm:
        in_range("growth_mm", growth_mm, "mm", low=0)
    return _concluded(size, tuple(gaps), tuple(discs), growth_mm)


# Whoever worked on the brake concludes from readings, and so does whoever grades the work.
@lru_cache(maxsize=1024)
def _concluded(
    size: BrakeSize, gaps: tuple[Reading, ...], discs: tuple[Reading, ...], growth_mm: float
) -> Conclusion:
    disc = _disc_finding(size, discs, growth_mm)
    gap = _gap_finding(size, gaps, growth_mm)
    shape = Asked(
        wide=_worst(gap.widest, gap.then) is not Zone.CONTINUE,
        tight=gap.tight,
        uneven=gap.uneven is Zone.BEYOND and not gap.clamped,
        clamped=gap.clamped,
    )
    outcome, arguable, more = in_its_design(size.design, *_weigh(disc, gap), shape)
    return Conclusion(
        outcome,
        arguable,
        unsafe_in_its_design(size.design, _unsafe(disc.zone, gap), gap.widest),
        (*disc.reasons, *gap.reasons, *more),
        max(reading.value_mm for reading in gaps),
        disc.value_mm,
    )


@dataclass(frozen=True, slots=True)
class _DiscFinding:
    zone: Zone
    then: Zone
    either: bool
    value_mm: float
    reasons: tuple[Remark, ...]


@dataclass(frozen=True, slots=True)
class _GapFinding:
    widest: Zone
    then: Zone
    tight: bool
    uneven: Zone
    warped: bool
    clamped: bool
    either: bool
    reasons: tuple[Remark, ...]


def _disc_finding(
    size: BrakeSize, discs: Sequence[Reading], growth_mm: float = 0.0
) -> _DiscFinding:
    thinnest = min(discs, key=lambda reading: reading.value_mm)
    found = zone(thinnest.value_mm, thinnest.u_mm, lower=size.disc.min_mm)
    now = remark(
        "disc.thinnest",
        value_mm=thinnest.value_mm,
        expanded_mm=COVERAGE_FACTOR * thinnest.u_mm,
        limit_mm=size.disc.min_mm,
        zone=found.name.lower(),
    )
    either = either_way(thinnest.value_mm, thinnest.u_mm, lower=size.disc.min_mm)
    if not growth_mm:
        return _DiscFinding(found, found, either, thinnest.value_mm, (now,))
    then_mm = max(0.0, thinnest.value_mm - growth_mm)
    then = zone(then_mm, thinnest.u_mm, lower=size.disc.min_mm)
    later = remark("disc.at-next-inspection", value_mm=then_mm, zone=then.name.lower())
    either |= either_way(then_mm, thinnest.u_mm, lower=size.disc.min_mm)
    return _DiscFinding(found, then, either, thinnest.value_mm, (now, later))


def _gap_finding(size: BrakeSize, gaps: Sequence[Reading], growth_mm: float = 0.0) -> _GapFinding:
    widest = max(gaps, key=lambda reading: reading.value_mm)
    narrowest = min(gaps, key=lambda reading: reading.value_mm)
    found = zone(widest.value_mm, widest.u_mm, upper=size.gap.max_mm)
    # At the lower limit a slip costs a warm disc, not a load: no guard band there.
    tight = narrowest.value_mm < size.gap.min_mm
    at_widest = remark(
        "gap.widest",
        value_mm=widest.value_mm,
        expanded_mm=COVERAGE_FACTOR * widest.u_mm,
        limit_mm=size.gap.max_mm,
        zone=found.name.lower(),
    )
    reasons, then = [at_widest], found
    either = either_way(widest.value_mm, widest.u_mm, upper=size.gap.max_mm)
    if growth_mm:
        then_mm = widest.value_mm + growth_mm
        then = zone(then_mm, widest.u_mm, upper=size.gap.max_mm)
        either |= either_way(then_mm, widest.u_mm, upper=size.gap.max_mm)
        reasons.append(remark("gap.at-next-inspection", value_mm=then_mm, zone=then.name.lower()))
    if tight:
        reasons.append(
            remark("gap.too-tight", value_mm=narrowest.value_mm, limit_mm=size.gap.min_mm)
        )
    shape, more = _evenness(size, gaps)
    return _GapFinding(
        found, then, tight, shape.uneven, shape.warped, shape.clamped, either or shape.either,
        (*reasons, *more),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Shape:
    uneven: Zone
    warped: bool = False
    clamped: bool = False
    either: bool = False


def _evenness(size: BrakeSize, gaps: Sequence[Reading]) -> tuple[_Shape, tuple[Remark, ...]]:
    limit_mm = size.gap.evenness_mm
    try:
        fit = fit_plane(
            [reading.angle_deg for reading in gaps],
            [reading.value_mm for reading in gaps],
            math.sqrt(sum(reading.u_mm**2 for reading in gaps) / len(gaps)),
        )
    except ValueError:
        return _Shape(Zone.CLOSE), (remark("gap.too-few-places"),)
    tilt_spread_mm = 2 * fit.plane.tilt_mm
    spread_u_mm = tilt_spread_u_mm(fit)
    found = zone(tilt_spread_mm, spread_u_mm, upper=limit_mm)
    either = either_way(tilt_spread_mm, spread_u_mm, upper=limit_mm)
    tilt = remark("gap.tilt", spread_mm=tilt_spread_mm, limit_mm=limit_mm, zone=found.name.lower())
    if not warped(fit, limit_mm):
        return _Shape(found, either=either), (tilt,)
    left_mm = fit.residual_spread_mm
    if clamped(fit, limit_mm):
        return _Shape(found, clamped=True), (tilt, remark("gap.clamped", left_mm=left_mm))
    return _Shape(found, warped=True), (tilt, remark("gap.warped", left_mm=left_mm))


def tilt_spread_u_mm(fit: GapFit) -> float:
    """Return the standard uncertainty of widest minus narrowest of a fitted plane, mm."""
    _, cos_mm2, sin_mm2 = fit.covariance_mm2.diagonal().tolist()
    return 2.0 * math.sqrt((cos_mm2 + sin_mm2) / 2)


def warped(fit: GapFit, evenness_mm: float) -> bool:
    """Return whether what the plane leaves over is too much, and more than reading scatter."""
    in_range("evenness_mm", evenness_mm, "mm", above=0)
    enough = len(fit.readings_mm) >= FEWEST_FOR_RESIDUAL
    return enough and fit.residual_spread_mm > evenness_mm and fit.residual_p < WARP_P


def clamped(fit: GapFit, evenness_mm: float) -> bool:
    """Return whether what the plane leaves over stands at the three screws and nowhere else."""
    in_range("evenness_mm", evenness_mm, "mm", above=0)
    return fit.without_clamp_spread_mm() < CLAMP_LEAVES * fit.residual_spread_mm


def _weigh(disc: _DiscFinding, gap: _GapFinding) -> tuple[Outcome, frozenset[Outcome]]:
    """Return the outcome of the rule, and what else could be argued for."""
    if gap.warped:
        return Outcome.REFER, frozenset()
    if _worst(disc.zone, disc.then) is not Zone.CONTINUE:
        return Outcome.REPLACE, frozenset()
    also = frozenset({Outcome.REPLACE} if disc.either else ())
    if gap.clamped:
        return Outcome.ADJUST, frozenset({Outcome.REFER}) | also
    wide = _worst(gap.widest, gap.then) is not Zone.CONTINUE
    if not (gap.tight or wide or gap.uneven is not Zone.CONTINUE):
        return Outcome.FIT, also | (frozenset({Outcome.ADJUST} if gap.either else ()))
    # Evenness alone is nobody's danger: what is near its limit may stay.
    near = not (gap.tight or wide or gap.uneven is Zone.BEYOND)
    return Outcome.ADJUST, also | frozenset({Outcome.FIT} if near else ())


def _unsafe(disc: Zone, gap: _GapFinding) -> frozenset[Outcome]:
    unsafe = set()
    if gap.widest is Zone.BEYOND or gap.warped or gap.clamped:
        unsafe.add(Outcome.FIT)
    if disc is Zone.BEYOND:
        unsafe |= {Outcome.FIT, Outcome.ADJUST}
    return frozenset(unsafe)


_BY_GRAVITY = tuple(Zone)


def _worst(*zones: Zone) -> Zone:
    return max(zones, key=_BY_GRAVITY.index)


def _too_little(size: BrakeSize, gaps: Sequence[Reading], discs: Sequence[Reading]) -> Conclusion:
    missing = [name for name, readings in (("gap", gaps), ("disc", discs)) if not readings]
    known: list[Remark] = []
    if discs:
        known.extend(_disc_finding(size, discs).reasons)
    if gaps:
        known.extend(_gap_finding(size, gaps).reasons)
    unsafe = frozenset({Outcome.FIT, Outcome.ADJUST} if not discs else {Outcome.FIT})
    return Conclusion(
        None,
        frozenset(),
        unsafe,
        (remark("readings.missing", of=missing), *known),
        max((reading.value_mm for reading in gaps), default=math.nan),
        min((reading.value_mm for reading in discs), default=math.nan),
    )

"""The air gap round the circumference: plane, warp, texture; fit, levelling, what is left over.

Angles are degrees clockwise seen from the fan end, zero at screw 1 (12 o'clock).
"""

import math
from contextlib import suppress
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from widgets.brake.ranges import in_range

from .places import FEWEST_FOR_PLANE, chi2_above, design, solved

SCREW_ANGLES_DEG = (0.0, 120.0, 240.0)
FEWEST_FOR_RESIDUAL = 5  # four at 90° steps see only half of a two-lobed warp


@dataclass(frozen=True, slots=True)
class Plane:
    """A gap that three screws can make: mean and first harmonic at the gauging circle, mm."""

    mean_mm: float
    cos_mm: float = 0.0
    sin_mm: float = 0.0

    def __post_init__(self) -> None:
        # One look at the sum is cheap, and whatever is not finite shows in it.
        if not math.isfinite(self.mean_mm + self.cos_mm + self.sin_mm):
            in_range("mean_mm", self.mean_mm, "mm")
            in_range("cos_mm", self.cos_mm, "mm")
            in_range("sin_mm", self.sin_mm, "mm")

    @property
    def tilt_mm(self) -> float:
        """Amplitude of the tilt, mm: half of widest minus narrowest."""
        return math.hypot(self.cos_mm, self.sin_mm)

    @property
    def widest_deg(self) -> float:
        """Angle at which the gap is widest, degrees in 0..360."""
        return math.degrees(math.atan2(self.sin_mm, self.cos_mm)) % 360.0

    def at_mm(self, angle_deg: float) -> float:
        """Return the gap at one angle, mm."""
        angle = math.radians(angle_deg)
        return self.mean_mm + self.cos_mm * math.cos(angle) + self.sin_mm * math.sin(angle)


def plane_of_screws(stand_off_mm: tuple[float, float, float], radius_ratio: float) -> Plane:
    """Return the plane at the gauging circle that three screw heights make.

    Parameters
    ----------
    stand_off_mm : tuple of three float
        Height of the magnet body over its seat at screws 1, 2, 3, mm.
    radius_ratio : float
        Gauging radius over screw radius, dimensionless, above 0.

    Raises
    ------
    ValueError
        If `radius_ratio` is not above 0.

    Notes
    -----
    Three points 120° apart fix a plane; its first harmonic grows with radius.
    Source: geometry; DFT of three equally spaced points.
    """
    in_range("radius_ratio", radius_ratio, "", above=0)
    share = 2.0 * radius_ratio / 3.0
    first, second, third = stand_off_mm
    cos_mm = share * (first - 0.5 * second - 0.5 * third)
    sin_mm = share * (math.sqrt(3.0) / 2.0) * (second - third)
    return Plane((first + second + third) / 3.0, cos_mm, sin_mm)


def screws_of_plane_mm(plane: Plane, radius_ratio: float) -> tuple[float, float, float]:
    """Return the height at each screw that makes `plane` at the gauging circle, mm.

    The inverse of `plane_of_screws`.

    Raises
    ------
    ValueError
        If `radius_ratio` is not above 0.
    """
    in_range("radius_ratio", radius_ratio, "", above=0)
    at_screws = Plane(plane.mean_mm, plane.cos_mm / radius_ratio, plane.sin_mm / radius_ratio)
    first, second, third = (at_screws.at_mm(angle) for angle in SCREW_ANGLES_DEG)
    return first, second, third


@dataclass(frozen=True, slots=True)
class GapField:
    """The true gap round the rim, mm: a plane, a two-lobed warp, a three-lobed clamp wave, texture.

    `texture_mm` holds amplitude and phase (degrees) of local waves by lobe
    count (5, 7, 11): what a ground surface does between two gauging places.
    """

    plane: Plane
    warp_mm: float = 0.0
    warp_deg: float = 0.0
    clamp_wave_mm: float = 0.0
    texture_mm: tuple[tuple[int, float, float], ...] = ()

    def at_mm(self, angle_deg: float) -> float:
        """Return the gap at one angle, mm, never below 0: metal does not overlap."""
        gap_mm = self.plane.at_mm(angle_deg)
        if self.warp_mm:
            gap_mm += self.warp_mm * math.cos(math.radians(2 * (angle_deg - self.warp_deg)))
        if self.clamp_wave_mm:
            gap_mm += self.clamp_wave_mm * math.cos(math.radians(3 * angle_deg))
        for lobes, amplitude_mm, phase_deg in self.texture_mm:
            gap_mm += amplitude_mm * math.cos(math.radians(lobes * angle_deg - phase_deg))
        return max(gap_mm, 0.0)

    def round_mm(self, places: int = 72) -> tuple[float, ...]:
        """Return the gap at `places` equal steps round the rim, mm."""
        return tuple(self.at_mm(360.0 * place / places) for place in range(places))


@dataclass(frozen=True)
class GapFit:
    """The plane through n readings, with covariance, and what it leaves over.

    Attributes
    ----------
    plane : Plane
        Least-squares mean and tilt.
    angles_deg, readings_mm, residuals_mm : ndarray of shape (n,)
        What was read, where, and reading minus plane.
    reading_u_mm : float
        Standard uncertainty of one reading, mm.
    """

    plane: Plane
    angles_deg: NDArray[np.float64]
    readings_mm: NDArray[np.float64]
    residuals_mm: NDArray[np.float64]
    reading_u_mm: float

    @cached_property
    def covariance_mm2(self) -> NDArray[np.float64]:
        """Covariance of (mean, cos, sin) for the stated reading uncertainty, shape (3, 3), mm²."""
        return solved(self.angles_deg.tobytes())[2] * self.reading_u_mm**2

    @property
    def spread_mm(self) -> float:
        """Widest minus narrowest reading, mm."""
        return float(self.readings_mm.max() - self.readings_mm.min())

    @cached_property
    def residual_spread_mm(self) -> float:
        """Widest minus narrowest residual, mm: the unevenness that no screw can take out."""
        left_mm: list[float] = self.residuals_mm.tolist()
        return max(left_mm) - min(left_mm)

    @property
    def degrees_of_freedom(self) -> int:
        """Readings beyond the three that a plane needs."""
        return len(self.readings_mm) - FEWEST_FOR_PLANE

    @cached_property
    def residual_chi2(self) -> float:
        """Sum of squared residuals over the squared reading uncertainty, dimensionless."""
        return float(np.sum(self.residuals_mm**2)) / self.reading_u_mm**2

    @property
    def residual_p(self) -> float:
        """Chance of residuals this large from reading scatter alone, 0..1 (1 if none are spare).

        Notes
        -----
        Chi-squared test with the stated uncertainty. Source: JCGM 100; any
        statistics text on goodness of fit.
        """
        if self.degrees_of_freedom < 1:
            return 1.0
        return chi2_above(self.residual_chi2, self.degrees_of_freedom)

    @property
    def two_lobed_mm(self) -> float:
        """Amplitude of the two-lobed wave in the residuals, mm (0 if too few places)."""
        if len(self.readings_mm) < FEWEST_FOR_RESIDUAL:
            return 0.0
        angle = np.radians(2 * self.angles_deg)
        matrix = np.column_stack([design(self.angles_deg), np.cos(angle), np.sin(angle)])
        found = np.linalg.lstsq(matrix, self.readings_mm, rcond=None)[0]
        return float(np.hypot(found[3], found[4]))

    def without_clamp_spread_mm(self) -> float:
        """Return the spread of the residuals, mm, with the three lobes at the screws taken out.

        Notes
        -----
        Tight screws pull a body out of shape by cos 3θ; a bent part shows cos 2θ,
        which is orthogonal to it on equal steps. One least-squares coefficient.
        """
        wave = np.cos(np.radians(3 * self.angles_deg))
        share = float(wave @ self.residuals_mm) / float(wave @ wave)
        left = self.residuals_mm - share * wave
        return float(left.max() - left.min())


def fit_plane(angles_deg: ArrayLike, readings_mm: ArrayLike, reading_u_mm: float = 0.01) -> GapFit:
    """Return the least-squares plane through gap readings round the rim.

    Parameters
    ----------
    angles_deg, readings_mm : array_like of shape (n,), n >= 3
        Where, degrees, and what was read, mm.
    reading_u_mm : float
        Standard uncertainty of one reading, mm, above 0.

    Raises
    ------
    ValueError
        If there are fewer than three different places, the lengths differ, or
        a value cannot be.

    Notes
    -----
    g = a0 + a1 cos θ + b1 sin θ, solved by singular values (numpy.linalg.pinv).
    """
    if isinstance(angles_deg, list) and isinstance(readings_mm, list):
        with suppress(TypeError):  # nested lists: refused below, in a sentence
            return _fitted(tuple(angles_deg), tuple(readings_mm), reading_u_mm)
    return _fit(angles_deg, readings_mm, reading_u_mm)


# The same round of readings is fitted when it is taken, when it is judged and when it is graded.
@lru_cache(maxsize=1024)
def _fitted(
    angles_deg: tuple[float, ...], readings_mm: tuple[float, ...], reading_u_mm: float
) -> GapFit:
    return _fit(angles_deg, readings_mm, reading_u_mm)


def _fit(angles_deg: ArrayLike, readings_mm: ArrayLike, reading_u_mm: float) -> GapFit:
    angles = np.atleast_1d(in_range("angles_deg", np.asarray(angles_deg, dtype=float), "deg"))
    readings = np.atleast_1d(
        in_range("readings_mm", np.asarray(readings_mm, dtype=float), "mm", low=0)
    )
    in_range("reading_u_mm", reading_u_mm, "mm", above=0)
    if angles.ndim != 1 or angles.shape != readings.shape:
        raise ValueError(
            "angles_deg and readings_mm must be two lists of one length, "
            f"got shapes {angles.shape} and {readings.shape}"
        )
    matrix, solution, _ = solved(angles.tobytes())
    found = solution @ readings
    plane = Plane(float(found[0]), float(found[1]), float(found[2]))
    left = readings - matrix @ found
    # A fit may be kept and handed out again: nobody writes into it. What came as an array is its
    # owner's, and is copied.
    angles, readings = angles.copy(), readings.copy()
    for kept in (angles, readings, left):
        kept.flags.writeable = False
    return GapFit(plane, angles, readings, left, reading_u_mm)


def fit_planes(angles_deg: ArrayLike, readings_mm: ArrayLike) -> NDArray[np.float64]:
    """Return mean, cos and sin of many brakes gauged at the same places, at once.

    Parameters
    ----------
    angles_deg : array_like of shape (n,), n >= 3
        The places, degrees.
    readings_mm : array_like of shape (..., n)
        Readings of each brake, mm.

    Returns
    -------
    ndarray of shape (..., 3)
        Mean, cosine and sine part, mm.

    Raises
    ------
    ValueError
        If fewer than three different places are given, the last axis is not
        n long, or a value cannot be.
    """
    angles = np.atleast_1d(in_range("angles_deg", np.asarray(angles_deg, dtype=float), "deg"))
    readings = np.asarray(
        in_range("readings_mm", np.asarray(readings_mm, dtype=float), "mm", low=0)
    )
    if angles.ndim != 1 or readings.shape[-1:] != angles.shape:
        raise ValueError(
            f"readings_mm must end in an axis of {angles.size} places, got shape {readings.shape}"
        )
    if np.linalg.matrix_rank(design(angles)) < FEWEST_FOR_PLANE:
        raise ValueError("angles_deg must hold 3 different places or more")
    return np.asarray(readings @ np.linalg.pinv(design(angles)).T)

"""Wear of the lining: gap growth per stop, stops and adjustments left, record against reading."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from widgets.brake.ranges import in_range

# Wear volume for the friction energy, mm³/MJ. Common practice, no source: dry
# organic linings 10 to 300; the demo hoists use 100 (invented).
WEAR_RANGE_MM3_PER_MJ = (10.0, 300.0)
DEMO_WEAR_MM3_PER_MJ = 100.0
# Record and reading may differ by so much before something is wrong, mm.
# Common practice, no source.
RECORD_TOLERANCE_MM = 0.1


@overload
def gap_growth_per_stop_mm(
    energy_j: float, face_area_mm2: float, wear_mm3_per_mj: float = ...
) -> float: ...
@overload
def gap_growth_per_stop_mm(
    energy_j: ArrayLike, face_area_mm2: ArrayLike, wear_mm3_per_mj: ArrayLike = ...
) -> NDArray[np.float64]: ...
def gap_growth_per_stop_mm(
    energy_j: ArrayLike,
    face_area_mm2: ArrayLike,
    wear_mm3_per_mj: ArrayLike = DEMO_WEAR_MM3_PER_MJ,
) -> float | NDArray[np.float64]:
    """Return how much one stop widens the gap.

    Parameters
    ----------
    energy_j : float or array_like
        Friction energy of the stop over both faces, J, zero or more.
    face_area_mm2 : float or array_like
        Rubbing area of one face, mm², above 0.
    wear_mm3_per_mj : float or array_like
        Volume worn off for the friction energy, mm³/MJ, above 0.

    Returns
    -------
    float or ndarray
        Gap growth, mm, in the broadcast shape.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    The two faces share the energy, and the gap takes the wear of both: the
    volume of all of it over the area of one. Above about 200 °C real linings
    wear several times faster (common practice, no source).
    Source: wear proportional to friction energy (Archard); VDI 2241 form.

    Examples
    --------
    >>> gap_growth_per_stop_mm(1000.0, 10_000.0)
    1e-05
    """
    energy = in_range("energy_j", energy_j, "J", low=0)
    wear = in_range("wear_mm3_per_mj", wear_mm3_per_mj, "mm³/MJ", above=0)
    return energy * wear / (1e6 * in_range("face_area_mm2", face_area_mm2, "mm²", above=0))


@overload
def energy_per_mm_mj(face_area_mm2: float, wear_mm3_per_mj: float = ...) -> float: ...
@overload
def energy_per_mm_mj(
    face_area_mm2: ArrayLike, wear_mm3_per_mj: ArrayLike = ...
) -> NDArray[np.float64]: ...
def energy_per_mm_mj(
    face_area_mm2: ArrayLike, wear_mm3_per_mj: ArrayLike = DEMO_WEAR_MM3_PER_MJ
) -> float | NDArray[np.float64]:
    """Return the friction energy that widens the gap by one millimetre, MJ/mm.

    Arguments and errors as for `gap_growth_per_stop_mm`.
    """
    area = in_range("face_area_mm2", face_area_mm2, "mm²", above=0)
    return area / in_range("wear_mm3_per_mj", wear_mm3_per_mj, "mm³/MJ", above=0)


@overload
def stops_until(gap_now_mm: float, gap_max_mm: float, growth_mm: float) -> float: ...
@overload
def stops_until(
    gap_now_mm: ArrayLike, gap_max_mm: ArrayLike, growth_mm: ArrayLike
) -> NDArray[np.float64]: ...
def stops_until(
    gap_now_mm: ArrayLike, gap_max_mm: ArrayLike, growth_mm: ArrayLike
) -> float | NDArray[np.float64]:
    """Return the number of stops until the gap reaches its limit.

    Parameters
    ----------
    gap_now_mm : float or array_like
        Gap now, mm, zero or more.
    gap_max_mm : float or array_like
        Largest gap allowed, mm, above 0.
    growth_mm : float or array_like
        Growth per stop, mm, above 0.

    Returns
    -------
    float or ndarray
        Stops, not rounded; zero where the gap is at its limit or beyond.

    Raises
    ------
    ValueError
        If an argument is out of its range.
    """
    now = in_range("gap_now_mm", gap_now_mm, "mm", low=0)
    room = in_range("gap_max_mm", gap_max_mm, "mm", above=0) - now
    room = max(room, 0.0) if isinstance(room, float) else np.maximum(room, 0.0)
    return room / in_range("growth_mm", growth_mm, "mm", above=0)


@overload
def adjustments_left(
    disc_now_mm: float, disc_min_mm: float, gap_setting_mm: float, gap_max_mm: float
) -> float: ...
@overload
def adjustments_left(
    disc_now_mm: ArrayLike,
    disc_min_mm: ArrayLike,
    gap_setting_mm: ArrayLike,
    gap_max_mm: ArrayLike,
) -> NDArray[np.float64]: ...
def adjustments_left(
    disc_now_mm: ArrayLike,
    disc_min_mm: ArrayLike,
    gap_setting_mm: ArrayLike,
    gap_max_mm: ArrayLike,
) -> float | NDArray[np.float64]:
    """Return how many full runs from setting gap to largest gap the disc still has in it.

    Parameters
    ----------
    disc_now_mm, disc_min_mm : float or array_like
        Thickness of the disc over both linings now and at least, mm, above 0.
    gap_setting_mm, gap_max_mm : float or array_like
        Gap to be set and largest gap, mm; setting < max.

    Returns
    -------
    float or ndarray
        Runs, not rounded; zero where the disc is spent. A disc set to its gap
        now can be adjusted as often as whole runs fit in, and no more.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Examples
    --------
    >>> adjustments_left(11.0, 9.0, 0.30, 0.80)
    4.0
    """
    disc = in_range("disc_now_mm", disc_now_mm, "mm", above=0)
    left = disc - in_range("disc_min_mm", disc_min_mm, "mm", above=0)
    left = max(left, 0.0) if isinstance(left, float) else np.maximum(left, 0.0)
    setting = in_range("gap_setting_mm", gap_setting_mm, "mm", above=0)
    run = in_range("gap_max_mm", gap_max_mm, "mm", above=0) - setting
    return left / in_range("gap_max_mm less gap_setting_mm", run, "mm", above=0)


@dataclass(frozen=True, slots=True)
class Visit:
    """One entry of the record: gap as found and as left, mm."""

    found_mm: float
    left_mm: float

    def __post_init__(self) -> None:
        in_range("found_mm", self.found_mm, "mm", low=0)
        in_range("left_mm", self.left_mm, "mm", above=0)


def recorded_growth_mm(set_when_new_mm: float, visits: Sequence[Visit]) -> float:
    """Return the gap growth since the disc was new, added up from the record.

    Parameters
    ----------
    set_when_new_mm : float
        Gap left when the disc was fitted, mm, above 0.
    visits : sequence of Visit
        In order of time.

    Returns
    -------
    float
        Sum of found less last left, mm.

    Raises
    ------
    ValueError
        If `set_when_new_mm` is not above 0.

    Examples
    --------
    >>> round(recorded_growth_mm(0.3, [Visit(0.7, 0.3), Visit(0.5, 0.5)]), 2)
    0.6
    """
    left_mm = in_range("set_when_new_mm", set_when_new_mm, "mm", above=0)
    growth_mm = 0.0
    for visit in visits:
        growth_mm += visit.found_mm - left_mm
        left_mm = visit.left_mm
    return growth_mm


@dataclass(frozen=True, slots=True)
class RecordCheck:
    """Thickness that the record leads one to expect, beside the one that was measured, mm."""

    expected_mm: float
    measured_mm: float
    tolerance_mm: float

    @property
    def mismatch_mm(self) -> float:
        """Measured less expected, mm: plus for a disc thicker than its record."""
        return self.measured_mm - self.expected_mm

    @property
    def agrees(self) -> bool:
        """Whether record and reading agree within the tolerance."""
        # A tenth of a micrometre, so that 0.1 mm written in binary is still 0.1 mm.
        return abs(self.mismatch_mm) <= self.tolerance_mm + 1e-7

    @property
    def sentence(self) -> str:
        """What to make of it."""
        if self.agrees:
            return "The disc is as thick as its record says."
        more = "thicker" if self.mismatch_mm > 0 else "thinner"
        return (
            f"The disc is {abs(self.mismatch_mm):.2f} mm {more} than its record says: wrong disc, "
            "wrong reading, missing wear plate or an adjustment that was not written down."
        )


def check_record(
    disc_new_mm: float,
    disc_now_mm: float,
    growth_mm: float,
    *,
    tolerance_mm: float = RECORD_TOLERANCE_MM,
) -> RecordCheck:
    """Return whether the disc is as thick as new less all the gap growth on record.

    Parameters
    ----------
    disc_new_mm, disc_now_mm : float
        Thickness over both linings when fitted and now, mm, above 0.
    growth_mm : float
        Gap growth since, mm (`recorded_growth_mm`), at most `disc_new_mm`.
    tolerance_mm : float
        Largest mismatch that counts as agreement, mm, zero or more.

    Returns
    -------
    RecordCheck
        Expected, measured, and the sentence about them.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    What the gap gains the disc loses. Source: common practice, no source.
    """
    new = in_range("disc_new_mm", disc_new_mm, "mm", above=0)
    now = in_range("disc_now_mm", disc_now_mm, "mm", above=0)
    growth = in_range("growth_mm", growth_mm, "mm", low=-new, high=new)
    return RecordCheck(new - growth, now, in_range("tolerance_mm", tolerance_mm, "mm", low=0))

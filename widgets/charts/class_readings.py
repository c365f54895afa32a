"""A class's gap readings round the truth: how far each was off, by the place where it was taken."""

from collections.abc import Sequence

import numpy as np

from .picture import ACCENT, INK, PENCIL, Picture, in_style, new_figure, picture

APART_DEG, MOST_APART_DEG = 1.5, 15.0  # between the marks of equal readings, so that all are seen
Deviations = Sequence[tuple[float, float]]  # place, degrees; reading minus truth, mm


def class_readings(deviations: Deviations, u_mm: float) -> Picture:
    """Return a chart of a class's readings as they lie round the true gap.

    Parameters
    ----------
    deviations : sequence of (float, float)
        Place round the rim, degrees, and reading minus truth, mm; at least one.
    u_mm : float
        Standard uncertainty of a careful reading, mm; the band is ± 2 of it.

    Raises
    ------
    ValueError
        If there is no reading.
    """
    if not deviations:
        raise ValueError("deviations must hold at least one reading")
    places = np.array([place for place, _ in deviations])
    off_mm = np.array([off for _, off in deviations])
    with in_style():
        figure = new_figure(9.0, 5.0)
        axes = figure.add_subplot()
        axes.axhspan(-2 * u_mm, 2 * u_mm, color=PENCIL, alpha=0.18, label="careful reading, ± 2 u")
        axes.axhline(0, color=INK, label="the true gap")
        axes.scatter(
            _apart(places, off_mm), off_mm, marker="D", s=16, color=ACCENT, label="a reading"
        )
        axes.set_xticks([0, 45, 90, 135, 180, 225, 270, 315])
        axes.set_xlim(-20, 335)
        axes.set_xlabel("place round the rim, °")
        axes.set_ylabel("reading minus truth, mm")
        axes.set_title("The class’s gap readings round the truth", loc="left")
        figure.legend(loc="outside lower center", ncols=3)
        return picture(figure, _alt(off_mm, u_mm))


def _apart(places_deg: np.ndarray, off_mm: np.ndarray) -> np.ndarray:
    """Return places with readings of the same value set beside each other."""
    shown = places_deg % 360.0
    seen: dict[tuple[float, float], int] = {}
    for at, key in enumerate(zip(shown.round(0), off_mm.round(2), strict=True)):
        beside = seen[key] = seen.get(key, -1) + 1
        aside_deg = min(APART_DEG * ((beside + 1) // 2), MOST_APART_DEG)
        shown[at] += aside_deg if beside % 2 else -aside_deg
    return shown


def _alt(off_mm: np.ndarray, u_mm: float) -> str:
    outside = int((np.abs(off_mm) > 2 * u_mm).sum())
    median_mm = round(float(np.median(off_mm)), 2)
    middle = f"{median_mm:+.2f} mm from the truth" if median_mm else "on the truth"
    readings = "one reading" if len(off_mm) == 1 else f"{len(off_mm)} readings"
    lie = "one lies" if outside == 1 else f"{outside or 'none'} lie"
    return (
        f"{readings} of the class, median {middle}; "
        f"{lie} further off than a careful reading may, {2 * u_mm:.2f} mm."
    ).capitalize()

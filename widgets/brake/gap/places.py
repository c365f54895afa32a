"""What the places of a round of readings say by themselves: how a plane is solved for there."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from widgets.brake.ranges import in_range

FEWEST_FOR_PLANE = 3


def chi2_above(chi2: float, freedom: int) -> float:
    """Return the chance of a chi-squared above `chi2`, 0..1, at `freedom` degrees, 1 or more."""
    from scipy.special import chdtrc  # noqa: PLC0415 (scipy is slow to import; pages must open fast)

    in_range("chi2", chi2, "", low=0)
    in_range("freedom", freedom, "", low=1)
    return float(chdtrc(freedom, chi2))


def design(angles_deg: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return 1, cosine and sine at angles of shape (n,), degrees: shape (n, 3), dimensionless."""
    angles = np.radians(angles_deg)
    return np.column_stack([np.ones_like(angles), np.cos(angles), np.sin(angles)])


# People gauge at the same eight places again and again; the places alone say how to solve.
@lru_cache(maxsize=512)
def solved(
    angles_deg: bytes,
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return design, its pseudo-inverse and the inverse of its normal matrix, for float64 bytes.

    Raises
    ------
    ValueError
        If there are fewer than three different places.
    """
    angles = np.frombuffer(angles_deg)
    places = len({round(float(angle) % 360.0, 6) for angle in angles})
    if places < FEWEST_FOR_PLANE:
        raise ValueError(f"angles_deg must hold 3 different places or more, got {places}")
    matrix = design(angles)
    solution = np.asarray(np.linalg.pinv(matrix), dtype=np.float64)
    return matrix, solution, solution @ solution.T

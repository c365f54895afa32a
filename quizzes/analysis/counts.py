"""Counts and chances that can be: whole numbers, and rates strictly between 0 and 1."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from widgets.brake.ranges import in_range

MOST_CASES = 1_000_000  # more than a school of trainers will ever see; a larger count is a mistake


def whole(name: str, value: float, low: int = 0, high: int = MOST_CASES) -> int:
    """Return `value` as an int, if it is a whole number from `low` to `high`.

    Raises
    ------
    ValueError
        If it has a fraction, is a truth value or lies outside.

    Examples
    --------
    >>> whole("cases", 24.0)
    24
    """
    number = in_range(name, value, "", low=low, high=high)
    if number != int(number) or isinstance(value, (bool, np.bool_)):
        raise ValueError(f"{name} must be a whole number, got {value}")
    return int(number)


def whole_array(name: str, value: ArrayLike, low: int = 0) -> NDArray[np.float64]:
    """Return whole numbers of `low` or more as a float array of the same shape.

    Raises
    ------
    ValueError
        If one of them has a fraction, is negative or is not a number; the first
        bad index is named.
    """
    array = np.asarray(in_range(name, value, "", low=low, high=MOST_CASES), dtype=np.float64)
    bad = np.argwhere(array != np.floor(array))
    if bad.size:
        where = ", ".join(map(str, bad[0]))
        at = f"{name}[{where}]" if where else name
        raise ValueError(f"{at} must be a whole number, got {array[tuple(bad[0])]:g}")
    return array


def counted(name: str, part: float, total_name: str, total: float) -> tuple[int, int]:
    """Return a part and its total as ints, if the part is not more than the total.

    Raises
    ------
    ValueError
        If either is not a whole number of 0 or more, or the part is the larger.
    """
    whole_total = whole(total_name, total)
    whole_part = whole(name, part)
    if whole_part > whole_total:
        raise ValueError(
            f"{name} must be at most {total_name}, which is {whole_total}; got {whole_part}"
        )
    return whole_part, whole_total


def open_rate(name: str, value: float) -> float:
    """Return `value` as float, if it lies strictly between 0 and 1.

    Raises
    ------
    ValueError
        If it is 0, 1, beyond them or no number.
    """
    return in_range(name, value, "", above=0, below=1)

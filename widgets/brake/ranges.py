"""Refuse a number that cannot be: one sentence with the name, the value and the range."""

import math
from typing import overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

_FEW = 32  # numbers in an array that are looked at one by one


@overload
def in_range(
    name: str,
    value: float,
    unit: str,
    low: float = ...,
    high: float = ...,
    *,
    above: float | None = ...,
    below: float | None = ...,
) -> float: ...
@overload
def in_range(
    name: str,
    value: ArrayLike,
    unit: str,
    low: float = ...,
    high: float = ...,
    *,
    above: float | None = ...,
    below: float | None = ...,
) -> NDArray[np.float64]: ...
def in_range(
    name: str,
    value: ArrayLike,
    unit: str,
    low: float = -math.inf,
    high: float = math.inf,
    *,
    above: float | None = None,
    below: float | None = None,
) -> float | NDArray[np.float64]:
    """Return `value` as float or float array, if all of it is finite and in range.

    Parameters
    ----------
    name : str
        The argument as its caller knows it, `gap_mm`.
    value : float or array_like of any shape
        What to look at.
    unit : str
        Unit for the sentence, `mm`; empty for a number without dimension.
    low, high : float
        Closed bounds.
    above, below : float, optional
        Open bounds, in place of `low` or `high`.

    Returns
    -------
    float or ndarray of the same shape
        A float for a Python or NumPy scalar, an array otherwise.

    Raises
    ------
    ValueError
        If a value is not a finite number within the bounds; an array names
        the first bad index.
    """
    # The usual case first, as it is asked many thousand times a sitting: a plain finite float.
    # Infinity less itself is not a number, and NaN fails every comparison.
    if (
        value.__class__ is float
        and low <= value <= high
        and value - value == 0.0
        and (above is None or value > above)
        and (below is None or value < below)
    ):
        return value
    if isinstance(value, (int, float)):
        number = float(value)
        if _fits(number, low, high, above, below):
            return number
        raise ValueError(_sentence(name, number, unit, low, high, above, below))
    try:
        array = np.asarray(value, dtype=np.float64)
    except (TypeError, ValueError) as error:
        message = f"{name} must be a number or an array of numbers, got {value!r:.60}"
        raise ValueError(message) from error
    if array.size == 0:
        return array
    if array.ndim == 1 and array.size <= _FEW and _all_fit(array.tolist(), low, high, above, below):
        return array
    # Two reductions allocate nothing, and NaN falls through either comparison.
    if not (
        _fits(float(array.min()), low, high, above, below)
        and _fits(float(array.max()), low, high, above, below)
    ):
        _refuse_first(name, array, unit, low, high, above, below)
    return float(array) if array.ndim == 0 else array


def _all_fit(
    numbers: list[float], low: float, high: float, above: float | None, below: float | None
) -> bool:
    """Return whether a few numbers fit; plain Python, which for a round of readings is quicker."""
    total = sum(numbers)  # not finite, if one of them is not
    return (
        total - total == 0.0
        and _fits(min(numbers), low, high, above, below)
        and _fits(max(numbers), low, high, above, below)
    )


def _fits(number: float, low: float, high: float, above: float | None, below: float | None) -> bool:
    return (
        math.isfinite(number)
        and low <= number <= high
        and (above is None or number > above)
        and (below is None or number < below)
    )


def _sentence(  # noqa: PLR0917 (private, mirrors in_range)
    name: str,
    number: float,
    unit: str,
    low: float,
    high: float,
    above: float | None,
    below: float | None,
) -> str:
    tail = f" {unit}" if unit else ""
    bounds = []
    if above is not None:
        bounds.append(f"> {above:g}")
    elif low > -math.inf:
        bounds.append(f">= {low:g}")
    if below is not None:
        bounds.append(f"< {below:g}")
    elif high < math.inf:
        bounds.append(f"<= {high:g}")
    if not bounds:
        return f"{name} must be a finite number{tail and f' of{tail}'}, got {number:g}"
    return f"{name} must be {' and '.join(bounds)}{tail}, got {number:g}"


def _refuse_first(  # noqa: PLR0917 (private, mirrors in_range)
    name: str,
    array: NDArray[np.float64],
    unit: str,
    low: float,
    high: float,
    above: float | None,
    below: float | None,
) -> None:
    for index, number in np.ndenumerate(array):
        if not _fits(float(number), low, high, above, below):
            where = ", ".join(map(str, index))
            at = f"{name}[{where}]" if where else name
            raise ValueError(_sentence(at, float(number), unit, low, high, above, below))

"""What a page may interpolate: a table over one or more axes, and a course of phases over time."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from widgets.brake.ranges import in_range

Array = NDArray[np.float64]
DIGITS = 6  # significant, in what is sent: a part in a million of any number that is drawn


@dataclass(frozen=True, slots=True, eq=False)
class Axis:
    """The points at which something was worked out: a name, its unit, and numbers that never fall.

    A number that appears twice is a step: what is asked for there gets the later value.
    """

    name: str
    unit: str
    points: Array

    def __post_init__(self) -> None:
        if self.points.ndim != 1 or self.points.size < 2:
            raise ValueError(f"points of '{self.name}' must be a row of two or more numbers")
        if not np.all(np.isfinite(self.points)) or np.any(np.diff(self.points) < 0):
            raise ValueError(f"points of '{self.name}' must be finite and never fall")

    def plain(self) -> dict[str, Any]:
        """Return the axis as lists, for a message."""
        return {"name": self.name, "unit": self.unit, "points": rounded(self.points)}


@dataclass(frozen=True, slots=True, eq=False)
class Table:
    """Columns over a grid of axes, each an array with one dimension an axis."""

    axes: tuple[Axis, ...]
    columns: Mapping[str, Array]

    def __post_init__(self) -> None:
        shape = tuple(axis.points.size for axis in self.axes)
        for name, column in self.columns.items():
            if column.shape != shape:
                raise ValueError(f"column '{name}' must have shape {shape}, got {column.shape}")

    def plain(self) -> dict[str, Any]:
        """Return the table as lists, for a message: each column row by row."""
        columns = {name: rounded(column.ravel()) for name, column in self.columns.items()}
        return {"axes": [axis.plain() for axis in self.axes], "columns": columns}


@dataclass(frozen=True, slots=True, eq=False)
class Phase:
    """One phase of a course: how long it lasts at each point of the axis, s, and its columns.

    A column has one row for each point of the axis and one value for each of equal steps of the
    phase's own time, so that two courses are compared at like moments and not at like times.
    """

    name: str
    duration_s: Array
    columns: Mapping[str, Array]

    def plain(self) -> dict[str, Any]:
        """Return the phase as lists, for a message."""
        columns = {
            name: [rounded(row) for row in column.tolist()] for name, column in self.columns.items()
        }
        return {"name": self.name, "duration_s": rounded(self.duration_s), "columns": columns}


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """What happens one phase after another, worked out at the points of an axis."""

    axis: Axis
    phases: tuple[Phase, ...]

    def only(self, *names: str) -> "Course":
        """Return the same course with the named phases alone."""
        return Course(self.axis, tuple(phase for phase in self.phases if phase.name in names))

    def plain(self) -> dict[str, Any]:
        """Return the course as lists, for a message."""
        return {"axis": self.axis.plain(), "phases": [phase.plain() for phase in self.phases]}


def rounded(values: ArrayLike) -> list[float | None]:
    """Return numbers rounded to what a page can show; nothing in place of an infinite one."""
    flat = np.asarray(values, dtype=np.float64).tolist()
    return [float(f"{value:.{DIGITS}g}") if math.isfinite(value) else None for value in flat]


def crowded(end: float, count: int, power: float = 2.0) -> Array:
    """Return points from 0 to `end` that stand closer together near 0.

    Parameters
    ----------
    end : float
        The last point, above 0.
    count : int
        How many, 2 or more.
    power : float
        1 for even steps; more crowds them.
    """
    in_range("end", end, "", above=0)
    return np.asarray(end * np.linspace(0.0, 1.0, count) ** power)


def in_even_steps(time_s: Array, column: Array, start_s: float, end_s: float, count: int) -> Array:
    """Return a column at `count` even steps from one time to another, s; ends are included."""
    steps_s = np.linspace(start_s, end_s, count)
    return np.asarray(np.interp(steps_s, time_s, column))

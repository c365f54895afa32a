"""A digital caliper over the friction disc: what its display says."""

import math
from dataclasses import dataclass, replace

from widgets.brake.draws import Draws
from widgets.brake.ranges import in_range

from .budget import Budget, normal, rectangular

RESOLUTION_MM = 0.01  # mm, usual digital step; common practice, no source
RANGE_MM = 150.0  # mm, usual length of a shop caliper; common practice, no source
SCALE_ERROR_MM = 0.03  # mm, either way, as makers of 150 mm calipers declare (ISO 13385-1 E_MPE)
ZERO_MM = 0.01  # mm, standard deviation of the zero after wiping the jaws; common practice
PRESSURE_MM = 0.01  # mm, standard deviation from thumb pressure; common practice, no source
LOCATION_MM = 0.02  # mm, standard deviation from where on the lining; common practice, no source


@dataclass(frozen=True, slots=True)
class Caliper:
    """One caliper, with the errors that are its own.

    Attributes
    ----------
    zero_error_mm : float
        What it shows with the jaws closed, mm.
    scale_error_mm : float
        What it reads too much at any thickness, mm, apart from the zero.
    """

    zero_error_mm: float = 0.0
    scale_error_mm: float = 0.0

    def __post_init__(self) -> None:
        in_range("caliper zero_error_mm", self.zero_error_mm, "mm", low=-5, high=5)
        in_range("caliper scale_error_mm", self.scale_error_mm, "mm", low=-1, high=1)

    def read_mm(
        self, thickness_mm: float, draws: Draws, *labels: str | int, tilt_deg: float = 0.0
    ) -> float:
        """Return what the display shows over a disc, mm.

        Parameters
        ----------
        thickness_mm : float
            True thickness between the jaws, mm, 0 to 150.
        draws : Draws
            Dice of this brake and caliper.
        *labels : str or int
            What tells this reading from the others.
        tilt_deg : float
            Angle of the jaws to the disc, degrees, 0 to 30: out of square reads high.

        Returns
        -------
        float
            Display, mm, in steps of 0.01.

        Notes
        -----
        Out of square the jaws span thickness / cos(tilt).

        Source: trigonometry; scatter by common practice, no source.
        """
        in_range("thickness_mm", thickness_mm, "mm", low=0, high=RANGE_MM)
        in_range("tilt_deg", tilt_deg, "deg", low=0, high=30)
        hand_mm = PRESSURE_MM * draws.normal("pressure", *labels)
        place_mm = LOCATION_MM * draws.normal("location", *labels)
        span_mm = thickness_mm / math.cos(math.radians(tilt_deg))
        own_mm = self.zero_error_mm + self.scale_error_mm
        return _shown(span_mm + own_mm + hand_mm + place_mm)

    def closed_mm(self) -> float:
        """Return what the display shows with clean jaws closed, mm: look before measuring."""
        return _shown(self.zero_error_mm)

    def zeroed(self) -> "Caliper":
        """Return the caliper after its zero key was pressed with the jaws closed."""
        return replace(self, zero_error_mm=self.zero_error_mm - self.closed_mm())


def caliper(draws: Draws) -> Caliper:
    """Return a caliper as issued: within its declared error, its zero a little off."""
    return Caliper(
        zero_error_mm=ZERO_MM * draws.normal("zero"),
        scale_error_mm=SCALE_ERROR_MM * (2 * draws.uniform("scale") - 1),
    )


def budget(scale_error_mm: float = SCALE_ERROR_MM) -> Budget:
    """Return the uncertainty of a disc thickness read with a caliper.

    Parameters
    ----------
    scale_error_mm : float
        Largest error that the maker declares, either way, mm, zero or more.

    Returns
    -------
    Budget
        In mm.

    Notes
    -----
    Source: JCGM 100:2008, 4.3.7, for the declared error and the display; the
    rest is common practice, no source.
    """
    return Budget(
        "disc thickness by caliper",
        "mm",
        (
            rectangular("declared error of the caliper", scale_error_mm, "mm"),
            rectangular("step of the display", RESOLUTION_MM / 2, "mm"),
            normal("zero", ZERO_MM, "mm"),
            normal("pressure of the jaws", PRESSURE_MM, "mm"),
            normal("place on the lining", LOCATION_MM, "mm"),
        ),
    )


def _shown(length_mm: float) -> float:
    """Return a length as the display rounds it, mm."""
    return round(round(length_mm / RESOLUTION_MM) * RESOLUTION_MM, 2) + 0.0

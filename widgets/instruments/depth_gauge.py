"""A depth gauge on the lining: how far down its carrier, a step or a rivet head lies."""

import math
from dataclasses import dataclass, replace

from widgets.brake.draws import Draws
from widgets.brake.ranges import in_range

from .budget import Budget, normal, rectangular

RESOLUTION_MM = 0.01  # mm, usual digital step; common practice, no source
RANGE_MM = 150.0  # mm, usual length; common practice, no source
SCALE_ERROR_MM = 0.03  # mm, either way, as makers declare after ISO 13385-2
ZERO_MM = 0.01  # mm, standard deviation of the zero on a flat plate; common practice, no source
ROCKING_MM = 0.015  # mm, standard deviation from how the base sits; common practice, no source
LOCATION_MM = 0.02  # mm, standard deviation from where on the lining; common practice, no source


@dataclass(frozen=True, slots=True)
class DepthGauge:
    """One depth gauge, with the errors that are its own, mm."""

    zero_error_mm: float = 0.0
    scale_error_mm: float = 0.0

    def __post_init__(self) -> None:
        in_range("depth gauge zero_error_mm", self.zero_error_mm, "mm", low=-5, high=5)
        in_range("depth gauge scale_error_mm", self.scale_error_mm, "mm", low=-1, high=1)

    def read_mm(
        self, depth_mm: float, draws: Draws, *labels: str | int, tilt_deg: float = 0.0
    ) -> float:
        """Return what the display shows from the lining's face down to a step or rivet, mm.

        Parameters
        ----------
        depth_mm : float
            True depth, mm, 0 to 150: the lining left above its carrier or rivet.
        draws : Draws
            Dice of this brake and gauge.
        *labels : str or int
            What tells this reading from the others.
        tilt_deg : float
            Angle of the rod to the depth, degrees, 0 to 30: a rocked base reads deep.

        Returns
        -------
        float
            Display, mm, in steps of 0.01; may be a little below zero on a flush rivet.

        Notes
        -----
        Source: trigonometry, depth / cos(tilt); scatter by common practice, no source.
        """
        in_range("depth_mm", depth_mm, "mm", low=0, high=RANGE_MM)
        in_range("tilt_deg", tilt_deg, "deg", low=0, high=30)
        base_mm = ROCKING_MM * draws.normal("rocking", *labels)
        place_mm = LOCATION_MM * draws.normal("location", *labels)
        own_mm = self.zero_error_mm + self.scale_error_mm
        return _shown(depth_mm / math.cos(math.radians(tilt_deg)) + own_mm + base_mm + place_mm)

    def flat_mm(self) -> float:
        """Return what the display shows on a flat plate, mm: look before measuring."""
        return _shown(self.zero_error_mm)

    def zeroed(self) -> "DepthGauge":
        """Return the gauge after its zero key was pressed on a flat plate."""
        return replace(self, zero_error_mm=self.zero_error_mm - self.flat_mm())


def depth_gauge(draws: Draws) -> DepthGauge:
    """Return a depth gauge as issued: within its declared error, its zero a little off."""
    return DepthGauge(
        zero_error_mm=ZERO_MM * draws.normal("zero"),
        scale_error_mm=SCALE_ERROR_MM * (2 * draws.uniform("scale") - 1),
    )


def budget(scale_error_mm: float = SCALE_ERROR_MM) -> Budget:
    """Return the uncertainty of a lining thickness read with a depth gauge.

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
        "lining thickness by depth gauge",
        "mm",
        (
            rectangular("declared error of the gauge", scale_error_mm, "mm"),
            rectangular("step of the display", RESOLUTION_MM / 2, "mm"),
            normal("zero", ZERO_MM, "mm"),
            normal("seat of the base", ROCKING_MM, "mm"),
            normal("place on the lining", LOCATION_MM, "mm"),
        ),
    )


def _shown(length_mm: float) -> float:
    """Return a length as the display rounds it, mm."""
    return round(round(length_mm / RESOLUTION_MM) * RESOLUTION_MM, 2) + 0.0

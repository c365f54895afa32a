"""A steel rule against the disc: too coarse for a lining, and its error shows why."""

import math
from dataclasses import dataclass

from widgets.brake.draws import Draws
from widgets.brake.ranges import in_range

from .budget import Budget, normal, rectangular

GRADUATION_MM = 0.5  # mm, usual finest graduation; common practice, no source
RANGE_MM = 300.0  # mm, usual length; common practice, no source
STAND_OFF_MM = 1.0  # mm from the graduation to the edge that is read; common practice, no source
EYE_ANGLE_DEG = 11.3  # degrees, either way, off the square: ± 0.2 mm at 1 mm; common practice
ZERO_MM = 0.1  # mm, either way, of a worn or badly set end; common practice, no source
TRANSFER_MM = 0.08  # mm, standard deviation of carrying an edge to the rule; common practice


@dataclass(frozen=True, slots=True)
class SteelRule:
    """One rule; `zero_error_mm` is what it reads too much, mm, from a worn end."""

    zero_error_mm: float = 0.0

    def __post_init__(self) -> None:
        in_range("rule zero_error_mm", self.zero_error_mm, "mm", low=-2, high=2)

    def read_mm(
        self, thickness_mm: float, draws: Draws, *labels: str | int, eye_deg: float | None = None
    ) -> float:
        """Return the graduation that looks nearest, mm.

        Parameters
        ----------
        thickness_mm : float
            True thickness, mm, 0 to 300.
        draws : Draws
            Dice of this brake and rule.
        *labels : str or int
            What tells this reading from the others.
        eye_deg : float, optional
            Angle of the eye off the square, degrees, -80 to 80; drawn if not given.

        Returns
        -------
        float
            Reading, mm, in steps of 0.5.
        """
        in_range("thickness_mm", thickness_mm, "mm", low=0, high=RANGE_MM)
        if eye_deg is None:
            eye_deg = EYE_ANGLE_DEG * (2 * draws.uniform("eye", *labels) - 1)
        carried_mm = TRANSFER_MM * draws.normal("transfer", *labels)
        seen_mm = thickness_mm + self.zero_error_mm + carried_mm + parallax_mm(eye_deg)
        return max(0.0, round(seen_mm / GRADUATION_MM) * GRADUATION_MM)


def parallax_mm(eye_deg: float, stand_off_mm: float = STAND_OFF_MM) -> float:
    """Return by how much a reading shifts for an eye off the square, mm.

    Parameters
    ----------
    eye_deg : float
        Angle of the eye off the square, degrees, -80 to 80.
    stand_off_mm : float
        Distance of the graduation from the edge that is read, mm, zero or more.

    Returns
    -------
    float
        Shift, mm.

    Notes
    -----
    Source: trigonometry, stand-off x tan(eye).

    Examples
    --------
    >>> round(parallax_mm(45.0), 6)
    1.0
    """
    in_range("eye_deg", eye_deg, "deg", low=-80, high=80)
    in_range("stand_off_mm", stand_off_mm, "mm", low=0)
    return stand_off_mm * math.tan(math.radians(eye_deg))


def steel_rule(draws: Draws) -> SteelRule:
    """Return a rule as found in a toolbox: its end worn within ± 0.1 mm."""
    return SteelRule(zero_error_mm=ZERO_MM * (2 * draws.uniform("zero") - 1))


def budget() -> Budget:
    """Return the uncertainty of a thickness read with a steel rule, mm.

    Returns
    -------
    Budget
        In mm.

    Notes
    -----
    Source: JCGM 100:2008, 4.3.7, for the graduation; the rest is common
    practice, no source.
    """
    return Budget(
        "thickness by steel rule",
        "mm",
        (
            rectangular("graduation", GRADUATION_MM / 2, "mm"),
            rectangular("parallax", parallax_mm(EYE_ANGLE_DEG), "mm"),
            rectangular("end of the rule", ZERO_MM, "mm"),
            normal("transfer of the edge", TRANSFER_MM, "mm"),
        ),
    )

"""What to do at the three screws so that the gap is the setting all the way round."""

from dataclasses import dataclass

from widgets.brake.ranges import in_range
from widgets.brake.sizes.design import Design

from .profile import Plane, plane_of_screws, screws_of_plane_mm

FLAT_DEG = 60.0  # one flat of a hexagon, a sixth of a turn


def levelling_changes_mm(
    plane: Plane, target_mm: float, radius_ratio: float
) -> tuple[float, float, float]:
    """Return the change of height at each screw that makes the gap `target_mm` all round, mm.

    Minus closes the gap.

    Raises
    ------
    ValueError
        If `target_mm` is negative or `radius_ratio` is not above 0.
    """
    in_range("target_mm", target_mm, "mm", low=0)
    missing = Plane(target_mm - plane.mean_mm, -plane.cos_mm, -plane.sin_mm)
    return screws_of_plane_mm(missing, radius_ratio)


@dataclass(frozen=True, slots=True)
class ScrewTurn:
    """What to do at one screw: degrees of turn, plus is out (gap wider), minus is in."""

    screw: int
    change_mm: float
    turn_deg: float

    @property
    def flats(self) -> float:
        """The turn in flats of a hexagon (sixths of a turn), with sign."""
        return self.turn_deg / FLAT_DEG

    @property
    def words(self) -> str:
        """The turn in words: `screw 2: 67° in (1.1 flats)`."""
        if abs(self.turn_deg) < 0.5:
            return f"screw {self.screw}: leave it"
        way = "out" if self.turn_deg > 0 else "in"
        return f"screw {self.screw}: {abs(self.turn_deg):.0f}° {way} ({abs(self.flats):.1f} flats)"


def turn_for_change_deg(change_mm: float, pitch_mm: float) -> float:
    """Return the screw turn that changes the height by `change_mm`, degrees, plus is out.

    Raises
    ------
    ValueError
        If `pitch_mm` is not above 0.

    Examples
    --------
    >>> turn_for_change_deg(-0.25, pitch_mm=1.5)
    -60.0
    """
    in_range("change_mm", change_mm, "mm")
    return 360.0 * change_mm / in_range("pitch_mm", pitch_mm, "mm", above=0)


def change_for_turn_mm(turn_deg: float, pitch_mm: float) -> float:
    """Return the change of height that a screw turn makes, mm, plus is wider.

    Raises
    ------
    ValueError
        If `pitch_mm` is not above 0.
    """
    in_range("turn_deg", turn_deg, "deg")
    return turn_deg / 360.0 * in_range("pitch_mm", pitch_mm, "mm", above=0)


def levelling_turns(
    plane: Plane, target_mm: float, radius_ratio: float, pitch_mm: float
) -> tuple[ScrewTurn, ScrewTurn, ScrewTurn]:
    """Return the three screw turns that make the gap `target_mm` all the way round.

    Raises
    ------
    ValueError
        If target, ratio or pitch cannot be.
    """
    changes = levelling_changes_mm(plane, target_mm, radius_ratio)
    first, second, third = (
        ScrewTurn(number, change, turn_for_change_deg(change, pitch_mm))
        for number, change in enumerate(changes, start=1)
    )
    return first, second, third


def steps_of(change_mm: float, step_mm: float) -> int:
    """Return how many whole steps of `step_mm`, mm, come nearest to a change, mm; plus is wider.

    Raises
    ------
    ValueError
        If `step_mm` is not above 0.

    Examples
    --------
    >>> steps_of(-0.52, step_mm=0.05)
    -10
    """
    in_range("change_mm", change_mm, "mm")
    return round(change_mm / in_range("step_mm", step_mm, "mm", above=0))


def best_setting(
    design: Design, found: Plane, target_mm: float, radius_ratio: float, step_mm: float
) -> Plane:
    """Return the gap that is left when a brake of a design is set as near to `target_mm` as it can.

    Parameters
    ----------
    design : Design
        What sets the gap.
    found : Plane
        The gap as found.
    target_mm : float
        The setting, mm.
    radius_ratio : float
        Gauging radius over screw radius, dimensionless, above 0.
    step_mm : float
        What a shim or a notch of the ring moves, mm, above 0; the other designs have no steps.

    Raises
    ------
    ValueError
        If target, ratio or step cannot be.

    Examples
    --------
    >>> best_setting(Design.ADJUSTING_RING, Plane(0.75, 0.1), 0.3, 0.9, step_mm=0.05)
    Plane(mean_mm=0.3, cos_mm=0.1, sin_mm=0.0)
    """
    if not design.adjusts:
        return found
    if not design.levels:
        moved_mm = step_mm * steps_of(target_mm - found.mean_mm, step_mm)
        return Plane(round(found.mean_mm + moved_mm, 9), found.cos_mm, found.sin_mm)
    changes = levelling_changes_mm(found, target_mm, radius_ratio)
    if design.steps:
        first, second, third = (step_mm * steps_of(change, step_mm) for change in changes)
        changes = (first, second, third)
    by = plane_of_screws(changes, radius_ratio)
    return Plane(found.mean_mm + by.mean_mm, found.cos_mm + by.cos_mm, found.sin_mm + by.sin_mm)

"""What is round a brake and decides with it: a second brake, a clutch, water, the plate's year.

Source of what each does: common practice, no source; numbers invented where they say so.
"""

from dataclasses import dataclass

from .ranges import in_range

WET = "wet"  # the name of the wet state in `friction.SURFACES`
DAMP_SHARE = 0.002  # of its dry insulation that a wet coil shows; invented


@dataclass(frozen=True, slots=True)
class Around:
    """What belongs to the hoist and not to the brake; none of it can be seen in a gap.

    Attributes
    ----------
    other_hold : float
        What a second brake of the hoist holds by itself, over the torque of the rated load; 0
        where it carries nothing or there is none.
    clutch_hold : float or None
        Torque at which the slipping clutch between brake and drum slips, over the torque of the
        rated load; None where there is none, or it is set as it should be.
    water_comes : bool
        Whether water still finds its way in.
    built : int
        Year on the plate; 0 where none can be read.
    """

    other_hold: float = 0.0
    clutch_hold: float | None = None
    water_comes: bool = False
    built: int = 0

    def __post_init__(self) -> None:
        in_range("other_hold", self.other_hold, "", low=0, high=10)
        if self.clutch_hold is not None:
            in_range("clutch_hold", self.clutch_hold, "", low=0, high=10)
        in_range("built", self.built, "", low=0, high=2200)


NOTHING_ELSE = Around()


def insulation_shown_mohm(dry_mohm: float, surface: str) -> float:
    """Return the insulation that a tester finds, megohm: next to none while the brake is wet.

    Parameters
    ----------
    dry_mohm : float
        Insulation of the dry coil, megohm, 0 or more.
    surface : str
        What the lining is like; only `WET` counts.

    Raises
    ------
    ValueError
        If the insulation is below 0 or not a number.
    """
    in_range("dry_mohm", dry_mohm, "megohm", low=0)
    return dry_mohm * DAMP_SHARE if surface == WET else dry_mohm

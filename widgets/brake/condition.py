"""The hidden state of one brake, and what its parts make of the gap and the disc.

The gap is what the stack of parts leaves: height of the magnet body on its
three screws, less wear plate, less disc. So a worn disc opens it, a missing
wear plate opens it more, and a tapered disc tilts it and turns with the shaft.
"""

import math
from dataclasses import dataclass, replace

from .gap import GapField, Plane, plane_of_screws, screws_of_plane_mm
from .ranges import in_range
from .size import BrakeSize

Three = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Disc:
    """A friction disc: mean thickness over both linings, taper, and the place of its thick side.

    `taper_mm` is the amplitude: thickest minus mean. `thick_deg` is counted on
    the disc itself, so that the thick side turns with the shaft.
    """

    thickness_mm: float
    taper_mm: float = 0.0
    thick_deg: float = 0.0

    def __post_init__(self) -> None:
        in_range("disc thickness_mm", self.thickness_mm, "mm", above=0)
        in_range("disc taper_mm", self.taper_mm, "mm", low=0, high=self.thickness_mm / 2)

    def at_mm(self, angle_deg: float, shaft_deg: float = 0.0) -> float:
        """Return the thickness at an angle of the housing, with the shaft turned, mm."""
        return self.thickness_mm + self.taper_mm * math.cos(
            math.radians(angle_deg - shaft_deg - self.thick_deg)
        )

    @property
    def thinnest_mm(self) -> float:
        """Thickness at the thinnest place, mm."""
        return self.thickness_mm - self.taper_mm


@dataclass(frozen=True, slots=True)
class Condition:
    """Everything about one brake that only a measurement can tell.

    Attributes
    ----------
    screw_height_mm : three float
        Height of the magnet body's pole face over the wear plate's seat, less
        the pressure plate, with the retaining screws loose, mm.
    take_up_mm : three float
        Thread play that tightening each retaining screw takes up, mm: so much
        the gap closes there when it is locked.
    disc : Disc
        The friction disc as it is.
    wear_plate_mm : float
        Wear plate in place, mm; 0 if it is missing.
    warp_mm, warp_deg : float
        Two-lobed warp of plate and body: amplitude, mm, and place of a crest.
    texture_mm : tuple of (lobes, amplitude_mm, phase_deg)
        Local waves of the faces.
    dust_mm : float
        Layer of dust in the gap before cleaning, mm.
    friction : float
        Coefficient of friction as it is now, dimensionless.
    springs_intact, spring_force_factor
        Springs that still push; force of each over its proper force.
    resistance_factor, turns_factor
        Coil resistance and turns over the proper ones.
    coil_c, supply_factor
        Coil temperature, °C; direct voltage at the coil over the rated one.
    """

    screw_height_mm: Three
    take_up_mm: Three
    disc: Disc
    wear_plate_mm: float
    friction: float
    springs_intact: int
    warp_mm: float = 0.0
    warp_deg: float = 0.0
    texture_mm: tuple[tuple[int, float, float], ...] = ()
    dust_mm: float = 0.0
    spring_force_factor: float = 1.0
    resistance_factor: float = 1.0
    turns_factor: float = 1.0
    coil_c: float = 20.0
    supply_factor: float = 1.0

    def __post_init__(self) -> None:
        for index, take_up in enumerate(self.take_up_mm, start=1):
            in_range(f"take_up_mm of screw {index}", take_up, "mm", low=0, high=1)
        in_range("dust_mm", self.dust_mm, "mm", low=0, high=1)
        in_range("friction", self.friction, "", above=0, high=1)
        in_range("springs_intact", self.springs_intact, "", low=0)
        in_range("spring_force_factor", self.spring_force_factor, "", low=0, high=2)
        in_range("coil_c", self.coil_c, "°C", low=-60, high=250)
        in_range("supply_factor", self.supply_factor, "", low=0, high=1.5)


def sound_condition(
    size: BrakeSize,
    *,
    gap: Plane | None = None,
    disc: Disc | None = None,
    take_up_mm: Three = (0.03, 0.03, 0.03),
) -> Condition:
    """Return a brake without a fault, with a gap (even at the setting, if none) over a disc.

    Raises
    ------
    ValueError
        If the gap closes somewhere, or the disc cannot be.
    """
    gap = gap or Plane(size.gap.setting_mm)
    in_range("gap narrowest", gap.mean_mm - gap.tilt_mm, "mm", low=0)
    disc = disc or Disc(size.disc.new_mm)
    # The disc's taper tilts the gap; the screws make up the rest of the plane asked for.
    taper = Plane(
        disc.thickness_mm + size.wear_plate_mm,
        disc.taper_mm * math.cos(math.radians(disc.thick_deg)),
        disc.taper_mm * math.sin(math.radians(disc.thick_deg)),
    )
    body = Plane(gap.mean_mm + taper.mean_mm, gap.cos_mm + taper.cos_mm, gap.sin_mm + taper.sin_mm)
    heights = screws_of_plane_mm(body, size.screws.radius_ratio)
    first, second, third = (
        height + take_up for height, take_up in zip(heights, take_up_mm, strict=True)
    )
    return Condition(
        screw_height_mm=(first, second, third),
        take_up_mm=take_up_mm,
        disc=disc,
        wear_plate_mm=size.wear_plate_mm,
        friction=size.lining.friction,
        springs_intact=size.springs.count,
    )


def gap_field(
    size: BrakeSize,
    condition: Condition,
    stand_off_mm: Three | None = None,
    shaft_deg: float = 0.0,
) -> GapField:
    """Return the true gap round the rim for heights of the magnet body and a position of the shaft.

    Parameters
    ----------
    stand_off_mm : three float, optional
        Height at each screw as it stands now, mm; all locked, if not given.
    shaft_deg : float
        Turn of the shaft since the brake was opened, degrees.
    """
    if stand_off_mm is None:
        stand_off_mm = locked_stand_off_mm(condition)
    body = plane_of_screws(stand_off_mm, size.screws.radius_ratio)
    disc = condition.disc
    thick = math.radians(disc.thick_deg + shaft_deg)
    plane = Plane(
        body.mean_mm - condition.wear_plate_mm - disc.thickness_mm,
        body.cos_mm - disc.taper_mm * math.cos(thick),
        body.sin_mm - disc.taper_mm * math.sin(thick),
    )
    return GapField(plane, condition.warp_mm, condition.warp_deg, 0.0, condition.texture_mm)


def locked_stand_off_mm(condition: Condition) -> Three:
    """Return the height at each screw with all three retaining screws tight, mm."""
    heights, take_ups = condition.screw_height_mm, condition.take_up_mm
    first, second, third = (h - t for h, t in zip(heights, take_ups, strict=True))
    return first, second, third


def with_disc(condition: Condition, disc: Disc) -> Condition:
    """Return the condition with another disc on the hub."""
    return replace(condition, disc=disc)

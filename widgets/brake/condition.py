"""The hidden state of one brake, and what its parts make of the gap and the disc.

The gap is what the stack of parts leaves: height of the magnet body on its
three screws, less wear plate, less disc. So a worn disc opens it, a missing
wear plate opens it more, and a tapered disc tilts it and turns with the shaft.
"""

import math
from dataclasses import dataclass, field

from .around import NOTHING_ELSE, Around
from .gap.profile import GapField, Plane, plane_of_screws, screws_of_plane_mm
from .magnet.transient import Switching
from .ranges import in_range
from .sizes.size import BrakeSize
from .tools import IN_ORDER, Tools
from .torque.braking import STATIC_OVER_DYNAMIC_RANGE
from .torque.friction import SURFACES

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
        in_range("disc thick_deg", self.thick_deg, "deg")

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
        Coefficient of friction of this lining, run in, dry and cool,
        dimensionless; `surface` and `face_c` take it from there.
    springs_intact, spring_force_factor
        Springs that still push; force of each over its proper force.
    resistance_factor, turns_factor
        Coil resistance and turns over the proper ones.
    coil_c, supply_factor
        Coil temperature, °C; direct voltage at the coil over the rated one.
    surface, face_c
        State of the rubbing faces, a name in `friction.SURFACES`; their
        temperature, °C.
    static_over_dynamic : float
        Torque at which the disc breaks away over the torque while it slips.
    swelling_mm : float
        What rust or damp has added to the disc, mm: the gap closes by it.
    radius_factor : float
        Radius at which the lining acts over the proper one: a wrong disc.
    hub_share : float
        Share of the spring force that the hub carries past the lining, 0 to 1.
    spline_play_deg : float
        Play between hub and disc, degrees of the shaft.
    clamp_wave_mm : float
        Three-lobed distortion when the retaining screws are tight, mm.
    lock_share : three float
        Torque of each retaining screw, as found, over the proper one; at 0 it
        takes up no thread play.
    pole_dust_mm : float
        Packed dust that keeps the plate off each pole, mm.
    residual_gap_factor : float
        Anti-stick layer over the proper one.
    release_lever_play_mm : float or None
        Play of the hand release, as plate travel beyond the setting gap, mm;
        None where the lever never touches.
    release_lever_returns, fan_ok, seal_ok, rectifier_diode_open, coil_open, coil_live
        What they say; `coil_live` is a coil that is still fed at the bench.
    switching : Switching
        Where the coil's circuit is opened to apply the brake.
    screw_room_mm, torn_thread
        How far the hollow screws still go in, mm; which retaining screw turns on and on, 0: none.
    tools, around, surface_c
        Instruments that lie ready; what is round it; °C of what a hand would touch.
    insulation_mohm : float
        Coil to earth when dry, megohm.
    marks : frozenset of str
        What can be seen, heard, smelt or felt, one sentence each.
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
    surface_c: float = 20.0
    supply_factor: float = 1.0
    surface: str = "bedded"
    face_c: float = 20.0
    static_over_dynamic: float = 1.0
    swelling_mm: float = 0.0
    radius_factor: float = 1.0
    hub_share: float = 0.0
    spline_play_deg: float = 0.3
    clamp_wave_mm: float = 0.0
    lock_share: Three = (1.0, 1.0, 1.0)
    pole_dust_mm: float = 0.0
    residual_gap_factor: float = 1.0
    release_lever_play_mm: float | None = None
    release_lever_returns: bool = True
    fan_ok: bool = True
    seal_ok: bool = True
    rectifier_diode_open: bool = False
    coil_open: bool = False
    coil_live: bool = False
    switching: Switching = Switching.DC_SIDE
    insulation_mohm: float = 200.0
    marks: frozenset[str] = field(default_factory=frozenset)
    tools: Tools = IN_ORDER
    around: Around = NOTHING_ELSE
    screw_room_mm: float | None = None
    torn_thread: int = 0

    def __post_init__(self) -> None:
        for index in range(3):
            screw = f"of screw {index + 1}"
            in_range(f"screw_height_mm {screw}", self.screw_height_mm[index], "mm")
            in_range(f"take_up_mm {screw}", self.take_up_mm[index], "mm", low=0, high=1)
            in_range(f"lock_share {screw}", self.lock_share[index], "", low=0, high=3)
        self._check_mechanics()
        self._check_rubbing()
        self._check_coil()

    def _check_mechanics(self) -> None:
        in_range("wear_plate_mm", self.wear_plate_mm, "mm", low=0, high=100)
        in_range("warp_mm", self.warp_mm, "mm", low=0, high=5)
        in_range("warp_deg", self.warp_deg, "deg")
        in_range("clamp_wave_mm", self.clamp_wave_mm, "mm", low=0, high=1)
        in_range("swelling_mm", self.swelling_mm, "mm", low=0, high=2)
        in_range("spline_play_deg", self.spline_play_deg, "deg", low=0, high=90)
        if self.release_lever_play_mm is not None:
            in_range("release_lever_play_mm", self.release_lever_play_mm, "mm", low=0, high=20)
        in_range("dust_mm", self.dust_mm, "mm", low=0, high=1)
        in_range("springs_intact", self.springs_intact, "", low=0)
        in_range("spring_force_factor", self.spring_force_factor, "", low=0, high=2)

    def _check_rubbing(self) -> None:
        low, high = STATIC_OVER_DYNAMIC_RANGE
        in_range("friction", self.friction, "", above=0, high=1)
        in_range("face_c", self.face_c, "°C", low=-40, high=600)
        in_range("static_over_dynamic", self.static_over_dynamic, "", low=low, high=high)
        in_range("radius_factor", self.radius_factor, "", above=0, high=2)
        in_range("hub_share", self.hub_share, "", low=0, high=1)
        if self.surface not in SURFACES:
            names = ", ".join(SURFACES)
            raise ValueError(f"surface must be one of {names}, got {self.surface!r:.40}")

    def _check_coil(self) -> None:
        in_range("resistance_factor", self.resistance_factor, "", above=0, high=100)
        in_range("turns_factor", self.turns_factor, "", above=0, high=2)
        in_range("coil_c", self.coil_c, "°C", low=-60, high=250)
        in_range("surface_c", self.surface_c, "°C", low=-60, high=600)
        in_range("torn_thread", self.torn_thread, "", low=0, high=3)
        in_range("screw_room_mm", self.screw_room_mm or 0.0, "mm", low=0)
        in_range("supply_factor", self.supply_factor, "", low=0, high=1.5)
        in_range("pole_dust_mm", self.pole_dust_mm, "mm", low=0, high=1)
        in_range("residual_gap_factor", self.residual_gap_factor, "", above=0, high=5)
        in_range("insulation_mohm", self.insulation_mohm, "megohm", low=0)


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
    *,
    tightness: float = 1.0,
) -> GapField:
    """Return the true gap round the rim for heights of the magnet body and a position of the shaft.

    Parameters
    ----------
    stand_off_mm : three float, optional
        Height at each screw as it stands now, mm; locked as found, if not given.
    shaft_deg : float
        Turn of the shaft since the brake was opened, degrees.
    tightness : float
        Torque of the retaining screws over the proper one, 0 or more: so far
        do tight screws pull the body out of shape.

    Raises
    ------
    ValueError
        If `shaft_deg` or `tightness` cannot be.
    """
    if stand_off_mm is None:
        stand_off_mm = locked_stand_off_mm(condition)
    body = plane_of_screws(stand_off_mm, size.screws.radius_ratio)
    disc = condition.disc
    thick = math.radians(disc.thick_deg + in_range("shaft_deg", shaft_deg, "deg"))
    wave_mm = condition.clamp_wave_mm * in_range("tightness", tightness, "", low=0, high=3)
    plane = Plane(
        body.mean_mm - condition.wear_plate_mm - disc.thickness_mm - condition.swelling_mm,
        body.cos_mm - disc.taper_mm * math.cos(thick),
        body.sin_mm - disc.taper_mm * math.sin(thick),
    )
    return GapField(plane, condition.warp_mm, condition.warp_deg, wave_mm, condition.texture_mm)


def locked_stand_off_mm(condition: Condition) -> Three:
    """Return the height at each screw with the retaining screws as they were found, mm."""
    first, second, third = (
        height - (take_up if share > 0 else 0.0)
        for height, take_up, share in zip(
            condition.screw_height_mm, condition.take_up_mm, condition.lock_share, strict=True
        )
    )
    return first, second, third

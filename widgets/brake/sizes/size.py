"""What is known of one size of brake: the limits a technician needs, and the build behind them."""

import math
from dataclasses import dataclass, field

from widgets.brake.ranges import in_range

from .design import Design

ISO_COARSE_PITCH_MM = {  # mm per turn, ISO 261 coarse series
    "M4": 0.7,
    "M5": 0.8,
    "M6": 1.0,
    "M8": 1.25,
    "M10": 1.5,
    "M12": 1.75,
    "M16": 2.0,
}
# Of the rated load: static and dynamic test; ISO 4310:2009, from memory.
STATIC_TEST, DYNAMIC_TEST = 1.25, 1.10
SLACK_TURN = 0.25  # of a turn that a retaining screw is let off to adjust; common practice


@dataclass(frozen=True, slots=True)
class GapLimits:
    """Air gap of one size, mm: smallest, to be set, largest, and largest spread round the rim."""

    min_mm: float
    setting_mm: float
    max_mm: float
    evenness_mm: float

    def __post_init__(self) -> None:
        in_range("gap min_mm", self.min_mm, "mm", above=0)
        in_range("gap setting_mm", self.setting_mm, "mm", low=self.min_mm)
        in_range("gap max_mm", self.max_mm, "mm", above=self.setting_mm)
        in_range("gap evenness_mm", self.evenness_mm, "mm", above=0)


@dataclass(frozen=True, slots=True)
class DiscLimits:
    """Friction disc of one size, mm: thickness over both linings, and one lining, new and least."""

    new_mm: float
    min_mm: float
    lining_new_mm: float
    lining_min_mm: float

    def __post_init__(self) -> None:
        in_range("disc min_mm", self.min_mm, "mm", above=0)
        in_range("disc new_mm", self.new_mm, "mm", above=self.min_mm)
        in_range("lining min_mm", self.lining_min_mm, "mm", above=0)
        in_range("lining new_mm", self.lining_new_mm, "mm", above=self.lining_min_mm)


@dataclass(frozen=True, slots=True)
class Lining:
    """Friction ring: radii in mm, coefficient of friction, number of rubbing faces."""

    inner_radius_mm: float
    outer_radius_mm: float
    friction: float
    faces: int = 2

    def __post_init__(self) -> None:
        in_range("lining inner_radius_mm", self.inner_radius_mm, "mm", above=0)
        in_range("lining outer_radius_mm", self.outer_radius_mm, "mm", above=self.inner_radius_mm)
        in_range("lining friction", self.friction, "", above=0, high=1)


@dataclass(frozen=True, slots=True)
class Springs:
    """Springs behind the pressure plate: count, force of each at the setting gap, rate of each."""

    count: int
    force_each_n: float
    rate_each_n_per_mm: float

    def __post_init__(self) -> None:
        in_range("springs count", self.count, "", low=1)
        in_range("springs force_each_n", self.force_each_n, "N", above=0)
        in_range("springs rate_each_n_per_mm", self.rate_each_n_per_mm, "N/mm", above=0)


@dataclass(frozen=True, slots=True)
class Screws:
    """Three-point mounting: what sets the gap at each, and the retaining screws that hold the body.

    Thread and pitch are those of the hollow screws; "" and 0 where the design has none.
    """

    thread: str
    pitch_mm: float
    pitch_circle_mm: float
    gauging_circle_mm: float
    retaining_torque_nm: float
    retaining_thread: str = ""

    def __post_init__(self) -> None:
        in_range("screws pitch_mm", self.pitch_mm, "mm", low=0)
        in_range("screws pitch_circle_mm", self.pitch_circle_mm, "mm", above=0)
        in_range("screws gauging_circle_mm", self.gauging_circle_mm, "mm", above=0)
        in_range("screws retaining_torque_nm", self.retaining_torque_nm, "N·m", above=0)

    @property
    def radius_ratio(self) -> float:
        """Radius where the gap is gauged over radius of the screws, dimensionless."""
        return self.gauging_circle_mm / self.pitch_circle_mm

    @property
    def slack_mm(self) -> float:
        """What a retaining screw let off by `SLACK_TURN` lets the springs lift the body by, mm.

        Of a thread that is not of the coarse series nothing is known: that of M6 is taken.
        """
        pitch_mm = ISO_COARSE_PITCH_MM.get(self.retaining_thread, ISO_COARSE_PITCH_MM["M6"])
        return SLACK_TURN * pitch_mm


@dataclass(frozen=True, slots=True)
class Coil:
    """Coil: rated direct voltage, resistance at 20 °C, turns."""

    voltage_v: float
    resistance_20_ohm: float
    turns: int

    def __post_init__(self) -> None:
        in_range("coil voltage_v", self.voltage_v, "V", above=0)
        in_range("coil resistance_20_ohm", self.resistance_20_ohm, "ohm", above=0)
        in_range("coil turns", self.turns, "", low=1)


@dataclass(frozen=True, slots=True)
class Magnet:
    """Iron circuit: area of each of two poles, residual gap at each, iron path, saturation."""

    pole_area_cm2: float
    residual_gap_mm: float
    iron_path_mm: float
    relative_permeability: float = 1500.0
    saturation_t: float = 1.9
    leakage_factor: float = 1.15

    def __post_init__(self) -> None:
        in_range("magnet pole_area_cm2", self.pole_area_cm2, "cm²", above=0)
        in_range("magnet residual_gap_mm", self.residual_gap_mm, "mm", above=0)
        in_range("magnet iron_path_mm", self.iron_path_mm, "mm", above=0)
        in_range("magnet relative_permeability", self.relative_permeability, "", low=1)
        in_range("magnet saturation_t", self.saturation_t, "T", above=0)
        in_range("magnet leakage_factor", self.leakage_factor, "", low=1)


@dataclass(frozen=True, slots=True)
class Hoist:
    """The hoist the brake holds: load, hook speed, motor speed, motor-side inertia, rise time.

    `test_static` and `test_dynamic` are the loads of its tests over the rated one, dimensionless.
    """

    load_kg: float
    speed_m_per_min: float
    motor_rpm: float
    motor_inertia_kgm2: float
    torque_rise_ms: float
    test_static: float = STATIC_TEST
    test_dynamic: float = DYNAMIC_TEST

    def __post_init__(self) -> None:
        in_range("hoist load_kg", self.load_kg, "kg", above=0)
        in_range("hoist speed_m_per_min", self.speed_m_per_min, "m/min", above=0)
        in_range("hoist motor_rpm", self.motor_rpm, "rev/min", above=0)
        in_range("hoist motor_inertia_kgm2", self.motor_inertia_kgm2, "kg·m²", above=0)
        in_range("hoist torque_rise_ms", self.torque_rise_ms, "ms", low=0)
        in_range("hoist test_static", self.test_static, "", low=1, high=2)
        in_range("hoist test_dynamic", self.test_dynamic, "", low=1, high=self.test_static)

    @property
    def motor_speed_rad_s(self) -> float:
        """Motor speed, rad/s."""
        return self.motor_rpm * 2 * math.pi / 60


@dataclass(frozen=True, slots=True)
class BrakeSize:
    """One row of a limits sheet, filled up to a whole brake.

    `estimated` names the fields of the sheet (`spring_count`, `gap_evenness_mm`, ...) that
    the sheet did not give and that were worked out from the rest. `step_mm` is the thinnest shim,
    or what a notch of the ring moves, mm; 0 where the gap is set without steps or not at all.
    """

    name: str
    torque_nm: float
    gap: GapLimits
    disc: DiscLimits
    lining: Lining
    springs: Springs
    screws: Screws
    coil: Coil
    magnet: Magnet
    hoist: Hoist
    wear_plate_mm: float
    invented: bool = False
    estimated: frozenset[str] = field(default_factory=frozenset)
    design: Design = Design.HOLLOW_SCREWS
    step_mm: float = 0.0

    def __hash__(self) -> int:
        """Return a hash by what tells rows apart: sizes are keys of what was worked out before."""
        return hash((self.name, self.torque_nm))

    @property
    def turn_or_step_mm(self) -> float:
        """What a turn of a hollow screw, a shim or a notch moves the gap, mm; 0: nothing does."""
        return self.screws.pitch_mm or self.step_mm

    def __post_init__(self) -> None:
        in_range("torque_nm", self.torque_nm, "N·m", above=0)
        in_range("wear_plate_mm", self.wear_plate_mm, "mm", low=0)
        in_range("step_mm", self.step_mm, "mm", low=0)
        if (self.screws.pitch_mm > 0) is not (self.design is Design.HOLLOW_SCREWS):
            raise ValueError(f"a pitch is for hollow screws, got one with {self.design.value!r}")
        if (self.step_mm > 0) is not self.design.steps:
            raise ValueError(f"a step is for shims or a ring, got one with {self.design.value!r}")

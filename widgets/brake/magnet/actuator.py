"""What a transient starts from and what it gives: actuator, energy balance, course."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from math import pi

import numpy as np
from numpy.typing import NDArray

from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import BrakeSize, Coil, Magnet

from .coil import coil_resistance_ohm

STEEL_KG_PER_M3 = 7850.0  # kg/m³, carbon steel, handbooks of mechanical engineering
VARISTOR_RATIO = 3.0  # clamp voltage over rated voltage; common practice, no source
Array = NDArray[np.float64]


class Switching(StrEnum):
    """Where the circuit is opened to apply the brake."""

    AC_SIDE = "AC side"
    DC_SIDE = "DC side"


@dataclass(frozen=True, slots=True)
class Actuator:
    """Magnet, coil, springs and plate of one brake, as they are at this moment.

    Parameters
    ----------
    gap_mm : float, mm
        Air gap with the brake applied, above zero.
    force_of_gap_n : callable
        Force of the springs, N, at a plate position, mm from the poles.
    magnet, coil : Magnet, Coil
        As built.
    plate_mass_kg : float, kg
        Pressure plate, above zero; see `estimated_plate_mass_kg`.
    temperature_c : float, °C
        Mean temperature of the winding.
    resistance_factor, turns_factor : float, dimensionless
        Faults: resistance and live turns over those of a sound coil.
    """

    gap_mm: float
    force_of_gap_n: Callable[[float], float]
    magnet: Magnet
    coil: Coil
    plate_mass_kg: float
    temperature_c: float = 20.0
    resistance_factor: float = 1.0
    turns_factor: float = 1.0

    def __post_init__(self) -> None:
        in_range("gap_mm", self.gap_mm, "mm", above=0)
        in_range("plate_mass_kg", self.plate_mass_kg, "kg", above=0)
        in_range("turns_factor", self.turns_factor, "", above=0)
        in_range("force_of_gap_n(gap_mm)", self.force_of_gap_n(self.gap_mm), "N", above=0)
        in_range("force_of_gap_n(0)", self.force_of_gap_n(0.0), "N", above=0)
        _ = self.resistance_ohm

    @property
    def resistance_ohm(self) -> float:
        """Resistance of the coil now, ohm."""
        return coil_resistance_ohm(
            self.coil, self.temperature_c, resistance_factor=self.resistance_factor
        )

    @property
    def turns(self) -> float:
        """Live turns, dimensionless."""
        return self.coil.turns * self.turns_factor


@dataclass(frozen=True, slots=True)
class EnergyBalance:
    """Where the energy of one transient came from and went, J.

    `magnetic_j` is the gain of the field in gaps and iron; `spring_j` what the springs took up
    (negative when they gave), `impact_j` what died when the plate struck a stop, `suppression_j`
    what went into varistor or diode. `leakage_j` is the price of a fixed leakage factor: as the
    gap changes, the leaking flux changes with it and its field trades this energy, which a model
    with leakage paths of their own would show as force on other parts.
    """

    electrical_j: float
    suppression_j: float
    copper_j: float
    magnetic_j: float
    spring_j: float
    kinetic_j: float
    impact_j: float
    leakage_j: float

    @property
    def gap_j(self) -> float:
        """Energy in less energy accounted for, J: the error of the integration."""
        spent = self.suppression_j + self.copper_j + self.leakage_j
        moved = self.spring_j + self.kinetic_j + self.impact_j
        return self.electrical_j - spent - self.magnetic_j - moved


@dataclass(frozen=True, slots=True, eq=False)
class Transient:
    """One release or application from the switch to the end, arrays of shape (n_times,).

    `position_mm` is counted from the poles, `velocity_m_s` positive towards the disc, `clamp_n`
    what still presses the disc. `lift_off_s` is when the plate leaves the stop it lay on for the
    first time, `landing_s` when it comes to rest on the other, `impact_speed_m_s` the speed of
    the hardest blow. With the plate held until `lift_off_s`, that is also the closed-form delay.
    For a release `delay_s` is t21 (until the torque has fallen to 90 %) and `change_s` t22 (from
    there to 10 %); for an application `delay_s` is t11 (until torque begins to rise, the landing)
    and `change_s` t12 (from there to 90 %). A time never reached is infinite, `landing_s` also
    where the run ends before it.
    Source of the terms: DIN VDE 0580 and VDI 2241, from memory; 90 % for the start of the fall
    is our mirror of the end of the rise.
    """

    time_s: Array
    current_a: Array
    flux_density_t: Array
    position_mm: Array
    velocity_m_s: Array
    pull_n: Array
    spring_n: Array
    clamp_n: Array
    lift_off_s: float
    landing_s: float
    impact_speed_m_s: float
    delay_s: float
    change_s: float
    energy: EnergyBalance

    @property
    def total_s(self) -> float:
        """Release t2 = t21 + t22, or application t1 = t11 + t12, s."""
        return self.delay_s + self.change_s


def estimated_plate_mass_kg(size: BrakeSize) -> float:
    """Return about what the pressure plate weighs.

    Parameters
    ----------
    size : BrakeSize
        Lining, gauging circle and pole area are used.

    Returns
    -------
    float, kg

    Notes
    -----
    A steel ring from the inside of the lining to the gauging circle, thick
    enough to pass the flux of one pole across the mean radius of the lining
    at no more than the pole's own density. Common practice, no source.
    """
    lining, area_mm2 = size.lining, size.magnet.pole_area_cm2 * 100
    mean_radius_mm = (lining.inner_radius_mm + lining.outer_radius_mm) / 2
    thickness_mm = area_mm2 / (2 * pi * mean_radius_mm)
    outer_mm = max(size.screws.gauging_circle_mm / 2, lining.outer_radius_mm)
    return STEEL_KG_PER_M3 * pi * (outer_mm**2 - lining.inner_radius_mm**2) * thickness_mm * 1e-9

"""What happens in the tenths of a second after the coil is switched on or off.

State: flux density, plate position and plate speed. The plate hits either stop without bounce,
the iron has no eddy currents (they lengthen times by some 5 to 30 ms; common practice, no source),
shorted turns are simply gone (the ring they form, which slows the flux, is left out) and the coil
keeps its temperature.
"""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from math import inf, log1p, pi

import numpy as np
from numpy.typing import ArrayLike, NDArray

from .coil import Numbers, coil_resistance_ohm
from .magnet import (
    MU_0,
    ampere_turns,
    flux_density_for_force_t,
    flux_density_t,
    inductance_h,
    release_voltage_v,
    reluctance_terms,
)
from .ranges import in_range
from .size import BrakeSize, Coil, Magnet

STEEL_KG_PER_M3 = 7850.0  # kg/m³, carbon steel, handbooks of mechanical engineering
VARISTOR_RATIO = 3.0  # clamp voltage over rated voltage; common practice, no source
RELATIVE_TOLERANCE = 1e-7
ABSOLUTE_TOLERANCES = (1e-8, 1e-8, 1e-7, 1e-7, 1e-7, 1e-7, 1e-7)  # T, mm, m/s, then J
OVERSHOOT_MM = 1e-6  # how far past a stop a plate must be to have struck it
MOST_PHASES = 100
SAMPLES_PER_PHASE = 60

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


def flux_time_s(
    start_t: ArrayLike,
    end_t: ArrayLike,
    gap_mm: ArrayLike,
    drive_v: ArrayLike,
    magnet: Magnet,
    *,
    resistance_ohm: float,
    turns: float,
) -> Numbers:
    """Return how long the flux takes from one density to another, plate held still.

    Parameters
    ----------
    start_t, end_t : float or array_like, T
        Flux densities in the gaps, zero to the saturation of the iron.
    gap_mm : float or array_like, mm
        Gap at which the plate is held, zero or more.
    drive_v : float or array_like, V
        Voltage that drives the current: the supply's when switched on, zero
        when the coil freewheels, minus the clamp voltage when cut off.
    magnet : Magnet
        Poles and iron.
    resistance_ohm : float, ohm
        Resistance of the circuit, above zero.
    turns : float, dimensionless
        Live turns, above zero.

    Returns
    -------
    float or ndarray of the broadcast shape, s
        Infinite where the flux never gets there.

    Raises
    ------
    ValueError
        If an argument is out of range.

    Notes
    -----
    N A λ dB/dt = U - R·mmf(B)/N has a right side that is a quadratic over
    (1 - B/B_sat), so that the time is a sum of two logarithms. Source:
    Faraday's law; partial fractions.
    """
    limit_t = magnet.saturation_t / magnet.leakage_factor
    start = np.asarray(in_range("start_t", start_t, "T", low=0, below=limit_t))
    end = np.asarray(in_range("end_t", end_t, "T", low=0, below=limit_t))
    drive = np.asarray(in_range("drive_v", drive_v, "V"))
    ohm_per_turn = in_range("resistance_ohm", resistance_ohm, "ohm", above=0) / in_range(
        "turns", turns, "", above=0
    )
    gap, iron, bend = reluctance_terms(in_range("gap_mm", gap_mm, "mm", low=0), magnet)
    square = ohm_per_turn * gap * bend
    linear = drive * bend + ohm_per_turn * (gap + iron)
    root = np.sqrt(linear * linear - 4 * square * drive)
    far = (linear + np.copysign(root, linear)) / (2 * square)
    near = drive / (square * far)

    def part(pole: Array) -> Array:
        return (1 - bend * pole) * np.log(np.abs((end - pole) / (start - pole)))

    steady = np.where(drive < 0, -inf, near)
    reached = np.where(end > start, end < steady, end > steady)
    with np.errstate(divide="ignore", invalid="ignore"):
        shape = (part(near) - part(far)) / (square * (near - far))
    seconds = np.where(reached, _linkage_vs_per_t(magnet, turns) * shape, inf)
    answer = np.where(end == start, 0.0, seconds)
    return float(answer) if answer.ndim == 0 else answer


def release_transient(
    actuator: Actuator,
    voltage_v: float | None = None,
    *,
    rated_force_n: float | None = None,
    duration_s: float | None = None,
) -> Transient:
    """Return what happens from switching the coil on.

    Parameters
    ----------
    actuator : Actuator
        Magnet, coil, springs and plate.
    voltage_v : float, V
        Direct voltage, above zero; the rated voltage if left out.
    rated_force_n : float, N
        Clamping force at rated torque, of which 90 % and 10 % are taken; the
        force at this gap if left out.
    duration_s : float, s
        When to stop, above zero; twice the time to lift-off if left out.

    Returns
    -------
    Transient
        Times are infinite where the plate does not lift off.

    Raises
    ------
    ValueError
        If an argument is out of range.

    Notes
    -----
    N A λ dB/dt = U - R i; m dv/dt = springs - pull. Source: Faraday, Newton.
    """
    rated = actuator.coil.voltage_v if voltage_v is None else voltage_v
    drive_v = in_range("voltage_v", rated, "V", above=0)
    if duration_s is None:
        duration_s = _release_end_s(actuator, drive_v)
    run = _Run(actuator, drive_v, [0.0, actuator.gap_mm, *[0.0] * 5])
    run.until(in_range("duration_s", duration_s, "s", above=0))
    # Up to lift-off the plate is still, so the fall of torque is a matter of flux alone.
    to_90_s = _fall_s(actuator, drive_v, _pull_at_share_n(actuator, 0.9, rated_force_n))
    to_10_s = _fall_s(actuator, drive_v, _pull_at_share_n(actuator, 0.1, rated_force_n))
    change_s = to_10_s - to_90_s if to_10_s < inf else inf
    return run.result(landing_mm=0.0, delay_s=to_90_s, change_s=change_s)


def application_transient(
    actuator: Actuator,
    switching: Switching = Switching.DC_SIDE,
    voltage_v: float | None = None,
    *,
    varistor_ratio: float = VARISTOR_RATIO,
    diode_drop_v: float = 0.0,
    rated_force_n: float | None = None,
    duration_s: float | None = None,
) -> Transient:
    """Return what happens from switching the coil off, the plate lying on the poles.

    Parameters
    ----------
    actuator : Actuator
        Magnet, coil, springs and plate.
    switching : Switching
        On the AC side the coil freewheels through its rectifier; on the DC
        side a varistor holds its voltage until the current has died.
    voltage_v : float, V
        Direct voltage until then, enough to hold; the rated voltage if left out.
    varistor_ratio : float, dimensionless
        Clamp voltage over rated voltage, DC side, above zero.
    diode_drop_v : float, V
        Forward voltage of the freewheeling diodes, AC side, zero or more.
    rated_force_n : float, N
        Clamping force at rated torque, of which 90 % is taken; the force at
        this gap if left out.
    duration_s : float, s
        When to stop, above zero; when torque is nearly full if left out.

    Returns
    -------
    Transient
        Times are infinite where they are not reached.

    Raises
    ------
    ValueError
        If an argument is out of range or the voltage does not hold the plate.

    Notes
    -----
    N A λ dB/dt = -(U_clamp + R i); m dv/dt = springs - pull. Source: Faraday,
    Newton.
    """
    start_t = _holding_density_t(actuator, voltage_v)
    ratio = in_range("varistor_ratio", varistor_ratio, "", above=0)
    drop_v = in_range("diode_drop_v", diode_drop_v, "V", low=0)
    dc_side = switching is Switching.DC_SIDE
    drive_v = -ratio * actuator.coil.voltage_v if dc_side else -drop_v
    if duration_s is None:
        duration_s = _application_end_s(actuator, start_t, drive_v)
    run = _Run(actuator, drive_v, [start_t, *[0.0] * 6])
    run.until(in_range("duration_s", duration_s, "s", above=0))
    landing_s = run.landed_s(actuator.gap_mm)
    # From the landing on the plate is still, so the rise is a matter of flux alone.
    rise_s = run.rise_s(_pull_at_share_n(actuator, 0.9, rated_force_n))
    return run.result(landing_mm=actuator.gap_mm, delay_s=landing_s, change_s=rise_s)


def _linkage_vs_per_t(magnet: Magnet, turns: float) -> float:
    return turns * magnet.pole_area_cm2 * 1e-4 * magnet.leakage_factor


def _pull_at_share_n(actuator: Actuator, share: float, rated_force_n: float | None) -> float:
    """Return the pull that leaves a share of the rated force on the disc; negative if none can."""
    full_n = actuator.force_of_gap_n(actuator.gap_mm)
    rated_n = full_n if rated_force_n is None else rated_force_n
    return full_n - share * in_range("rated_force_n", rated_n, "N", above=0)


def _flux_time_s(
    actuator: Actuator, start_t: float, pull_n: float, drive_v: float, gap_mm: float
) -> float:
    """Return the time from a flux density to that of a pull, plate held at a gap."""
    end_t = flux_density_for_force_t(pull_n, actuator.magnet)
    if end_t >= actuator.magnet.saturation_t / actuator.magnet.leakage_factor:
        return inf
    circuit = {"resistance_ohm": actuator.resistance_ohm, "turns": actuator.turns}
    return float(flux_time_s(start_t, end_t, gap_mm, drive_v, actuator.magnet, **circuit))


def _fall_s(actuator: Actuator, drive_v: float, pull_n: float) -> float:
    """Return the time from switching on until the pull on the plate, not yet moved, is so much."""
    return _flux_time_s(actuator, 0.0, max(pull_n, 0.0), drive_v, actuator.gap_mm)


def _release_end_s(actuator: Actuator, drive_v: float) -> float:
    """Return twice the time to lift-off, or five time constants if there is none."""
    lift_s = _fall_s(actuator, drive_v, actuator.force_of_gap_n(actuator.gap_mm))
    if lift_s < inf:
        return 2 * lift_s + 0.03
    henry = inductance_h(
        actuator.gap_mm, actuator.magnet, actuator.coil, turns_factor=actuator.turns_factor
    )
    return 5 * float(henry) / actuator.resistance_ohm


def _application_end_s(actuator: Actuator, start_t: float, drive_v: float) -> float:
    """Return the time to drop-out, then to 2 % of that pull at the open gap, and a little more."""
    force_n = actuator.force_of_gap_n(0.0)
    drop_t = flux_density_for_force_t(force_n, actuator.magnet)
    to_drop_s = _flux_time_s(actuator, start_t, force_n, drive_v, 0.0)
    to_end_s = _flux_time_s(actuator, drop_t, 0.02 * force_n, drive_v, actuator.gap_mm)
    return to_drop_s + to_end_s + 0.02


def _holding_density_t(actuator: Actuator, voltage_v: float | None) -> float:
    """Return the steady flux density with the plate on the poles, if that holds it."""
    magnet, coil = actuator.magnet, actuator.coil
    least_v = release_voltage_v(
        0.0,
        actuator.force_of_gap_n(0.0),
        magnet,
        coil,
        actuator.temperature_c,
        resistance_factor=actuator.resistance_factor,
        turns_factor=actuator.turns_factor,
    )
    rated_v = coil.voltage_v if voltage_v is None else voltage_v
    held_v = in_range("voltage_v", rated_v, "V", above=least_v)
    return flux_density_t(0.0, held_v / actuator.resistance_ohm * actuator.turns, magnet)


def _field_energy_j(actuator: Actuator, density_t: float, position_mm: float) -> float:
    """Return the energy of the field in gaps, iron and leakage, J: the integral of i dψ."""
    gap, iron, bend = reluctance_terms(position_mm, actuator.magnet)
    bent = bend * density_t
    in_iron = iron * (-bent - log1p(-bent)) / (bend * bend)
    return _linkage_vs_per_t(actuator.magnet, 1.0) * (float(gap) * density_t**2 / 2 + in_iron)


class _Run:
    """One integration, phase by phase: plate still on a stop, or moving between the two.

    State: flux density (T), position (mm), velocity (m/s), then energies (J): from the
    source, in copper, drawn by the pull, stored in the springs.
    """

    def __init__(self, actuator: Actuator, drive_v: float, state: list[float]) -> None:
        self.actuator, self.drive_v, self.start = actuator, drive_v, state
        self.state = np.array(state)
        self.time_s, self.held, self.current_out = 0.0, True, False
        self.impact_j, self.lift_off_s = 0.0, inf
        self.landing = (inf, 0.0)  # s, T
        self.impact_speed_m_s = 0.0
        self.samples: list[tuple[Array, Array]] = []
        magnet = actuator.magnet
        self.pull_per_t2 = magnet.pole_area_cm2 * 1e-4 / MU_0
        self.lift_t = {
            at_mm: flux_density_for_force_t(actuator.force_of_gap_n(at_mm), magnet)
            for at_mm in (0.0, actuator.gap_mm)
        }

    def until(self, end_s: float) -> None:
        """Integrate from event to event."""
        from scipy.integrate import solve_ivp  # noqa: PLC0415  pages must open fast

        for _ in range(MOST_PHASES):
            events = self._events()
            solution = solve_ivp(
                self._rates(),
                (self.time_s, end_s),
                self.state,
                method="LSODA",
                events=list(events.values()),
                dense_output=True,
                rtol=RELATIVE_TOLERANCE,
                atol=ABSOLUTE_TOLERANCES,
            )
            times = np.linspace(self.time_s, solution.t[-1], SAMPLES_PER_PHASE)
            self.samples.append((times, solution.sol(times)))
            self.time_s, self.state = float(solution.t[-1]), solution.y[:, -1].copy()
            if solution.status == 0:
                return
            fired = (name for name, at in zip(events, solution.t_events, strict=True) if at.size)
            self._turn(next(fired))
        message = f"plate still rattles after {MOST_PHASES} phases at {self.time_s:.4f} s"
        raise RuntimeError(message)

    def _rates(self) -> Callable[[float, Array], list[float]]:
        """Return the right side for this phase, its constants bound."""
        actuator, moving, drive_v = self.actuator, not self.held, self.drive_v
        gap_0, iron, bend = reluctance_terms(0.0, actuator.magnet)
        per_mm = 2e-3 / MU_0
        turns, ohm, mass_kg = actuator.turns, actuator.resistance_ohm, actuator.plate_mass_kg
        linkage, pull_per_t2 = _linkage_vs_per_t(actuator.magnet, turns), self.pull_per_t2
        force_of_gap_n, still_mm = actuator.force_of_gap_n, float(self.state[1])
        still, dead, top_mm = not moving, self.current_out, actuator.gap_mm

        def rates(_: float, state: Array) -> list[float]:
            density, position, velocity = state[:3].tolist()
            reluctance = gap_0 + per_mm * (still_mm if still else position)
            current = density * (reluctance + iron / (1 - bend * density)) / turns
            slope = 0.0 if dead else (drive_v - ohm * current) / linkage
            source, copper = drive_v * current, ohm * current * current
            if still:
                return [slope, 0.0, 0.0, source, copper, 0.0, 0.0]
            spring = force_of_gap_n(min(max(position, 0.0), top_mm))
            pull = density * density * pull_per_t2
            acceleration = (spring - pull) / mass_kg
            work, stored = -pull * velocity, -spring * velocity
            return [slope, 1e3 * velocity, acceleration, source, copper, work, stored]

        return rates

    def _events(self) -> dict[str, Callable[[float, Array], float]]:
        """Return what may end this phase."""
        top_mm, events = self.actuator.gap_mm, {}
        if self.held:
            at_mm = float(self.state[1])
            lift_t = self.lift_t[at_mm]
            events["lift-off"] = _crossing(lambda y: y[0] - lift_t, 1 if at_mm > 0 else -1)
        else:
            events["at magnet"] = _crossing(lambda y: y[1] + OVERSHOOT_MM, -1)
            events["at disc"] = _crossing(lambda y: y[1] - top_mm - OVERSHOOT_MM, 1)
        if self.drive_v < 0 and not self.current_out:
            events["current out"] = _crossing(lambda y: y[0], -1)
        return events

    def _turn(self, event: str) -> None:
        """Take up the next phase after an event."""
        if event == "current out":
            self.state[0], self.current_out = 0.0, True
        elif event == "lift-off":
            self.held = False
            self.lift_off_s = min(self.lift_off_s, self.time_s)
        else:
            self._land(0.0 if event == "at magnet" else self.actuator.gap_mm)

    def _land(self, at_mm: float) -> None:
        """Stop the plate without bounce; it stays if the greater force presses it there."""
        density, speed = float(self.state[0]), abs(float(self.state[2]))
        self.impact_j += self.actuator.plate_mass_kg * speed**2 / 2
        self.state[1], self.state[2] = at_mm, 0.0
        surplus_t = density - self.lift_t[at_mm]
        self.held = surplus_t <= 0 if at_mm > 0 else surplus_t >= 0
        self.landing = (self.time_s, density)
        self.impact_speed_m_s = max(self.impact_speed_m_s, speed)

    def landed_s(self, at_mm: float) -> float:
        """Return when the plate came to rest for good on a stop, infinite if it has not."""
        there = self.held and self.lift_off_s < inf and float(self.state[1]) == at_mm
        return self.landing[0] if there else inf

    def rise_s(self, pull_n: float) -> float:
        """Return the time from landing on the disc until the pull has fallen so far."""
        _, landed_t = self.landing
        if self.landed_s(self.actuator.gap_mm) == inf or pull_n < 0:
            return inf
        if landed_t**2 * self.pull_per_t2 <= pull_n:
            return 0.0
        return _flux_time_s(self.actuator, landed_t, pull_n, self.drive_v, self.actuator.gap_mm)

    def result(self, landing_mm: float, delay_s: float, change_s: float) -> Transient:
        """Return the samples with everything that follows from them."""
        actuator, force_of_gap_n = self.actuator, self.actuator.force_of_gap_n
        time = np.concatenate([times for times, _ in self.samples])
        density, position, velocity = np.hstack([states[:3] for _, states in self.samples])
        density, position = np.maximum(density, 0.0), np.clip(position, 0.0, actuator.gap_mm)
        pull = density**2 * self.pull_per_t2
        spring = np.array([force_of_gap_n(at_mm) for at_mm in position.tolist()])
        landing_s = self.landed_s(landing_mm)
        return Transient(
            time_s=time,
            current_a=ampere_turns(density, position, actuator.magnet) / actuator.turns,
            flux_density_t=density,
            position_mm=position,
            velocity_m_s=velocity,
            pull_n=pull,
            spring_n=spring,
            clamp_n=np.where(position >= actuator.gap_mm, np.maximum(spring - pull, 0.0), 0.0),
            lift_off_s=self.lift_off_s,
            landing_s=landing_s,
            impact_speed_m_s=self.impact_speed_m_s,
            delay_s=delay_s,
            change_s=change_s,
            energy=self._balance(),
        )

    def _balance(self) -> EnergyBalance:
        density, position, velocity, source, copper, work, stored = self.state.tolist()
        on = self.drive_v > 0
        before_j = _field_energy_j(self.actuator, self.start[0], self.start[1])
        return EnergyBalance(
            electrical_j=source if on else 0.0,
            suppression_j=0.0 if on else 0.0 - source,
            copper_j=copper,
            magnetic_j=_field_energy_j(self.actuator, density, position) - before_j,
            spring_j=stored,
            kinetic_j=self.actuator.plate_mass_kg * velocity**2 / 2,
            impact_j=self.impact_j,
            leakage_j=(self.actuator.magnet.leakage_factor - 1) * work,
        )


def _crossing(value: Callable[[Array], float], direction: int) -> Callable[[float, Array], float]:
    """Return an event of `solve_ivp` that ends the phase when a value crosses zero."""

    def event(_: float, state: Array) -> float:
        return value(state)

    event.terminal, event.direction = True, direction  # type: ignore[attr-defined]
    return event

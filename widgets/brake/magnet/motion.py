"""Flux and plate integrated together, phase by phase.

State: flux density, plate position and plate speed. The plate hits either stop without bounce,
the iron has no eddy currents (they lengthen times by some 5 to 30 ms; common practice, no source),
shorted turns are simply gone (the ring they form, which slows the flux, is left out) and the coil
keeps its temperature.
"""

from collections.abc import Callable
from math import inf, log1p

import numpy as np

from . import (
    MU_0,
    ampere_turns,
    flux_density_for_force_t,
    reluctance_terms,
)
from .actuator import Actuator, Array, EnergyBalance, Transient
from .flux_time import _linkage_vs_per_t, flux_time_s

RELATIVE_TOLERANCE = 1e-7
ABSOLUTE_TOLERANCES = (1e-8, 1e-8, 1e-7, 1e-7, 1e-7, 1e-7, 1e-7)  # T, mm, m/s, then J
OVERSHOOT_MM = 1e-6  # how far past a stop a plate must be to have struck it
MOST_PHASES = 100


def _flux_time_s(
    actuator: Actuator, start_t: float, pull_n: float, drive_v: float, gap_mm: float
) -> float:
    """Return the time from a flux density to that of a pull, plate held at a gap."""
    end_t = flux_density_for_force_t(pull_n, actuator.magnet)
    if end_t >= actuator.magnet.saturation_t / actuator.magnet.leakage_factor:
        return inf
    circuit = {"resistance_ohm": actuator.resistance_ohm, "turns": actuator.turns}
    return float(flux_time_s(start_t, end_t, gap_mm, drive_v, actuator.magnet, **circuit))


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

    def __init__(
        self, actuator: Actuator, drive_v: float, state: list[float], samples: int
    ) -> None:
        self.actuator, self.drive_v, self.start = actuator, drive_v, state
        self.state, self.samples_per_phase = np.array(state), samples
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
            times = np.linspace(self.time_s, solution.t[-1], self.samples_per_phase)
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

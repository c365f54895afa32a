"""Print what 100,000 gap planes cost at once, beside a loop over `numpy.linalg.lstsq`.

Run it from the project's folder: .venv/bin/python tests/benchmarks/bench_plane.py
The loop is timed on 2,000 brakes and scaled; the status is 1 if the two disagree or the vectorised
fit is not the faster. Below it, the closed forms of magnet, wear and rules that no other
script times, over the bare NumPy arithmetic of the same run (3 is asked).
"""

import math
import sys
from collections.abc import Callable
from pathlib import Path
from time import perf_counter

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from widgets.brake.gap.profile import fit_planes
from widgets.brake.judgement import conformance_probability
from widgets.brake.magnet import dropout_voltage_v, holding_margin, inductance_h
from widgets.brake.magnet.coil import coil_resistance_ohm
from widgets.brake.sizes.sheet import load_sheet
from widgets.brake.torque import reflected_inertia_kgm2, stopping_distance_mm
from widgets.brake.torque.friction import fade_factor, uniform_pressure_radius_mm
from widgets.brake.wear.growth import stops_until

BRAKES, LOOPED, PLACES = 100_000, 2_000, 8
WANTED = 3.0


def best_of(work: Callable[[], object], repeats: int) -> float:
    """Return the shortest time of many, s."""
    times = []
    for _ in range(repeats):
        start = perf_counter()
        work()
        times.append(perf_counter() - start)
    return min(times)


def planes() -> float:
    """Print the plane fits; return how many times faster the vectorised one is."""
    draw = np.random.default_rng(3)
    angles_deg = np.arange(PLACES) * 360.0 / PLACES
    angles = np.radians(angles_deg)
    design = np.column_stack([np.ones(PLACES), np.cos(angles), np.sin(angles)])
    true = draw.normal([0.6, 0.0, 0.0], [0.05, 0.03, 0.03], (BRAKES, 3))
    readings_mm = true @ design.T + draw.normal(0.0, 0.01, (BRAKES, PLACES))

    def looped() -> np.ndarray:
        return np.array(
            [np.linalg.lstsq(design, row, rcond=None)[0] for row in readings_mm[:LOOPED]]
        )

    np.testing.assert_allclose(fit_planes(angles_deg, readings_mm)[:LOOPED], looped(), atol=1e-12)
    ours_s = best_of(lambda: fit_planes(angles_deg, readings_mm), 20)
    bare_s = best_of(lambda: readings_mm @ np.linalg.pinv(design).T, 20)
    loop_s = best_of(looped, 3) * BRAKES / LOOPED
    print(f"{BRAKES:,} planes of {PLACES} readings each")
    print(f"  ours {ours_s * 1e3:.2f} ms; bare product {bare_s * 1e3:.2f} ms")
    print(f"  loop over lstsq {loop_s * 1e3:,.0f} ms (scaled from {LOOPED:,})")
    print(f"  {loop_s / ours_s:,.0f} times faster than the loop")
    return loop_s / ours_s


def lines() -> list[tuple[str, Callable[[], object], Callable[[], object]]]:
    """Return name, our function and the bare arithmetic, for each closed form left."""
    draw = np.random.default_rng(1)
    cedar = load_sheet().size("Cedar-47")
    magnet, coil, hoist = cedar.magnet, cedar.coil, cedar.hoist
    mu_0 = 4e-7 * math.pi
    force_n = draw.uniform(700, 1200, BRAKES)
    gap_mm = draw.uniform(0.2, 0.8, BRAKES)
    warm_c = draw.uniform(20, 120, BRAKES)
    inner_mm = draw.uniform(30, 60, BRAKES)
    outer_mm = inner_mm + draw.uniform(10, 40, BRAKES)
    torque_nm = draw.uniform(30, 60, BRAKES)
    delay_ms = draw.uniform(20, 400, BRAKES)
    load_kg = draw.uniform(100, 5000, BRAKES)
    speed = draw.uniform(2, 20, BRAKES)
    rpm = draw.uniform(900, 2900, BRAKES)
    growth_mm = draw.uniform(5e-6, 2e-5, BRAKES)
    volts = draw.uniform(80, 100, BRAKES)
    bend = magnet.leakage_factor / magnet.saturation_t
    iron = magnet.leakage_factor * magnet.iron_path_mm * 1e-3 / (mu_0 * 1500)
    closed = 2e-3 * magnet.residual_gap_mm / mu_0

    def drive_for(forces: np.ndarray) -> np.ndarray:
        density = np.sqrt(forces * (mu_0 / (magnet.pole_area_cm2 * 1e-4)))
        return closed * density + iron * density / (1 - bend * density)

    def bare_margin() -> object:
        drive = volts / (coil.resistance_20_ohm * 1.3144) * coil.turns
        half = closed + iron + bend * drive
        density = 2 * drive / (half + np.sqrt(half * half - 4 * closed * bend * drive))
        return density * density * (magnet.pole_area_cm2 * 1e-4 / mu_0) / force_n

    def bare_stop() -> object:
        load_nm = hoist.load_kg * 9.80665 * hoist.speed_m_per_min / (2 * math.pi * hoist.motor_rpm)
        lever_m = hoist.speed_m_per_min / (2 * math.pi * hoist.motor_rpm)
        inertia = hoist.motor_inertia_kgm2 + hoist.load_kg * lever_m**2
        start = hoist.motor_speed_rad_s
        free_s = (delay_ms + hoist.torque_rise_ms / 2) / 1000
        bite = start + load_nm / inertia * free_s
        slip = inertia * bite * bite / 2 / (torque_nm - load_nm)
        return 1000 * lever_m * ((start + bite) / 2 * free_s + slip)

    return [
        (
            "drop-out voltage",
            lambda: dropout_voltage_v(force_n, magnet, coil),
            lambda: drive_for(force_n) * (coil.resistance_20_ohm / coil.turns),
        ),
        ("holding margin", lambda: holding_margin(volts, force_n, magnet, coil), bare_margin),
        (
            "inductance",
            lambda: inductance_h(gap_mm, magnet, coil),
            lambda: coil.turns**2 * magnet.leakage_factor * magnet.pole_area_cm2 * 1e-4
            / (2e-3 / mu_0 * (gap_mm + magnet.residual_gap_mm) + iron),
        ),
        (
            "coil resistance",
            lambda: coil_resistance_ohm(coil, warm_c),
            lambda: coil.resistance_20_ohm * (1 + 0.00393 * (warm_c - 20)),
        ),
        (
            "new radius",
            lambda: uniform_pressure_radius_mm(inner_mm, outer_mm),
            lambda: 2 / 3 * (inner_mm * inner_mm + inner_mm * outer_mm + outer_mm * outer_mm)
            / (inner_mm + outer_mm),
        ),
        (
            "fade",
            lambda: fade_factor(3 * warm_c),
            lambda: np.interp(3 * warm_c, (200, 250, 300, 400), (1.0, 0.85, 0.7, 0.5)),
        ),
        (
            "reflected inertia",
            lambda: reflected_inertia_kgm2(load_kg, speed, rpm),
            lambda: load_kg * (speed / rpm / (2 * math.pi)) ** 2,
        ),
        ("stopping distance", lambda: stopping_distance_mm(hoist, torque_nm, delay_ms), bare_stop),
        (
            "stops until",
            lambda: stops_until(gap_mm, 0.8, growth_mm),
            lambda: np.maximum(0.8 - gap_mm, 0.0) / growth_mm,
        ),
        (
            "chance of conforming",
            lambda: conformance_probability(gap_mm, 0.01, upper=0.8),
            lambda: _normal_below((0.8 - gap_mm) / 0.01),
        ),
    ]  # fmt: skip


def _normal_below(z: np.ndarray) -> object:
    from scipy.special import ndtr

    return ndtr(z)


def main() -> int:
    """Print both tables; return the exit status."""
    faster = planes()
    worst = 0.0
    print(f"{'closed form':21} {'ours ms':>8} {'bare ms':>8} {'ratio':>6}")
    for name, ours, bare in lines():
        np.testing.assert_allclose(ours(), bare(), rtol=1e-4)  # rounded constants in the bare form
        ours_s, bare_s = best_of(ours, 40), best_of(bare, 40)
        worst = max(worst, ours_s / bare_s)
        print(f"{name:21} {ours_s * 1e3:8.3f} {bare_s * 1e3:8.3f} {ours_s / bare_s:6.2f}")
    print(f"worst ratio {worst:.2f}, wanted at most {WANTED:g}")
    return int(faster < 1 or worst > WANTED)


if __name__ == "__main__":
    sys.exit(main())

"""Costs of the magnet, as ratios and times: run it by hand, `python tests/benchmarks/bench_magnet.py`.

Asked for: closed forms of 100,000 brakes within 3 times the bare NumPy arithmetic, one release
transient under 20 ms, an action of the bench under 50 µs.
"""

import math
import timeit

import numpy as np

from widgets.brake.magnet import (
    flux_density_t,
    largest_releasing_gap_mm,
    pull_n,
    release_voltage_v,
)
from widgets.brake.magnet.transient import (
    Actuator,
    Switching,
    application_transient,
    estimated_plate_mass_kg,
    flux_time_s,
    release_transient,
)
from widgets.brake.sizes.sheet import INVENTED, load_sheet
from widgets.brake.torque.clamping import clamping_force_n

BRAKES = 100_000
MU_0 = 4e-7 * math.pi


def best_s(call, number, repeats=7):
    """Return the time of one call, the best of some repeats, s."""
    return min(timeit.repeat(call, number=number, repeat=repeats)) / number


def bare_density(gap_mm, drive_a, magnet):
    """The same quadratic, written for NumPy alone."""
    gap = 2e-3 / MU_0 * (gap_mm + magnet.residual_gap_mm)
    iron = magnet.leakage_factor * magnet.iron_path_mm * 1e-3 / (MU_0 * 1500)
    bend = magnet.leakage_factor / magnet.saturation_t
    half = gap + iron + bend * drive_a
    return (half - np.sqrt(half * half - 4 * gap * bend * drive_a)) / (2 * gap * bend)


def bare_release(gap_mm, force_n, magnet, coil):
    """Release voltage, written for NumPy alone."""
    density = np.sqrt(force_n * MU_0 / (magnet.pole_area_cm2 * 1e-4))
    gap = 2e-3 / MU_0 * (gap_mm + magnet.residual_gap_mm)
    iron = magnet.leakage_factor * magnet.iron_path_mm * 1e-3 / (MU_0 * 1500)
    drive = gap * density + iron * density / (
        1 - magnet.leakage_factor / magnet.saturation_t * density
    )
    return drive * coil.resistance_20_ohm / coil.turns


def main():
    """Print the table."""
    size = next(size for size in load_sheet(INVENTED).sizes if size.name == "Cedar-47")
    magnet, coil = size.magnet, size.coil
    rng = np.random.default_rng(1)
    gaps_mm = rng.uniform(0.2, 1.2, BRAKES)
    drives_a, forces_n = rng.uniform(300, 1200, BRAKES), rng.uniform(700, 1200, BRAKES)

    def springs(gap_mm):
        return clamping_force_n(gap_mm, size.springs, size.gap.setting_mm)

    def line(gap_mm):
        return 1080.0 - 408.0 * (gap_mm - 0.30)

    print(f"{BRAKES} brakes at once, ours over bare NumPy (asked: 3)")
    pairs = {
        "flux density": (
            lambda: flux_density_t(gaps_mm, drives_a, magnet),
            lambda: bare_density(gaps_mm, drives_a, magnet),
        ),
        "pull": (
            lambda: pull_n(gaps_mm, drives_a, magnet),
            lambda: bare_density(gaps_mm, drives_a, magnet) ** 2 * 60e-4 / MU_0,
        ),
        "release voltage": (
            lambda: release_voltage_v(gaps_mm, forces_n, magnet, coil),
            lambda: bare_release(gaps_mm, forces_n, magnet, coil),
        ),
    }
    for name, (ours, bare) in pairs.items():
        ours_s, bare_s = best_s(ours, 20), best_s(bare, 20)
        print(f"  {name:18s} {1e3 * ours_s:6.2f} ms, {ours_s / bare_s:4.2f} times")

    print("one brake")
    singles = {
        "pull": lambda: pull_n(0.3, 1138.0, magnet),
        "release voltage": lambda: release_voltage_v(0.3, 1080.0, magnet, coil, 55.0),
        "flux time": lambda: flux_time_s(
            0.0, 0.475, 0.3, 180.0, magnet, resistance_ohm=623.0, turns=3940
        ),
        "largest gap": lambda: largest_releasing_gap_mm(line, magnet, coil, 162.0),
    }
    for name, call in singles.items():
        print(f"  {name:18s} {1e6 * best_s(call, 500):7.1f} µs")

    print("one transient (asked: release under 20 ms)")
    for name, force_of_gap_n in {"line": line, "clamping_force_n": springs}.items():
        brake = Actuator(0.3, force_of_gap_n, magnet, coil, estimated_plate_mass_kg(size))
        worn = Actuator(0.8, force_of_gap_n, magnet, coil, estimated_plate_mass_kg(size), 100.0)
        runs = {
            "release, set gap": lambda b=brake: release_transient(b),
            "release, worn, hot": lambda b=worn: release_transient(b, 162.0),
            "apply, AC side": lambda b=brake: application_transient(b, Switching.AC_SIDE),
            "apply, DC side": lambda b=brake: application_transient(b),
        }
        for run, call in runs.items():
            print(f"  {run:18s} {1e3 * best_s(call, 5):6.2f} ms, springs by {name}")


if __name__ == "__main__":
    main()

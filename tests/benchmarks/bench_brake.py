"""Print what 100,000 brakes at once cost, beside the bare NumPy arithmetic in the same run.

Run it from the project's folder: .venv/bin/python tests/benchmarks/bench_brake.py
A ratio of 3 or less is wanted for each line; the script ends with status 1 otherwise.
"""

import math
import sys
from collections.abc import Callable
from pathlib import Path
from time import perf_counter

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from widgets.brake.sizes.sheet import load_sheet
from widgets.brake.torque import integrated_stop, load_torque_nm, stop_case
from widgets.brake.torque.braking import braking_torque_nm, holding_ratio, torque_at_gap_nm
from widgets.brake.torque.clamping import clamping_force_n
from widgets.brake.torque.friction import uniform_wear_radius_mm
from widgets.brake.wear.growth import gap_growth_per_stop_mm

BRAKES = 100_000
WANTED = 3.0


def best_of(work: Callable[[], object], repeats: int = 60) -> float:
    """Return the shortest time of many, s: what the work costs when nothing disturbs it."""
    times = []
    for _ in range(repeats):
        start = perf_counter()
        work()
        times.append(perf_counter() - start)
    return min(times)


def lines() -> list[tuple[str, Callable[[], object], Callable[[], object]]]:
    """Return name, our function and the bare arithmetic, for each closed form."""
    draw = np.random.default_rng(1)
    cedar = load_sheet().size("Cedar-47")
    springs, setting_mm = cedar.springs, cedar.gap.setting_mm
    gap_mm = draw.uniform(0.2, 0.9, BRAKES)
    force_n = draw.uniform(300, 2000, BRAKES)
    friction = draw.uniform(0.1, 0.4, BRAKES)
    inner_mm = draw.uniform(30, 60, BRAKES)
    outer_mm = inner_mm + draw.uniform(10, 40, BRAKES)
    radius_mm = (inner_mm + outer_mm) / 2
    torque_nm = draw.uniform(10, 100, BRAKES)
    load_nm = draw.uniform(5, 50, BRAKES)
    load_kg = draw.uniform(100, 5000, BRAKES)
    speed = draw.uniform(2, 20, BRAKES)
    rpm = draw.uniform(900, 2900, BRAKES)
    energy_j = draw.uniform(100, 5000, BRAKES)
    area_mm2 = draw.uniform(4000, 20_000, BRAKES)
    per_load = 9.80665 / (2 * math.pi)

    def bare_force() -> object:
        each = springs.force_each_n - springs.rate_each_n_per_mm * (gap_mm - setting_mm)
        return springs.count * np.maximum(each, 0.0)

    return [
        ("force", lambda: clamping_force_n(gap_mm, springs, setting_mm), bare_force),
        (
            "radius",
            lambda: uniform_wear_radius_mm(inner_mm, outer_mm),
            lambda: (inner_mm + outer_mm) / 2,
        ),
        (
            "torque",
            lambda: braking_torque_nm(force_n, friction, radius_mm),
            lambda: 2 * friction * force_n * radius_mm / 1000,
        ),
        (
            "torque at a gap",
            lambda: torque_at_gap_nm(cedar, gap_mm),
            lambda: 2 * 0.36 * bare_force() * 60.5 / 1000,
        ),
        (
            "holding ratio",
            lambda: holding_ratio(torque_nm, load_nm),
            lambda: torque_nm / load_nm,
        ),
        (
            "load torque",
            lambda: load_torque_nm(load_kg, speed, rpm),
            lambda: load_kg * speed / rpm * per_load,
        ),
        (
            "growth per stop",
            lambda: gap_growth_per_stop_mm(energy_j, area_mm2),
            lambda: energy_j * 100.0 / (1e6 * area_mm2),
        ),
    ]


def main() -> int:
    """Print one line for each closed form, then the single calls; return the exit status."""
    worst = 0.0
    print(f"{BRAKES:,} brakes at once; best of 60")
    print(f"{'closed form':18} {'ours ms':>8} {'bare ms':>8} {'ratio':>6}")
    for name, ours, bare in lines():
        np.testing.assert_allclose(ours(), bare(), rtol=1e-12)
        ours_s, bare_s = best_of(ours), best_of(bare)
        worst = max(worst, ours_s / bare_s)
        print(f"{name:18} {ours_s * 1e3:8.3f} {bare_s * 1e3:8.3f} {ours_s / bare_s:6.2f}")

    cedar = load_sheet().size("Cedar-47")
    one_s = best_of(lambda: clamping_force_n(0.5, cedar.springs, 0.3), 2000)
    case = stop_case(cedar.hoist, torque_at_gap_nm(cedar, 0.3), 37.0)
    stop_s = best_of(lambda: integrated_stop(case), 20)
    print(f"one clamping force {one_s * 1e6:.1f} µs; one integrated stop {stop_s * 1e3:.1f} ms")
    print(f"worst ratio {worst:.2f}, wanted at most {WANTED:g}")
    return int(worst > WANTED)


if __name__ == "__main__":
    sys.exit(main())

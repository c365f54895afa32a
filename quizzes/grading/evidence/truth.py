"""The hidden truth of a brake as it stands: what it asks for, measured without error."""

from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from widgets.bench.setup import Setup
from widgets.bench.standing import gap_now
from widgets.bench.state import State
from widgets.brake.gap.profile import GapField
from widgets.brake.judgement.by_design import Asked, in_its_design
from widgets.brake.judgement.rules import CLAMP_LEAVES, Outcome
from widgets.brake.sizes.size import BrakeSize

TRUE_PLACES = 360  # one a degree: a wave of the faces must not hide between two of them


class TrueGap(NamedTuple):
    """The gap without error, mm: mean, tilt round the rim, extremes, what no screw takes out."""

    mean_mm: float
    tilt_spread_mm: float
    widest_mm: float
    narrowest_mm: float
    left_over_mm: float
    clamped: bool


@lru_cache(maxsize=32)
def _wave(lobes: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    angles = np.radians(np.arange(TRUE_PLACES) * 360.0 / TRUE_PLACES * lobes)
    return np.cos(angles), np.sin(angles)


def true_gap(gap: GapField) -> TrueGap:
    """Return what a measurement without error would make of a gap round the rim."""
    cos, sin = _wave(1)
    plane = gap.plane
    bent: NDArray[np.float64] = np.zeros(TRUE_PLACES)
    waves = [(2, gap.warp_mm, 2 * gap.warp_deg), (3, gap.clamp_wave_mm, 0.0), *gap.texture_mm]
    for lobes, amplitude_mm, phase_deg in waves:
        if amplitude_mm:
            phase = np.radians(phase_deg)
            lobed_cos, lobed_sin = _wave(lobes)
            bent += amplitude_mm * (np.cos(phase) * lobed_cos + np.sin(phase) * lobed_sin)
    whole = plane.mean_mm + plane.cos_mm * cos + plane.sin_mm * sin + bent
    left_over_mm = float(bent.max() - bent.min())
    without = bent - gap.clamp_wave_mm * _wave(3)[0]
    clamped = float(without.max() - without.min()) < CLAMP_LEAVES * left_over_mm
    return TrueGap(
        plane.mean_mm,
        2 * plane.tilt_mm,
        float(whole.max()),
        max(0.0, float(whole.min())),
        left_over_mm,
        clamped,
    )


def true_need(setup: Setup, state: State) -> Outcome:
    """Return what gap and disc of a brake as it stands ask for, measured without error."""
    found, brake = true_gap(gap_now(setup, state)), state.brake
    return _need(setup.size, found, brake.disc.thinnest_mm)


def _need(size: BrakeSize, gap: TrueGap, thinnest_mm: float) -> Outcome:
    limits = size.gap
    bent = gap.left_over_mm > limits.evenness_mm
    if bent and not gap.clamped:
        return Outcome.REFER
    if thinnest_mm < size.disc.min_mm:
        return Outcome.REPLACE
    tilted = gap.tilt_spread_mm > limits.evenness_mm
    wide, tight = gap.widest_mm > limits.max_mm, gap.narrowest_mm < limits.min_mm
    asked = Asked(wide, tight, tilted and not bent, bent)
    outcome = Outcome.ADJUST if bent or tilted or wide or tight else Outcome.FIT
    return in_its_design(size.design, outcome, frozenset(), asked)[0]

"""The magnet and its coil: pull, release, hold, sticking, switching transients."""

from .pull import (
    MU_0,
    ampere_turns,
    flux_density_for_force_t,
    flux_density_t,
    flux_density_unchecked_t,
    inductance_h,
    pull_n,
    reluctance_terms,
)
from .release import (
    SEARCH_STEPS,
    dropout_voltage_v,
    holding_margin,
    largest_releasing_gap_mm,
    release_voltage_v,
)
from .sticking import (
    COERCIVITY_A_PER_M,
    residual_flux_density_t,
    sticking_residual_gap_mm,
    sticks,
    tilt_pull_factor,
)

__all__ = [
    "COERCIVITY_A_PER_M",
    "MU_0",
    "SEARCH_STEPS",
    "ampere_turns",
    "dropout_voltage_v",
    "flux_density_for_force_t",
    "flux_density_t",
    "flux_density_unchecked_t",
    "holding_margin",
    "inductance_h",
    "largest_releasing_gap_mm",
    "pull_n",
    "release_voltage_v",
    "reluctance_terms",
    "residual_flux_density_t",
    "sticking_residual_gap_mm",
    "sticks",
    "tilt_pull_factor",
]

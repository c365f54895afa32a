"""Case families: each draws a brake of one kind from the dice.

Distances to a limit are drawn in standard uncertainties of a competent
reading, far enough that a careful person's own readings must tell.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace

from widgets.brake.condition import Condition, Disc, Three, sound_condition
from widgets.brake.draws import Draws
from widgets.brake.gap import Plane
from widgets.brake.rules import Outcome
from widgets.brake.size import BrakeSize
from widgets.instruments import caliper, feeler

from .case import Case

GAP_U_MM = feeler.budget(0.01, leaves=2).combined  # of a reading with stacks in 0.01 mm steps
DISC_U_MM = caliper.budget().combined
CLEAR_U = 6.0  # standard uncertainties that a case keeps from every limit it does not break
MOST_TAKE_UP_MM = 0.06  # mm, thread play at one screw; common practice, no source
_TEXTURE_LOBES = (5, 7, 11)


def _between(draws: Draws, label: str, low: float, high: float) -> float:
    return low + (high - low) * draws.uniform(label)


def _take_up(draws: Draws) -> Three:
    first, second, third = (
        _between(draws, f"take up {screw}", 0.005, MOST_TAKE_UP_MM) for screw in (1, 2, 3)
    )
    return first, second, third


def _plane(draws: Draws, mean_mm: float, tilt_mm: float) -> Plane:
    turn = draws.uniform("tilt place")
    whole = Plane(mean_mm, tilt_mm, 0.0)
    return Plane(
        mean_mm,
        whole.at_mm(360 * turn) - mean_mm,
        whole.at_mm(360 * turn - 90) - mean_mm,
    )


def _condition(
    draws: Draws, size: BrakeSize, mean_mm: float, tilt_mm: float, disc_mm: float
) -> Condition:
    """Return a brake with an even or tilted gap over a disc, its faces, dust and play drawn."""
    disc = Disc(disc_mm, _between(draws, "taper", 0.0, 0.004), _between(draws, "thick", 0, 360))
    condition = sound_condition(
        size, gap=_plane(draws, mean_mm, tilt_mm), disc=disc, take_up_mm=_take_up(draws)
    )
    texture = tuple(
        (
            lobes,
            _between(draws, f"wave {lobes}", 0.0, 0.0015),
            _between(draws, f"phase {lobes}", 0, 360),
        )
        for lobes in _TEXTURE_LOBES
    )
    return replace(condition, texture_mm=texture, dust_mm=_between(draws, "dust", 0.03, 0.12))


def _small_tilt_mm(draws: Draws, size: BrakeSize) -> float:
    """Return a tilt well within evenness, mm: half of widest less narrowest."""
    return _between(draws, "tilt", 0.0, 0.2) * size.gap.evenness_mm


def _good_disc_mm(draws: Draws, size: BrakeSize) -> float:
    clear_mm = size.disc.min_mm + CLEAR_U * DISC_U_MM + 0.1
    return _between(draws, "disc", max(clear_mm, 0.35 * size.disc.new_mm + 0.65 * size.disc.min_mm),
                    size.disc.new_mm)  # fmt: skip


def in_limits(draws: Draws, size: BrakeSize) -> Condition:
    """Return a brake with nothing wrong: gap between setting and well under the largest."""
    tilt_mm = _small_tilt_mm(draws, size)
    high_mm = size.gap.max_mm - CLEAR_U * GAP_U_MM - tilt_mm - 0.02
    low_mm = size.gap.setting_mm + tilt_mm
    if high_mm <= low_mm:
        raise ValueError("its largest gap lies too near to its setting to be told apart")
    mean_mm = _between(draws, "gap", low_mm, low_mm + 0.8 * (high_mm - low_mm))
    return _condition(draws, size, mean_mm, tilt_mm, _good_disc_mm(draws, size))


def gap_too_large(draws: Draws, size: BrakeSize) -> Condition:
    """Return a brake whose gap has grown past its largest while the disc is good."""
    tilt_mm = _small_tilt_mm(draws, size)
    low_mm = size.gap.max_mm + CLEAR_U * GAP_U_MM + tilt_mm
    mean_mm = _between(draws, "gap", low_mm, low_mm + 0.25 * size.gap.max_mm)
    return _condition(draws, size, mean_mm, tilt_mm, _good_disc_mm(draws, size))


def disc_worn(draws: Draws, size: BrakeSize) -> Condition:
    """Return a brake with its disc at or below its least; the gap tells nothing of it."""
    tilt_mm = _small_tilt_mm(draws, size)
    if draws.uniform("gap was set") < 0.5:
        mean_mm = size.gap.setting_mm + tilt_mm + _between(draws, "gap", 0.0, 0.05)
    else:
        mean_mm = size.gap.max_mm + CLEAR_U * GAP_U_MM + tilt_mm + _between(draws, "gap", 0, 0.2)
    beyond_mm = _between(draws, "beyond", CLEAR_U, 4 * CLEAR_U) * DISC_U_MM
    disc_mm = max(size.disc.min_mm - beyond_mm, 0.8 * size.disc.min_mm)
    return _condition(draws, size, mean_mm, tilt_mm, disc_mm)


Family = Callable[[Draws, BrakeSize], Condition]

FAMILIES: Mapping[str, Family] = {
    "in limits": in_limits,
    "gap too large": gap_too_large,
    "disc worn": disc_worn,
}

# What a competent person finds a brake of each family to need; the grade does not read it.
MEANT: Mapping[str, Outcome] = {
    "in limits": Outcome.FIT,
    "gap too large": Outcome.ADJUST,
    "disc worn": Outcome.REPLACE,
}

_ORDERS = (
    "Periodic inspection. The operator says: “It stops a little later than it used to.”",
    "Periodic inspection. The operator says: “Nothing to complain of.”",
    "Periodic inspection. The operator says: “It clacks louder than the one next door.”",
    "Periodic inspection. The last record cannot be read.",
)
_PLACES = ("bay 2", "the plate store", "the loading dock", "the paint hall", "bay 5")


def draw_case(family: str, size: BrakeSize, seed: bytes) -> Case:
    """Return the case that a seed draws of a family on a size.

    Raises
    ------
    KeyError
        If there is no such family.
    ValueError
        If the limits of the size lie too near to each other for this family.
    """
    draws = Draws(seed)
    try:
        condition = FAMILIES[family](draws.child("condition"), size)
    except ValueError as error:
        raise ValueError(f"size {size.name} cannot carry a case {family!r}: {error}") from None
    # What the operator says is drawn apart from the fault, so that it gives nothing away.
    place, words = draws.choice(_PLACES, "place"), draws.choice(_ORDERS, "order")
    return Case(family, size, condition, seed, f"Hoist in {place}. {words}")

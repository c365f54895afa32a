"""What a model is given: a size of the sheet in force, numbers drawn from the key, dice."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from widgets.brake.draws import Draws
from widgets.brake.judgement.rules import Reading
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.brake.sizes.size import BrakeSize

Value: TypeAlias = float | int | str | tuple[Reading, ...]
Values: TypeAlias = Mapping[str, Value]


class DrawAgainError(ValueError):
    """These numbers make no good question, though others do: the next draw is taken."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """One draw: size, what the item's ranges gave (by name, in the unit of the name), dice."""

    size: BrakeSize
    numbers: Mapping[str, float | str]
    draws: Draws

    def __getitem__(self, name: str) -> float:
        value = self.numbers[name]
        if isinstance(value, str):
            raise ValueError(f"{name} must be a number here, got {value!r:.60}")  # noqa: TRY004
        return value


Compute: TypeAlias = Callable[[Drawn, LimitsSheet], Values]


@dataclass(frozen=True, slots=True)
class Model:
    """A registered pure function: from a draw and the sheet to numbers by name."""

    name: str
    parameters: tuple[str, ...]
    compute: Compute


def collector() -> tuple[dict[str, Model], Callable[..., Callable[[Compute], Compute]]]:
    """Return an empty register and the decorator that fills it."""
    found: dict[str, Model] = {}

    def model(*parameters: str) -> Callable[[Compute], Compute]:
        def register(compute: Compute) -> Compute:
            name = compute.__name__
            found[name] = Model(name, parameters, compute)
            return compute

        return register

    return found, model


def row_values(size: BrakeSize) -> dict[str, Value]:
    """Return the row of the sheet under the names that every text may use."""
    return {
        "size": size.name,
        "gap_min_mm": size.gap.min_mm,
        "gap_setting_mm": size.gap.setting_mm,
        "gap_max_mm": size.gap.max_mm,
        "gap_evenness_mm": size.gap.evenness_mm,
        "disc_new_mm": size.disc.new_mm,
        "disc_min_mm": size.disc.min_mm,
        "lining_new_mm": size.disc.lining_new_mm,
        "lining_min_mm": size.disc.lining_min_mm,
        "rated_torque_nm": size.torque_nm,
        "retaining_torque_nm": size.screws.retaining_torque_nm,
        "pitch_mm": size.screws.pitch_mm,
        "spring_count": size.springs.count,
        "spring_force_each_n": size.springs.force_each_n,
        "spring_rate_each_n_per_mm": size.springs.rate_each_n_per_mm,
        "friction": size.lining.friction,
        "coil_voltage_v": size.coil.voltage_v,
        "coil_resistance_20_ohm": digits(size.coil.resistance_20_ohm),
        "load_kg": digits(size.hoist.load_kg),
    }


def worn_gap_mm(drawn: Drawn) -> float:
    """Return the gap that `gap_share` means: 0 is the setting, 1 the largest allowed; mm, 0.01."""
    gap = drawn.size.gap
    return round(gap.setting_mm + drawn["gap_share"] * (gap.max_mm - gap.setting_mm), 2)


def worn_disc_mm(drawn: Drawn) -> float:
    """Return the disc that `disc_share` means: 0 is new, 1 the least allowed; mm, 0.05."""
    disc = drawn.size.disc
    return round(
        round((disc.new_mm - drawn["disc_share"] * (disc.new_mm - disc.min_mm)) * 20) / 20, 2
    )


def digits(value: float, count: int = 4) -> float:
    """Return a number as `count` digits tell it, as `{name:.4g}` prints it; in its own unit."""
    return float(f"{value:.{count}g}")


def apart(right: float, *others: float, least: float) -> None:
    """Ask for another draw if a wrong number lies within `least` (same unit) of the right one.

    Raises
    ------
    DrawAgainError
        If so.
    """
    near = [other for other in others if abs(other - right) <= least]
    if near:
        raise DrawAgainError(f"{near[0]:g} is not told from {right:g}")

"""What every living scene is made from: a size by name, its figures, its controls, its tables."""

from collections.abc import Mapping
from typing import Any

from widgets.brake.sizes.size import BrakeSize
from widgets.charts.living.brake_tables import widest_gap_mm
from widgets.charts.living.tables import Course, Table

from .brake_explorers import lesson_size
from .explorer import Control

GAP_ENLARGED = "The gap is drawn much larger than life."


def size_figures(size: BrakeSize) -> dict[str, Any]:
    """Return the lengths and ratings from which a section is drawn; none of them is hidden."""
    return {
        "name": size.name,
        "min_mm": size.gap.min_mm,
        "setting_mm": size.gap.setting_mm,
        "max_mm": size.gap.max_mm,
        "evenness_mm": size.gap.evenness_mm,
        "widest_mm": widest_gap_mm(size),
        "coil_v": size.coil.voltage_v,
    }


def drawn_controls(*controls: Control) -> tuple[dict[str, Any], ...]:
    """Return controls as a page draws them, each with where it starts."""
    return tuple({**control.drawn(), "start": control.start} for control in controls)


def plain(named: Mapping[str, Table | Course]) -> dict[str, Any]:
    """Return tables or courses as a message holds them."""
    return {name: one.plain() for name, one in named.items()}


def as_size(size: BrakeSize | str) -> BrakeSize:
    """Return a size, or the one of that name on the sheet in force."""
    return lesson_size(size) if isinstance(size, str) else size

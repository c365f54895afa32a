"""The gap explorer of the lessons: move the gap, watch force, torque, pull and release."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from widgets.bench.view.panel import Panel
from widgets.bench.view.parts import shared_style
from widgets.brake.behaviour import HOT_COIL_C, LOW_SUPPLY
from widgets.brake.clamping import clamping_force_n
from widgets.brake.coil import coil_ampere_turns
from widgets.brake.hoist import load_torque_nm
from widgets.brake.magnet import pull_n, release_voltage_v
from widgets.brake.size import BrakeSize
from widgets.brake.torque import torque_at_gap_nm

from .run import the_sheet

_HERE = Path(__file__).parent
STEP_MM = 0.01


class GapExplorer(Panel):
    """A slider for the gap of one size, with what follows from it."""

    _esm = (_HERE / "gap_explorer.js").read_text(encoding="utf-8")
    _css = shared_style() + (_HERE / "gap_explorer.css").read_text(encoding="utf-8")

    def __init__(self, size: BrakeSize) -> None:
        self._size = size
        self._most_mm = round(1.6 * size.gap.max_mm, 2)
        super().__init__()

    def heard(self, content: Mapping[str, Any]) -> None:
        """Answer a move of the slider, or a page that was just opened."""
        if content.get("ask") == "everything":
            told = self._told(self._size.gap.setting_mm, with_figure=True)
            self.send({**told, "range": [0.0, self._most_mm, STEP_MM]})
            return
        gap_mm = content.get("gap_mm")
        if isinstance(gap_mm, bool) or not isinstance(gap_mm, (int, float)):
            self.send({})
            return
        # A comparison that NaN fails as well: only a gap on the slider is answered.
        if not 0.0 <= gap_mm <= self._most_mm:
            self.send({})
            return
        self.send(self._told(float(gap_mm), with_figure=content.get("final") is True))

    def _told(self, gap_mm: float, *, with_figure: bool) -> dict[str, Any]:
        told: dict[str, Any] = {"gap_mm": gap_mm, "facts": facts(self._size, gap_mm)}
        if with_figure:
            from widgets.charts.force_and_pull import (  # noqa: PLC0415 (matplotlib is slow)
                force_and_pull,
            )

            drawn = force_and_pull(self._size, gap_mm)
            told["figure"] = {"url": drawn.data_url, "alt": drawn.alt}
        return told


def facts(size: BrakeSize, gap_mm: float) -> list[list[str]]:
    """Return what follows from a gap, as name, value with unit, and what it means."""
    hoist, coil = size.hoist, size.coil
    force_n = clamping_force_n(gap_mm, size.springs, size.gap.setting_mm)
    torque_nm = torque_at_gap_nm(size, gap_mm)
    load_nm = load_torque_nm(hoist.load_kg, hoist.speed_m_per_min, hoist.motor_rpm)
    hot_pull_n = pull_n(
        gap_mm, coil_ampere_turns(coil, LOW_SUPPLY * coil.voltage_v, HOT_COIL_C), size.magnet
    )
    share = release_voltage_v(gap_mm, force_n, size.magnet, coil, HOT_COIL_C) / coil.voltage_v
    releases = share <= LOW_SUPPLY
    return [
        ["Springs push", f"{force_n:.0f} N", "less as the gap grows"],
        ["Braking torque", f"{torque_nm:.1f} N·m", f"{torque_nm / load_nm:.2f} times the load"],
        ["Magnet pulls, hot, low mains", f"{hot_pull_n:.0f} N", "at the start of its travel"],
        [
            "Release, hot, low mains",
            "releases" if releases else "does not release",
            f"needs {100 * share:.0f} % of the rated voltage, has {100 * LOW_SUPPLY:.0f} %",
        ],
    ]


def gap_explorer(size_name: str = "Cedar-47") -> GapExplorer:
    """Return the explorer for a size of the sheet in force, or its first size."""
    sheet = the_sheet()
    found = [size for size in sheet.sizes if size.name == size_name]
    return GapExplorer(found[0] if found else sheet.sizes[0])

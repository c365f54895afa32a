"""Springs against magnet: what a growing gap does to both."""

import numpy as np
from numpy.typing import NDArray

from widgets.brake.behaviour import HOT_COIL_C, LOW_SUPPLY
from widgets.brake.magnet import pull_n
from widgets.brake.magnet.coil import coil_ampere_turns
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.torque.clamping import clamping_force_n

from .marks import WIDTH_IN
from .picture import ACCENT, DANGER, INK, PENCIL, Picture, in_style, new_figure, picture


def force_and_pull(size: BrakeSize, gap_mm: float) -> Picture:
    """Return spring force and magnet pull over the gap, with the chosen gap marked.

    Parameters
    ----------
    size : BrakeSize
        The brake.
    gap_mm : float
        The gap to mark, mm, zero or more.
    """
    gaps = np.linspace(0.1, 1.6 * size.gap.max_mm, 160)
    springs = clamping_force_n(gaps, size.springs, size.gap.setting_mm)
    cold = pull_n(gaps, coil_ampere_turns(size.coil), size.magnet)
    weak_v = LOW_SUPPLY * size.coil.voltage_v
    hot = pull_n(gaps, coil_ampere_turns(size.coil, weak_v, HOT_COIL_C), size.magnet)
    with in_style():
        figure = new_figure(WIDTH_IN, 5.2)
        axes = figure.add_subplot()
        axes.plot(gaps, springs, color=INK, label="springs push")
        axes.plot(gaps, cold, color=ACCENT, label="magnet pulls, cold, full voltage")
        axes.plot(gaps, hot, color=ACCENT, ls="--", label="hot, nine tenths of it")
        axes.axvline(size.gap.setting_mm, color=PENCIL, ls=":", lw=2)
        axes.axvline(size.gap.max_mm, color=DANGER, ls="--", lw=1.8)
        axes.axvline(gap_mm, color=INK, lw=4, alpha=0.35)
        top = 3.2 * float(springs[0])
        axes.text(size.gap.setting_mm, top * 0.97, " setting", color=PENCIL, va="top")
        axes.text(size.gap.max_mm, top * 0.97, " largest", color=DANGER, va="top")
        axes.text(gap_mm, top * 0.03, f" {gap_mm:.2f} mm", weight="bold")
        axes.set(xlim=(0, gaps[-1]), ylim=(0, top), xlabel="air gap, mm", ylabel="force, N")
        axes.set_title("A wider gap robs the magnet faster than the springs")
        figure.legend(loc="outside lower center", ncols=2)
        return picture(figure, _alt(size, gap_mm, gaps, springs, hot))


def _alt(
    size: BrakeSize,
    gap_mm: float,
    gaps: NDArray[np.float64],
    springs: NDArray[np.float64],
    hot: NDArray[np.float64],
) -> str:
    beaten = gaps[hot < springs]
    crossing = f"{beaten[0]:.2f} mm" if beaten.size else f"beyond {gaps[-1]:.2f} mm"
    return (
        f"Spring force falls from {springs[0]:.0f} N to {springs[-1]:.0f} N as the gap grows to "
        f"{gaps[-1]:.1f} mm. The magnet’s pull falls far faster; hot and at nine tenths of the "
        f"voltage it drops below the springs at {crossing}. Setting {size.gap.setting_mm:g} mm, "
        f"largest allowed {size.gap.max_mm:g} mm, chosen {gap_mm:.2f} mm."
    )

"""What a growing gap asks of the coil: the voltage that lifts the plate, and the time it takes."""

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

from widgets.brake.behaviour import HOT_COIL_C, LOW_SUPPLY
from widgets.brake.magnet import (
    ampere_turns,
    flux_density_for_force_t,
    release_voltage_v,
)
from widgets.brake.magnet.coil import coil_resistance_ohm
from widgets.brake.magnet.flux_time import flux_time_s
from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.torque.clamping import clamping_force_n

from .marks import WIDTH_IN, Axes, limit_line
from .picture import ACCENT, INK, Picture, in_style, new_figure, picture

COLD_COIL_C = 20.0  # °C, a hoist that has stood; the temperature of a coil's rated resistance
SEARCH_TO_MM = 3.0  # wider is no work for a brake of this kind
WIDEST_SHARE = 1.5  # of the largest gap; beyond it the model's straight springs flatter the magnet


def release_delay_ms(
    size: BrakeSize, gap_mm: float, supply_share: float = 1.0, coil_c: float = COLD_COIL_C
) -> float:
    """Return the time from switching the coil on until the plate leaves the disc, ms.

    Parameters
    ----------
    size : BrakeSize
        The brake.
    gap_mm : float
        Air gap, mm, zero or more.
    supply_share : float
        Voltage at the coil over the rated one, above 0 to 1.5.
    coil_c : float
        Mean temperature of the winding, °C.

    Returns
    -------
    float
        Infinite if the magnet cannot lift the plate at all.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    Rise of the flux to that at which pull and springs are equal, plate still.
    Source: Faraday's law, `flux_time_s`.
    """
    share = in_range("supply_share", supply_share, "", above=0, high=1.5)
    force_n = clamping_force_n(gap_mm, size.springs, size.gap.setting_mm)
    needed_t = flux_density_for_force_t(force_n, size.magnet)
    resistance_ohm = coil_resistance_ohm(size.coil, coil_c)
    voltage_v = share * size.coil.voltage_v
    needed_a = ampere_turns(needed_t, gap_mm, size.magnet) / size.coil.turns
    if not math.isfinite(needed_a) or voltage_v <= needed_a * resistance_ohm:
        return math.inf
    circuit: dict[str, Any] = {"resistance_ohm": resistance_ohm, "turns": size.coil.turns}
    return 1000 * float(flux_time_s(0.0, needed_t, gap_mm, voltage_v, size.magnet, **circuit))


def release_voltage_figure(
    size: BrakeSize,
    gap_mm: float | None = None,
    *,
    supply_share: float = LOW_SUPPLY,
    coil_c: float = HOT_COIL_C,
) -> Picture:
    """Return the voltage that releases the brake over its gap, with what the mains give.

    Parameters
    ----------
    size : BrakeSize
        The brake.
    gap_mm : float, optional
        A gap to mark, mm.
    supply_share : float
        Voltage at the coil over the rated one, above 0 to 1.5.
    coil_c : float
        Temperature of the warm winding, °C.

    Raises
    ------
    ValueError
        If an argument is out of its range.
    """
    share = in_range("supply_share", supply_share, "", above=0, high=1.5)
    gaps = np.linspace(0.02, WIDEST_SHARE * size.gap.max_mm, 160)
    cold, warm = (_needed_percent(size, gaps, celsius) for celsius in (COLD_COIL_C, coil_c))
    with in_style():
        figure = new_figure(WIDTH_IN, 5.0)
        axes = figure.add_subplot()
        axes.plot(gaps, cold, color=ACCENT, ls="--", label=f"coil at {COLD_COIL_C:.0f} °C")
        if abs(coil_c - COLD_COIL_C) > 0.5:
            axes.plot(gaps, warm, color=ACCENT, lw=3, label=f"coil at {coil_c:.0f} °C")
        axes.set(xlim=(0, gaps[-1]), ylim=(0, 130))
        axes.set(xlabel="air gap, mm", ylabel="voltage to release, % of rated")
        axes.axhline(100 * share, color=INK, lw=2)
        words = f"the mains give {100 * share:.0f} %"
        axes.text(0.02 * gaps[-1], 100 * share + 1.5, words, va="bottom", weight="bold")
        _limits_and_gap(axes, size, gap_mm)
        if gap_mm is not None:
            needed = float(_needed_percent(size, np.array([gap_mm]), coil_c)[0])
            axes.plot(gap_mm, min(needed, 128), "D", ms=11, color=INK, zorder=5)
        axes.set_title("A wider gap and a hotter coil ask for more volts")
        figure.legend(loc="outside lower center", ncols=2)
        return picture(figure, _voltage_alt(size, gap_mm, share, coil_c))


def release_time_figure(size: BrakeSize, gap_mm: float | None = None) -> Picture:
    """Return the time that the magnet needs to lift the plate over the gap, cold and hot.

    Parameters
    ----------
    size : BrakeSize
        The brake.
    gap_mm : float, optional
        A gap to mark, mm.
    """
    gaps = np.linspace(0.02, WIDEST_SHARE * size.gap.max_mm, 120)
    hot_words = f"{HOT_COIL_C:.0f} °C, {100 * LOW_SUPPLY:.0f} % voltage"
    cold = [release_delay_ms(size, float(gap)) for gap in gaps]
    hot = [release_delay_ms(size, float(gap), LOW_SUPPLY, HOT_COIL_C) for gap in gaps]
    end_mm = releasing_gap_mm(size, LOW_SUPPLY, HOT_COIL_C)
    top_ms = 1.25 * max(time for time in [*cold, *hot] if math.isfinite(time))
    with in_style():
        figure = new_figure(WIDTH_IN, 5.0)
        axes = figure.add_subplot()
        axes.plot(gaps, cold, color=ACCENT, ls="--", label=f"{COLD_COIL_C:.0f} °C, full voltage")
        axes.plot(gaps, hot, color=ACCENT, lw=3, label=hot_words)
        axes.set(xlim=(0, gaps[-1]), ylim=(0, top_ms))
        axes.set(xlabel="air gap, mm", ylabel="time to release, ms")
        if math.isfinite(end_mm):
            axes.axvspan(end_mm, gaps[-1], facecolor="#ffffff", hatch="//", edgecolor="#9aa5b1")
            place = {"ha": "center", "va": "center", "rotation": 90, "weight": "bold"}
            box = {"facecolor": "white", "edgecolor": "none", "pad": 2}
            middle = (end_mm + gaps[-1]) / 2
            axes.text(middle, top_ms / 2, "hot: never lets go", bbox=box, **place)
        _limits_and_gap(axes, size, gap_mm)
        axes.set_title("The motor pulls against the brake this long")
        figure.legend(loc="outside lower center", ncols=2)
        return picture(figure, _time_alt(size, gap_mm, end_mm))


def releasing_gap_mm(size: BrakeSize, supply_share: float, coil_c: float) -> float:
    """Return the widest gap that is still released, mm; infinite if any up to 3 mm is.

    Parameters
    ----------
    size : BrakeSize
        The brake.
    supply_share : float
        Voltage at the coil over the rated one, above 0 to 1.5.
    coil_c : float
        Mean temperature of the winding, °C.

    Raises
    ------
    ValueError
        If an argument is out of its range.

    Notes
    -----
    The first gap that asks for more voltage than there is, found by halving. The same
    as `magnet.largest_releasing_gap_mm`, without waiting for SciPy on a page.
    """
    percent = 100 * in_range("supply_share", supply_share, "", above=0, high=1.5)
    gaps = np.linspace(0.0, SEARCH_TO_MM, 61)
    beyond = np.flatnonzero(_needed_percent(size, gaps, coil_c) > percent)
    if beyond.size == 0:
        return math.inf
    if beyond[0] == 0:
        return 0.0
    low, high = float(gaps[beyond[0] - 1]), float(gaps[beyond[0]])
    for _ in range(40):  # halvings of a twentieth of a millimetre
        middle = (low + high) / 2
        enough = float(_needed_percent(size, np.array([middle]), coil_c)[0]) <= percent
        low, high = (middle, high) if enough else (low, middle)
    return low


def _needed_percent(
    size: BrakeSize, gaps: NDArray[np.float64], coil_c: float
) -> NDArray[np.float64]:
    force_n = clamping_force_n(gaps, size.springs, size.gap.setting_mm)
    needed_v = release_voltage_v(gaps, force_n, size.magnet, size.coil, coil_c)
    return np.asarray(100 * needed_v / size.coil.voltage_v)


def _limits_and_gap(axes: Axes, size: BrakeSize, gap_mm: float | None) -> None:
    limit_line(axes, size.gap.max_mm, "largest")
    limit_line(axes, size.gap.setting_mm, "setting", danger=False)
    if gap_mm is not None:
        axes.axvline(gap_mm, color=INK, lw=4, alpha=0.3)


def _voltage_alt(size: BrakeSize, gap_mm: float | None, share: float, coil_c: float) -> str:
    at_max = _needed_percent(size, np.array([size.gap.max_mm]), coil_c)[0]
    at_max_cold = _needed_percent(size, np.array([size.gap.max_mm]), COLD_COIL_C)[0]
    warm = f" and at {at_max:.0f} % with one of {coil_c:.0f} °C" if coil_c != COLD_COIL_C else ""
    said = (
        f"At the largest gap of {size.gap.max_mm:g} mm the brake releases at {at_max_cold:.0f} % "
        f"of its rated voltage with a cold coil{warm}. "
        f"The mains give {100 * share:.0f} %."
    )
    if gap_mm is None:
        return said
    needed = _needed_percent(size, np.array([gap_mm]), coil_c)[0]
    verdict = "it releases" if needed <= 100 * share else "it does not release"
    return f"{said} At {gap_mm:.2f} mm it needs {needed:.0f} %: {verdict}."


def _time_alt(size: BrakeSize, gap_mm: float | None, end_mm: float) -> str:
    told = [f"{gap:g} mm: {_in_words(size, gap)}" for gap in (size.gap.setting_mm, size.gap.max_mm)]
    if gap_mm is not None:
        told.append(f"{gap_mm:.2f} mm, chosen: {_in_words(size, gap_mm)}")
    end = f"above {end_mm:.2f} mm" if math.isfinite(end_mm) else "at no gap in view"
    return (
        f"Time from switching on until the plate lifts, by gap. {'; '.join(told)}. Hot and at "
        f"{100 * LOW_SUPPLY:.0f} % voltage the plate is not lifted at all {end}."
    )


def _in_words(size: BrakeSize, gap_mm: float) -> str:
    cold = release_delay_ms(size, gap_mm)
    hot = release_delay_ms(size, gap_mm, LOW_SUPPLY, HOT_COIL_C)
    return f"{_ms(cold)} cold, {_ms(hot)} hot"


def _ms(time_ms: float) -> str:
    return f"{time_ms:.0f} ms" if math.isfinite(time_ms) else "never"

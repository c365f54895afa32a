"""What a stop costs the lining: energy over the gap, and gap and disc over thousands of stops."""

import numpy as np

from widgets.brake.magnet.transient import Switching
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.torque.braking import face_area_mm2
from widgets.brake.wear.growth import (
    DEMO_WEAR_MM3_PER_MJ,
    adjustments_left,
    gap_growth_per_stop_mm,
)

from .marks import OCHRE, WIDTH_IN, limit_line
from .picture import ACCENT, INK, Picture, in_style, new_figure, picture
from .stop_courses import StopOf, how_it_ends

POINTS = 24  # gaps from setting to largest at which a run of wear is followed


def energy_figure(size: BrakeSize) -> Picture:
    """Return the friction energy of one stop from lowering over the gap, DC and AC side."""
    gaps = np.linspace(size.gap.min_mm, 1.3 * size.gap.max_mm, 40)
    with in_style():
        figure = new_figure(WIDTH_IN, 4.8)
        axes = figure.add_subplot()
        told, top_kj = [], 0.0
        for side, colour, dash in (
            (Switching.DC_SIDE, ACCENT, "-"),
            (Switching.AC_SIDE, OCHRE, "--"),
        ):
            drawn_kj = [stop_energy_j(size, float(gap), side) / 1000 for gap in gaps]
            axes.plot(gaps, drawn_kj, color=colour, ls=dash, lw=3, label=f"switched on the {side}")
            at_kj = [
                stop_energy_j(size, g, side) / 1000 for g in (size.gap.setting_mm, size.gap.max_mm)
            ]
            told.append(f"{side}: {at_kj[0]:.2f} kJ and {at_kj[1]:.2f} kJ")
            top_kj = max(top_kj, *drawn_kj)
        axes.set(xlim=(0, gaps[-1]), ylim=(0, 1.15 * top_kj))
        axes.set(xlabel="air gap, mm", ylabel="energy of one stop, kJ")
        limit_line(axes, size.gap.max_mm, "largest")
        limit_line(axes, size.gap.setting_mm, "setting", danger=False)
        axes.set_title("A late or weak stop burns more lining")
        figure.legend(loc="outside lower center", ncols=2)
        alt = f"Friction energy of one stop at setting gap and at largest gap, {'; '.join(told)}."
        return picture(figure, alt)


def wear_figure(
    size: BrakeSize, *, stops_per_day: float, wear_mm3_per_mj: float = DEMO_WEAR_MM3_PER_MJ
) -> Picture:
    """Return gap and disc over the days from a new disc to the least one, with its adjustments.

    Parameters
    ----------
    size : BrakeSize
        The brake and its hoist.
    stops_per_day : float
        Stops from lowering the rated load, 1/day, above 0.
    wear_mm3_per_mj : float
        Volume worn off for the friction energy, mm³/MJ, above 0.

    Raises
    ------
    ValueError
        If an argument is out of its range.
    """
    grown, stops = one_run(size, wear_mm3_per_mj)
    runs = adjustments_left(
        size.disc.new_mm, size.disc.min_mm, size.gap.setting_mm, size.gap.max_mm
    )
    whole, rest = int(runs + 1e-9), runs - int(runs + 1e-9)
    day = stops / stops_per_day
    with in_style():
        figure = new_figure(WIDTH_IN, 6.0)
        above, under = figure.subplots(2, 1, sharex=True)
        for run in range(whole + (rest > 0)):
            share = min(1.0, runs - run)
            kept = grown <= share * grown[-1] + 1e-12
            days, spent_mm = run * day[-1] + day[kept], run * grown[-1] + grown[kept]
            above.plot(days, size.gap.setting_mm + grown[kept], color=ACCENT)
            under.plot(days, size.disc.new_mm - spent_mm, color=INK)
            if run:
                jump = [size.gap.max_mm, size.gap.setting_mm]
                above.plot([days[0]] * 2, jump, color=ACCENT, ls=":", lw=2)
        end_day = float(days[-1])
        above.set(ylim=(0, 1.25 * size.gap.max_mm), ylabel="air gap, mm", xlim=(0, 1.06 * end_day))
        spare = 0.2 * (size.disc.new_mm - size.disc.min_mm)
        under.set(ylim=(size.disc.min_mm - spare, size.disc.new_mm + spare), ylabel="disc, mm")
        limit_line(above, size.gap.max_mm, "largest: adjust", across=True)
        limit_line(under, size.disc.min_mm, "least: replace", across=True, below=True)
        under.set_xlabel(f"days at {stops_per_day:g} stops a day")
        above.set_title("The gap can be set again, the disc cannot")
        alt = (
            f"At {stops_per_day:g} stops a day the gap grows from {size.gap.setting_mm:g} to "
            f"{size.gap.max_mm:g} mm in {day[-1]:.0f} days ({stops[-1]:.0f} stops), then it is set "
            f"again. The disc has room for {runs:.1f} such runs and falls from "
            f"{size.disc.new_mm:g} to {size.disc.min_mm:g} mm in {end_day:.0f} days."
        )
        return picture(figure, alt)


def stop_energy_j(size: BrakeSize, gap_mm: float, side: Switching = Switching.DC_SIDE) -> float:
    """Return the friction energy of a stop from lowering the rated load, J, at a gap, mm."""
    return how_it_ends(size, StopOf("", gap_mm, side)).energy_j


def one_run(
    size: BrakeSize, wear_mm3_per_mj: float = DEMO_WEAR_MM3_PER_MJ
) -> tuple[
    np.ndarray[tuple[int], np.dtype[np.float64]], np.ndarray[tuple[int], np.dtype[np.float64]]
]:
    """Return the growth of the gap, mm, and the stops that made it, from setting to largest.

    Each arrays of shape (n,), from zero. A wider gap costs more energy a stop,
    so the growth quickens; the stops are the integral of that.
    """
    gaps = np.linspace(size.gap.setting_mm, size.gap.max_mm, POINTS)
    area_mm2 = face_area_mm2(size.lining)
    per_stop = np.array(
        [
            gap_growth_per_stop_mm(stop_energy_j(size, float(gap)), area_mm2, wear_mm3_per_mj)
            for gap in gaps
        ]
    )
    steps = np.diff(gaps) * (1 / per_stop[1:] + 1 / per_stop[:-1]) / 2
    return gaps - gaps[0], np.concatenate([[0.0], np.cumsum(steps)])

"""A reading and its doubt: the bracket that a feeler leaves, and a decision near a limit."""

import math
from statistics import NormalDist

import numpy as np

from widgets.brake.judgement.chance import (
    CLOSE_CALL,
    Zone,
    conformance_probability,
    least_distance,
    zone,
)
from widgets.brake.judgement.words import ZONE_WORDS
from widgets.instruments.feeler import GapReading

from .marks import WIDTH_IN, limit_line
from .picture import ACCENT, DANGER, INK, PENCIL, Picture, in_style, new_figure, picture

WHITE = {"facecolor": "white", "alpha": 0.85, "edgecolor": "none", "pad": 1.5}


def bracket_figure(reading: GapReading) -> Picture:
    """Return the leaf that goes, the one that does not, and what the gap may be between them.

    Parameters
    ----------
    reading : GapReading
        The bracket.
    """
    go, no_go = reading.go_mm, reading.no_go_mm
    step, u_mm = no_go - go, reading.uncertainty_mm
    around = np.linspace(go - 1.2 * step, no_go + 1.2 * step, 241)
    soft = NormalDist(0, math.sqrt(max(u_mm**2 - step**2 / 12, 1e-12)))
    shape = [
        (soft.cdf(gap - go) - soft.cdf(gap - no_go))
        for gap in around - reading.estimate_mm + reading.middle_mm
    ]
    with in_style():
        figure = new_figure(WIDTH_IN, 4.6)
        axes = figure.add_subplot()
        axes.fill_between(around, shape, color=ACCENT, alpha=0.2, lw=0)
        axes.plot(around, shape, color=ACCENT)
        bars = {"height": 0.16, "edgecolor": INK, "lw": 1.4}
        start = float(around[0])
        axes.barh(1.28, go - start, left=start, facecolor="#d5dbe2", hatch="//", **bars)
        axes.barh(1.52, no_go - start, left=start, facecolor="#ffffff", hatch="xx", **bars)
        axes.text(go, 1.28, f"  {go:.2f} mm goes in", va="center", weight="bold")
        axes.text(no_go, 1.52, f"  {no_go:.2f} mm does not", va="center", weight="bold")
        axes.errorbar(reading.estimate_mm, 0.5, xerr=2 * u_mm, fmt="D", color=INK, capsize=6, ms=9)
        told = f"{reading.estimate_mm:.3f} ± {2 * u_mm:.3f} mm"
        axes.text(
            reading.estimate_mm, 0.6, told, ha="center", va="bottom", weight="bold", bbox=WHITE
        )
        axes.set(xlim=(start, around[-1]), ylim=(0, 1.7), xlabel="air gap, mm", yticks=[])
        axes.spines["left"].set_visible(False)
        axes.set_title("A feeler gives two numbers, not one")
        alt = (
            f"A stack of {go:.2f} mm goes in, one of {no_go:.2f} mm does not. The gap is anywhere "
            f"between, blurred a little by leaves and hand: estimate {reading.estimate_mm:.3f} "
            f"mm, standard uncertainty {u_mm:.4f} mm; with k = 2 ± {2 * u_mm:.3f} mm."
        )
        return picture(figure, alt)


def rounded_down(limit_mm: float) -> float:
    """Return the largest reading in steps of 0.01 mm that is no more than a limit, mm.

    Examples
    --------
    >>> rounded_down(0.7729), rounded_down(0.785), rounded_down(0.77)
    (0.77, 0.78, 0.77)
    """
    return math.floor(100 * limit_mm + 1e-9) / 100


def near_limit_figure(reading_mm: float, u_mm: float, limit_mm: float) -> Picture:
    """Return where the gap may truly be, how much of that is beyond a limit, and the guard band.

    Parameters
    ----------
    reading_mm : float
        Reading, mm.
    u_mm : float
        Its standard uncertainty, mm, above 0.
    limit_mm : float
        Largest value allowed, mm.

    Raises
    ------
    ValueError
        If a number cannot be.
    """
    within = conformance_probability(reading_mm, u_mm, upper=limit_mm)
    found = zone(reading_mm, u_mm, upper=limit_mm)
    low = min(reading_mm - 4 * u_mm, limit_mm - 4.5 * u_mm)
    high = max(reading_mm + 4 * u_mm, limit_mm + 3 * u_mm)
    guard = limit_mm - least_distance() * u_mm
    true_mm = np.linspace(low, high, 301)
    height = np.exp(-((true_mm - reading_mm) ** 2) / (2 * u_mm**2))
    with in_style():
        figure = new_figure(WIDTH_IN, 5.0)
        axes = figure.add_subplot()
        band = {"facecolor": "#ffffff", "hatch": "..", "edgecolor": "#b4bcc6", "lw": 0}
        axes.axvspan(guard, limit_mm, ymax=0.72, **band)
        axes.plot(true_mm, height, color=ACCENT)
        inside = true_mm <= limit_mm
        axes.fill_between(true_mm, height, where=inside, color=ACCENT, alpha=0.2, lw=0)
        bad = {"facecolor": "#f6dcda", "hatch": "xx", "edgecolor": DANGER, "lw": 0}
        axes.fill_between(true_mm, height, where=~inside, label="beyond the limit", **bad)
        axes.plot([reading_mm] * 2, [0, 1.0], color=INK, lw=2.4)
        axes.plot(reading_mm, 1.0, "D", color=INK, ms=9)
        axes.set(xlim=(low, high), ylim=(0, 1.62), yticks=[], xlabel="true gap, mm")
        axes.spines["left"].set_visible(False)
        limit_line(axes, limit_mm, "largest allowed", along=0.7)
        limit_line(axes, guard, "carry on up to here", danger=False, along=0.7)
        told = f"read {reading_mm:.2f} mm ± {2 * u_mm:.3f} mm: {ZONE_WORDS[found]}"
        said = f"{100 * within:.1f} % sure to be within, {100 * (1 - within):.1f} % beyond"
        for line, at in ((told, 0.985), (said, 0.905)):
            axes.text(0.01, at, line, transform=axes.transAxes, va="top", weight="bold", bbox=WHITE)
        axes.set_title("Inside the limit is not yet safely inside")
        alt = (
            f"Reading {reading_mm:.3f} mm, standard uncertainty {u_mm:.4f} mm, largest allowed "
            f"{limit_mm:g} mm. The chance that the true gap is within the limit is "
            f"{100 * within:.1f} %. Carry on only up to {rounded_down(guard):.2f} mm: "
            f"{ZONE_WORDS[found]}."
        )
        return picture(figure, alt)


def chance_figure(u_fine_mm: float, u_coarse_mm: float, limit_mm: float) -> Picture:
    """Return the chance of being within a limit over the reading, for two ways of measuring.

    Parameters
    ----------
    u_fine_mm, u_coarse_mm : float
        Standard uncertainties, mm, above 0.
    limit_mm : float
        Largest value allowed, mm.

    Raises
    ------
    ValueError
        If an uncertainty is not above 0.
    """
    wide = 5 * max(u_fine_mm, u_coarse_mm)
    read_mm = np.linspace(limit_mm - wide, limit_mm + 0.7 * wide, 201)
    with in_style():
        figure = new_figure(WIDTH_IN, 5.0)
        axes = figure.add_subplot()
        told = []
        looks = ((u_fine_mm, ACCENT, "-", 12, "left"), (u_coarse_mm, INK, "--", -12, "right"))
        for u_mm, colour, dash, aside, align in looks:
            chance = 100 * np.asarray(conformance_probability(read_mm, u_mm, upper=limit_mm))
            edge = limit_mm - least_distance() * u_mm
            axes.plot(read_mm, chance, color=colour, ls=dash, label=f"u = {u_mm:.4f} mm")
            at_edge = 100 * conformance_probability(edge, u_mm, upper=limit_mm)
            axes.plot(edge, at_edge, "D", color=colour, ms=10)
            axes.annotate(
                f"{rounded_down(edge):.2f} mm",
                (edge, at_edge),
                (aside, -4),
                textcoords="offset points",
                ha=align,
                va="top" if aside < 0 else "center",
                color=colour,
                weight="bold",
                bbox=WHITE,
            )
            told.append(f"with u = {u_mm:.4f} mm carry on up to {rounded_down(edge):.2f} mm")
        axes.set(xlim=(read_mm[0], read_mm[-1]), ylim=(0, 108))
        axes.set(xlabel="gap as read, mm", ylabel="chance to be within, %")
        axes.axhline(50, color=PENCIL, lw=1)
        limit_line(axes, limit_mm, "largest allowed", along=0.45)
        axes.set_title("A finer reading lets you go closer to the limit")
        figure.legend(loc="outside lower center", ncols=2)
        alt = (
            f"Chance that the gap is within {limit_mm:g} mm, over the reading. At the limit it is "
            f"a half, however fine the gauge; {'; '.join(told)}."
        )
        return picture(figure, alt)


def said_of(found: Zone) -> str:
    """Return what may be done on a reading in a zone, in a few words."""
    return {
        Zone.CONTINUE: "carry on",
        Zone.GUARD: f"within, but by less than the guard band (over {CLOSE_CALL:g} u): act, or "
        "measure again, finer",
        Zone.CLOSE: "cannot be told: act, or measure again, finer",
        Zone.BEYOND: "act: adjust or replace",
    }[found]

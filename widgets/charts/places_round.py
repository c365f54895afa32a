"""Where to gauge: what three, four and eight places round the rim see of one and the same gap."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from widgets.brake.gap.profile import GapField, fit_plane
from widgets.brake.sizes.size import GapLimits

from .marks import WIDTH_IN, Axes, limit_line
from .picture import ACCENT, INK, Picture, in_style, new_figure, picture

PLACES = (3, 4, 8)


@dataclass(frozen=True, slots=True)
class Seen:
    """What a number of places shows, mm: widest, tilt from widest to narrowest, what is left."""

    places: int
    widest_mm: float
    tilt_spread_mm: float
    left_over_mm: float


def seen_at(field: GapField, places: int, first_deg: float = 0.0) -> Seen:
    """Return what equal places round the rim would show of a gap, read without error.

    Parameters
    ----------
    field : GapField
        The gap.
    places : int
        How many, 3 to 72, evenly spaced.
    first_deg : float
        Where the first lies, degrees.

    Raises
    ------
    ValueError
        If there are fewer than three places.
    """
    angles = [first_deg + 360 * place / places for place in range(places)]
    fit = fit_plane(angles, [field.at_mm(angle) for angle in angles])
    widest_mm = float(fit.readings_mm.max())
    return Seen(places, widest_mm, 2 * fit.plane.tilt_mm, fit.residual_spread_mm)


def places_figure(
    field: GapField, limits: GapLimits, counts: Sequence[int] = PLACES, first_deg: float = 0.0
) -> Picture:
    """Return one gap three times, gauged at more and more places.

    Parameters
    ----------
    field : GapField
        The gap.
    limits : GapLimits
        Its largest value, mm.
    counts : sequence of int
        How many places in each part of the figure, 3 or more each.
    first_deg : float
        Where the first place lies, degrees.

    Raises
    ------
    ValueError
        If a count is below three.
    """
    round_deg = np.linspace(0, 360, 181)
    true_mm = [field.at_mm(float(angle)) for angle in round_deg]
    top = 1.18 * max([limits.max_mm, *true_mm])
    with in_style():
        figure = new_figure(WIDTH_IN, 2.0 + 1.75 * len(counts))
        panels = np.atleast_1d(figure.subplots(len(counts), 1, sharex=True))
        told = [seen_at(field, places, first_deg) for places in counts]
        for axes, seen in zip(panels, told, strict=True):
            axes.plot(round_deg, true_mm, color=INK, lw=1.8, label="the gap as it is")
            axes.set(xlim=(-4, 364), ylim=(0, top), ylabel="gap, mm")
            _gauged(axes, field, seen.places, first_deg)
            limit_line(axes, limits.max_mm, "largest", across=True)
            said = f"{seen.places} places: widest {seen.widest_mm:.2f} mm"
            if seen.places >= 5:
                said += f", {seen.left_over_mm:.2f} mm is not a tilt"
            box = {"facecolor": "white", "edgecolor": "none", "pad": 2}
            axes.text(0.02, 0.06, said, transform=axes.transAxes, weight="bold", bbox=box)
        panels[-1].set_xticks(range(0, 361, 60))
        panels[-1].set_xlabel("place round the rim, degrees from screw 1")
        alone = f"What {counts[0]} places see"
        panels[0].set_title("Few places miss the widest one" if len(counts) > 1 else alone)
        handles = panels[0].get_legend_handles_labels()
        figure.legend(*handles, loc="outside lower center", ncols=2)
        return picture(figure, _alt(true_mm, told))


def _gauged(axes: Axes, field: GapField, places: int, first_deg: float) -> None:
    at_deg = [(first_deg + 360 * place / places) % 360 for place in range(places)]
    axes.vlines(at_deg, 0, [field.at_mm(angle) for angle in at_deg], color=ACCENT, lw=3, alpha=0.4)
    axes.plot(at_deg, [field.at_mm(a) for a in at_deg], "D", color=ACCENT, label="gauged here")


def _alt(true_mm: Sequence[float], told: Sequence[Seen]) -> str:
    said = "; ".join(
        f"{seen.places} places find {seen.widest_mm:.2f} mm at the widest and a tilt of "
        f"{seen.tilt_spread_mm:.2f} mm"
        + (f", and {seen.left_over_mm:.2f} mm that no tilt explains" if seen.places >= 5 else "")
        for seen in told
    )
    return f"The gap runs from {min(true_mm):.2f} to {max(true_mm):.2f} mm round the rim. {said}."

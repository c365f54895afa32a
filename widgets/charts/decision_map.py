"""Fit, adjust or replace: what an even gap and a disc reading lead to, with the doubt drawn in."""

from itertools import pairwise

from widgets.brake.judgement.chance import least_distance
from widgets.brake.judgement.rules import Outcome, Reading, conclude
from widgets.brake.sizes.size import BrakeSize

from .marks import WIDTH_IN, Axes, limit_line
from .picture import INK, Picture, in_style, new_figure, picture

PLACES = 8  # round the rim, all with the same gap
# Fill, hatch and word of each outcome: told apart without its colour.
LOOKS = {
    Outcome.FIT: ("#ffffff", "", "fit"),
    Outcome.ADJUST: ("#cfe6e6", "//", "adjust"),
    Outcome.REPLACE: ("#f1dcc0", "xx", "replace the disc"),
    Outcome.REFER: ("#e3e3e3", "..", "refer"),
}


def decision_map(
    size: BrakeSize,
    *,
    gap_u_mm: float,
    disc_u_mm: float,
    reading: tuple[float, float] | None = None,
) -> Picture:
    """Return the map of outcomes over gap and disc readings of a size.

    Parameters
    ----------
    size : BrakeSize
        Whose limits.
    gap_u_mm, disc_u_mm : float
        Standard uncertainty of a gap reading and of a disc reading, mm, above 0.
    reading : (float, float), optional
        Widest gap and thinnest disc of one brake, mm, marked with its ± 2 u.

    Raises
    ------
    ValueError
        If an uncertainty is not above 0.

    Notes
    -----
    The borders are those of the rule itself (`rules.conclude`): it is asked
    once in each field between them, for an even gap.
    """
    gaps = _edges(size.gap.min_mm, size.gap.max_mm, gap_u_mm, 1.45 * size.gap.max_mm)
    low_mm = size.disc.min_mm - 0.25 * (size.disc.new_mm - size.disc.min_mm)
    top_mm = size.disc.new_mm + 0.06 * (size.disc.new_mm - size.disc.min_mm)
    discs = [low_mm, size.disc.min_mm + least_distance() * disc_u_mm, top_mm]
    found: dict[Outcome, tuple[float, float]] = {}
    with in_style():
        figure = new_figure(WIDTH_IN, 5.4)
        axes = figure.add_subplot()
        for left, right in pairwise(gaps):
            for under, over in pairwise(discs):
                middle = ((left + right) / 2, (under + over) / 2)
                outcome = _outcome(size, *middle, gap_u_mm, disc_u_mm)
                fill, hatch, _ = LOOKS[outcome]
                axes.fill_between(
                    (left, right),
                    under,
                    over,
                    facecolor=fill,
                    hatch=hatch,
                    edgecolor="#9aa5b1",
                    lw=0,
                )
                widest = found.get(outcome, (0.0, 0.0))
                if right - left > widest[1]:
                    found[outcome] = (middle[0], right - left)
        _words(axes, found, discs)
        axes.set(xlim=(0, gaps[-1]), ylim=(low_mm, top_mm))
        axes.set(xlabel="gap at its widest, mm", ylabel="disc at its thinnest, mm")
        axes.grid(visible=False)
        limit_line(axes, size.gap.max_mm, "largest gap")
        limit_line(axes, size.gap.min_mm, "least gap", danger=False)
        limit_line(axes, size.disc.min_mm, "least disc", across=True, below=True)
        if reading:
            _mark(axes, reading, gap_u_mm, disc_u_mm)
        axes.set_title("The disc decides first, then the gap")
        return picture(figure, _alt(size, gaps, discs, (gap_u_mm, disc_u_mm), reading))


def _edges(low_mm: float, high_mm: float, u_mm: float, end_mm: float) -> list[float]:
    """Return where the outcome of an even gap changes, from zero to the edge of the map, mm."""
    return [0.0, low_mm, high_mm - least_distance() * u_mm, end_mm]


def _outcome(
    size: BrakeSize, gap_mm: float, disc_mm: float, gap_u_mm: float, disc_u_mm: float
) -> Outcome:
    gaps = [Reading(360 * place / PLACES, gap_mm, gap_u_mm) for place in range(PLACES)]
    found = conclude(size, gaps, [Reading(0.0, disc_mm, disc_u_mm)]).outcome
    if found is None:
        raise ValueError("gap_u_mm and disc_u_mm must let a reading be judged")
    return found


def _words(axes: Axes, found: dict[Outcome, tuple[float, float]], discs: list[float]) -> None:
    """Write each outcome into its widest field, on paper of its own."""
    for outcome, (middle_mm, _) in found.items():
        height = (discs[0] + discs[1]) / 2 if outcome is Outcome.REPLACE else sum(discs[1:]) / 2
        box = {"facecolor": "white", "edgecolor": INK, "boxstyle": "square,pad=0.35", "lw": 1}
        place = {"ha": "center", "va": "center", "fontsize": 14}
        axes.text(middle_mm, height, LOOKS[outcome][2], weight="bold", bbox=box, **place)


def _mark(axes: Axes, reading: tuple[float, float], gap_u_mm: float, disc_u_mm: float) -> None:
    bars = {"xerr": 2 * gap_u_mm, "yerr": 2 * disc_u_mm, "capsize": 5, "color": INK}
    axes.errorbar(*reading, fmt="D", ms=10, **bars, zorder=5)


def _alt(
    size: BrakeSize,
    gaps: list[float],
    discs: list[float],
    u_mm: tuple[float, float],
    reading: tuple[float, float] | None,
) -> str:
    said = (
        f"Map of decisions for {size.name}. Disc below {discs[1]:.2f} mm: replace it, whatever the "
        f"gap. Else gap below {gaps[1]:.2f} mm or above {gaps[2]:.2f} mm: adjust; between them: "
        f"fit. The borders lie inside the limits ({size.disc.min_mm:g} mm and {size.gap.max_mm:g} "
        f"mm), because a reading has a standard uncertainty of {u_mm[0]:.4f} mm (gap) and "
        f"{u_mm[1]:.3f} mm (disc)."
    )
    if reading is None:
        return said
    outcome = LOOKS[_outcome(size, *reading, *u_mm)][2]
    return f"{said} The brake marked, {reading[0]:.2f} mm and {reading[1]:.2f} mm: {outcome}."

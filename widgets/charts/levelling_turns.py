"""An uneven gap before and after the three turns that level it."""

import math
from collections.abc import Sequence

import numpy as np

from widgets.brake.gap.levelling import ScrewTurn, levelling_turns
from widgets.brake.gap.profile import SCREW_ANGLES_DEG, GapFit, fit_plane
from widgets.brake.judgement.rules import Reading
from widgets.brake.sizes.size import BrakeSize

from .marks import WIDTH_IN, Axes, limit_line
from .picture import ACCENT, INK, PENCIL, Picture, in_style, new_figure, picture


def levelling_turns_figure(
    size: BrakeSize, readings: Sequence[Reading], after: Sequence[Reading] = ()
) -> Picture:
    """Return the gap round the rim as read, and what three turns of the screws make of it.

    Parameters
    ----------
    size : BrakeSize
        Limits, screws and their pitch.
    readings : sequence of Reading
        Before adjusting, at three places or more.
    after : sequence of Reading, optional
        Read again after locking; if none, what the turns promise is drawn.

    Raises
    ------
    ValueError
        If the readings are too few for a plane.
    """
    fit = fit_plane(
        [reading.angle_deg for reading in readings],
        [reading.value_mm for reading in readings],
        math.sqrt(sum(reading.u_mm**2 for reading in readings) / max(len(readings), 1)),
    )
    screws = size.screws
    turns = levelling_turns(fit.plane, size.gap.setting_mm, screws.radius_ratio, screws.pitch_mm)
    left_mm = [reading.value_mm for reading in after] or [
        size.gap.setting_mm + float(rest) for rest in fit.residuals_mm
    ]
    at_deg = [reading.angle_deg for reading in (after or readings)]
    with in_style():
        figure = new_figure(WIDTH_IN, 5.0)
        axes = figure.add_subplot()
        _draw_before(axes, fit, readings)
        said = "read again, locked" if after else "what the turns promise"
        axes.plot(at_deg, left_mm, "o", color=ACCENT, mfc="white", mew=2, label=said)
        top_mm = 1.28 * max([size.gap.max_mm, *fit.readings_mm.tolist()])
        axes.set(xlim=(-22, 382), ylim=(0, top_mm))
        axes.set_xticks(range(0, 361, 60))
        axes.set(xlabel="place round the rim, degrees from screw 1", ylabel="air gap, mm")
        limit_line(axes, size.gap.max_mm, "largest", across=True)
        limit_line(axes, size.gap.setting_mm, "setting", across=True, danger=False, below=True)
        _draw_turns(axes, fit, turns, size.gap.setting_mm, top_mm)
        axes.set_title("Three turns, each its own, level the gap")
        figure.legend(loc="outside lower center", ncols=2)
        return picture(figure, _alt(fit, turns, left_mm, after=bool(after)))


def _draw_before(axes: Axes, fit: GapFit, readings: Sequence[Reading]) -> None:
    round_deg = np.linspace(0, 360, 121)
    plane_mm = [fit.plane.at_mm(float(angle)) for angle in round_deg]
    axes.plot(round_deg, plane_mm, color=INK, ls="--", label="plane through them")
    axes.errorbar(
        [reading.angle_deg for reading in readings],
        [reading.value_mm for reading in readings],
        yerr=[2 * reading.u_mm for reading in readings],
        fmt="D",
        ms=7,
        color=INK,
        capsize=4,
        label="as found, ± 2 u",
    )


def _draw_turns(
    axes: Axes, fit: GapFit, turns: Sequence[ScrewTurn], setting_mm: float, top_mm: float
) -> None:
    for turn, angle in zip(turns, SCREW_ANGLES_DEG, strict=True):
        start = fit.plane.at_mm(angle)
        arrow = {"arrowstyle": "-|>", "color": PENCIL, "lw": 2, "shrinkA": 9, "shrinkB": 7}
        if abs(start - setting_mm) > 0.05 * top_mm:
            axes.annotate("", (angle, setting_mm), (angle, start), arrowprops=arrow)
        way = "leave it"
        if abs(turn.turn_deg) >= 0.5:
            way = f"{abs(turn.turn_deg):.0f}° {'out' if turn.turn_deg > 0 else 'in'}"
        words = f"screw {turn.screw}\n{way}"
        place = {"ha": "center" if angle else "left", "va": "top", "fontsize": 12}
        axes.text(angle or -16, top_mm * 0.985, words, weight="bold", **place)


def _alt(fit: GapFit, turns: Sequence[ScrewTurn], left_mm: Sequence[float], *, after: bool) -> str:
    low, high = float(fit.readings_mm.min()), float(fit.readings_mm.max())
    told = "Read again after locking" if after else "What the plane leaves over"
    return (
        f"Gap round the rim as found: {low:.2f} to {high:.2f} mm, mean {fit.plane.mean_mm:.3f} mm, "
        f"widest towards {fit.plane.widest_deg:.0f}°. {'; '.join(turn.words for turn in turns)}. "
        f"{told}: {min(left_mm):.3f} to {max(left_mm):.3f} mm."
    )

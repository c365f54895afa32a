"""The gap round the rim: readings with their uncertainty beside the truth and the limits."""

import math
from collections.abc import Sequence
from functools import lru_cache

from widgets.brake.gap.profile import GapField
from widgets.brake.judgement.rules import Reading
from widgets.brake.sizes.size import GapLimits

from .picture import ACCENT, DANGER, INK, PENCIL, Picture, in_style, new_figure, picture


def gap_round(
    truth: GapField, readings: Sequence[Reading], limits: GapLimits, title: str
) -> Picture:
    """Return a polar chart of a gap: where it was read, what it was, what is allowed.

    Parameters
    ----------
    truth : GapField
        The gap as it was; shown only after a job is handed over.
    readings : sequence of Reading
        What the person wrote down, each with its standard uncertainty; bars are ± 2 u.
    limits : GapLimits
        Setting and largest gap, mm.
    title : str
        What the figure says.
    """
    return _drawn(truth, tuple(readings), limits, title)


@lru_cache(maxsize=16)  # on the stage the gap as found stays, while the one as left moves
def _drawn(
    truth: GapField, readings: tuple[Reading, ...], limits: GapLimits, title: str
) -> Picture:
    with in_style():
        figure = new_figure(6.4, 6.6, laid_out=False)
        axes = figure.add_axes((0.09, 0.17, 0.82, 0.74), projection="polar")
        axes.set_theta_zero_location("N")
        axes.set_theta_direction(-1)
        round_deg = [5.0 * step for step in range(73)]
        turn = [math.radians(angle) for angle in round_deg]
        truth_mm = [truth.at_mm(angle) for angle in round_deg]
        axes.plot(turn, truth_mm, color=INK, label="the true gap")
        axes.plot(
            turn, [limits.max_mm] * 73, color=DANGER, ls="--", lw=1.8, label="largest allowed"
        )
        axes.plot(turn, [limits.setting_mm] * 73, color=PENCIL, ls=":", lw=2, label="setting")
        if readings:
            axes.errorbar(
                [math.radians(reading.angle_deg) for reading in readings],
                [reading.value_mm for reading in readings],
                yerr=[2 * reading.u_mm for reading in readings],
                fmt="D",
                color=ACCENT,
                capsize=5,
                label="your readings, ± 2 u",
            )
        axes.set_rlim(0, 1.1 * max([limits.max_mm, *truth_mm]))
        axes.set_rlabel_position(22.5)
        figure.suptitle(title, x=0.02, y=0.985, ha="left", weight="bold", fontsize=14)
        figure.legend(loc="lower center", ncols=2)
        return picture(figure, _alt(truth_mm, readings, limits))


def _alt(truth_mm: Sequence[float], readings: Sequence[Reading], limits: GapLimits) -> str:
    said = (
        f"The true gap runs from {min(truth_mm):.2f} to {max(truth_mm):.2f} mm; "
        f"setting {limits.setting_mm:g} mm, largest allowed {limits.max_mm:g} mm."
    )
    if not readings:
        return f"{said} No reading was written down."
    values = [reading.value_mm for reading in readings]
    return (
        f"{said} {len(readings)} readings were written down, "
        f"from {min(values):.2f} to {max(values):.2f} mm."
    )

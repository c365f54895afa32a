"""One tilted gap, and what is left of it on brakes that are set in different ways."""

from collections.abc import Mapping

import numpy as np

from widgets.brake.gap.levelling import best_setting
from widgets.brake.gap.profile import Plane
from widgets.brake.sizes.design import DESIGN_WORDS, Design
from widgets.brake.sizes.size import BrakeSize

from .marks import OCHRE, WIDTH_IN, limit_line
from .picture import ACCENT, INK, PENCIL, Picture, in_style, new_figure, picture

STEP_MM = 0.05  # mm, of a shim and of a notch; common practice, no source
LOOKS: Mapping[Design, tuple[str, str | tuple[int, tuple[float, ...]], str]] = {
    Design.HOLLOW_SCREWS: (ACCENT, "-", "levelled"),
    Design.SHIMS: (OCHRE, (0, (5, 2)), "levelled to within a shim"),
    Design.ADJUSTING_RING: (INK, (0, (8, 2, 1.5, 2)), "mean set, tilt kept"),
    Design.FIXED: (PENCIL, (0, (1.5, 1.5)), "as found"),
}


def set_by_design_figure(size: BrakeSize, found: Plane, step_mm: float = STEP_MM) -> Picture:
    """Return one gap as found, and as each design can be set at best.

    Parameters
    ----------
    size : BrakeSize
        Its limits and circles.
    found : Plane
        The gap as found.
    step_mm : float
        What a shim or a notch moves, mm, above 0.

    Raises
    ------
    ValueError
        If `step_mm` is not above 0.
    """
    limits, ratio = size.gap, size.screws.radius_ratio
    left = {
        design: best_setting(design, found, limits.setting_mm, ratio, step_mm) for design in LOOKS
    }
    at_deg = np.linspace(0, 360, 121)
    with in_style():
        figure = new_figure(WIDTH_IN, 4.6)
        axes = figure.add_subplot()
        for design, (colour, dash, words) in LOOKS.items():
            round_mm = [left[design].at_mm(float(angle)) for angle in at_deg]
            name = f"{DESIGN_WORDS[design]}: {words}"
            axes.plot(at_deg, round_mm, color=colour, ls=dash, lw=2.4, label=name)
        top_mm = 1.15 * max(limits.max_mm, found.mean_mm + found.tilt_mm)
        axes.set(xlim=(0, 360), ylim=(0, top_mm))
        axes.set_xticks(range(0, 361, 60))
        axes.set(xlabel="place round the rim, degrees from screw 1", ylabel="air gap, mm")
        limit_line(axes, limits.max_mm, "largest", across=True)
        limit_line(axes, limits.setting_mm, "setting", across=True, danger=False, below=True)
        axes.set_title("What each way of setting makes of one tilted gap")
        figure.legend(loc="outside lower center", ncols=1)
        return picture(figure, _alt(size, found, left))


def _alt(size: BrakeSize, found: Plane, left: Mapping[Design, Plane]) -> str:
    told = "; ".join(f"{DESIGN_WORDS[one]}: {_range(plane)}" for one, plane in left.items())
    asked = f"{size.gap.setting_mm:.2f} mm, even to {size.gap.evenness_mm:.2f} mm"
    return f"Gap round the rim as found: {_range(found)}. Set at best, {told}. Asked: {asked}."


def _range(plane: Plane) -> str:
    return f"{plane.mean_mm - plane.tilt_mm:.2f} to {plane.mean_mm + plane.tilt_mm:.2f} mm"

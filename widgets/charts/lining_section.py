"""The friction disc cut through: carrier and linings, new, now and at the least."""

from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import BrakeSize

from .marks import WIDTH_IN, Axes
from .picture import DANGER, INK, Picture, in_style, new_figure, picture

LINING, CARRIER = "#e3d3b8", "#c9d2da"


def lining_section(size: BrakeSize, disc_mm: float | None = None) -> Picture:
    """Return a section through the disc, true in proportion: as new, as it is, at its least.

    Parameters
    ----------
    size : BrakeSize
        Disc and lining, new and least.
    disc_mm : float, optional
        Thickness now, mm, above 0; half-way worn, if not given.

    Raises
    ------
    ValueError
        If `disc_mm` is not above 0 or thicker than twice the new disc.
    """
    disc = size.disc
    now = (disc.new_mm + disc.min_mm) / 2 if disc_mm is None else disc_mm
    in_range("disc_mm", now, "mm", above=0, high=2 * disc.new_mm)
    carrier_mm = disc.new_mm - 2 * disc.lining_new_mm
    shown = (("new", disc.new_mm), ("now", now), ("least", disc.min_mm))
    with in_style():
        figure = new_figure(WIDTH_IN, 4.6)
        axes = figure.add_subplot()
        for place, (words, thick_mm) in enumerate(shown):
            _section(axes, 3.0 * place, carrier_mm, thick_mm)
            lining_mm = (thick_mm - carrier_mm) / 2
            said = f"{words}\ndisc {thick_mm:.2f} mm\none lining {lining_mm:.2f} mm"
            colour = DANGER if words == "least" else INK
            below = {"ha": "center", "va": "top", "color": colour, "weight": "bold"}
            axes.text(3.0 * place + 1, -0.58 * disc.new_mm, said, fontsize=12.5, **below)
        for side in (-1, 1):
            edge = side * disc.min_mm / 2
            axes.plot([-0.3, 8.3], [edge, edge], color=DANGER, ls=(0, (6, 2.5)), lw=1.6)
        axes.text(4, 0, "carrier", ha="center", va="center")
        height = carrier_mm / 2 + (now - carrier_mm) / 4
        box = {"facecolor": LINING, "edgecolor": "none", "pad": 1.5}
        axes.text(4, height, "lining", ha="center", va="center", bbox=box)
        axes.set(xlim=(-0.4, 8.4), ylim=(-1.02 * disc.new_mm, 0.58 * disc.new_mm))
        axes.set_axis_off()
        axes.set_title("Both linings wear; the thinnest place counts")
        return picture(figure, _alt(size, now, carrier_mm))


def _section(axes: Axes, left: float, carrier_mm: float, thick_mm: float) -> None:
    lining_mm = max((thick_mm - carrier_mm) / 2, 0.0)
    cut = {"edgecolor": INK, "lw": 1.6}
    axes.bar(left + 1, carrier_mm, 2, -carrier_mm / 2, facecolor=CARRIER, hatch="//", **cut)
    for bottom in (carrier_mm / 2, -carrier_mm / 2 - lining_mm):
        axes.bar(left + 1, lining_mm, 2, bottom, facecolor=LINING, hatch="..", **cut)


def _alt(size: BrakeSize, now_mm: float, carrier_mm: float) -> str:
    disc = size.disc
    left_mm = now_mm - disc.min_mm
    told = f"{left_mm:.2f} mm is left to wear" if left_mm > 0 else "nothing is left to wear"
    return (
        f"Section through the friction disc of {size.name}: a carrier of {carrier_mm:.2f} mm with "
        f"a lining on each side. New {disc.new_mm:g} mm ({disc.lining_new_mm:g} mm a lining), now "
        f"{now_mm:.2f} mm, least {disc.min_mm:g} mm ({disc.lining_min_mm:g} mm a lining): {told}."
    )

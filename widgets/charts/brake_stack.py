"""The brake cut open along the shaft: what lies next to what, from motor to fan."""

from dataclasses import dataclass

from widgets.brake.sizes.size import BrakeSize

from .marks import Axes
from .picture import ACCENT, DANGER, INK, PENCIL, Picture, in_style, new_figure, picture


@dataclass(frozen=True, slots=True)
class _Part:
    """One part in the half section: name, edges along the shaft, edges from the shaft, fill."""

    words: str
    left: float
    width: float
    low: float
    high: float
    fill: str
    hatch: str = ""


def brake_stack(size: BrakeSize) -> Picture:
    """Return a half section of the brake, applied, its gap drawn much too wide to be seen.

    Parameters
    ----------
    size : BrakeSize
        For the thicknesses in the words under the drawing.
    """
    parts = _parts()
    with in_style():
        figure = new_figure(7.4, 5.6)
        axes = figure.add_subplot()
        for part in parts:
            block = {"facecolor": part.fill, "hatch": part.hatch, "edgecolor": INK, "lw": 1.5}
            height = part.high - part.low
            axes.bar(part.left + part.width / 2, height, part.width, part.low, **block)
        _springs_and_screw(axes)
        _names(axes, parts)
        axes.axhline(0, color=PENCIL, ls="-.", lw=1.2)
        line = {"arrowstyle": "-", "color": DANGER, "lw": 1.6}
        look = {"ha": "center", "weight": "bold", "color": DANGER}
        axes.annotate("air gap", (5.12, 7.9), (4.2, 9.9), arrowprops=line, **look)
        axes.set(xlim=(-0.2, 11.6), ylim=(-5.6, 10.8))
        axes.set_axis_off()
        axes.set_title("From the motor to the fan, coil off (half section)")
        return picture(figure, _alt(size))


def _parts() -> tuple[_Part, ...]:
    steel, lining, copper = "#d5dbe2", "#e3d3b8", "#eac9a4"
    return (
        _Part("shaft", -0.2, 11.4, 0.0, 1.0, "#eef1f4"),
        _Part("motor end", 0.0, 1.4, 1.4, 8.8, steel, "//"),
        _Part("wear plate", 1.4, 0.45, 2.4, 8.2, "#f4f6f8", "\\\\"),
        _Part("lining", 1.85, 0.55, 4.2, 7.6, lining, ".."),
        _Part("disc", 2.4, 0.8, 2.0, 7.6, steel, "xx"),
        _Part("lining", 3.2, 0.55, 4.2, 7.6, lining, ".."),
        _Part("hub", 1.95, 1.7, 1.0, 2.0, "#eef1f4", "//"),
        _Part("pressure plate", 3.75, 1.1, 2.4, 8.2, steel, "\\\\"),
        _Part("magnet body", 5.4, 2.9, 1.6, 8.2, steel, "//"),
        _Part("coil", 5.4, 1.6, 4.4, 6.4, copper, "++"),
        _Part("fan", 9.4, 0.5, 1.0, 6.6, "#f4f6f8"),
        _Part("cover", 10.5, 0.25, 0.2, 9.2, steel),
    )


def _springs_and_screw(axes: Axes) -> None:
    for height in (2.6, 7.1):
        turns = [4.85 + 0.18 * step for step in range(13)]
        sway = [height + (0.28 if step % 2 else -0.28) for step in range(13)]
        axes.plot(turns, sway, color=ACCENT, lw=2.2)
    axes.bar(4.85, 0.5, 6.9, 8.35, facecolor="#ffffff", edgecolor=INK, lw=1.5)
    axes.bar(8.6, 0.9, 0.5, 8.15, facecolor="#d5dbe2", edgecolor=INK, lw=1.5)


def _names(axes: Axes, parts: tuple[_Part, ...]) -> None:
    """Write the names under the section, one below the other, each with a line to its part."""
    told = (
        ("motor end", 0.7, -4.5), ("wear plate", 1.62, -3.4), ("lining", 2.12, -2.3),
        ("disc", 2.8, -1.2), ("pressure plate", 4.3, -2.3), ("magnet body", 7.7, -1.2),
        ("fan", 9.65, -2.3), ("cover", 10.62, -3.4),
    )  # fmt: skip
    for words, at, row in told:
        part = next(part for part in parts if part.words == words)
        axes.plot([at, at], [max(part.low, 1.2) + 0.3, row - 0.3], color=PENCIL, lw=1)
        side = "right" if at > 9 else "left"
        off = -0.12 if at > 9 else 0.12
        axes.text(at + off, row, words, va="center", ha=side, fontsize=12.5)
    axes.text(6.2, 5.4, "coil", ha="center", va="center", weight="bold",
              bbox={"facecolor": "white", "edgecolor": "none", "pad": 1.5})  # fmt: skip
    axes.text(6.0, 9.9, "spring", color=ACCENT, weight="bold", ha="left")
    axes.plot([6.2, 6.2], [9.7, 7.5], color=ACCENT, lw=1.4)
    axes.text(8.6, 9.7, "three screws", ha="center", weight="bold")
    axes.text(2.8, 1.5, "hub", ha="center", va="center", fontsize=11,
              bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.8})  # fmt: skip


def _alt(size: BrakeSize) -> str:
    plate = f"the wear plate ({size.wear_plate_mm:g} mm)" if size.wear_plate_mm else "no wear plate"
    return (
        f"Half section along the shaft, coil off. From the motor: motor end, {plate}, the friction "
        f"disc with a lining on each side ({size.disc.new_mm:g} mm over both when new) on its hub, "
        f"the pressure plate, the air gap ({size.gap.setting_mm:g} mm when set, drawn far too "
        "wide), the magnet body with coil and springs, held by three screws, then fan and cover. "
        "The springs push the plate onto the disc; the coil pulls it back across the gap."
    )

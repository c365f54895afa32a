"""Real readings round the rim: what was read, how sure it is, the plane through it, the limits."""

import io
import math
from collections.abc import Sequence
from typing import Any

from widgets.brake.gap.profile import Plane
from widgets.brake.judgement.rules import Reading
from widgets.brake.sizes.size import GapLimits

from .picture import ACCENT, DANGER, INK, PENCIL, Picture, in_style, new_figure, picture

_TURN_DEG = [5.0 * step for step in range(73)]


def readings_round(
    first: Sequence[Reading],
    turned: Sequence[Reading],
    plane: Plane,
    limits: GapLimits,
    title: str,
) -> Picture:
    """Return a polar chart of gap readings from a real brake; nobody knows its true gap.

    Parameters
    ----------
    first, turned : sequence of Reading
        Readings, and those after half a turn of the rotor (may be empty);
        bars are ± 2 u.
    plane : Plane
        The plane fitted through them.
    limits : GapLimits
        Least, setting and largest gap, mm.
    title : str
        What the figure says.

    Raises
    ------
    ValueError
        If `first` is empty.
    """
    alt = _alt(first, turned, plane, limits)
    with in_style():
        return picture(_drawn(first, turned, plane, limits, title), alt)


def readings_round_png(
    first: Sequence[Reading],
    turned: Sequence[Reading],
    plane: Plane,
    limits: GapLimits,
    title: str,
) -> bytes:
    """Return the same chart as PNG for paper; the same readings give the same bytes.

    Parameters and errors as for `readings_round`.
    """
    _alt(first, turned, plane, limits)
    held = io.BytesIO()
    with in_style():
        figure = _drawn(first, turned, plane, limits, title)
        figure.savefig(held, format="png", dpi=200, metadata={"Software": None}, facecolor="white")
    return held.getvalue()


def _drawn(
    first: Sequence[Reading],
    turned: Sequence[Reading],
    plane: Plane,
    limits: GapLimits,
    title: str,
) -> Any:  # noqa: ANN401 (matplotlib is imported late)
    figure = new_figure(6.4, 6.8)
    axes = figure.add_subplot(projection="polar")
    axes.set_theta_zero_location("N")
    axes.set_theta_direction(-1)
    around = [math.radians(angle) for angle in _TURN_DEG]
    axes.plot(around, [limits.max_mm] * 73, color=DANGER, ls="--", lw=2.2, label="largest allowed")
    axes.plot(around, [limits.setting_mm] * 73, color=PENCIL, ls=":", lw=2.4, label="setting")
    planed = [max(0.0, plane.at_mm(angle)) for angle in _TURN_DEG]
    axes.plot(around, planed, color=INK, lw=1.8, label="plane through the readings")
    _mark(axes, first, "D", "your readings, ± 2 u", ACCENT)
    _mark(axes, turned, "o", "after half a turn, ± 2 u", "white")
    highest = max(reading.value_mm + 2 * reading.u_mm for reading in (*first, *turned))
    axes.set_rlim(0, 1.1 * max(limits.max_mm, highest, *planed))
    axes.set_rlabel_position(22.5)
    axes.set_title(f"{title}\n", loc="left")
    axes.set_xticks([math.radians(angle) for angle in range(0, 360, 30)])
    axes.set_xticklabels([_place(angle) for angle in range(0, 360, 30)])
    axes.tick_params(axis="x", pad=9)
    figure.legend(loc="outside lower center", ncols=2)
    return figure


def _mark(
    axes: Any,  # noqa: ANN401 (matplotlib is imported late)
    readings: Sequence[Reading],
    shape: str,
    label: str,
    fill: str,
) -> None:
    if not readings:
        return
    axes.errorbar(
        [math.radians(reading.angle_deg) for reading in readings],
        [reading.value_mm for reading in readings],
        yerr=[2 * reading.u_mm for reading in readings],
        fmt=shape,
        color=ACCENT,
        markerfacecolor=fill,
        markeredgewidth=1.8,
        capsize=5,
        label=label,
        zorder=5,
    )


def _place(angle_deg: int) -> str:
    screws = {0: "screw 1\n0°", 120: "120°\nscrew 2", 240: "240°\nscrew 3"}
    return screws.get(angle_deg, f"{angle_deg}°")


def _alt(
    first: Sequence[Reading], turned: Sequence[Reading], plane: Plane, limits: GapLimits
) -> str:
    if not first:
        raise ValueError("first must hold at least one reading, got none")
    values = [reading.value_mm for reading in (*first, *turned)]
    widest = max((*first, *turned), key=lambda reading: reading.value_mm)
    said = (
        f"{len(values)} readings round the rim, from {min(values):.2f} to {max(values):.2f} mm, "
        f"widest at {round(widest.angle_deg) % 360}°. The plane through them has its mean at "
        f"{plane.mean_mm:.2f} mm and leans by {2 * plane.tilt_mm:.2f} mm from widest to narrowest, "
        f"widest at {round(plane.widest_deg) % 360}°. "
    )
    limit = f"Setting {limits.setting_mm:g} mm, largest allowed {limits.max_mm:g} mm."
    return f"{said}{limit}"

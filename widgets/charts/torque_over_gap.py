"""How many times the load a brake holds: over its gap, and over the heat of its faces."""

import numpy as np

from widgets.brake.judgement.standards import REQUIREMENTS, Basis, Mark
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.torque import load_torque_nm
from widgets.brake.torque.braking import torque_at_gap_nm
from widgets.brake.torque.friction import FADE_TEMPERATURE_C, friction_coefficient

from .marks import OCHRE, WIDTH_IN, Axes, limit_line
from .picture import ACCENT, INK, PENCIL, Picture, in_style, new_figure, picture

SHOWN = ("bedded", "glazed", "oiled")
LOOKS = {"bedded": (ACCENT, "-", 3.0), "glazed": (OCHRE, "--", 2.4), "oiled": (INK, ":", 2.8)}
NAMES = {"bedded": "dry and bedded", "glazed": "glazed", "oiled": "oiled"}


def load_nm(size: BrakeSize) -> float:
    """Return the torque of the rated load at the brake, N·m."""
    hoist = size.hoist
    return load_torque_nm(hoist.load_kg, hoist.speed_m_per_min, hoist.motor_rpm)


def asked_ratio() -> float:
    """Return what a confirmed published rule asks of one holding brake, times the load."""
    return next(
        row.percent / 100
        for row in REQUIREMENTS
        if row.mark is Mark.CONFIRMED and row.basis is Basis.LOAD_TORQUE
    )


def torque_figure(size: BrakeSize, gap_mm: float | None = None) -> Picture:
    """Return the braking torque over the gap as a multiple of the load, sound and spoilt.

    Parameters
    ----------
    size : BrakeSize
        The brake and its hoist.
    gap_mm : float, optional
        A gap to mark, mm.
    """
    gaps = np.linspace(0.0, 1.6 * size.gap.max_mm, 80)
    with in_style():
        figure = new_figure(WIDTH_IN, 5.0)
        axes = figure.add_subplot()
        for surface in SHOWN:
            colour, dash, width = LOOKS[surface]
            drawn = ratio(size, gaps, surface)
            axes.plot(gaps, drawn, color=colour, ls=dash, lw=width, label=NAMES[surface])
        axes.set(xlim=(0, gaps[-1]), ylim=(0, 1.12 * float(ratio(size, 0.0, "bedded"))))
        axes.set(xlabel="air gap, mm", ylabel="braking torque, times the load")
        _ratio_lines(axes, 0.62)
        limit_line(axes, size.gap.max_mm, "largest", along=0.3)
        limit_line(axes, size.gap.setting_mm, "setting", danger=False, along=0.3)
        if gap_mm is not None:
            axes.axvline(gap_mm, color=INK, lw=4, alpha=0.3)
        _second_scale(axes, size)
        axes.set_title("The gap takes some torque, oil takes the load")
        figure.legend(loc="outside lower center", ncols=3)
        return picture(figure, _gap_alt(size, gap_mm))


def friction_figure(
    size: BrakeSize,
    gap_mm: float | None = None,
    face_c: float | None = None,
    chosen: str | None = None,
) -> Picture:
    """Return the torque over the temperature of the faces, sound and spoilt, at one gap.

    Parameters
    ----------
    size : BrakeSize
        The brake and its hoist.
    gap_mm : float, optional
        The gap, mm; the setting, if not given.
    face_c : float, optional
        A temperature to mark, °C.
    chosen : str, optional
        State of the faces, a name in `SURFACES`: its curve is drawn heavily, and
        marked at `face_c`.
    """
    gap = size.gap.setting_mm if gap_mm is None else gap_mm
    faces_c = np.linspace(20, 420, 120)
    with in_style():
        figure = new_figure(WIDTH_IN, 5.0)
        axes = figure.add_subplot()
        for surface in SHOWN:
            colour, dash, width = LOOKS[surface]
            drawn = ratio(size, gap, surface, faces_c)
            strong = {"lw": width + 2, "zorder": 4} if surface == chosen else {"lw": width}
            axes.plot(faces_c, drawn, color=colour, ls=dash, label=NAMES[surface], **strong)
        axes.set(xlim=(20, 420), ylim=(0, 1.25 * float(ratio(size, gap, "bedded"))))
        axes.set(
            xlabel="temperature of the rubbing faces, °C", ylabel="braking torque, times the load"
        )
        _ratio_lines(axes, 0.42)
        axes.axvline(FADE_TEMPERATURE_C[0], color=PENCIL, ls=(0, (1.2, 1.8)), lw=1.9)
        words = " fade begins"
        axes.text(FADE_TEMPERATURE_C[0], axes.get_ylim()[1] * 0.97, words, color=PENCIL, va="top")
        if face_c is not None:
            axes.axvline(face_c, color=INK, lw=4, alpha=0.3)
        if face_c is not None and chosen is not None:
            held = float(ratio(size, gap, chosen, face_c))
            axes.plot([face_c], [held], "o", ms=13, mfc="white", mec=INK, mew=3, zorder=6)
            side = "right" if face_c > 320 else "left"
            words = f"  {held:.2f} times  "
            axes.text(face_c, held, words, ha=side, va="bottom", weight="bold", zorder=7)
        _second_scale(axes, size)
        axes.set_title(f"Heat, glaze and oil, gap {gap:g} mm")
        figure.legend(loc="outside lower center", ncols=3)
        return picture(figure, _heat_alt(size, gap, face_c) + _marked(size, gap, face_c, chosen))


def ratio(
    size: BrakeSize, gap_mm: object, surface: str, face_c: object = 20.0
) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """Return braking torque over load torque, dimensionless, in the broadcast shape.

    Parameters
    ----------
    gap_mm : float or array_like
        Gap, mm.
    surface : str
        A name in `SURFACES`.
    face_c : float or array_like
        Temperature of the faces, °C.
    """
    grip = friction_coefficient(
        size.lining.friction, surface=surface, temperature_c=np.asarray(face_c)
    )
    torque = torque_at_gap_nm(size, np.asarray(gap_mm, dtype=np.float64), friction=grip)
    return np.asarray(torque / load_nm(size))


def _ratio_lines(axes: Axes, along: float) -> None:
    words = f"a rule asks {asked_ratio():g}"
    limit_line(axes, asked_ratio(), words, across=True, danger=False, along=along)
    limit_line(axes, 1.0, "below 1: runs away", across=True, below=True, along=along)


def _second_scale(axes: Axes, size: BrakeSize) -> None:
    per = load_nm(size)
    scale = axes.secondary_yaxis("right", functions=(lambda r: r * per, lambda t: t / per))
    scale.set_ylabel("N·m")


def _gap_alt(size: BrakeSize, gap_mm: float | None) -> str:
    chosen = [] if gap_mm is None else [gap_mm]
    gaps = dict.fromkeys([size.gap.setting_mm, size.gap.max_mm, *chosen])
    told = [
        f"{NAMES[surface]} "
        + ", ".join(f"{float(ratio(size, gap, surface)):.2f} at {gap:.2f} mm" for gap in gaps)
        for surface in SHOWN
    ]
    return (
        f"Braking torque as a multiple of the load, by gap: {'; '.join(told)}. "
        f"Below 1 the load runs away; a published rule asks {asked_ratio():g}."
    )


def _marked(size: BrakeSize, gap_mm: float, face_c: float | None, chosen: str | None) -> str:
    if face_c is None or chosen is None:
        return ""
    held = float(ratio(size, gap_mm, chosen, face_c))
    name = NAMES.get(chosen, chosen)
    return f" Marked: {name} at {face_c:.0f} °C, {held:.2f} times the load."


def _heat_alt(size: BrakeSize, gap_mm: float, face_c: float | None) -> str:
    faces = dict.fromkeys([20.0, 300.0, *([] if face_c is None else [face_c])])
    told = [
        f"{NAMES[surface]} "
        + ", ".join(f"{float(ratio(size, gap_mm, surface, c)):.2f} at {c:.0f} °C" for c in faces)
        for surface in SHOWN
    ]
    return (
        f"Braking torque at a gap of {gap_mm:g} mm as a multiple of the load, by temperature of "
        f"the faces: {'; '.join(told)}. Fade begins at {FADE_TEMPERATURE_C[0]:.0f} °C. "
        f"Below 1 the load runs away; a published rule asks {asked_ratio():g}."
    )

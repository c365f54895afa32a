"""Which part of a tilt stays and which goes round with the disc: two rounds, half a turn apart."""

from collections.abc import Sequence

import numpy as np

from widgets.brake.gap.profile import Plane, fit_plane
from widgets.brake.gap.reversal import part_that_turns_with_the_disc
from widgets.brake.judgement.rules import Reading

from .marks import OCHRE, WIDTH_IN, Axes
from .picture import ACCENT, INK, Picture, in_style, new_figure, picture


def reversal_figure(first: Sequence[Reading], turned: Sequence[Reading]) -> Picture:
    """Return two rounds of readings, and the two tilts that explain them.

    Parameters
    ----------
    first, turned : sequence of Reading
        Gap readings before and after turning the shaft by 180°, each at three
        places or more.

    Raises
    ------
    ValueError
        If a round is too short for a plane.
    """
    planes = [
        fit_plane([r.angle_deg for r in rounds], [r.value_mm for r in rounds]).plane
        for rounds in (first, turned)
    ]
    body, disc = part_that_turns_with_the_disc(*planes)
    with in_style():
        figure = new_figure(WIDTH_IN, 6.6)
        above, under = figure.subplots(2, 1, sharex=True)
        _rounds(above, first, turned, planes)
        _parts(under, body, disc)
        figure.suptitle("The body stays, the disc goes round", x=0.02, ha="left", weight="bold")
        above.set(ylabel="gap as read, mm")
        under.set(
            xlabel="place round the rim, degrees from screw 1", ylabel="tilt, mm", xlim=(0, 360)
        )
        under.set_xticks(range(0, 361, 60))
        for axes in (above, under):
            axes.legend(loc="lower left", bbox_to_anchor=(-0.02, 0.99), ncols=2, columnspacing=1.2)
        return picture(figure, _alt(body, disc))


def _rounds(
    axes: Axes, first: Sequence[Reading], turned: Sequence[Reading], planes: Sequence[Plane]
) -> None:
    looks = (
        (first, planes[0], "D", "-", INK, "shaft as found"),
        (turned, planes[1], "s", "--", OCHRE, "shaft turned by 180°"),
    )
    for rounds, plane, mark, dash, colour, words in looks:
        round_deg = np.linspace(0, 360, 121)
        axes.plot(round_deg, [plane.at_mm(float(a)) for a in round_deg], dash, color=colour, lw=1.8)
        axes.errorbar(
            [r.angle_deg for r in rounds],
            [r.value_mm for r in rounds],
            yerr=[2 * r.u_mm for r in rounds],
            fmt=mark,
            ls="none",
            color=colour,
            capsize=4,
            label=words,
        )


def _parts(axes: Axes, body: Plane, disc: Plane) -> None:
    round_deg = np.linspace(0, 360, 121)
    for plane, dash, colour, words in (
        (body, "-", ACCENT, "body: screws cure it"),
        (disc, ":", INK, "disc or hub: they do not"),
    ):
        tilt = Plane(0.0, plane.cos_mm, plane.sin_mm)
        drawn = [tilt.at_mm(float(angle)) for angle in round_deg]
        axes.plot(round_deg, drawn, ls=dash, lw=3, color=colour, label=words)
    axes.axhline(0, color=INK, lw=1)


def _alt(body: Plane, disc: Plane) -> str:
    return (
        "Two rounds of gap readings, before and after half a turn of the shaft. Half their sum is "
        f"the tilt of the magnet body: {2 * body.tilt_mm:.2f} mm from widest to narrowest, widest "
        f"at {body.widest_deg:.0f}°. Half their difference goes round with the disc: "
        f"{2 * disc.tilt_mm:.2f} mm from widest to narrowest."
    )

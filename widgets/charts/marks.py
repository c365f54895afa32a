"""What figures share: their width, limit lines with a name on them, and a third colour."""

from typing import Any

from .picture import DANGER, PENCIL

Axes = Any  # of matplotlib, which is imported late and carries no types

WIDTH_IN = 6.8  # of a figure; so wide, its letters are still read on a phone
OCHRE = "#9a5b00"  # beside ink and accent; told from both by anyone, and lighter than ink in print
PAPER = "#fbfaf6"


def limit_line(
    axes: Axes,
    at: float,
    words: str,
    *,
    across: bool = False,
    danger: bool = True,
    along: float = 0.98,
    below: bool = False,
) -> None:
    """Draw a limit as a dashed line, or a value to be set as a dotted one, and name it.

    Parameters
    ----------
    axes : Axes
        Where; its limits must be set already.
    at : float
        Where the line lies, in the unit of its axis.
    words : str
        Its name.
    across : bool
        A level line at a height, rather than an upright one.
    danger : bool
        Whether going past it is a danger.
    along : float
        How far along the line its name ends, 0 to 1.
    below : bool
        The name of a level line stands under it.
    """
    colour, dash = (DANGER, (0, (6, 2.5))) if danger else (PENCIL, (0, (1.2, 1.8)))
    box = {"facecolor": "#ffffff", "alpha": 0.8, "edgecolor": "none", "pad": 1.2}
    if across:
        axes.axhline(at, color=colour, ls=dash, lw=1.9, zorder=2)
        where = {"transform": axes.get_yaxis_transform(), "ha": "right"}
        place = {"va": "top" if below else "bottom", "fontsize": 11.5}
        axes.text(along, at, words, color=colour, bbox=box, **where, **place)
        return
    axes.axvline(at, color=colour, ls=dash, lw=1.9, zorder=2)
    where = {"transform": axes.get_xaxis_transform(), "va": "top", "ha": "right", "rotation": 90}
    axes.text(at, along, words, color=colour, bbox=box, fontsize=11.5, **where)

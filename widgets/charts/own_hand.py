"""One person's brackets at the same places again and again, and the gap if they ask to see it."""

from collections.abc import Sequence

from widgets.instruments.feeler import GapReading

from .marks import OCHRE, WIDTH_IN, Axes
from .picture import ACCENT, INK, Picture, in_style, new_figure, picture

MARKS = (("D", ACCENT), ("s", INK), ("o", OCHRE), ("^", INK), ("v", ACCENT))


def own_hand_figure(
    places_deg: Sequence[float],
    rounds: Sequence[Sequence[GapReading]],
    true_mm: Sequence[float] = (),
) -> Picture:
    """Return the brackets of each place, round by round.

    Parameters
    ----------
    places_deg : sequence of float
        The places, degrees.
    rounds : sequence of sequence of GapReading
        For each round a bracket for each place, in the same order.
    true_mm : sequence of float, optional
        The gap at each place, mm; only for one who has asked to see it.

    Raises
    ------
    ValueError
        If a round does not hold a bracket for each place.
    """
    with in_style():
        figure = new_figure(WIDTH_IN, 4.8)
        axes = figure.add_subplot()
        for number, readings in enumerate(rounds):
            if len(readings) != len(places_deg):
                raise ValueError(f"round {number + 1} must hold {len(places_deg)} brackets")
            _one_round(axes, number, len(rounds), readings)
        for place, gap_mm in enumerate(true_mm):
            axes.plot([place - 0.42, place + 0.42], [gap_mm] * 2, color=INK, lw=1.6, zorder=1)
            axes.text(place + 0.44, gap_mm, f"{gap_mm:.3f}", va="center", weight="bold")
        axes.set_xticks(range(len(places_deg)), [f"{angle:.0f}°" for angle in places_deg])
        axes.set(xlim=(-0.6, len(places_deg) - 0.25), xlabel="place round the rim")
        axes.set_ylabel("air gap, mm")
        axes.set_title("The same gap, the same hand, read again")
        figure.legend(loc="outside lower center", ncols=3)
        return picture(figure, _alt(places_deg, rounds, true_mm))


def _one_round(axes: Axes, number: int, count: int, readings: Sequence[GapReading]) -> None:
    mark, colour = MARKS[number % len(MARKS)]
    aside = 0.22 * (number - (count - 1) / 2)
    axes.errorbar(
        [place + aside for place in range(len(readings))],
        [reading.middle_mm for reading in readings],
        yerr=[(reading.no_go_mm - reading.go_mm) / 2 for reading in readings],
        fmt=mark,
        color=colour,
        capsize=5,
        label=f"round {number + 1}",
    )


def _alt(
    places_deg: Sequence[float],
    rounds: Sequence[Sequence[GapReading]],
    true_mm: Sequence[float],
) -> str:
    told = []
    for place, angle in enumerate(places_deg):
        said = ", ".join(f"{r[place].go_mm:.2f} to {r[place].no_go_mm:.2f}" for r in rounds)
        truth = f" (the gap there is {true_mm[place]:.3f} mm)" if true_mm else ""
        told.append(f"at {angle:.0f}° {said} mm{truth}")
    return f"Brackets in {len(rounds)} rounds: {'; '.join(told)}."

"""Instruments drawn to a value: marks and leaves as lines, the value itself in no text.

Whoever reads the message finds what a person finds on the drawing, and must
read it in the same way.
"""

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass

from widgets.brake.draws import Draws
from widgets.brake.ranges import in_range
from widgets.instruments.feeler.leaves import ALL_LEAVES_MM, MOST_LEAVES

from .figure import Drawing, Shape, line, rect, word

_PER_MM = 44.0  # units of the drawing
Wrong = tuple[float, str]


@dataclass(frozen=True, slots=True)
class Instrument:
    """How an instrument is drawn, its step (mm), and what known mistakes read off it."""

    name: str
    step_mm: float
    draw: Callable[[float, Draws], Drawing]
    mistakes: Callable[[float, Draws], tuple[Wrong, ...]]


def vernier_marks_mm(value_mm: float, divisions: int) -> tuple[tuple[float, ...], int]:
    """Return where the marks of a vernier stand on the main scale, mm, and which one meets it.

    Notes
    -----
    n divisions of the vernier take n - 1 millimetres. Source: principle of the vernier.
    """
    pitch_mm = (divisions - 1) / divisions
    marks = tuple(value_mm + number * pitch_mm for number in range(divisions + 1))
    meets = min(range(divisions), key=lambda number: abs(marks[number] - round(marks[number])))
    return marks, meets


def _vernier(divisions: int) -> Callable[[float, Draws], Drawing]:
    def draw(value_mm: float, draws: Draws) -> Drawing:
        in_range("value_mm", value_mm, "mm", low=0, high=140)
        start = max(0, math.floor(value_mm) - 2 - draws.choice((0, 1, 2), "window"))
        end = math.floor(value_mm) + divisions + 2
        left = 24.0

        def x(at_mm: float) -> float:
            return round(left + (at_mm - start) * _PER_MM, 2)

        shapes: list[Shape] = [line(0, 110, x(end) + left, 110, "thick")]
        for mm in range(start, end + 1):
            high = 58 if mm % 10 == 0 else 44 if mm % 5 == 0 else 32
            shapes.append(line(x(mm), 110, x(mm), 110 - high))
            if mm % 10 == 0:
                shapes.append(word(x(mm), 40, str(mm)))
        marks = vernier_marks_mm(value_mm, divisions)[0]
        shapes.append(rect(x(marks[0]) - 16, 110, x(marks[-1]) - x(marks[0]) + 32, 92, "thin"))
        for number, at in enumerate(marks):
            tenth = number * 10 % divisions == 0
            shapes.append(line(x(at), 110, x(at), 154 if tenth else 138))
            if tenth:
                shapes.append(word(x(at), 182, str(number * 10 // divisions), "small"))
        title = (
            "Vernier caliper: main scale in millimetres above, vernier below. "
            f"The vernier has {divisions} divisions."
        )
        return Drawing("vernier", title, x(end) + left, 206, tuple(shapes), wide=True)

    return draw


def _vernier_mistakes(divisions: int) -> Callable[[float, Draws], tuple[Wrong, ...]]:
    def mistakes(value_mm: float, _dice: Draws) -> tuple[Wrong, ...]:
        marks, meets = vernier_marks_mm(value_mm, divisions)
        whole = math.floor(value_mm + 1e-9)
        return (
            (float(whole), "Reads the main scale only and leaves the vernier out."),
            (whole + meets / 100, "Counts the vernier’s line as hundredths of a millimetre."),
            (
                float(round(marks[meets])),
                "Reads the mark of the main scale that the vernier meets.",
            ),
        )

    return mistakes


def leaf_stack_mm(total_mm: float, draws: Draws) -> tuple[float, ...]:
    """Return two or three different leaves that make up a thickness, mm, thickest first.

    Raises
    ------
    ValueError
        If no leaves of the common sets do.
    """
    wanted = round(total_mm * 1000)
    stacks = [
        stack
        for count in range(2, MOST_LEAVES + 1)
        for stack in itertools.combinations(ALL_LEAVES_MM, count)
        if sum(round(leaf * 1000) for leaf in stack) == wanted
    ]
    if not stacks:
        raise ValueError(f"no 2 or {MOST_LEAVES} leaves make up {total_mm:g} mm")
    few = [stack for stack in stacks if len(stack) == 2]
    chosen = draws.choice(few or stacks, "stack")
    return tuple(sorted(chosen, reverse=True))


def _leaves(value_mm: float, draws: Draws) -> Drawing:
    shapes: list[Shape] = []
    y, per_mm = 30.0, 150.0
    for leaf in leaf_stack_mm(value_mm, draws):
        high = max(14.0, round(leaf * per_mm, 1))
        shapes += [rect(40, y, 400, high, "band"), word(500, y + high / 2 + 8, f"{leaf:.2f}")]
        y += max(high, 30.0) + 16
    title = "Leaves of a feeler gauge, side by side, each with its mark in millimetres."
    return Drawing("leaves", title, 560, y + 10, tuple(shapes))


def _leaves_mistakes(value_mm: float, draws: Draws) -> tuple[Wrong, ...]:
    stack = leaf_stack_mm(value_mm, draws)
    return ((stack[0], "Reads the thickest leaf only: all leaves in the gap count together."),)


INSTRUMENTS: dict[str, Instrument] = {
    one.name: one
    for one in (
        Instrument("vernier_0.1", 0.1, _vernier(10), _vernier_mistakes(10)),
        Instrument("vernier_0.05", 0.05, _vernier(20), _vernier_mistakes(20)),
        Instrument("leaves", 0.01, _leaves, _leaves_mistakes),
    )
}

"""The notes sheet: readings written down, and lines struck through."""

from dataclasses import replace
from typing import Any

from widgets.bench.actions import StrikeOut, WriteDisc, WriteGap, WriteValue
from widgets.bench.notes import DiscNote, GapNote, ValueNote
from widgets.bench.observed import Outcome, refused, seen
from widgets.bench.setup import Setup
from widgets.bench.state import State

OPEN_OHM = 1_000_000  # what is written for a coil whose resistance is over the scale
MOST_NOTES = 400  # a notes sheet has an end
QUANTITY_WORDS = {
    "coil_ohm": "coil resistance {value:g} Ω",
    "coil_c": "coil temperature {value:g} °C",
    "insulation_mohm": "insulation {value:g} MΩ",
    "voltage_v": "voltage at the coil {value:g} V",
    "release_percent": "released at {value:g} % of the rated voltage",
    "lever_play_mm": "play of the hand release {value:g} mm",
}


def write_gap(_: Setup, state: State, action: WriteGap) -> Outcome:
    """Return the notes with one more gap reading."""
    if action.no_go_mm <= action.go_mm:
        return refused(
            state, "The stack that will not enter must be thicker than the one that goes."
        )
    if len(state.gap_notes) >= MOST_NOTES:
        return refused(state, "The notes sheet is full.")
    note = GapNote(action.angle_deg, action.go_mm, action.no_go_mm, state.step)
    words = (
        f"Written: gap at {action.angle_deg:.0f}°, "
        f"{action.go_mm:.2f} mm goes, {action.no_go_mm:.2f} mm will not."
    )
    return seen(state._replace(gap_notes=(*state.gap_notes, note)), words)


def write_disc(_: Setup, state: State, action: WriteDisc) -> Outcome:
    """Return the notes with one more disc reading."""
    if len(state.disc_notes) >= MOST_NOTES:
        return refused(state, "The notes sheet is full.")
    note = DiscNote(action.angle_deg, action.value_mm, state.step, action.tool)
    words = f"Written: disc at {action.angle_deg:.0f}°, {action.value_mm:.2f} mm, by {action.tool}."
    return seen(state._replace(disc_notes=(*state.disc_notes, note)), words)


def write_value(_: Setup, state: State, action: WriteValue) -> Outcome:
    """Return the notes with one more reading of meter, release or lever."""
    if len(state.value_notes) >= MOST_NOTES:
        return refused(state, "The notes sheet is full.")
    note = ValueNote(action.what, action.value, state.step)
    said = QUANTITY_WORDS[action.what].format(value=action.value)
    if action.what == "coil_ohm" and action.value >= OPEN_OHM:
        said = "coil resistance over the scale"
    words = f"Written: {said}."
    return seen(state._replace(value_notes=(*state.value_notes, note)), words)


def strike_out(_: Setup, state: State, action: StrikeOut) -> Outcome:
    """Return the notes with one line struck through; it stays legible."""
    notes = {"gap": state.gap_notes, "disc": state.disc_notes, "value": state.value_notes}
    lines: tuple[Any, ...] = notes[action.sheet]
    if action.line >= len(lines):
        return refused(state, f"There is no line {action.line + 1} on that sheet.")
    if lines[action.line].struck:
        return refused(state, "That line is struck through already.")
    struck = replace(lines[action.line], struck=True)
    changed = (*lines[: action.line], struck, *lines[action.line + 1 :])
    words = "Struck through; still legible."
    if action.sheet == "gap":
        return seen(state._replace(gap_notes=changed), words)
    if action.sheet == "disc":
        return seen(state._replace(disc_notes=changed), words)
    return seen(state._replace(value_notes=changed), words)

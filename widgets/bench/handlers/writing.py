"""The notes sheet: readings written down, and lines struck through."""

from dataclasses import replace
from typing import Any

from widgets.bench.actions import StrikeOut, WriteDisc, WriteGap, WriteValue
from widgets.bench.notes import DiscNote, GapNote, ValueNote
from widgets.bench.observed import Outcome, already, not_possible, not_there, seen
from widgets.bench.setup import Setup
from widgets.bench.state import State
from widgets.instruments.feeler import MOST_LEAVES

OPEN_OHM = 1_000_000  # what is written for a coil whose resistance is over the scale
MOST_NOTES = 400  # a notes sheet has an end


def write_gap(setup: Setup, state: State, action: WriteGap) -> Outcome:
    """Return the notes with one more gap reading."""
    if action.no_go_mm <= action.go_mm:
        return not_possible(state, "notes.bracket-upside-down")
    most_mm = round(sum(setup.leaves.marks_mm[-MOST_LEAVES:]), 3)
    if action.no_go_mm > most_mm:
        return not_possible(state, "notes.no-such-stack", most_mm=most_mm)
    if len(state.gap_notes) >= MOST_NOTES:
        return not_possible(state, "notes.full")
    note = GapNote(action.angle_deg, action.go_mm, action.no_go_mm, state.step)
    return seen(
        state._replace(gap_notes=(*state.gap_notes, note)),
        "notes.gap",
        angle_deg=action.angle_deg,
        go_mm=action.go_mm,
        no_go_mm=action.no_go_mm,
    )


def write_disc(_: Setup, state: State, action: WriteDisc) -> Outcome:
    """Return the notes with one more disc reading."""
    if len(state.disc_notes) >= MOST_NOTES:
        return not_possible(state, "notes.full")
    note = DiscNote(action.angle_deg, action.value_mm, state.step, action.tool)
    return seen(
        state._replace(disc_notes=(*state.disc_notes, note)),
        "notes.disc",
        angle_deg=action.angle_deg,
        disc_mm=action.value_mm,
        tool=action.tool,
    )


def write_value(_: Setup, state: State, action: WriteValue) -> Outcome:
    """Return the notes with one more reading of meter, release or lever."""
    if len(state.value_notes) >= MOST_NOTES:
        return not_possible(state, "notes.full")
    note = ValueNote(action.what, action.value, state.step)
    if action.what == "coil_ohm" and action.value >= OPEN_OHM:
        return seen(state._replace(value_notes=(*state.value_notes, note)), "notes.coil-open")
    facts = {action.what: action.value}
    return seen(state._replace(value_notes=(*state.value_notes, note)), "notes.value", **facts)


def strike_out(_: Setup, state: State, action: StrikeOut) -> Outcome:
    """Return the notes with one line struck through; it stays legible."""
    notes = {"gap": state.gap_notes, "disc": state.disc_notes, "value": state.value_notes}
    lines: tuple[Any, ...] = notes[action.sheet]
    if action.line >= len(lines):
        return not_there(state, "notes.no-such-line", line=action.line + 1)
    if lines[action.line].struck:
        return already(state, "notes.already-struck", line=action.line + 1)
    struck = replace(lines[action.line], struck=True)
    changed = (*lines[: action.line], struck, *lines[action.line + 1 :])
    if action.sheet == "gap":
        return seen(state._replace(gap_notes=changed), "notes.struck", line=action.line + 1)
    if action.sheet == "disc":
        return seen(state._replace(disc_notes=changed), "notes.struck", line=action.line + 1)
    return seen(state._replace(value_notes=changed), "notes.struck", line=action.line + 1)

"""Gauging the gap with leaves, the disc with a caliper, and writing readings down."""

import math
from dataclasses import replace

from widgets.instruments.caliper import Caliper, caliper
from widgets.instruments.feeler import BLADE_WIDTH_MM, Entry, Feel, insert

from .actions import GaugeGap, MeasureDisc, WriteDisc, WriteGap
from .state import DiscNote, GapNote, Observation, Outcome, Setup, State, gap_now, refused

SAME_PLACE_DEG = 3.0  # a leaf moved by less than this is still at the same place
MOST_NOTES = 400  # a notes sheet has an end


def gauge_gap(setup: Setup, state: State, action: GaugeGap) -> Outcome:
    """Return what the hand feels of a stack of leaves pushed in at an angle."""
    obstacle = _in_the_way(state)
    if obstacle:
        return refused(state, f"The leaf does not reach the gap: the {obstacle} is in the way.")
    try:
        stack = setup.leaves.stack(action.leaves_mm)
    except ValueError as error:
        return refused(state, _stack_words(str(error)))
    state = _at_place(state, action.angle_deg)
    # Drawn in, the plate lies on the magnet: there is no gap to be found.
    gap_mm = 0.0 if state.released else _under_blade_mm(setup, state, action.angle_deg)
    entry = Entry(dust_mm=state.dust_mm)
    felt = insert(stack, gap_mm, setup.draws, visit=state.visit, attempt=state.attempt, entry=entry)
    total_mm = sum(action.leaves_mm)
    seen = {
        "angle_deg": action.angle_deg,
        "leaves_mm": list(action.leaves_mm),
        "feel": felt.feel.value,
        "drag": round(felt.drag, 2),
    }
    words = f"At {action.angle_deg:.0f}°: {total_mm:.2f} mm {_FEEL_WORDS[felt.feel]}"
    return replace(state, attempt=state.attempt + 1), Observation(done=True, words=words, seen=seen)


_FEEL_WORDS = {
    Feel.SLIDES: "slides in freely.",
    Feel.DRAGS: "goes in and drags.",
    Feel.WILL_NOT_ENTER: "will not enter.",
}


def measure_disc(setup: Setup, state: State, action: MeasureDisc) -> Outcome:
    """Return what the caliper shows over both linings at an angle."""
    obstacle = _in_the_way(state)
    if obstacle:
        return refused(state, f"The jaws do not reach the disc: the {obstacle} is in the way.")
    disc = setup.condition.disc
    thickness_mm = disc.at_mm(action.angle_deg, state.shaft_deg)
    shown_mm = _zeroed_caliper(setup).read_mm(thickness_mm, setup.draws, "disc", state.step)
    words = f"At {action.angle_deg:.0f}°: the caliper shows {shown_mm:.2f} mm over both linings."
    seen = {"angle_deg": action.angle_deg, "shown_mm": shown_mm}
    return state, Observation(done=True, words=words, seen=seen)


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
    changed = replace(state, gap_notes=(*state.gap_notes, note))
    return changed, Observation(done=True, words=words)


def write_disc(_: Setup, state: State, action: WriteDisc) -> Outcome:
    """Return the notes with one more disc reading."""
    if len(state.disc_notes) >= MOST_NOTES:
        return refused(state, "The notes sheet is full.")
    note = DiscNote(action.angle_deg, action.value_mm, state.step)
    words = f"Written: disc at {action.angle_deg:.0f}°, {action.value_mm:.2f} mm."
    changed = replace(state, disc_notes=(*state.disc_notes, note))
    return changed, Observation(done=True, words=words)


def _in_the_way(state: State) -> str:
    if state.cover_on:
        return "cover"
    if state.fan_on:
        return "fan"
    return "seal band" if state.seal_on else ""


def _at_place(state: State, angle_deg: float) -> State:
    """Return the state with the hand at a place: a new visit, unless it is there already."""
    away_deg = abs((angle_deg - state.place_deg + 180) % 360 - 180)
    if state.place_deg >= 0 and away_deg < SAME_PLACE_DEG:
        return state
    return replace(state, place_deg=angle_deg, visit=state.visit + 1, attempt=0)


def _under_blade_mm(setup: Setup, state: State, angle_deg: float) -> float:
    """Return the smallest gap under the blade's two edges and its middle, mm."""
    gap = gap_now(setup, state)
    half_deg = math.degrees(BLADE_WIDTH_MM / setup.size.screws.gauging_circle_mm)
    return min(gap.at_mm(angle_deg + offset) for offset in (-half_deg, 0.0, half_deg))


def _zeroed_caliper(setup: Setup) -> Caliper:
    return caliper(setup.draws.child("caliper")).zeroed()


def _stack_words(reason: str) -> str:
    if "twice" in reason:
        return "Each leaf is in the set only once: choose different leaves."
    if "1 to" in reason:
        return "More than three leaves together act as a spring: choose fewer."
    return "There is no such leaf in the set."

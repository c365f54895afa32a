"""A careful colleague's notes of a brake: what a reading case gives instead of the brake.

Worked out from the truth through the instruments' own models and dice, a few tries a place.
"""

from collections.abc import Iterator
from dataclasses import replace

from widgets.bench.handlers.measuring import THERMOMETER_SCATTER_K
from widgets.bench.notes import DiscNote, GapNote, Line, ValueNote
from widgets.bench.setup import Order, Setup
from widgets.bench.standing import gap_now
from widgets.bench.starts import at_start
from widgets.bench.state import State
from widgets.bench.symptoms import SYMPTOMS, lever_play_mm
from widgets.brake.behaviour import coil_at_terminals_ohm, supply_share
from widgets.brake.draws import Draws
from widgets.instruments.caliper import caliper
from widgets.instruments.feeler import Feel, LeafSet, insert, marks_for
from widgets.instruments.meter import meter, read_insulation
from widgets.instruments.written import gap_reading

from .given import NO_END, NOTHING, SIZE, SYMPTOM
from .rounds import EIGHT, FOUR, STEPS_MM, looks_warped

# What a colleague cannot have seen (behind the body), and what they had cleaned away.
_UNSEEN = frozenset({"dust", "radial-cracks"})
_TELLING = tuple(symptom for symptom in SYMPTOMS if symptom.code not in _UNSEEN)
_STACKS = tuple(marks_for(mm) for mm in STEPS_MM)


def near_notes(
    near: str, setup: Setup, draws: Draws
) -> tuple[tuple[GapNote, ...], None] | tuple[None, tuple[DiscNote, ...]]:
    """Return the colleague's gap notes, or those of the disc: what lies near a limit, alone."""
    safe = _safe(at_start(setup))
    if near == "gap":
        return _gap_notes_twice(setup, safe, draws), None
    return None, _disc_notes(safe, draws)


def noted(
    setup: Setup,
    order: Order,
    draws: Draws,
    *,
    gaps: tuple[GapNote, ...] | None = None,
    discs: tuple[DiscNote, ...] | None = None,
) -> Order:
    """Return the order with a colleague's lines and readings of the brake in `setup`.

    Parameters
    ----------
    setup : Setup
        The brake as it was found, with the colleague's leaves.
    order : Order
        What else the order says.
    draws : Draws
        The colleague's dice.
    gaps, discs : tuple of notes, optional
        What `near_notes` has given already of this brake by these dice.
    """
    state = at_start(setup)
    safe = _safe(state)
    lines = [Line(SYMPTOM, symptom.code) for symptom in _TELLING if symptom.shows(setup, state)]
    lines = lines or [NOTHING]
    values = tuple(_values(setup, safe, draws))
    if not any(note.what == "coil_ohm" for note in values):
        lines.append(NO_END)
    return replace(
        order,
        lines=(Line(SIZE, setup.size.name), *lines),
        gap_notes=_gap_notes_twice(setup, safe, draws) if gaps is None else gaps,
        disc_notes=_disc_notes(safe, draws) if discs is None else discs,
        value_notes=values,
    )


def _safe(state: State) -> State:
    """Return the brake as the colleague made it safe: its coil dead."""
    if not state.brake.coil_live:
        return state
    return state._replace(brake=replace(state.brake, coil_live=False), released=False)


def _gap_notes_twice(setup: Setup, state: State, draws: Draws) -> tuple[GapNote, ...]:
    """Return a round of readings; a second one, if the first makes a part look bent."""
    if not state.brake.release_lever_returns:
        return ()  # with the lever drawn there is no gap to be found
    notes = gap_notes(setup, state, draws)
    read = [gap_reading(note.angle_deg, note.go_mm, note.no_go_mm) for note in notes]
    if looks_warped(setup.size, read):
        notes = gap_notes(setup, state, draws.child("again"))
    return notes


def gap_notes(setup: Setup, state: State, draws: Draws) -> tuple[GapNote, ...]:
    """Return a round of eight brackets in hundredths, the dust gone."""
    gap = gap_now(setup, state)
    found = []
    for visit, angle_deg in enumerate(EIGHT):
        go, no_go = _bracket(setup.leaves, gap.at_mm(angle_deg), draws, visit)
        found.append(GapNote(angle_deg, go, no_go, 0))
    return tuple(found)


def _bracket(leaves: LeafSet, gap_mm: float, draws: Draws, visit: int) -> tuple[float, float]:
    """Return the thickest stack that went and the thinnest that did not, from a fair first try."""
    last = len(STEPS_MM) - 1
    at = min(max(0, round((gap_mm - STEPS_MM[0]) * 100)), last)

    def goes(step: int) -> bool:
        stack = leaves.stack(_STACKS[step])
        felt = insert(stack, gap_mm, draws, visit=visit, attempt=step)
        return felt.feel is not Feel.WILL_NOT_ENTER

    if goes(at):
        while at < last and goes(at + 1):
            at += 1
    else:
        at -= 1
        while at >= 0 and not goes(at):
            at -= 1
    go_mm = STEPS_MM[at] if at >= 0 else 0.0
    return go_mm, STEPS_MM[at + 1] if at < last else round(go_mm + 0.05, 2)


def _disc_notes(state: State, draws: Draws) -> tuple[DiscNote, ...]:
    own = caliper(draws.child("caliper")).zeroed()
    disc = state.brake.disc
    return tuple(
        DiscNote(angle, own.read_mm(disc.at_mm(angle), draws, "disc", place), 0)
        for place, angle in enumerate(FOUR)
    )


def _values(setup: Setup, state: State, draws: Draws) -> Iterator[ValueNote]:
    own, brake = meter(draws.child("meter")).nulled(), state.brake
    ohm = own.read_ohm(coil_at_terminals_ohm(setup.size, brake), draws, "coil")
    coil_c = round(brake.coil_c + THERMOMETER_SCATTER_K * draws.normal("coil c"), 0)
    if ohm is not None:
        yield ValueNote("coil_ohm", ohm, 0)
        yield ValueNote("coil_c", max(0.0, coil_c), 0)
    insulation = read_insulation(brake.insulation_mohm, draws, "insulation")
    yield ValueNote("insulation_mohm", insulation.resistance_mohm, 0)
    volt = own.read_volt(supply_share(brake) * setup.size.coil.voltage_v, draws, "supply")
    if volt is not None:
        yield ValueNote("voltage_v", max(0.0, volt), 0)
    if brake.release_lever_returns:
        yield ValueNote("lever_play_mm", round(lever_play_mm(setup, state), 1), 0)

"""Unsafe ends, told from the true brake and from what was done; no rule of grading has a part.

A gap or disc counts once it is clearly out of its limit: more than two uncertainties.
"""

from collections.abc import Iterator

from quizzes.grading.evidence.gathering import Recorder
from widgets.bench.handlers.proving import holding_ratio_now
from widgets.bench.setup import Setup
from widgets.bench.standing import gap_now
from widgets.bench.state import State
from widgets.bench.symptoms import SYMPTOMS
from widgets.brake.gap.clearance import waves_mm
from widgets.brake.gap.profile import GapField
from widgets.brake.judgement.rules import Outcome
from widgets.instruments.written import DISC_U_MM, GAP_U_MM

TEST_LOAD = 1.25  # of the rated load, static; ISO 4310:2009, from memory
CLEARLY = 2.0  # standard uncertainties beyond a limit
LOOSE_BELOW = 0.8  # of the proper torque; common practice, no source
# What lets a load fall while it is there.
DANGEROUS = frozenset(
    {"wet-trace", "dark-shiny-edge", "glassy-brown-edge", "blue-patches", "radial-cracks",
     "spring-splinter", "springs-of-two-colours", "uneven-clack", "rust-red-dust", "disc-rocks",
     "hub-stands-out", "bright-rings", "contact-on-the-ac-side", "hook-sags",
     "lever-without-play", "lever-drawn", "late-dull-tap", "screw-turns-by-hand"}
)  # fmt: skip
# What springs lack because of these, a setting gives back to them.
_CURED_BY_SETTING = frozenset(
    {"gap too large", "lock loose", "lever-without-play", "screw-turns-by-hand",
     "does not hold the test load"}
)  # fmt: skip
_HANDS_IN = frozenset(
    {"remove_fan", "remove_seal", "clean", "gauge_gap", "measure_disc", "try_lock", "draw_lock",
     "remove_body", "remove_disc", "disconnect_leads"}
)  # fmt: skip


def unsafe_ends(recorder: Recorder) -> tuple[str, ...]:
    """Return how a job endangered somebody, while it was done or by what it left; empty if not."""
    return (*_while_done(recorder), *_left(recorder))


def _while_done(recorder: Recorder) -> Iterator[str]:
    for step in recorder.steps:
        if step.observation.alarm:
            yield step.observation.alarm
        before = step.before
        if step.observation.done and step.action.kind in _HANDS_IN:
            if not before.load_landed:
                yield "hands in under the load"
            if not (before.isolated and before.locked and before.proved_dead):
                yield "hands in, not locked off and proved dead"
            return


def _left(recorder: Recorder) -> Iterator[str]:
    setup, end = recorder.setup, recorder.state
    if end.into_service or end.awaits_test:
        yield from _dangers(setup, end)
        return
    if setup.order.ends_at_decision and end.decision in {Outcome.FIT, Outcome.ADJUST}:
        found = set(_dangers(setup, recorder.start))
        cured = _CURED_BY_SETTING
        yield from sorted(found - cured if end.decision == Outcome.ADJUST else found)


def _dangers(setup: Setup, state: State) -> Iterator[str]:
    limits = setup.size.gap
    if state.body_on:
        if _wider_than(gap_now(setup, state), limits.max_mm + CLEARLY * GAP_U_MM):
            yield "gap too large"
        if min(state.lock_nm) < LOOSE_BELOW * setup.size.screws.retaining_torque_nm:
            yield "lock loose"
        if holding_ratio_now(setup, state) < TEST_LOAD:
            yield "does not hold the test load"
    if state.brake.disc.thinnest_mm < setup.size.disc.min_mm - CLEARLY * DISC_U_MM:
        yield "disc too thin"
    if state.disc_reversed or not state.plate_smooth_to_disc:
        yield "part turned round"
    for symptom in SYMPTOMS:
        if symptom.code in DANGEROUS and symptom.shows(setup, state):
            yield symptom.code


def _wider_than(gap: GapField, limit_mm: float) -> bool:
    """Return whether a gap is wider than a limit somewhere; round the rim only where it may be."""
    most_mm = gap.plane.mean_mm + gap.plane.tilt_mm + waves_mm(gap)
    return most_mm > limit_mm and max(gap.round_mm(72)) > limit_mm

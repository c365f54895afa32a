"""The bench: one action in, one observation out, the same every time."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from widgets.brake.condition import Condition
from widgets.brake.size import BrakeSize

from . import adjusting, measuring, opening, proving, reporting, safety_steps
from .actions import Action
from .state import Observation, Outcome, Setup, State, refused

_Handler = Callable[[Setup, State, Any], Outcome]

_HANDLERS: Mapping[str, _Handler] = {
    "land_load": safety_steps.land_load,
    "isolate": safety_steps.isolate,
    "prove_dead": safety_steps.prove_dead,
    "restore_supply": safety_steps.restore_supply,
    "remove_cover": opening.remove_cover,
    "refit_cover": opening.refit_cover,
    "remove_fan": opening.remove_fan,
    "refit_fan": opening.refit_fan,
    "remove_seal": opening.remove_seal,
    "refit_seal": opening.refit_seal,
    "read_plate": opening.read_plate,
    "clean": opening.clean,
    "gauge_gap": measuring.gauge_gap,
    "measure_disc": measuring.measure_disc,
    "write_gap": measuring.write_gap,
    "write_disc": measuring.write_disc,
    "loosen_lock": adjusting.loosen_lock,
    "tighten_lock": adjusting.tighten_lock,
    "turn_screw": adjusting.turn_screw,
    "energise": proving.energise,
    "de_energise": proving.de_energise,
    "turn_shaft": proving.turn_shaft,
    "test_hold": proving.hold_test,
    "decide": reporting.decide,
    "hand_over": reporting.hand_over,
}


def take(setup: Setup, state: State, action: Action) -> Outcome:
    """Return the state after an action, and what was seen.

    A refused action returns the very same state: nothing has changed, and the
    next draw of the dice is the same as if it had not been tried.
    """
    if state.handed_over:
        return refused(state, "The job is handed over; the record is signed.")
    changed, observation = _HANDLERS[action.kind](setup, state, action)
    if not observation.done:
        return state, observation
    return replace(changed, step=state.step + 1), observation


class Bench:
    """One brake being worked on: `act` for a person, `replay` for a log.

    Parameters
    ----------
    size : BrakeSize
        Which brake.
    condition : Condition
        Its hidden state.
    seed : bytes
        16 bytes or more; with size, condition and actions it fixes every observation.
    """

    def __init__(self, size: BrakeSize, condition: Condition, seed: bytes) -> None:
        self.setup = Setup.of(size, condition, seed)
        self.state = State.at_start(self.setup)

    def act(self, action: Action) -> Observation:
        """Carry out one action and return what is seen."""
        self.state, observation = take(self.setup, self.state, action)
        return observation

    def replay(self, actions: Iterable[Action]) -> tuple[Observation, ...]:
        """Carry out many actions and return what was seen at each."""
        return tuple(self.act(action) for action in actions)

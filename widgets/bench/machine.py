"""The bench: one action in, one observation out, the same every time."""

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from widgets.brake.condition import Condition
from widgets.brake.sizes.size import BrakeSize

from .actions import Action
from .actions.adjusting import SETS_THE_GAP
from .handlers import (
    adjusting,
    assembling,
    drying,
    load_test,
    looking,
    measuring,
    opening,
    proving,
    reporting,
    setting,
    tools,
    writing,
)
from .handlers import making_safe as safety_steps
from .observed import Observation, Outcome, not_possible
from .setup import Order, Setup, Start
from .standing import BURNS_FROM_C
from .starts import at_start
from .state import State
from .tested import tested_after

_Handler = Callable[[Setup, State, Any], Outcome]

# What does it, and how long it takes at the brake, seconds. The times are invented.
HANDLERS: Mapping[str, tuple[_Handler, float]] = {
    "land_load": (safety_steps.land_load, 120),
    "keep_clear": (safety_steps.keep_clear, 180),
    "let_cool": (safety_steps.let_cool, 2700),
    "isolate": (safety_steps.isolate, 90),
    "isolate_second": (safety_steps.isolate_second, 180),
    "open_box": (safety_steps.open_box, 60),
    "close_box": (safety_steps.close_box, 60),
    "prove_dead": (safety_steps.prove_dead, 120),
    "restore_supply": (safety_steps.restore_supply, 60),
    "remove_cover": (opening.remove_cover, 90),
    "refit_cover": (opening.refit_cover, 90),
    "remove_ring": (opening.remove_ring, 30),
    "refit_ring": (opening.refit_ring, 30),
    "remove_fan": (opening.remove_fan, 60),
    "refit_fan": (opening.refit_fan, 60),
    "remove_seal": (opening.remove_seal, 40),
    "refit_seal": (opening.refit_seal, 90),
    "read_plate": (opening.read_plate, 20),
    "look": (looking.look, 20),
    "clean": (opening.clean, 150),
    "stop_water": (drying.stop_water, 900),
    "dry_out": (drying.dry_out, 3600),
    "check_tool": (tools.check_tool, 20),
    "change_tool": (tools.change_tool, 120),
    "gauge_gap": (measuring.gauge_gap, 8),
    "measure_disc": (measuring.measure_disc, 20),
    "measure_coil": (measuring.measure_coil, 60),
    "find_release": (measuring.find_release, 120),
    "write_gap": (writing.write_gap, 5),
    "write_disc": (writing.write_disc, 5),
    "write_value": (writing.write_value, 5),
    "strike_out": (writing.strike_out, 3),
    "decide": (reporting.decide, 60),
    "try_lock": (adjusting.try_lock, 15),
    "loosen_lock": (adjusting.loosen_lock, 20),
    "tighten_lock": (adjusting.tighten_lock, 25),
    "turn_screw": (adjusting.turn_screw, 25),
    "change_shim": (setting.change_shim, 60),
    "loosen_adjusting_ring": (setting.loosen_adjusting_ring, 20),
    "turn_adjusting_ring": (setting.turn_adjusting_ring, 30),
    "lock_adjusting_ring": (setting.lock_adjusting_ring, 20),
    "work_lever": (adjusting.work_lever, 15),
    "set_lever": (adjusting.set_lever, 120),
    "disconnect_leads": (assembling.disconnect_leads, 120),
    "connect_leads": (assembling.connect_leads, 120),
    "remove_lever": (assembling.remove_lever, 120),
    "refit_lever": (assembling.refit_lever, 120),
    "hold_body": (assembling.hold_body, 120),
    "draw_lock": (assembling.draw_lock, 60),
    "remove_body": (assembling.remove_body, 90),
    "remove_disc": (assembling.remove_disc, 40),
    "remove_wear_plate": (assembling.remove_wear_plate, 60),
    "clean_spline": (assembling.clean_spline, 120),
    "fit_wear_plate": (assembling.fit_wear_plate, 90),
    "fit_disc": (assembling.fit_disc, 60),
    "fit_body": (assembling.fit_body, 120),
    "start_lock": (assembling.start_lock, 40),
    "energise": (proving.energise, 15),
    "de_energise": (proving.de_energise, 10),
    "turn_shaft": (proving.turn_shaft, 15),
    "bed_in": (proving.bed_in, 300),
    "test_run": (proving.run_test, 120),
    "test_hold": (load_test.hold_test, 600),
    "hand_over": (reporting.hand_over, 180),
}
# What lays a hand on the brake itself.
_TOUCHES = frozenset(
    {"remove_fan", "remove_ring", "remove_seal", "clean", "gauge_gap", "measure_disc", "try_lock",
     "loosen_lock", *SETS_THE_GAP, "loosen_adjusting_ring", "set_lever", "remove_lever",
     "hold_body", "turn_shaft"}
)  # fmt: skip
_ON_PAPER = {"decide", "hand_over", "strike_out", "write_gap", "write_disc", "write_value"}


def take(setup: Setup, state: State, action: Action) -> Outcome:
    """Return the state after an action, and what was seen.

    A refused action returns the very same state: nothing has changed, and the
    next draw of the dice is the same as if it had not been tried.
    """
    if state.handed_over:
        return not_possible(state, "job.handed-over")
    if setup.order.start is Start.NOTES and action.kind not in _ON_PAPER:
        return not_possible(state, "job.notes-only")
    handler, seconds = HANDLERS[action.kind]
    changed, observation = handler(setup, state, action)
    if not observation.done:
        return state, observation
    if state.brake.surface_c > BURNS_FROM_C and action.kind in _TOUCHES and not observation.alarm:
        changed, observation = safety_steps.burnt(changed, observation)
    after = changed.after_step(state.step + 1, state.elapsed_s + seconds)
    tested = tested_after(after.tested, action.kind)
    return after if tested is after.tested else after._replace(tested=tested), observation


class Bench:
    """One brake being worked on: `act` for a person, `replay` for a log.

    Parameters
    ----------
    size : BrakeSize
        Which brake.
    condition : Condition
        Its hidden state.
    seed : bytes
        16 bytes or more; with size, condition, order and actions it fixes every observation.
    order : Order, optional
        Where the job begins; the whole work order, if not given.
    """

    def __init__(
        self, size: BrakeSize, condition: Condition, seed: bytes, order: Order | None = None
    ) -> None:
        self.setup = Setup.of(size, condition, seed, order)
        self.state = at_start(self.setup)

    def act(self, action: Action) -> Observation:
        """Carry out one action and return what is seen."""
        self.state, observation = take(self.setup, self.state, action)
        return observation

    def replay(self, actions: Iterable[Action]) -> tuple[Observation, ...]:
        """Carry out many actions and return what was seen at each."""
        return tuple(self.act(action) for action in actions)

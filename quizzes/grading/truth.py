"""How the brake was left: judged against the hidden truth, for the kernel and the assessor."""

from dataclasses import dataclass

from widgets.bench.proving import TEST_LOAD, holding_ratio_now, release_share_now
from widgets.bench.setup import Setup
from widgets.bench.standing import gap_now
from widgets.bench.state import State
from widgets.brake.behaviour import HOT_COIL_C, LOW_SUPPLY
from widgets.brake.rules import Outcome

from .evidence import true_conclusion

TORQUE_TOLERANCE = 0.15  # of the tightening torque; a choice of this scheme
SETTING_TOLERANCE = 0.5  # of the evenness limit, either way; a choice of this scheme


@dataclass(frozen=True, slots=True)
class SetWell:
    """Whether a gap was left on its setting and even, with the lines that say so."""

    on_setting: bool
    even: bool
    lines: tuple[str, ...]


def set_well(setup: Setup, state: State) -> SetWell:
    """Return how well the gap was set, from the truth."""
    plane, limits = gap_now(setup, state).plane, setup.size.gap
    off_mm = plane.mean_mm - limits.setting_mm
    # Half the evenness limit, or the finest step of a leaf set if that is coarser.
    allowed_mm = max(SETTING_TOLERANCE * limits.evenness_mm, 0.03)
    on_setting = abs(off_mm) <= allowed_mm
    even = 2 * plane.tilt_mm <= limits.evenness_mm
    way = "on the setting"
    if not on_setting:
        way = "wider than the setting" if off_mm > 0 else "tighter than the setting"
    lines = (
        f"Left {way} of {limits.setting_mm:g} mm on the mean.",
        "Left even round the rim." if even else "Left uneven: one side wider than the other.",
    )
    return SetWell(on_setting, even, lines)


def left_wrong(setup: Setup, state: State) -> tuple[str, ...]:
    """Return what is wrong with a brake that went into service; empty if nothing is.

    Notes
    -----
    A brake left out of service, locked and tagged, endangers nobody.
    """
    if not state.into_service:
        return ()
    return (*_hidden(setup, state), *left_careless(setup, state))


def left_careless(setup: Setup, state: State) -> tuple[str, ...]:
    """Return what is wrong with a brake in service that anybody could have seen or felt."""
    if not state.into_service:
        return ()
    found = []
    least_nm = (1 - TORQUE_TOLERANCE) * setup.size.screws.retaining_torque_nm
    loose = [n for n, lock_nm in enumerate(state.lock_nm, start=1) if lock_nm < least_nm]
    if loose:
        found.append(f"In service with retaining screw {', '.join(map(str, loose))} not tight.")
    off = [
        name
        for name, on in (("cover", state.cover_on), ("fan", state.fan_on), ("seal", state.seal_on))
        if not on
    ]
    if off:
        found.append(f"In service without its {' and '.join(off)}.")
    return tuple(found)


def _hidden(setup: Setup, state: State) -> tuple[str, ...]:
    """Return what is wrong with a brake in service that only a measurement or a test can tell."""
    found = []
    truth = true_conclusion(setup, state)
    if truth.outcome is not Outcome.FIT:
        need = {
            Outcome.ADJUST: "its gap is outside its limits or uneven",
            Outcome.REPLACE: "its disc is worn out",
            Outcome.REFER: "it has a fault that no adjustment cures",
        }
        found.append(f"In service although {need[truth.outcome or Outcome.REFER]}.")
    if holding_ratio_now(setup, state) < TEST_LOAD:
        found.append("In service although it does not hold the test load.")
    if release_share_now(setup, state, HOT_COIL_C) > LOW_SUPPLY:
        found.append("In service although it will not release hot at low voltage.")
    return tuple(found)

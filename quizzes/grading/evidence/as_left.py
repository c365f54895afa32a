"""How the brake was left: from the hidden truth, for the kernel and the assessor."""

from collections.abc import Iterator
from dataclasses import dataclass

from quizzes.grading.editions import EDITION, EDITIONS, Rules
from widgets.bench.handlers.proving import TEST_LOAD, holding_ratio_now, release_share_now
from widgets.bench.setup import Setup
from widgets.bench.standing import gap_now
from widgets.bench.state import State
from widgets.brake.behaviour import HOT_COIL_C, LOW_SUPPLY
from widgets.brake.judgement.rules import Outcome
from widgets.brake.judgement.signs import Finding

from .signs_seen import true_signs
from .truth import true_gap, true_need

FINEST_MM = 0.03  # mm, nobody sets a gap nearer than the step of the finest leaves; a choice
_NEEDS = {
    Outcome.ADJUST: "its gap is outside its limits or uneven",
    Outcome.REPLACE: "its disc is worn out",
    Outcome.REFER: "plate or body is bent, and no adjustment cures that",
}


@dataclass(frozen=True, slots=True)
class SetWell:
    """Whether a gap was left on its setting and even, with the lines that say so."""

    on_setting: bool
    even: bool
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Wrong:
    """One thing wrong with a brake in service: in words; whether it endangers; could be seen."""

    words: str
    dangerous: bool
    in_sight: bool


def set_well(setup: Setup, state: State, rules: Rules) -> SetWell:
    """Return how well the gap was set, from the truth."""
    plane, limits = gap_now(setup, state).plane, setup.size.gap
    off_mm = plane.mean_mm - limits.setting_mm
    allowed_mm = max(rules.setting_share * limits.evenness_mm, FINEST_MM)
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


def slack_locks(setup: Setup, state: State, rules: Rules) -> tuple[int, ...]:
    """Return the retaining screws that are less tight than this size asks for."""
    least_nm = (1 - rules.torque_share) * setup.size.screws.retaining_torque_nm
    return tuple(n for n, lock_nm in enumerate(state.lock_nm, start=1) if lock_nm < least_nm)


def lever_has_play(setup: Setup, state: State) -> bool:
    """Return whether the hand release keeps its play until the gap is at its largest."""
    play_mm = state.brake.release_lever_play_mm
    if play_mm is None:
        return True
    return play_mm >= setup.size.gap.max_mm - setup.size.gap.setting_mm - FINEST_MM


def parts_off(state: State) -> tuple[str, ...]:
    """Return what is not back in its place of cover, fan and seal."""
    return tuple(
        name
        for name, on in (
            ("seal band", state.seal_on),
            ("fan", state.fan_on),
            ("cover", state.cover_on),
        )
        if not on
    )


def parts_badly_fitted(setup: Setup, state: State) -> tuple[str, ...]:
    """Return what is on and not as it should be, in words, from the truth."""
    checks = (
        (state.seal_on and not state.seal_seated, "the lip of the seal band out of its groove"),
        (state.fan_on and not state.fan_keyed, "the fan without its key"),
        (state.fan_on and not state.ring_on, "the fan without its ring"),
        (not state.lever_on, "the hand release off"),
        (
            state.lever_on and not lever_has_play(setup, state),
            "the hand release without play enough for the wear to come",
        ),
        (state.leads == "ac", "the leads on the alternating side"),
        (state.leads in {"off", "torn"}, f"the leads {state.leads}"),
        (not state.plate_smooth_to_disc, "the wear plate with its rough side to the disc"),
        (state.disc_reversed, "the disc the wrong way round"),
        (state.brake.surface == "unbedded", "the new lining not bedded in"),
    )
    return tuple(words for wrong, words in checks if wrong)


def left_wrong(setup: Setup, state: State, rules: Rules = EDITIONS[EDITION]) -> tuple[Wrong, ...]:
    """Return what is wrong with a brake that went into service; empty if nothing is.

    Notes
    -----
    A brake left out of service, locked and tagged, endangers nobody.
    """
    if not state.into_service:
        return ()
    return (*_hidden(setup, state), *_in_sight(setup, state, rules))


def _in_sight(setup: Setup, state: State, rules: Rules) -> Iterator[Wrong]:
    """Return what anybody could have seen or felt."""
    loose = slack_locks(setup, state, rules)
    if loose:
        named = ", ".join(map(str, loose))
        yield Wrong(
            f"In service with retaining screw {named} not tight.", dangerous=True, in_sight=True
        )
    off = parts_off(state)
    if off:
        yield Wrong(f"In service without its {' and '.join(off)}.", dangerous=False, in_sight=True)
    if state.disc_reversed:
        yield Wrong("In service with the disc the wrong way round.", dangerous=True, in_sight=True)
    if setup.size.wear_plate_mm > 0 and not state.wear_plate_on:
        yield Wrong("In service without its wear plate.", dangerous=True, in_sight=True)


def _hidden(setup: Setup, state: State) -> Iterator[Wrong]:
    """Return what only a look, a measurement or a test can tell."""
    need = true_need(setup, state)
    if need is not Outcome.FIT:
        # Uneven or tight within the largest gap costs a disc, and lets no load fall.
        wide = true_gap(gap_now(setup, state)).widest_mm > setup.size.gap.max_mm
        dangerous = wide or need is not Outcome.ADJUST
        yield Wrong(f"In service although {_NEEDS[need]}.", dangerous=dangerous, in_sight=False)
    for one in true_signs(setup, state):
        # Fretting stays to be seen after a screw is tight; the screws are judged by themselves.
        if one.sign.needs is not None and one.sign.finding is not Finding.LOCK_LOOSE:
            words = f"In service with a fault: {one.sign.words}"
            yield Wrong(words, dangerous=one.sign.dangerous, in_sight=False)
    if holding_ratio_now(setup, state) < TEST_LOAD:
        yield Wrong(
            "In service although it does not hold the test load.", dangerous=True, in_sight=False
        )
    if release_share_now(setup, state, HOT_COIL_C) > LOW_SUPPLY:
        words = "In service although it will not release hot at low voltage."
        yield Wrong(words, dangerous=False, in_sight=False)

"""How the brake was left: from the hidden truth, for the kernel and the assessor."""

from collections.abc import Iterator
from dataclasses import dataclass

from quizzes.grading.editions import EDITION, EDITIONS, Rules
from widgets.bench.handlers.proving import holding_ratio_now, release_share_now
from widgets.bench.setup import Setup
from widgets.bench.standing import gap_now
from widgets.bench.state import State
from widgets.brake.around import WET
from widgets.brake.behaviour import HOT_COIL_C, LOW_SUPPLY
from widgets.brake.judgement.remark import Remark, remark
from widgets.brake.judgement.rules import Outcome
from widgets.brake.judgement.signs import Finding

from .signs_seen import true_signs
from .truth import true_gap, true_need

# Of what is badly fitted, what can keep a brake from holding: a lever that wear brings to bear, a
# coil switched too late, parts that rub or jam; and in service a lining that has no grip yet.
ENDANGERS = frozenset(
    f"fitted-badly.{what}"
    for what in ("lever-without-play", "leads-on-ac-side", "rough-to-disc", "disc-reversed",
                 "spline-dirty")
)  # fmt: skip
UNBEDDED = "fitted-badly.not-bedded"
FINEST_MM = 0.03  # mm, nobody sets a gap nearer than the step of the finest leaves; a choice


@dataclass(frozen=True, slots=True)
class SetWell:
    """Whether a gap was left on its setting and even, with the lines that say so."""

    on_setting: bool
    even: bool
    lines: tuple[Remark, ...]


@dataclass(frozen=True, slots=True)
class Wrong:
    """One thing wrong with a brake in service: what; whether it endangers; could be seen."""

    what: Remark
    dangerous: bool
    in_sight: bool


def set_well(setup: Setup, state: State, rules: Rules) -> SetWell:
    """Return how well the gap was set, from the truth."""
    plane, limits = gap_now(setup, state).plane, setup.size.gap
    off_mm = plane.mean_mm - limits.setting_mm
    allowed_mm = max(rules.setting_share * limits.evenness_mm, FINEST_MM)
    on_setting = abs(off_mm) <= allowed_mm
    even = 2 * plane.tilt_mm <= limits.evenness_mm
    way = "on"
    if not on_setting:
        way = "wider" if off_mm > 0 else "tighter"
    lines = (
        remark("setting.mean", way=way, setting_mm=limits.setting_mm),
        remark("setting.even") if even else remark("setting.uneven"),
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
    """Return what is not back in its place of cover, fan, seal and terminal box."""
    return tuple(
        name
        for name, on in (
            ("seal-band", state.seal_on),
            ("fan", state.fan_on),
            ("cover", state.cover_on),
            ("terminal-box", state.box_on),
        )
        if not on
    )


def parts_badly_fitted(setup: Setup, state: State) -> tuple[Remark, ...]:
    """Return what is on and not as it should be, from the truth."""
    checks = (
        (state.seal_on and not state.seal_seated, remark("fitted-badly.seal-lip")),
        (state.fan_on and not state.fan_keyed, remark("fitted-badly.fan-without-key")),
        (state.fan_on and not state.ring_on, remark("fitted-badly.fan-without-ring")),
        (not state.lever_on, remark("fitted-badly.lever-off")),
        (
            state.lever_on and not lever_has_play(setup, state),
            remark("fitted-badly.lever-without-play"),
        ),
        (state.leads == "ac", remark("fitted-badly.leads-on-ac-side")),
        (state.leads in {"off", "torn"}, remark("fitted-badly.leads", leads=state.leads)),
        (not state.plate_smooth_to_disc, remark("fitted-badly.rough-to-disc")),
        (state.disc_reversed, remark("fitted-badly.disc-reversed")),
        (state.brake.surface == "unbedded", remark(UNBEDDED)),
        (_spline_dirty(state), remark("fitted-badly.spline-dirty")),
    )
    return tuple(what for wrong, what in checks if wrong)


def _spline_dirty(state: State) -> bool:
    """Return whether a new disc was pushed onto a spline that nobody had cleaned."""
    return state.disc_on and state.disc_part != "old" and not state.spline_cleaned


def left_wrong(setup: Setup, state: State, rules: Rules = EDITIONS[EDITION]) -> tuple[Wrong, ...]:
    """Return what is wrong with a brake that went into service; empty if nothing is.

    Notes
    -----
    A brake left out of service, locked and tagged, endangers nobody.
    """
    if state.awaits_test:
        return tuple(_badly_fitted(setup, state))  # the rest is for the test to show
    if not state.into_service:
        return ()
    return (*_hidden(setup, state), *_in_sight(setup, state, rules))


def endangers_as_found(setup: Setup, state: State, rules: Rules = EDITIONS[EDITION]) -> bool:
    """Return whether a brake as it is found would endanger somebody if it went into service so."""
    hidden = any(one.dangerous for one in _hidden(setup, state))
    return hidden or bool(state.body_on and slack_locks(setup, state, rules))


def _in_sight(setup: Setup, state: State, rules: Rules) -> Iterator[Wrong]:
    """Return what anybody could have seen or felt."""
    loose = slack_locks(setup, state, rules)
    if loose:
        yield Wrong(remark("left.screws-loose", screws=loose), dangerous=True, in_sight=True)
    if state.ring_loose:
        yield Wrong(remark("left.ring-loose"), dangerous=True, in_sight=True)
    off = parts_off(state)
    if off:
        bare = "terminal-box" in off  # live terminals within reach of a hand
        yield Wrong(remark("left.parts-off", parts=off), dangerous=bare, in_sight=True)
    yield from _badly_fitted(setup, state)
    if state.brake.surface == WET or state.brake.around.water_comes:
        yield Wrong(remark("left.wet"), dangerous=True, in_sight=True)
    if setup.size.wear_plate_mm > 0 and not state.wear_plate_on:
        yield Wrong(remark("left.no-wear-plate"), dangerous=True, in_sight=True)


def _badly_fitted(setup: Setup, state: State) -> Iterator[Wrong]:
    for what in parts_badly_fitted(setup, state):
        yield Wrong(what, dangerous=what.code in ENDANGERS or what.code == UNBEDDED, in_sight=True)


def _hidden(setup: Setup, state: State) -> Iterator[Wrong]:
    """Return what only a look, a measurement or a test can tell."""
    need = true_need(setup, state)
    if need is not Outcome.FIT:
        # Uneven or tight within the largest gap costs a disc, and lets no load fall.
        wide = true_gap(gap_now(setup, state)).widest_mm > setup.size.gap.max_mm
        dangerous = wide or need is not Outcome.ADJUST
        yield Wrong(remark("left.needing", needs=need), dangerous=dangerous, in_sight=False)
    for one in true_signs(setup, state):
        # Fretting stays to be seen after a screw is tight; the screws are judged by themselves.
        if one.sign.needs is not None and one.sign.finding is not Finding.LOCK_LOOSE:
            what = remark("left.fault", sign=one.sign.what)
            yield Wrong(what, dangerous=one.sign.dangerous, in_sight=False)
    if holding_ratio_now(setup, state) < setup.size.hoist.test_static:
        yield Wrong(remark("left.not-holding"), dangerous=True, in_sight=False)
    if setup.order.brakes > 1 and state.brake.around.other_hold < setup.size.hoist.test_static:
        yield Wrong(remark("left.other-not-holding"), dangerous=True, in_sight=False)
    if release_share_now(setup, state, HOT_COIL_C) > LOW_SUPPLY:
        yield Wrong(remark("left.not-releasing"), dangerous=False, in_sight=False)

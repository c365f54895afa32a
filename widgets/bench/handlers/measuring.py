"""Gauging the gap with leaves, the disc with caliper or rule, coil and release with the meter."""

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from widgets.bench.actions import FindRelease, GaugeGap, MeasureCoil, MeasureDisc
from widgets.bench.observed import (
    Observation,
    Outcome,
    already,
    harmed,
    not_possible,
    not_there,
    seen,
    wrong_order,
)
from widgets.bench.setup import Setup
from widgets.bench.standing import gap_now, under_blade_mm
from widgets.bench.state import State
from widgets.brake.around import insulation_shown_mohm
from widgets.brake.behaviour import coil_at_terminals_ohm, release_share, supply_share
from widgets.brake.draws import Draws
from widgets.instruments.caliper import Caliper, caliper
from widgets.instruments.feeler import MOST_LEAVES, Entry, insert
from widgets.instruments.meter import Meter, meter, read_insulation
from widgets.instruments.steel_rule import SteelRule, steel_rule

from .looking import in_the_way
from .tools import leaves_now

SAME_PLACE_DEG = 3.0  # a leaf moved by less than this is still at the same place
# mm that force wins beyond the gap, least and most. Common practice, no source: 0.03 to 0.10
# for a blade that is forced or stands askew; the lower half, for leaves that are not bent.
FORCED_LEAST_MM, FORCED_MOST_MM = 0.03, 0.06
TEST_SUPPLY_TOP = 1.2  # of the rated voltage, where the test supply ends; invented
RELEASE_SCATTER = 0.005  # of the rated voltage, from one raising to the next; invented
# Resistance beside a coil whose leads are on (rectifier, varistor), in coils; invented.
BESIDE_THE_COIL = 4.0
THERMOMETER_SCATTER_K = 1.0  # K, contact thermometer on the coil; common practice, no source


def gauge_gap(setup: Setup, state: State, action: GaugeGap) -> Outcome:
    """Return what the hand feels of a stack of leaves pushed in at an angle."""
    obstacle = in_the_way(state, "gap")
    if obstacle:
        return wrong_order(state, "gap.in-the-way", part=obstacle)
    if not state.body_on:
        return wrong_order(state, "gap.body-off")
    try:
        stack = leaves_now(setup, state).stack(action.leaves_mm)
    except ValueError:
        return not_possible(state, _stack_code(setup, action.leaves_mm))
    visit, attempt = _visit_and_attempt(state, action.angle_deg)
    gap_mm = _under_blade_mm(setup, state, action.angle_deg)
    if action.hand == "forced":
        gap_mm += _forced_mm(setup, visit, attempt)
    entry = Entry(dust_mm=state.dust_mm) if state.dust_mm else _CLEAN_ENTRY
    felt = insert(stack, gap_mm, setup.draws, visit=visit, attempt=attempt, entry=entry)
    shown = {
        "angle_deg": action.angle_deg,
        "leaves_mm": list(action.leaves_mm),
        "feel": felt.feel.value,
        "drag": round(felt.drag, 2),
        "hand": action.hand,
    }
    place_deg = state.place_deg if visit == state.visit else action.angle_deg
    after = state._replace(visit=visit, attempt=attempt + 1, place_deg=place_deg)
    return after, Observation(True, "gap.felt", shown)  # noqa: FBT003 (hot path)


_CLEAN_ENTRY = Entry()


def measure_disc(setup: Setup, state: State, action: MeasureDisc) -> Outcome:
    """Return where caliper or rule stands over both linings at an angle."""
    obstacle = in_the_way(state, "disc")
    if obstacle:
        return wrong_order(state, "disc.in-the-way", part=obstacle)
    if not state.disc_on:
        return not_there(state, "disc.none")
    thickness_mm = state.brake.disc.at_mm(action.angle_deg, state.shaft_deg)
    if action.tool == "rule":
        rule: SteelRule = steel_rule(setup.draws.child("rule"))
        shown_mm = rule.read_mm(thickness_mm, setup.draws, "disc", state.step)
    else:
        shown_mm = _zeroed_caliper(setup.draws).read_mm(
            thickness_mm, setup.draws, "disc", state.step
        )
        shown_mm = round(shown_mm + state.brake.tools.caliper_zero_mm, 2)
    return seen(
        state, "disc.measured", angle_deg=action.angle_deg, tool=action.tool, shown_mm=shown_mm
    )


def measure_coil(setup: Setup, state: State, action: MeasureCoil) -> Outcome:
    """Return what the meter shows at the brake's terminals."""
    if state.box_on:
        return wrong_order(state, "terminals.box-shut")
    own_meter = _nulled_meter(setup.draws)
    if action.what == "voltage":
        return _voltage(setup, state, own_meter)
    if state.energised or not state.isolated:
        return harmed(state, "meter.flash", "meter-on-live", what=action.what)
    coil_c = round(state.brake.coil_c + THERMOMETER_SCATTER_K * _normal(setup, state, "coil c"), 0)
    if action.what == "insulation" and not action.leads_lifted and state.leads in {"dc", "ac"}:
        # The 500 V of the tester go through the rectifier: its diodes do not stand that.
        spoilt = replace(state.brake, rectifier_diode_open=True)
        return seen(
            state._replace(brake=spoilt), "meter.through-rectifier", what="insulation",
            shown_mohm=0.0, over_scale=False, coil_c=coil_c,
        )  # fmt: skip
    if action.what == "insulation":
        now_mohm = insulation_shown_mohm(state.brake.insulation_mohm, state.brake.surface)
        shown = read_insulation(now_mohm, setup.draws, "insulation", state.step)
        return seen(
            state, "meter.insulation", what="insulation", shown_mohm=shown.resistance_mohm,
            over_scale=shown.is_over_scale, coil_c=coil_c,
        )  # fmt: skip
    true_ohm = math.inf if state.leads == "torn" else coil_at_terminals_ohm(setup.size, state.brake)
    if not action.leads_lifted and state.leads in {"dc", "ac"}:
        beside_ohm = BESIDE_THE_COIL * setup.size.coil.resistance_20_ohm
        true_ohm = 1 / (1 / true_ohm + 1 / beside_ohm)  # an open coil adds nothing
    ohm = own_meter.read_ohm(true_ohm, setup.draws, "coil", state.step)
    return seen(
        state, "meter.resistance", what="resistance", shown_ohm=ohm, over_scale=ohm is None,
        coil_c=coil_c,
    )  # fmt: skip


def _voltage(setup: Setup, state: State, own_meter: Meter) -> Outcome:
    fed = state.energised and state.leads == "dc"
    share = supply_share(state.brake) if fed else 0.0
    if fed and state.isolated and not state.brake.coil_live:
        share = 1.0  # the person's own test supply: it says nothing of the rectifier
    volt = own_meter.read_volt(share * setup.size.coil.voltage_v, setup.draws, "supply", state.step)
    return seen(state, "meter.voltage", what="voltage", shown_v=volt, over_scale=volt is None)


def find_release(setup: Setup, state: State, _: FindRelease) -> Outcome:  # noqa: PLR0911 (one a finding)
    """Return at which share of the rated voltage the plate is pulled in, raised slowly."""
    if state.box_on:
        return wrong_order(state, "terminals.box-shut")
    if not state.body_on or min(state.lock_nm) == 0:
        return wrong_order(state, "release.body-not-locked")
    if state.energised:
        return already(state, "release.coil-on")
    if not state.isolated:
        return wrong_order(state, "release.not-isolated")
    if not state.brake.release_lever_returns:
        return not_possible(state, "release.lever-drawn")
    gap_mm = max(0.0, gap_now(setup, state).plane.mean_mm)
    share = release_share(setup.size, state.brake, gap_mm)
    share += RELEASE_SCATTER * _normal(setup, state, "release")
    drawn_in = share <= TEST_SUPPLY_TOP and state.leads != "torn"
    if not drawn_in:
        return seen(state, "release.none", percent=None)
    percent = max(0.0, round(100 * share, 0))  # springs gone slack over a wide gap need none
    if not state.load_landed:
        return harmed(state, "release.found", "load-ran-down", percent=percent)
    return seen(state, "release.found", percent=percent)


def _normal(setup: Setup, state: State, what: str) -> float:
    return setup.draws.normal(what, state.step)


def _visit_and_attempt(state: State, angle_deg: float) -> tuple[int, int]:
    """Return visit and attempt of a try at a place: a new visit, unless the hand is there."""
    away_deg = abs((angle_deg - state.place_deg + 180) % 360 - 180)
    if state.place_deg >= 0 and away_deg < SAME_PLACE_DEG:
        return state.visit, state.attempt
    return state.visit + 1, 0


def _under_blade_mm(setup: Setup, state: State, angle_deg: float) -> float:
    """Return the smallest gap under the blade's two edges and its middle, mm."""
    # Drawn in, the plate lies on the magnet: there is no gap to be found.
    if state.released or not state.brake.release_lever_returns:
        return 0.0
    return min(under_blade_mm(setup, state, angle_deg))


def _forced_mm(setup: Setup, visit: int, attempt: int) -> float:
    share = setup.draws.uniform("forced", visit, attempt)
    return FORCED_LEAST_MM + (FORCED_MOST_MM - FORCED_LEAST_MM) * share


# One caliper and one meter a brake, taken up many times.
@lru_cache(maxsize=64)
def _zeroed_caliper(draws: Draws) -> Caliper:
    return caliper(draws.child("caliper")).zeroed()


@lru_cache(maxsize=64)
def _nulled_meter(draws: Draws) -> Meter:
    return meter(draws.child("meter")).nulled()


def _stack_code(setup: Setup, leaves_mm: Sequence[float]) -> str:
    """Return why these leaves make no stack, in the order in which a hand finds out."""
    if len(leaves_mm) > MOST_LEAVES:
        return "leaves.too-many"
    if not {round(1000 * mm) for mm in leaves_mm} <= {
        round(1000 * mm) for mm in setup.leaves.marks_mm
    }:
        return "leaves.none-such"
    return "leaves.twice"

"""What the candidate noticed at the brake, and what a careful look would have shown."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from quizzes.cases.given import signs_given
from quizzes.cases.on_record import record_fits
from widgets.bench import actions as do
from widgets.bench.setup import Setup, Start
from widgets.bench.state import State
from widgets.bench.symptoms import SYMPTOMS, load_is_stuck
from widgets.brake.around import WET
from widgets.brake.behaviour import coil_at_terminals_ohm, supply_share
from widgets.brake.judgement.remark import Remark, remark
from widgets.brake.judgement.signs import (
    CLUTCH_SIGN,
    HOLD_SIGN,
    RECORD_SIGN,
    SYMPTOM_SIGNS,
    WATER_SIGN,
    Finding,
    Sign,
    coil_sign,
    insulation_sign,
    supply_sign,
)
from widgets.brake.sizes.size import BrakeSize

from .log import Log, Step

_TELLING = tuple(symptom for symptom in SYMPTOMS if symptom.code in SYMPTOM_SIGNS)
_EVERYWHERE = frozenset(place for symptom in SYMPTOMS for place in symptom.at)
# Where a look gets to before anything is taken apart. Behind the magnet body nobody sees.
_IN_REACH: Mapping[Start, frozenset[str]] = {
    Start.WORK_ORDER: _EVERYWHERE - {"faces"},
    Start.OPEN: _EVERYWHERE - {"faces", "running"},
    Start.BODY_OFF: _EVERYWHERE - {"running"},
    Start.NOTES: frozenset(),
}
_LOOKED = frozenset(
    {"land_load", "look", "try_lock", "work_lever", "prove_dead", "turn_shaft", "de_energise",
     "test_run", "measure_coil", "test_hold", "clean_spline", "read_plate"}
)  # fmt: skip


class Overlooked(NamedTuple):
    """Something that was there to be found, and the places where nobody looked for it."""

    sign: Sign
    places: tuple[str, ...]

    @property
    def remark(self) -> Remark:
        """What a report says of it."""
        return remark("overlooked.sign", places=self.places[:2], sign=self.sign.what)


def own_signs(log: Log, until: int, since: int = -1) -> tuple[Sign, ...]:
    """Return what the candidate saw, felt and measured after step `since` and before `until`.

    From the beginning, what a colleague has told is among it.
    """
    told = signs_given(log.case.size, log.setup.order) if since < 0 else ()
    signs = dict.fromkeys(told)
    for step in log.did(*_LOOKED):
        if not since < step.number < until:
            continue
        for sign in _of_step(log, step):
            signs[sign] = None
    return tuple(signs)


def places_looked_at(log: Log, until: int) -> frozenset[str]:
    """Return where the candidate looked or measured before step `until`."""
    places = set()
    for step in log.did("look", "measure_coil", "try_lock", "work_lever"):
        if step.number < until and not with_leads_on(step):
            places.add(_place_of(step))
    return frozenset(places)


def with_leads_on(step: Step) -> bool:
    """Return whether ohms or insulation were measured with the coil's leads on their terminals."""
    action = step.action
    if not isinstance(action, do.MeasureCoil) or action.what == "voltage":
        return False
    return not action.leads_lifted and step.before.leads in {"dc", "ac"}


def _place_of(step: Step) -> str:
    action = step.action
    if isinstance(action, do.Look):
        return action.at
    if isinstance(action, do.MeasureCoil):
        return "coil" if action.what == "resistance" else action.what
    return "screws" if action.kind == "try_lock" else "lever"


def _some(sign: Sign | None) -> tuple[Sign, ...]:
    return (sign,) if sign else ()


def _of_step(log: Log, step: Step) -> tuple[Sign, ...]:
    seen = step.observation.facts
    codes = seen.get("symptoms") or _FELT.get(step.action.kind, _nothing)(step)
    signs = [SYMPTOM_SIGNS[code] for code in codes if code in SYMPTOM_SIGNS]
    if step.action.kind == "measure_coil":
        signs.extend(_of_meter(log.case.size, step))
    if step.action.kind == "test_hold" and seen.get("holds") is False:
        signs.append(_did_not_hold(step))
    if step.action.kind == "read_plate" and not record_fits(log.setup.order, seen):
        signs.append(RECORD_SIGN)
    return tuple(signs)


def _did_not_hold(step: Step) -> Sign:
    """Return what a load that sinks says: of the clutch, of water in the lining, or neither."""
    if step.observation.facts.get("shaft") == "still":
        return CLUTCH_SIGN
    return WATER_SIGN if step.before.brake.surface == WET else HOLD_SIGN


def _damp(shown_mohm: float) -> Sign:
    """Return what a low insulation says that was read on a wet brake: nothing of the coil."""
    return replace(WATER_SIGN, what=remark("sign.insulation-damp", shown_mohm=shown_mohm))


def _nothing(_: Step) -> tuple[str, ...]:
    return ()


def _lever_felt(step: Step) -> tuple[str, ...]:
    seen = step.observation.facts
    if not seen.get("returns", True):
        return ("lever-drawn",)
    return ("lever-without-play",) if seen.get("play") == "none" else ()


def _spline_felt(step: Step) -> tuple[str, ...]:
    return ("disc-rocks",) if step.observation.facts.get("stepped") else ()


_FELT = {
    "land_load": lambda step: (
        ("load-stuck",) if step.observation.facts.get("comes") is False else ()
    ),
    "try_lock": lambda step: () if step.observation.facts["holds"] else ("screw-turns-by-hand",),
    "work_lever": _lever_felt,
    "prove_dead": lambda step: (
        ("hums-at-rest",) if step.before.isolated and step.observation.facts["live"] else ()
    ),
    "turn_shaft": lambda step: (
        ("first-start-jerks",) if step.observation.facts.get("turns") == "jerks" else ()
    ),
    "de_energise": lambda step: (
        ("late-dull-tap",) if step.observation.facts.get("applied") == "late" else ()
    ),
    "clean_spline": _spline_felt,
}


def _of_meter(size: BrakeSize, step: Step) -> tuple[Sign, ...]:
    seen = step.observation.facts
    if with_leads_on(step):
        return ()  # what lies beside the coil was measured with it: it says nothing of the coil
    if seen.get("what") == "resistance" and "shown_ohm" in seen:
        return _some(coil_sign(size, seen["shown_ohm"], seen["coil_c"]))
    if seen.get("what") == "insulation" and seen.get("shown_mohm") is not None:
        found = insulation_sign(seen["shown_mohm"])
        damp = found is not None and step.before.brake.surface == WET
        return (_damp(seen["shown_mohm"]),) if damp else _some(found)
    if seen.get("what") == "voltage" and step.before.energised and seen["shown_v"] is not None:
        return _some(supply_sign(size, seen["shown_v"]))
    return ()


def true_signs(setup: Setup, state: State) -> tuple[Overlooked, ...]:
    """Return what a careful look at a brake as it stands finds, with the places that show it."""
    # Under a load that cannot be landed nothing is opened, run or measured.
    stuck = load_is_stuck(setup, state)
    reach = frozenset({"outside"}) if stuck else _IN_REACH[setup.order.start]
    by_finding: dict[Finding, tuple[Sign, list[str]]] = {}
    for symptom in _TELLING:
        places = _reachable(symptom.at, reach)
        if places and symptom.shows(setup, state):
            _, known = by_finding.setdefault(SYMPTOM_SIGNS[symptom.code].finding,
                                             (SYMPTOM_SIGNS[symptom.code], []))  # fmt: skip
            known.extend(place for place in places if place not in known)
    if reach and not stuck:
        for sign, place in _true_meter(setup.size, state, running="running" in reach):
            by_finding.setdefault(sign.finding, (sign, []))[1].append(place)
    return tuple(Overlooked(sign, tuple(places)) for sign, places in by_finding.values())


@lru_cache(maxsize=256)
def _reachable(places: tuple[str, ...], reach: frozenset[str]) -> tuple[str, ...]:
    return tuple(place for place in places if place in reach)


def _true_meter(size: BrakeSize, state: State, *, running: bool) -> Iterator[tuple[Sign, str]]:
    brake = state.brake
    ohm = coil_at_terminals_ohm(size, brake)
    sign = coil_sign(size, None if ohm == float("inf") else ohm, brake.coil_c)
    if sign:
        yield sign, "coil"
    sign = insulation_sign(brake.insulation_mohm)
    if sign:
        yield sign, "insulation"
    sign = supply_sign(size, supply_share(brake) * size.coil.voltage_v)
    if sign and running:
        yield sign, "voltage"


def overlooked(
    truth: Iterable[Overlooked], own: Iterable[Sign], looked_at: frozenset[str]
) -> tuple[Overlooked, ...]:
    """Return what was there to be found and was not found, because nobody looked there."""
    found = {sign.finding for sign in own}
    return tuple(
        one for one in truth if one.sign.finding not in found and looked_at.isdisjoint(one.places)
    )

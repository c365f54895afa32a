"""Ways of the hands that stand in for an act of the careful one."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from quizzes.cases.case import Case
from widgets.bench import actions as do
from widgets.brake.judgement.rules import Outcome
from widgets.brake.judgement.signs import Finding

from .stranger import Instead


def looks_only_at(*places: str) -> Instead:
    """Return the way of somebody who looks at these places and no others."""
    return lambda action, _: (
        [] if isinstance(action, do.Look) and action.at not in places else [action]
    )


def into_service(**fields: Any) -> Instead:  # noqa: ANN401 (fields of an act)
    """Return the way of somebody who hands over into service with these fields."""

    def instead(action: do.Action, _: Case) -> list[do.Action]:
        if isinstance(action, do.HandOver) and action.into_service:
            return [replace(action, **fields)]
        return [action]

    return instead


def before(kind: str, *first: do.Action) -> Instead:
    """Return the way of somebody who does other acts before one of a kind."""
    return lambda action, _: [*first, action] if action.kind == kind else [action]


def tightens(share: float) -> Instead:
    """Return the way of somebody who tightens screws to a share of their torque."""

    def instead(action: do.Action, case: Case) -> list[do.Action]:
        if isinstance(action, do.TightenLock):
            proper_nm = case.size.screws.retaining_torque_nm
            return [replace(action, torque_nm=round(share * proper_nm, 2))]
        return [action]

    return instead


def starts_by_wrench(action: do.Action, _: Case) -> list[do.Action]:
    """Start a screw by the wrench where others start it by hand."""
    return [replace(action, by="wrench"), action] if isinstance(action, do.StartLock) else [action]


def in_one_go(action: do.Action, case: Case) -> list[do.Action]:
    """Leave the first stage of tightening out."""
    proper_nm = case.size.screws.retaining_torque_nm
    first_stage = isinstance(action, do.TightenLock) and action.torque_nm < 0.9 * proper_nm
    return [] if first_stage else [action]


def guesses(action: do.Action, case: Case) -> list[do.Action]:
    """Decide by dice."""
    if isinstance(action, do.Decide):
        outcome: Any = list(Outcome)[case.seed[3] % 4].value
        return [replace(action, outcome=outcome)]
    return [action]


def blind(*findings: Finding) -> Mapping[str, Any]:
    """Return the change of habits of somebody who makes nothing of these findings."""
    return {"blind_to": frozenset(findings)}


def refers(*outcomes: Outcome) -> Mapping[str, Any]:
    """Return the change of habits of somebody who refers where these are due."""
    return {"instead_of": dict.fromkeys(outcomes, Outcome.REFER)}


def looks_not_at(*places: str) -> Instead:
    """Return the way of somebody who looks everywhere but at these places."""
    return lambda action, _: [] if isinstance(action, do.Look) and action.at in places else [action]


def looks_at_half(action: do.Action, case: Case) -> list[do.Action]:
    """Look at about half of the places, others at each brake."""
    if isinstance(action, do.Look) and (len(action.at) + case.seed[len(action.at)]) % 2:
        return []
    return [action]


def tries_not(tool: str) -> Instead:
    """Return the way of somebody who never looks one of the instruments over."""
    return lambda action, _: (
        [] if isinstance(action, do.CheckTool) and action.tool == tool else [action]
    )


def without_insulation(action: do.Action, _: Case) -> list[do.Action]:
    """Leave the insulation unmeasured."""
    left = isinstance(action, do.MeasureCoil) and action.what == "insulation"
    return [] if left else [action]


def writes_as_rated(action: do.Action, case: Case) -> list[do.Action]:
    """Write what a coil should show, whatever the meter shows."""
    if not isinstance(action, do.WriteValue):
        return [action]
    coil = case.size.coil
    rated: Mapping[str, float] = {
        "coil_ohm": coil.resistance_20_ohm, "coil_c": 20.0, "insulation_mohm": 500.0,
        "voltage_v": coil.voltage_v,
    }  # fmt: skip
    return [replace(action, value=rated.get(action.what, action.value))]


def writes_gap(
    *, on_deg: float = 0.0, no_go_on_mm: float | None = None, rounded: bool = False
) -> Instead:
    """Return the way of somebody who writes a gap at another place, or by other stacks."""

    def instead(action: do.Action, _: Case) -> list[do.Action]:
        if not isinstance(action, do.WriteGap):
            return [action]
        go_mm, no_go_mm = action.go_mm, action.no_go_mm
        if rounded:
            go_mm = round(int(20 * go_mm + 1e-9) / 20, 2)
            no_go_mm = round(go_mm + 0.05, 2)
        if no_go_on_mm is not None:
            no_go_mm = round(go_mm + no_go_on_mm, 2)
        angle_deg = (action.angle_deg + on_deg) % 360
        return [replace(action, angle_deg=angle_deg, go_mm=go_mm, no_go_mm=no_go_mm)]

    return instead


def of_the_right_name(action: do.Action, case: Case) -> list[do.Action]:
    """Write the row of the plate under a decision, whatever row it was made by."""
    return [replace(action, row=case.size.name)] if isinstance(action, do.Decide) else [action]


def decides_by_a_coin(action: do.Action, case: Case) -> list[do.Action]:
    """Toss a coin where a limit is near."""
    if not isinstance(action, do.Decide) or case.stratum is None:
        return [action]
    outcome: Any = ("fit", "adjust")[case.seed[5] % 2]
    return [replace(action, outcome=outcome)]


def dates_by_the_rule_alone(action: do.Action, case: Case) -> list[do.Action]:
    """Set the latest date that the local rule allows, whatever wear leaves."""
    if isinstance(action, do.HandOver) and action.next_days:
        return [replace(action, next_days=case.order.most_days)]
    return [action]


def fits_the_other_disc(action: do.Action, case: Case) -> list[do.Action]:
    """Fit the disc of another size."""
    if not isinstance(action, do.FitDisc):
        return [action]
    other = next(name for name in ("Cedar-47", "Dogwood-85") if name != case.size.name)
    return [replace(action, part=other)]


def leaves_tests_to_others(action: do.Action, _: Case) -> list[do.Action]:
    """Lift no test load, and tag every hoist for somebody else to test."""
    if isinstance(action, do.HandOver) and action.into_service:
        return [replace(action, into_service=False, awaits_test=True, next_days=None)]
    return [] if action.kind == "test_hold" else [action]


def without_lock_under_a_load(action: do.Action, case: Case) -> list[do.Action]:
    """Keep clear of a load that hangs, and leave its switch without a lock."""
    return [] if action.kind == "isolate" and case.order.load_hangs else [action]

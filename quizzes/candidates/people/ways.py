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

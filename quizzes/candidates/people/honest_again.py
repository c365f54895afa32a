"""Honest ways of people who take readings again, in their own order, by their own lights."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from statistics import fmean, median

from quizzes.cases.case import Case
from widgets.bench import actions as do
from widgets.bench.observed import Observation
from widgets.brake.judgement.rules import Outcome
from widgets.instruments.written import DISC_U_MM

from .stranger import Act, Hands, Stranger, both, changed, left_out
from .ways import before

GUARD = 1.8  # uncertainties that a disc is kept above its least


def _each_tool_in_its_turn(act: Act, _: Case) -> Act:
    """Look each instrument over as it is taken up, and not all of them first."""
    kept = dict[str, list[do.Action]]()
    of = {"gauge_gap": "leaves", "measure_disc": "caliper"}

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.CheckTool) and action.tool in of.values():
            kept[action.tool] = [action]
            return left_out(action)
        for one in kept.pop(of.get(action.kind, ""), []):
            seen = act(one).facts
            if seen.get("straight") is False or abs(seen.get("zero_mm", 0.0)) > 0.02:
                act(do.ChangeTool(one.tool))
        return act(action)

    return other


def _of_several(times: int, chosen: Callable[[Sequence[float]], float]) -> Hands:
    """Return hands that read each place of the disc so often, and write what they make of it."""

    def hands(act: Act, _: Case) -> Act:
        def other(action: do.Action) -> Observation:
            if not isinstance(action, do.MeasureDisc):
                return act(action)
            seen = [act(action) for _ in range(times)]
            if "shown_mm" not in seen[0].facts:
                return seen[-1]
            mm = round(chosen([one.facts["shown_mm"] for one in seen]), 2)
            return replace(seen[-1], facts={**seen[-1].facts, "shown_mm": mm})

        return other

    return hands


def _thin_read_again(act: Act, case: Case) -> Act:
    """Read a thin place once more, and go by the second reading, whatever it is."""
    least_mm = case.size.disc.min_mm + GUARD * DISC_U_MM

    def other(action: do.Action) -> Observation:
        seen = act(action)
        thin = isinstance(action, do.MeasureDisc) and seen.facts.get("shown_mm", 9e9) < least_mm
        return act(action) if thin else seen

    return other


def _looks_last(act: Act, _: Case) -> Act:
    """Measure first, and look at everything before deciding."""
    kept: list[do.Action] = []
    opened = [False]

    def other(action: do.Action) -> Observation:
        opened[0] |= action.kind == "remove_seal"
        if isinstance(action, do.Look) and opened[0] and action.at in {"screws", "hub"}:
            kept.append(action)
            return act(action)  # at first sight, and once more
        if action.kind == "decide":
            for one in kept:
                act(one)
            kept.clear()
        return act(action)

    return other


def _disc_at_both_positions(act: Act, _: Case) -> Act:
    """Measure the disc again after the rotor was turned, at other places, and write all down."""
    measured, turned = list[float](), [False]

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.MeasureDisc):
            measured.append(action.angle_deg)
        seen = act(action)
        if action.kind == "turn_shaft" and seen.done and measured and not turned[0]:
            turned[0] = True
            for angle_deg in (20.0, 110.0, 200.0, 290.0):
                shown_mm = act(do.MeasureDisc(angle_deg)).facts.get("shown_mm")
                if shown_mm is not None:
                    act(do.WriteDisc(angle_deg, shown_mm))
        return seen

    return other


def _honest(**way: object) -> Stranger:
    return Stranger(unsafe=False, **way)  # type: ignore[arg-type]


HONEST_AGAIN: Mapping[str, Stranger] = {
    "each instrument in its turn": _honest(hands=_each_tool_in_its_turn),
    "each instrument in its turn, disc first": _honest(
        changes={"disc_first": True}, hands=_each_tool_in_its_turn
    ),
    "mean of three disc readings": _honest(hands=_of_several(3, fmean)),
    "middle of three disc readings": _honest(hands=_of_several(3, median)),
    "least of two disc readings": _honest(hands=_of_several(2, min)),
    "second of two disc readings": _honest(hands=_of_several(2, lambda seen: seen[-1])),
    "thin places read again": _honest(hands=_thin_read_again),
    "looks twice at screws and hub": _honest(hands=_looks_last),
    "disc at both positions": _honest(hands=_disc_at_both_positions),
    "leaf by leaf": _honest(changes={"leaf_by_leaf": True}),
    "steps of three hundredths": _honest(changes={"step_of": 3}),
    "nine places out of order": _honest(
        changes={"places": tuple((80.0 * n + 10) % 360 for n in range(9))}
    ),
    "hand release tried before closing": _honest(instead=before("refit_seal", do.WorkLever())),
    "lets it cool every time": _honest(instead=before("remove_cover", do.LetCool())),
    "proves dead twice": _honest(
        instead=lambda action, _: [action, action] if action.kind == "prove_dead" else [action]
    ),
    "sling before slackening": _honest(
        instead=lambda action, _: (
            [do.HoldBody(), action]
            if isinstance(action, do.LoosenLock) and action.screw == 1 else [action]
        )
    ),
    "bars, damp wipe, more play": _honest(
        changes={"cleans": "damp_wipe"}, instead=changed("set_lever", play_mm=1.2)
    ),
    "release heard on the test supply too": _honest(
        instead=lambda action, _: (
            [do.Energise("test"), do.DeEnergise(), action] if action.kind == "refit_cover"
            else [action]
        )
    ),
}

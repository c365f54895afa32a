"""Other ways of working that are as good: other leaves, factors, orders, more readings."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from statistics import fmean

from quizzes.cases.case import Case
from widgets.bench import actions as do
from widgets.bench.observed import Observation
from widgets.instruments.written import DISC_U_MM

from .stranger import Act, Hands, Instead, Stranger, changed, left_out, without

GUARD = 1.8  # uncertainties that a disc is kept above its least
ZERO_WITHIN_MM = 0.02  # mm, a caliper that shows more with its jaws closed is changed
_TWELVE = tuple(30.0 * n for n in range(12))
_BETWEEN = (20.0, 110.0, 200.0, 290.0)
_TAKEN_UP_FOR = {"gauge_gap": "leaves", "measure_disc": "caliper"}


def _slip_of_the_pen(action: do.Action, _: Case) -> list[do.Action]:
    """Write the first disc reading a millimetre off, strike it out, and write it again."""
    if isinstance(action, do.WriteDisc) and action.angle_deg == 0:
        off = replace(action, value_mm=round(action.value_mm + 1, 2))
        return [off, do.StrikeOut("disc", 0), action]
    return [action]


def _sooner(action: do.Action, _: Case) -> list[do.Action]:
    if isinstance(action, do.HandOver) and action.next_days:
        return [replace(action, next_days=max(1, action.next_days // 2))]
    return [action]


def _again(*kinds: str) -> Instead:
    return lambda action, _: [action, action] if action.kind in kinds else [action]


def _each_tool_in_its_turn(act: Act, _: Case) -> Act:
    """Look each instrument over as it is taken up, and not all of them first."""
    kept = dict[str, list[do.CheckTool]]()

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.CheckTool) and action.tool in _TAKEN_UP_FOR.values():
            kept[action.tool] = [action]
            return left_out(action)
        for one in kept.pop(_TAKEN_UP_FOR.get(action.kind, ""), []):
            seen = act(one).facts
            if seen.get("straight") is False or abs(seen.get("zero_mm", 0.0)) > ZERO_WITHIN_MM:
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


def _disc_at_both_positions(act: Act, _: Case) -> Act:
    """Measure the disc again after the rotor was turned, at other places, and write all down."""
    measured, turned = list[float](), [False]

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.MeasureDisc):
            measured.append(action.angle_deg)
        seen = act(action)
        if action.kind == "turn_shaft" and seen.done and measured and not turned[0]:
            turned[0] = True
            for angle_deg in _BETWEEN:
                shown_mm = act(do.MeasureDisc(angle_deg)).facts.get("shown_mm")
                if shown_mm is not None:
                    act(do.WriteDisc(angle_deg, shown_mm))
        return seen

    return other


def _sling_first(action: do.Action, _: Case) -> list[do.Action]:
    """Take the weight of the body before the first screw is slackened."""
    first = isinstance(action, do.LoosenLock) and action.screw == 1
    return [do.HoldBody(), action] if first else [action]


HONEST: Mapping[str, Stranger] = {
    "careful": Stranger(unsafe=False),
    "factor 1.645": Stranger({"factor": 1.645}, unsafe=False),
    "factor 2": Stranger({"factor": 2.0}, unsafe=False),
    "twelve places": Stranger({"places": _TWELVE}, unsafe=False),
    "six places": Stranger({"places": tuple(60.0 * n for n in range(6))}, unsafe=False),
    "places between": Stranger({"places": tuple(22.5 + 45.0 * n for n in range(8))}, unsafe=False),
    "anticlockwise": Stranger({"places": tuple(45.0 * n for n in range(7, -1, -1))}, unsafe=False),
    "disc at three places": Stranger({"disc_places": (30.0, 150.0, 270.0)}, unsafe=False),
    "disc at eight places": Stranger(
        {"disc_places": tuple(45.0 * n for n in range(8))}, unsafe=False
    ),
    "disc before gap": Stranger({"disc_first": True}, unsafe=False),
    "steps of two hundredths": Stranger({"step_of": 2}, unsafe=False),
    "measured twice": Stranger(instead=_again("measure_disc", "measure_coil"), unsafe=False),
    "release not found": Stranger(instead=without("find_release"), unsafe=False),
    "more play": Stranger(instead=changed("set_lever", play_mm=1.5), unsafe=False),
    "sixteen places": Stranger({"places": tuple(22.5 * n for n in range(16))}, unsafe=False),
    "disc at six places, from the bottom": Stranger(
        {"disc_places": (180.0, 240.0, 300.0, 0.0, 60.0, 120.0)}, unsafe=False
    ),
    "slip of the pen struck out": Stranger(instead=_slip_of_the_pen, unsafe=False),
    "sooner date": Stranger(instead=_sooner, unsafe=False),
    "tested and looked at twice": Stranger(instead=_again("look", "test_hold"), unsafe=False),
    "each instrument in its turn": Stranger(hands=_each_tool_in_its_turn, unsafe=False),
    "each instrument in its turn, disc first": Stranger(
        {"disc_first": True}, hands=_each_tool_in_its_turn, unsafe=False
    ),
    "mean of three disc readings": Stranger(hands=_of_several(3, fmean), unsafe=False),
    "least of two disc readings": Stranger(hands=_of_several(2, min), unsafe=False),
    "second of two disc readings": Stranger(
        hands=_of_several(2, lambda seen: seen[-1]), unsafe=False
    ),
    "thin places read again": Stranger(hands=_thin_read_again, unsafe=False),
    "disc at both positions": Stranger(hands=_disc_at_both_positions, unsafe=False),
    "leaf by leaf": Stranger({"leaf_by_leaf": True}, unsafe=False),
    "nine places out of order": Stranger(
        {"places": tuple((80.0 * n + 10) % 360 for n in range(9))}, unsafe=False
    ),
    "sling before slackening": Stranger(instead=_sling_first, unsafe=False),
}

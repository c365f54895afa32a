"""Habits found by going through the rules of grading once more, when they had been mended."""

import math
from collections.abc import Set as AbstractSet
from dataclasses import replace

from quizzes.cases.case import Case, Depth
from widgets.bench import actions as do
from widgets.bench.observed import Observation
from widgets.brake.judgement.signs import Finding
from widgets.instruments.feeler import marks_for
from widgets.instruments.written import gap_reading

from .stranger import Act, Stranger, left_out, without
from .ways import blind

GUARD = 1.8  # uncertainties that a reading is kept inside its limit
NEAR_MM = 0.03  # of the largest gap, from which a reading is struck out
FINEST_MM = 0.01  # from one stack to the next
# What lies under the brake, and the place above from which it is copied.
_UNDERNEATH = {135.0: 90.0, 180.0: 0.0, 225.0: 270.0}
_CLOSES = frozenset({"refit_seal", "refit_fan", "refit_ring", "refit_cover"})


def _better_of_two(act: Act, _: Case) -> Act:
    """Measure each place of the disc twice, and go by the thicker reading."""

    def other(action: do.Action) -> Observation:
        if not isinstance(action, do.MeasureDisc):
            return act(action)
        seen = (act(action), act(action))
        return max(seen, key=lambda one: one.facts.get("shown_mm", 0.0))

    return other


def _lower_if_it_stops(act: Act, case: Case) -> Act:
    """Feel a wide place once more with the next thinner stack, and write that if it stops."""

    def other(action: do.Action) -> Observation:
        if not isinstance(action, do.WriteGap):
            return act(action)
        read = gap_reading(action.angle_deg, action.go_mm, action.no_go_mm)
        if read.value_mm + GUARD * read.u_mm > case.size.gap.max_mm:
            felt = act(do.GaugeGap(action.angle_deg, marks_for(action.go_mm)))
            if felt.facts.get("feel") == "will-not-enter":
                lower_mm = round(action.go_mm - FINEST_MM, 2)
                return act(replace(action, go_mm=lower_mm, no_go_mm=action.go_mm))
        return act(action)

    return other


def _mirrored_from_above(act: Act, _: Case) -> Act:
    """Put no leaf in under the brake, and write there what the other side has shown."""
    written: dict[float, do.WriteGap] = {}

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.GaugeGap) and action.angle_deg in _UNDERNEATH:
            return left_out(action, feel="will-not-enter")
        if isinstance(action, do.WriteGap):
            above = written.get(_UNDERNEATH.get(action.angle_deg, -1.0))
            if above is not None:
                return act(replace(above, angle_deg=action.angle_deg))
            written[action.angle_deg] = action
        return act(action)

    return other


def _wide_reading_struck_out(act: Act, case: Case) -> Act:
    """Strike out each gap near its largest, and pass a brake at the bench by what is left."""
    lines, struck = [0], [0]

    def other(action: do.Action) -> Observation:
        at_bench = case.depth is Depth.BENCH and struck[0]
        if isinstance(action, do.Decide) and action.outcome == "adjust" and at_bench:
            return act(replace(action, outcome="fit"))
        seen = act(action)
        if isinstance(action, do.WriteGap) and seen.done:
            read = gap_reading(action.angle_deg, action.go_mm, action.no_go_mm)
            if read.value_mm > case.size.gap.max_mm - NEAR_MM:
                act(do.StrikeOut("gap", lines[0]))
                struck[0] += 1
            lines[0] += 1
        return seen

    return other


def _put_off(act: Act, kinds: AbstractSet[str]) -> Act:
    """Leave these kinds of acts for the end, just before handing over."""
    kept: list[do.Action] = []

    def other(action: do.Action) -> Observation:
        if action.kind in kinds:
            kept.append(action)
            return left_out(action)
        if action.kind == "hand_over":
            for one in kept:
                act(one)
        return act(action)

    return other


def _tests_first(act: Act, _: Case) -> Act:
    """Prove it open, and close up only before handing over."""
    return _put_off(act, _CLOSES)


def _lever_last(act: Act, _: Case) -> Act:
    """Set the hand release when everything else is done and proved."""
    return _put_off(act, {"set_lever"})


def _proved_dead_once(act: Act, _: Case) -> Act:
    """Prove it dead the first time, and believe it whenever the supply has been on since."""
    proved = [False]

    def other(action: do.Action) -> Observation:
        if action.kind == "prove_dead" and proved[0]:
            return left_out(action, dc_live=False)
        proved[0] |= action.kind == "prove_dead"
        return act(action)

    return other


def _refers_without_a_name(action: do.Action, _: Case) -> list[do.Action]:
    """Leave it to others, and say to nobody what for."""
    if isinstance(action, do.Decide) and action.outcome == "refer":
        return [replace(action, found=("nothing",))]
    return [action]


def _between_two_leaves(action: do.Action, _: Case) -> list[do.Action]:
    """Feel in steps of a leaf, and write a hundredth in the middle."""
    if not isinstance(action, do.WriteGap):
        return [action]
    middle_mm = round((action.go_mm + action.no_go_mm) / 2, 2)
    return [replace(action, go_mm=middle_mm, no_go_mm=round(middle_mm + FINEST_MM, 2))]


def _up_to_a_tenth(action: do.Action, _: Case) -> list[do.Action]:
    """Write a disc up to the next tenth."""
    if not isinstance(action, do.WriteDisc):
        return [action]
    return [replace(action, value_mm=math.ceil(10 * action.value_mm - 1e-9) / 10)]


def _switched_on_again(action: do.Action, _: Case) -> list[do.Action]:
    """Switch a hoist on again that stays out of service."""
    out = isinstance(action, do.HandOver) and not action.into_service
    return [do.RestoreSupply(), action] if out else [action]


def _without_voltage(action: do.Action, _: Case) -> list[do.Action]:
    left = isinstance(action, do.MeasureCoil) and action.what == "voltage"
    return [] if left else [action]


def _first_finding(action: do.Action, _: Case) -> list[do.Action]:
    """Name one thing, whatever else was found."""
    return [replace(action, found=action.found[:1])] if isinstance(action, do.Decide) else [action]


LATECOMERS: dict[str, Stranger] = {
    "better of two disc readings": Stranger(hands=_better_of_two, unsafe=False),
    "lower if the leaf stops once": Stranger(hands=_lower_if_it_stops, unsafe=False),
    "underneath mirrored from above": Stranger(hands=_mirrored_from_above, unsafe=False),
    "wide reading struck out": Stranger(hands=_wide_reading_struck_out),
    "between two leaves": Stranger({"fine": False}, _between_two_leaves, unsafe=False),
    "disc up to the next tenth": Stranger(instead=_up_to_a_tenth),
    "voltage never read": Stranger(instead=_without_voltage, unsafe=False),
    "refers without a name": Stranger(instead=_refers_without_a_name, unsafe=False),
    "first finding only": Stranger(instead=_first_finding, unsafe=False),
    "blind to the rectifier": Stranger(blind(Finding.RECTIFIER), unsafe=False),
    "gap and disc alone in work orders": Stranger(
        {"heeds_signs": False}, depths=(Depth.WORK_ORDER,)
    ),
    "proved dead once": Stranger(hands=_proved_dead_once),
    "tests before closing up": Stranger(hands=_tests_first),
    "hand release set last of all": Stranger(hands=_lever_last),
    "terminal box left open": Stranger(instead=without("close_box")),
    "switched on again, out of service": Stranger(instead=_switched_on_again),
}

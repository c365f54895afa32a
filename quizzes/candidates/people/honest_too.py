"""More ways of working that are as good, of people who work in another order or twice over."""

from collections.abc import Mapping
from dataclasses import replace

from quizzes.candidates.own_rules import KNOWN
from quizzes.cases.case import Case
from widgets.bench import actions as do
from widgets.bench.actions.adjusting import SETS_THE_GAP
from widgets.bench.observed import Observation
from widgets.brake.judgement.rules import Outcome
from widgets.instruments.feeler import marks_for

from .stranger import Act, Instead, Stranger, changed, left_out
from .ways import before

_MIDDLE_LEAF = marks_for(0.2)
_FOUR = (0.0, 90.0, 180.0, 270.0)
_NOTES = frozenset({"write_gap", "write_disc", "write_value"})
_NOTED_BEFORE = frozenset(
    {"decide", "loosen_lock", "refit_seal", "refit_fan", "hand_over", "set_lever", "turn_shaft",
     "disconnect_leads", "fit_disc", "test_run", *SETS_THE_GAP}
)  # fmt: skip
_MEASURING = frozenset({"gauge_gap", "measure_disc", "measure_coil", "find_release"}) | _NOTES
_BY_READINGS = frozenset(
    {"gap-large", "gap-small", "gap-uneven", "warped", "disc-worn", "disc-tapered"}
)
HASTY_DAYS = 7


def _notes_late(act: Act, _: Case) -> Act:
    """Keep readings in mind, and write them all down before a decision or any work."""
    kept: list[do.Action] = []

    def other(action: do.Action) -> Observation:
        if action.kind in _NOTES:
            kept.append(action)
            return left_out(action)
        if action.kind in _NOTED_BEFORE:
            for one in kept:
                act(one)
            kept.clear()
        return act(action)

    return other


def _by_the_majority(act: Act, _: Case) -> Act:
    """Put every stack in twice, and once more where the two tries differ."""

    def other(action: do.Action) -> Observation:
        seen = act(action)
        if not isinstance(action, do.GaugeGap):
            return seen
        again = act(action)
        stopped = [one.facts.get("feel") == "will-not-enter" for one in (seen, again)]
        return seen if stopped[0] == stopped[1] else act(action)

    return other


def _rule_first(act: Act, _: Case) -> Act:
    """Lay a rule on the disc and write that down; then the caliper, and write it again."""
    ruled = [False]

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.MeasureDisc) and not ruled[0]:
            ruled[0] = True
            for angle_deg in _FOUR:
                shown_mm = act(do.MeasureDisc(angle_deg, "rule")).facts.get("shown_mm")
                if shown_mm is not None:
                    act(do.WriteDisc(angle_deg, shown_mm, "rule"))
        return act(action)

    return other


def _turns_always(act: Act, _: Case) -> Act:
    """Turn the rotor by half before deciding, even or not, and put a leaf in once more."""
    turned = [False]

    def other(action: do.Action) -> Observation:
        if action.kind == "decide" and not turned[0]:
            turned[0] = True
            if act(do.Energise("test")).facts.get("released"):
                act(do.TurnShaft(180.0))
            act(do.DeEnergise())
            act(do.GaugeGap(0.0, _MIDDLE_LEAF))
        return act(action)

    return other


def _stops_at_a_sign(act: Act, _: Case) -> Act:
    """Measure nothing more once something was seen that must be left to others."""
    grave = [False]

    def other(action: do.Action) -> Observation:
        if grave[0] and action.kind in _MEASURING:
            return Observation(done=False, code="left.out", facts={})
        if grave[0] and isinstance(action, do.Decide):
            seen_only = tuple(one for one in action.found if one not in _BY_READINGS)
            return act(replace(action, found=seen_only or ("nothing",)))
        seen = act(action)
        codes = seen.facts.get("symptoms") or ()
        grave[0] |= any(code in KNOWN and KNOWN[code][0] is Outcome.REFER for code in codes)
        return seen

    return other


def _opens_again(act: Act, _: Case) -> Act:
    """Go back once it is closed: fan and seal off again, and on."""
    back = [False]

    def other(action: do.Action) -> Observation:
        seen = act(action)
        if action.kind == "refit_seal" and not back[0] and seen.done:
            back[0] = True
            act(do.RemoveFan())
            act(do.RemoveSeal())
            act(do.RefitSeal())
        return seen

    return other


def _torque_tried(kind: str) -> Instead:
    """Return the way of somebody who puts the wrench on all three before the first of a kind."""

    def instead(action: do.Action, case: Case) -> list[do.Action]:
        if action.kind != kind or getattr(action, "screw", 1) != 1:
            return [action]
        full_nm = round(case.size.screws.retaining_torque_nm, 2)
        return [*(do.TightenLock(screw, full_nm) for screw in (1, 2, 3)), action]

    return instead


def _in_three_stages(action: do.Action, case: Case) -> list[do.Action]:
    full_nm = case.size.screws.retaining_torque_nm
    if isinstance(action, do.TightenLock) and action.torque_nm < 0.9 * full_nm:
        return [replace(action, torque_nm=round(0.6 * action.torque_nm, 2)), action]
    return [action]


def _both_tests(action: do.Action, _: Case) -> list[do.Action]:
    if isinstance(action, do.TestHold):
        return [replace(action, dynamic=False), replace(action, dynamic=True), action]
    return [action]


def _twice(kind: str) -> Instead:
    return lambda action, _: [action, action] if action.kind == kind else [action]


def _every_stop_twice(act: Act, _: Case) -> Act:
    """Take a stack for stopped only if it stops a second time."""

    def other(action: do.Action) -> Observation:
        seen = act(action)
        stopped = isinstance(action, do.GaugeGap) and seen.facts.get("feel") == "will-not-enter"
        return act(action) if stopped else seen

    return other


def _median_of_three(act: Act, _: Case) -> Act:
    """Read each place of the disc three times, and write the middle one."""

    def other(action: do.Action) -> Observation:
        if not isinstance(action, do.MeasureDisc):
            return act(action)
        seen = [act(action) for _ in range(3)]
        return sorted(seen, key=lambda one: one.facts.get("shown_mm", 0.0))[1]

    return other


def _disc_again_at_the_end(act: Act, _: Case) -> Act:
    """Measure the disc that is in once more before closing up, and write that down too."""

    def other(action: do.Action) -> Observation:
        if action.kind == "refit_seal":
            for angle_deg in _FOUR:
                shown_mm = act(do.MeasureDisc(angle_deg)).facts.get("shown_mm")
                if shown_mm is not None:
                    act(do.WriteDisc(angle_deg, shown_mm))
        return act(action)

    return other


def _to_three_figures(action: do.Action, _: Case) -> list[do.Action]:
    if isinstance(action, do.WriteValue):
        return [replace(action, value=float(f"{action.value:.3g}"))]
    return [action]


def _fresh(action: do.Action, _: Case) -> list[do.Action]:
    if isinstance(action, do.CheckTool):
        return [action, do.ChangeTool(action.tool), action]
    return [action]


def _in_a_week(action: do.Action, _: Case) -> list[do.Action]:
    if isinstance(action, do.HandOver) and action.next_days:
        return [replace(action, next_days=min(action.next_days, HASTY_DAYS))]
    return [action]


def _honest(instead: Instead) -> Stranger:
    return Stranger(instead=instead, unsafe=False)


HONEST_TOO: Mapping[str, Stranger] = {
    "seven places": Stranger({"places": tuple(51.0 * n for n in range(7))}, unsafe=False),
    "ten places, disc at twelve": Stranger(
        {
            "places": tuple(36.0 * n for n in range(10)),
            "disc_places": tuple(30.0 * n for n in range(12)),
        },
        unsafe=False,
    ),
    "factor 2.5": Stranger({"factor": 2.5}, unsafe=False),
    "damp wipe": Stranger({"cleans": "damp_wipe"}, unsafe=False),
    "notes late": Stranger(hands=_notes_late, unsafe=False),
    "a leaf before cleaning": _honest(
        before("clean", do.GaugeGap(0.0, _MIDDLE_LEAF), do.GaugeGap(90.0, _MIDDLE_LEAF))
    ),
    "each leaf twice, and once more": Stranger(hands=_by_the_majority, unsafe=False),
    "rule first": Stranger(hands=_rule_first, unsafe=False),
    "turns the rotor always": Stranger(hands=_turns_always, unsafe=False),
    "stops measuring at a grave sign": Stranger(hands=_stops_at_a_sign, unsafe=False),
    "electrician for every box": _honest(changed("open_box", by="electrician")),
    "three stages": _honest(_in_three_stages),
    "torque tried first": _honest(_torque_tried("try_lock")),
    "torque tried at the end": _honest(_torque_tried("refit_seal")),
    "plate read first": _honest(before("land_load", do.ReadPlate())),
    "both load tests": _honest(_both_tests),
    "decided twice": _honest(_twice("decide")),
    "gap written twice": _honest(_twice("write_gap")),
    "closed and opened again": Stranger(hands=_opens_again, unsafe=False),
    "fresh instruments": _honest(_fresh),
    "date in a week": _honest(_in_a_week),
    "every stop felt twice": Stranger(hands=_every_stop_twice, unsafe=False),
    "middle one of three disc readings": Stranger(hands=_median_of_three, unsafe=False),
    "disc again at the end": Stranger(hands=_disc_again_at_the_end, unsafe=False),
    "meter written to three figures": _honest(_to_three_figures),
    "across and across": Stranger(
        {"places": (0.0, 180.0, 45.0, 225.0, 90.0, 270.0, 135.0, 315.0)}, unsafe=False
    ),
    "disc at five odd places": Stranger(
        {"disc_places": (0.0, 70.0, 150.0, 220.0, 290.0)}, unsafe=False
    ),
}

"""Rules half kept: what is right is done too early, too late, once more, or most of the time."""

from collections.abc import Iterable
from dataclasses import replace

from quizzes.cases.case import Case, Depth
from widgets.bench import actions as do
from widgets.bench.actions.fields import LookAt
from widgets.bench.observed import Observation
from widgets.instruments.feeler import marks_for

from .stranger import Act, Hands, Instead, Stranger, left_out
from .ways import before

NEAR_MM = 0.03  # of the largest gap, from which somebody takes a gap for a wide one
_STOPS = "will-not-enter"
_OPENS = (do.RemoveCover(), do.RemoveRing(), do.RemoveFan(), do.RemoveSeal())
_CLOSES = (do.RefitSeal(), do.RefitFan(), do.RefitRing(), do.RefitCover())
_LEFT_FOR_LATER: frozenset[LookAt] = frozenset(
    {"springs", "hub", "edge", "wear_plate", "lever", "screws"}
)
_QUARTERS = (90.0, 270.0)
ONE_IN = 3  # discs that are due, of which one is kept


def _all(act: Act, acts: Iterable[do.Action]) -> None:
    for one in acts:
        act(one)


def keeps(tool: str) -> Instead:
    """Return the way of somebody who looks instruments over, and works on with this one anyhow."""
    return lambda action, _: (
        [] if isinstance(action, do.ChangeTool) and action.tool == tool else [action]
    )


def _setting_first(act: Act, case: Case) -> Act:
    """Write the setting down at a place, then take the gap there, and write that below."""
    written = set[float]()
    go_mm = round(case.size.gap.setting_mm, 2)

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.GaugeGap) and action.angle_deg not in written:
            written.add(action.angle_deg)
            act(do.WriteGap(action.angle_deg, go_mm, round(go_mm + 0.01, 2)))
        return act(action)

    return other


def _one_stack(act: Act, case: Case) -> Act:
    """Put one stack in, of the largest gap, and write a bracket round what it said."""
    largest_mm = round(case.size.gap.max_mm, 2)
    felt = dict[float, str]()

    def other(action: do.Action) -> Observation:
        if action.kind == "tighten_lock":
            felt.clear()
        if not isinstance(action, do.GaugeGap):
            return act(action)
        at = action.angle_deg
        if at not in felt:
            seen = act(do.GaugeGap(at, marks_for(largest_mm)))
            felt[at] = str(seen.facts.get("feel", _STOPS))
        reaches_mm = largest_mm - 0.05 if felt[at] == _STOPS else largest_mm + 0.03
        goes = sum(action.leaves_mm) <= reaches_mm
        return left_out(action, feel="slides" if goes else _STOPS)

    return other


def _disc_if_wide(act: Act, case: Case) -> Act:
    """Measure the disc only where the gap was found wide."""
    wide = [False]

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.WriteGap):
            wide[0] |= action.no_go_mm > case.size.gap.max_mm - NEAR_MM
        if isinstance(action, do.MeasureDisc) and not wide[0]:
            return left_out(action)
        return act(action)

    return other


def _into_service_after_all(act: Act, _: Case) -> Act:
    """Leave it to others on paper, and hand the hoist over into service."""

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.HandOver) and not (action.into_service or action.awaits_test):
            act(do.RestoreSupply())
            return act(replace(action, into_service=True, next_days=30))
        return act(action)

    return other


def _a_look_before_locking(act: Act, _: Case) -> Act:
    """Open it and put a leaf in before locking off, close it, and begin again by the book."""
    opened = [False]

    def other(action: do.Action) -> Observation:
        if action.kind == "isolate" and not opened[0]:
            opened[0] = True
            _all(act, (*_OPENS, do.GaugeGap(0.0, marks_for(0.3)), *_CLOSES))
        return act(action)

    return other


def _lock_off_at_once(act: Act, _: Case) -> Act:
    """Take the own lock off as soon as it is proved dead."""

    def other(action: do.Action) -> Observation:
        seen = act(action)
        if action.kind == "prove_dead":
            act(do.RestoreSupply())
        return seen

    return other


def _proves_first(act: Act, case: Case) -> Act:
    """Put the tester on before switching off, and not again after."""

    def other(action: do.Action) -> Observation:
        if action.kind == "isolate":
            by_self = "terminals" in case.order.may
            _all(act, (do.OpenBox("self" if by_self else "electrician"), do.ProveDead()))
        return left_out(action, dc_live=False) if action.kind == "prove_dead" else act(action)

    return other


def _lock_after_the_cover(act: Act, _: Case) -> Act:
    """Switch off without a lock, and hang it on once the brake is open."""
    switched = [False]

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.Isolate) and not switched[0]:
            switched[0] = True
            return act(replace(action, lock=False))
        seen = act(action)
        if action.kind == "remove_seal":
            _all(act, (do.Isolate(), do.ProveDead()))
        return seen

    return other


def _once_more_after_the_tests(act: Act, case: Case) -> Act:
    """Open a brake that has passed its tests, turn one screw, and hand it over."""
    turned = [False]
    full_nm = round(case.size.screws.retaining_torque_nm, 2)
    again = (
        do.Isolate(), do.ProveDead(), *_OPENS, do.LoosenLock(1), do.TurnScrew(1, 40.0),
        do.TightenLock(1, round(full_nm / 2, 2)), do.TightenLock(1, full_nm), *_CLOSES,
        do.RestoreSupply(),
    )  # fmt: skip

    def other(action: do.Action) -> Observation:
        turned[0] |= isinstance(action, do.TurnScrew)
        if isinstance(action, do.HandOver) and action.into_service and turned[0]:
            _all(act, again)
        return act(action)

    return other


def _tested_before(act: Act, _: Case) -> Act:
    """Lift the test load before the work, and not after."""
    lifted = [False]

    def other(action: do.Action) -> Observation:
        if action.kind == "isolate" and not lifted[0]:
            lifted[0] = True
            act(do.TestHold())
        return left_out(action) if action.kind == "test_hold" else act(action)

    return other


def _copied_to_the_quarters(act: Act, case: Case) -> Act:
    """Measure the disc at two places, and write the last of them at two more."""
    last = [case.size.disc.new_mm]

    def other(action: do.Action) -> Observation:
        if not isinstance(action, do.MeasureDisc):
            return act(action)
        if action.angle_deg in _QUARTERS:
            return left_out(action, shown_mm=last[0])
        seen = act(action)
        last[0] = seen.facts.get("shown_mm", last[0])
        return seen

    return other


def _looks_after_deciding(act: Act, _: Case) -> Act:
    """Decide by gap and disc, and look at the parts then."""
    kept: list[do.Action] = []

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.Look) and action.at in _LEFT_FOR_LATER:
            kept.append(action)
            return left_out(action, symptoms=())
        seen = act(action)
        if isinstance(action, do.Decide):
            _all(act, kept)
            kept.clear()
        return seen

    return other


def _by_eye_first(act: Act, case: Case) -> Act:
    """Write "fit" before the first leaf goes in, and decide again by the readings."""
    decided = [False]

    def other(action: do.Action) -> Observation:
        if action.kind == "gauge_gap" and not decided[0]:
            decided[0] = True
            act(do.Decide("fit", case.size.name, "by eye", ("nothing",)))
        return act(action)

    return other


def passes(finding: str) -> Hands:
    """Return hands that pass a brake on which this was found as if nothing had been."""

    def hands(act: Act, _: Case) -> Act:
        def other(action: do.Action) -> Observation:
            if isinstance(action, do.Decide) and finding in action.found:
                return act(replace(action, outcome="fit", found=("nothing",)))
            return act(action)

        return other

    return hands


def _one_disc_kept(action: do.Action, case: Case) -> list[do.Action]:
    """Adjust where a disc is due, one time in three."""
    kept = case.seed[4] % ONE_IN == 0
    if isinstance(action, do.Decide) and action.outcome == "replace" and kept:
        return [replace(action, outcome="adjust")]
    return [action]


def _third_at_half(action: do.Action, case: Case) -> list[do.Action]:
    """Leave the third screw at the first stage of its torque."""
    full_nm = 0.9 * case.size.screws.retaining_torque_nm
    third = isinstance(action, do.TightenLock) and action.screw == 3 and action.torque_nm >= full_nm
    return [] if third else [action]


HALVES: dict[str, Stranger] = {
    "bent leaves kept": Stranger(instead=keeps("leaves")),
    "caliper off at zero kept": Stranger(instead=keeps("caliper")),
    "one disc in three kept": Stranger(instead=_one_disc_kept),
    "writes the setting, then measures": Stranger(hands=_setting_first, unsafe=False),
    "one stack of the largest gap": Stranger(hands=_one_stack, unsafe=False),
    "disc measured where the gap is wide": Stranger(hands=_disc_if_wide),
    "left to others, and into service": Stranger(hands=_into_service_after_all),
    "a look inside before locking off": Stranger(hands=_a_look_before_locking),
    "own lock off once it is dead": Stranger(hands=_lock_off_at_once),
    "proves dead before switching off": Stranger(hands=_proves_first),
    "lock hung on when it is open": Stranger(hands=_lock_after_the_cover),
    "set once more after the tests": Stranger(hands=_once_more_after_the_tests, unsafe=False),
    "load test before the work": Stranger(hands=_tested_before),
    "two disc readings written four times": Stranger(hands=_copied_to_the_quarters),
    "looks after deciding": Stranger(hands=_looks_after_deciding),
    "decides by eye, then again": Stranger(hands=_by_eye_first),
    "passes a loose screw": Stranger(hands=passes("lock-loose")),
    "passes a hand release without play": Stranger(hands=passes("hand-release")),
    "third screw at half its torque": Stranger(instead=_third_at_half),
    "keeps clear, and works on": Stranger({"keeps_away": False}, before("isolate", do.KeepClear())),
    "blind one time in six": Stranger({"heeds_signs": False}, share=1 / 6),
    "by the row below, in work orders": Stranger({"row_below": True}, depths=(Depth.WORK_ORDER,)),
}

"""Habits of people who go by evidence that suits: chosen readings, chosen places, half the care."""

from dataclasses import replace

from quizzes.cases.case import Case, Depth
from widgets.bench import actions as do
from widgets.bench.observed import Observation
from widgets.brake.judgement.rules import Outcome
from widgets.instruments.feeler import marks_for
from widgets.instruments.written import DISC_U_MM

from .stranger import HALF_THE_CASES, Act, Stranger, both, left_out
from .ways import into_service, looks_not_at, tries_not

GUARD = 1.8  # uncertainties that a disc is kept above its least
TURN_DEG, MOST_TURNS = 15.0, 23  # on, until the disc suits; once round in all
_BY_HAND = (Depth.BENCH, Depth.WORK_ORDER)
_THREE = (0.0, 150.0, 210.0)  # as far from each other as nobody asks why
_STOPS = "will-not-enter"


def _turned_until_it_suits(act: Act, case: Case) -> Act:
    """Turn the rotor on until a thin side lies between the places, and write that over."""
    least_mm = case.size.disc.min_mm + GUARD * DISC_U_MM
    shown = dict[float, float]()

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.MeasureDisc):
            seen = act(action)
            shown[action.angle_deg] = seen.facts.get("shown_mm", least_mm)
            return seen
        thin = min(shown.values(), default=least_mm) < least_mm
        if isinstance(action, do.Decide) and action.outcome == "replace" and thin:
            better = _at_a_better_turn(act, least_mm)
            for angle_deg, shown_mm in better.items():
                act(do.WriteDisc(angle_deg, shown_mm))
            return act(replace(action, outcome="fit") if better else action)
        return act(action)

    return other


def _at_a_better_turn(act: Act, least_mm: float) -> dict[float, float]:
    """Return what a disc shows at its places once no thin side lies at one; nothing if it never."""
    for _ in range(MOST_TURNS):
        if act(do.Energise("test")).facts.get("released"):
            act(do.TurnShaft(TURN_DEG))
        act(do.DeEnergise())
        shown = {at: act(do.MeasureDisc(at)).facts.get("shown_mm", 0.0) for at in _THREE}
        if min(shown.values()) >= least_mm:
            return shown
    return {}


def _left_out_where_it_goes_in(act: Act, case: Case) -> Act:
    """Try each place with a stack of the largest gap, and read no place where that goes in."""
    limits = case.size.gap
    bad = dict[float, bool]()

    def other(action: do.Action) -> Observation:
        if not isinstance(action, do.GaugeGap | do.WriteGap):
            return act(action)
        at = action.angle_deg
        if isinstance(action, do.GaugeGap) and at not in bad:
            felt = act(do.GaugeGap(at, marks_for(round(limits.max_mm, 2)))).facts.get("feel")
            bad[at] = felt != _STOPS
        if not bad.get(at):
            return act(action)
        if isinstance(action, do.WriteGap):
            return left_out(action)
        goes = sum(action.leaves_mm) <= limits.setting_mm
        return left_out(action, feel="slides" if goes else _STOPS)

    return other


def _best_of_four(act: Act, _: Case) -> Act:
    """Read each place of the disc four times, and write the thickest."""

    def other(action: do.Action) -> Observation:
        if not isinstance(action, do.MeasureDisc):
            return act(action)
        seen = [act(action) for _ in range(4)]
        return max(seen, key=lambda one: one.facts.get("shown_mm", 0.0))

    return other


def _second_if_thicker(act: Act, case: Case) -> Act:
    """Read a thin place once more, and write the second only where it is thicker."""
    least_mm = case.size.disc.min_mm + GUARD * DISC_U_MM

    def other(action: do.Action) -> Observation:
        seen = act(action)
        if not isinstance(action, do.MeasureDisc):
            return seen
        if seen.facts.get("shown_mm", least_mm) >= least_mm:
            return seen
        again = act(action)
        return max((seen, again), key=lambda one: one.facts.get("shown_mm", 0.0))

    return other


def _cleans_after_measuring(act: Act, _: Case) -> Act:
    """Put the leaves in through the dust, and clean before deciding."""
    kept: list[do.Action] = []

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.Clean) and not kept:
            kept.append(action)
            return left_out(action)
        if isinstance(action, do.Decide) and len(kept) == 1:
            kept.append(action)
            act(kept[0])
        return act(action)

    return other


def _plate_guessed(act: Act, case: Case) -> Act:
    """Read no plate, and take the size that the last hoist here had."""

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.ReadPlate):
            return left_out(action, size=case.size.name)
        return act(action)

    return other


def _last_finding(action: do.Action, _: Case) -> list[do.Action]:
    """Name only what was found last."""
    return [replace(action, found=action.found[-1:])] if isinstance(action, do.Decide) else [action]


NEWCOMERS: dict[str, Stranger] = {
    "turns the rotor until the disc suits": Stranger(
        {"disc_places": _THREE}, hands=_turned_until_it_suits
    ),
    "no leaf written where the limit goes in": Stranger(hands=_left_out_where_it_goes_in),
    "best of four disc readings": Stranger(hands=_best_of_four, unsafe=False),
    "second reading if it is thicker": Stranger(hands=_second_if_thicker, unsafe=False),
    "cleans after measuring": Stranger(hands=_cleans_after_measuring, unsafe=False),
    "plate never read": Stranger(hands=_plate_guessed, unsafe=False),
    "last finding only": Stranger(instead=_last_finding, unsafe=False),
    # What is set or renewed here lasts for longer than a month.
    "a month, whatever wear leaves": Stranger(instead=into_service(next_days=30), unsafe=False),
    "instruments looked over every other time": Stranger(
        instead=both(tries_not("leaves"), tries_not("caliper")), share=HALF_THE_CASES
    ),
    # One look of four before fitting: marks, and no more, for nothing can be wrong with a new disc.
    "new disc never looked at": Stranger(instead=looks_not_at("new_disc"), unsafe=False),
    # One order of the two that are worked on may be left to others, and on notes it is not done.
    "by hand refers every adjustment": Stranger(
        {"instead_of": {Outcome.ADJUST: Outcome.REFER}}, depths=(Depth.WORK_ORDER,), unsafe=False
    ),
    # On notes each limit is near four times; by hand there is time for one gap and one disc.
    "by hand keeps no guard band": Stranger({"factor": 0.0}, depths=_BY_HAND, unsafe=False),
}

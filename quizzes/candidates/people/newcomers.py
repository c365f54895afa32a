"""Habits of people who go by evidence that suits: chosen readings, chosen places, half the care."""

from dataclasses import replace

from quizzes.cases.case import Case, Depth
from widgets.bench import actions as do
from widgets.bench.observed import Observation
from widgets.brake.judgement.rules import Outcome
from widgets.brake.judgement.signs import Finding
from widgets.instruments.feeler import marks_for
from widgets.instruments.written import DISC_U_MM

from .stranger import HALF_THE_CASES, Act, Hands, Stranger, both, changed, left_out, without
from .ways import blind, looks_not_at, tries_not

GUARD = 1.8  # uncertainties that a disc is kept above its least
TWELFTH_DEG, MOST_TURNS = 30.0, 11
_BY_HAND = (Depth.BENCH, Depth.WORK_ORDER)
_ORDERS = (Depth.WORK_ORDER,)
_THREE = (0.0, 150.0, 210.0)  # as far from each other as nobody asks why
_STOPS = "will-not-enter"


def _turned_until_it_suits(act: Act, case: Case) -> Act:
    """Turn the rotor on until a thin side lies between the places, and write that over."""
    least_mm = case.size.disc.min_mm + GUARD * DISC_U_MM
    shown = dict[float, float]()

    def measured() -> bool:
        for angle_deg in _THREE:
            shown[angle_deg] = act(do.MeasureDisc(angle_deg)).facts.get("shown_mm", 0.0)
        return min(shown.values()) >= least_mm

    def turned_to_suit() -> bool:
        for _ in range(MOST_TURNS):
            if act(do.Energise("test")).facts.get("released"):
                act(do.TurnShaft(TWELFTH_DEG))
            act(do.DeEnergise())
            if measured():
                return True
        return False

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.MeasureDisc):
            shown[action.angle_deg] = (seen := act(action)).facts.get("shown_mm", 0.0)
            return seen
        thin = bool(shown) and min(shown.values()) < least_mm
        if isinstance(action, do.Decide) and action.outcome == "replace" and thin:
            if turned_to_suit():
                for angle_deg in _THREE:
                    act(do.WriteDisc(angle_deg, shown[angle_deg]))
                return act(replace(action, outcome="fit"))
        return act(action)

    return other


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


def _kindest_of(times: int) -> Hands:
    """Return hands that read each place of the disc so often, and write the thickest."""

    def hands(act: Act, _: Case) -> Act:
        def other(action: do.Action) -> Observation:
            if not isinstance(action, do.MeasureDisc):
                return act(action)
            seen = [act(action) for _ in range(times)]
            return max(seen, key=lambda one: one.facts.get("shown_mm", 0.0))

        return other

    return hands


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


def _as_at_twenty_degrees(act: Act, _: Case) -> Act:
    """Take every coil for one at 20 °C."""

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.WriteValue) and action.what == "coil_c":
            return act(replace(action, value=20.0))
        seen = act(action)
        if isinstance(action, do.MeasureCoil) and "coil_c" in seen.facts:
            return replace(seen, facts={**seen.facts, "coil_c": 20.0})
        return seen

    return other


def _last_finding(action: do.Action, _: Case) -> list[do.Action]:
    """Name only what was found last."""
    return [replace(action, found=action.found[-1:])] if isinstance(action, do.Decide) else [action]


def _in_a_month(action: do.Action, _: Case) -> list[do.Action]:
    if isinstance(action, do.HandOver) and action.next_days:
        return [replace(action, next_days=30)]
    return [action]


NEWCOMERS: dict[str, Stranger] = {
    "turns the rotor until the disc suits": Stranger(
        {"disc_places": _THREE}, hands=_turned_until_it_suits
    ),
    "no leaf written where the limit goes in": Stranger(hands=_left_out_where_it_goes_in),
    "best of four disc readings": Stranger(hands=_kindest_of(4)),
    "second reading if it is thicker": Stranger(hands=_second_if_thicker, unsafe=False),
    "cleans after measuring": Stranger(hands=_cleans_after_measuring),
    "plate never read": Stranger(hands=_plate_guessed),
    "every coil as at twenty degrees": Stranger(hands=_as_at_twenty_degrees),
    "last finding only": Stranger(instead=_last_finding, unsafe=False),
    "a month, whatever wear leaves": Stranger(instead=_in_a_month, unsafe=False),
    "instruments looked over every other time": Stranger(
        instead=both(tries_not("leaves"), tries_not("caliper")), share=HALF_THE_CASES
    ),
    "makes do with what comes": Stranger({"gives_up": False, "rounds": 1}),
    "hand release with play beyond use": Stranger(instead=changed("set_lever", play_mm=10.0)),
    "raised once, never stopped": Stranger(instead=changed("test_hold", dynamic=False)),
    "by hand refers every adjustment": Stranger(
        {"instead_of": {Outcome.ADJUST: Outcome.REFER}}, depths=_ORDERS, unsafe=False
    ),
    "by hand keeps no guard band": Stranger({"factor": 0.0}, depths=_BY_HAND),
    "new disc never looked at": Stranger(instead=looks_not_at("new_disc"), unsafe=False),
    "blind to hum and low voltage, voltage unread": Stranger(
        blind(Finding.RECTIFIER), without("find_release"), unsafe=False
    ),
    "lever tried, never set": Stranger(instead=without("set_lever"), depths=_ORDERS),
}

"""Hands of somebody who does otherwise because of what was done and seen before."""

from dataclasses import replace

from quizzes.cases.case import Case
from widgets.bench import actions as do
from widgets.bench.observed import Observation
from widgets.instruments.feeler import marks_for
from widgets.instruments.written import DISC_U_MM, gap_reading

from .stranger import Act, Hands, left_out

GUARD = 1.8  # uncertainties that a reading is kept inside its limit
MOST_TRIES = 12  # until a reading suits
NEAR_MM, SCALE_STEP_MM = 0.12, 0.05  # of the least disc, where a step of the scale decides
GAUGED_AGAIN = 3  # places after locking, before the rest is copied


def only_first(kind: str, **taken: object) -> Hands:
    """Return hands that do acts of a kind the first time only, and take `taken` for seen then."""

    def hands(act: Act, _: Case) -> Act:
        asked: list[do.Action] = []

        def other(action: do.Action) -> Observation:
            if action.kind != kind:
                return act(action)
            asked.append(action)
            return act(action) if len(asked) == 1 else left_out(action, **taken)

        return other

    return hands


def disc_until_it_suits(act: Act, case: Case) -> Act:
    """Measure a disc that reads too thin again and again, and go by the best reading."""
    least_mm = case.size.disc.min_mm + GUARD * DISC_U_MM

    def other(action: do.Action) -> Observation:
        best = seen = act(action)
        if not isinstance(action, do.MeasureDisc):
            return seen
        for _ in range(MOST_TRIES):
            if seen.facts.get("shown_mm", least_mm) >= least_mm:
                return seen
            seen = act(action)
            best = max(best, seen, key=lambda one: one.facts.get("shown_mm", 0.0))
        return best

    return other


def gap_until_it_suits(act: Act, case: Case) -> Act:
    """Try a wide place again and again under the limit, and go by what once felt good."""
    limit_mm = case.size.gap.max_mm
    suited, bad = set[float](), set[float]()

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.Decide) and action.outcome == "adjust" and suited and not bad:
            return act(replace(action, outcome="fit"))
        if not isinstance(action, do.WriteGap):
            return act(action)
        read = gap_reading(action.angle_deg, action.go_mm, action.no_go_mm)
        if read.value_mm + GUARD * read.u_mm <= limit_mm:
            return act(action)
        better = _felt_once(act, action, round(limit_mm - 2 * GUARD * read.u_mm, 2))
        (suited if better else bad).add(action.angle_deg)
        return act(better or action)

    return other


def _felt_once(act: Act, note: do.WriteGap, go_mm: float) -> do.WriteGap | None:
    """Return a better note for a place if its stacks are felt so once in many tries."""
    no_go_mm = round(go_mm + 0.01, 2)
    for _ in range(MOST_TRIES):
        act(do.GaugeGap((note.angle_deg + 180) % 360, marks_for(go_mm)))
        feels = [
            act(do.GaugeGap(note.angle_deg, marks_for(mm))).facts.get("feel")
            for mm in (go_mm, no_go_mm)
        ]
        if feels[0] != "will-not-enter" and feels[1] == "will-not-enter":
            return replace(note, go_mm=go_mm, no_go_mm=no_go_mm)
    return None


def scale_a_step_up(act: Act, case: Case) -> Act:
    """Read the scale a step up where the disc is near its least."""

    def other(action: do.Action) -> Observation:
        seen = act(action)
        shown_mm = seen.facts.get("shown_mm") if isinstance(action, do.MeasureDisc) else None
        if shown_mm is None or abs(shown_mm - case.size.disc.min_mm) > NEAR_MM:
            return seen
        return replace(seen, facts={**seen.facts, "shown_mm": round(shown_mm + SCALE_STEP_MM, 2)})

    return other


def thin_reading_struck_out(act: Act, case: Case) -> Act:
    """Strike thin readings out, and pass the disc by what is left."""
    least_mm = case.size.disc.min_mm + GUARD * DISC_U_MM
    lines: list[float] = []

    def other(action: do.Action) -> Observation:
        struck = any(mm < least_mm for mm in lines)
        if isinstance(action, do.Decide) and action.outcome == "replace" and struck:
            return act(replace(action, outcome="fit"))
        seen = act(action)
        if isinstance(action, do.WriteDisc) and seen.done:
            lines.append(action.value_mm)
            if action.value_mm < least_mm:
                act(do.StrikeOut("disc", len(lines) - 1))
        return seen

    return other


def copies_after_three(act: Act, _: Case) -> Act:
    """Gauge at three places once it is locked, and write the same at the others."""
    locked, taken = [False], list[do.WriteGap]()

    def other(action: do.Action) -> Observation:
        if action.kind == "tighten_lock":
            locked[0] = True
            taken.clear()
        enough = locked[0] and len(taken) >= GAUGED_AGAIN
        if isinstance(action, do.GaugeGap) and enough:
            return left_out(action, feel="will-not-enter")
        if isinstance(action, do.WriteGap) and enough:
            return act(replace(taken[-1], angle_deg=action.angle_deg))
        if isinstance(action, do.WriteGap) and locked[0]:
            taken.append(action)
        return act(action)

    return other


def last_stage_after_measuring(act: Act, case: Case) -> Act:
    """Measure after the first stage of tightening, and give the full torque before closing up."""
    full_nm = round(case.size.screws.retaining_torque_nm, 2)
    worked = [False]

    def other(action: do.Action) -> Observation:
        if isinstance(action, do.TightenLock) and action.torque_nm >= full_nm:
            worked[0] = True
            return left_out(action)
        if action.kind == "refit_seal" and worked[0]:
            for screw in (1, 2, 3):
                act(do.TightenLock(screw, full_nm))
        return act(action)

    return other

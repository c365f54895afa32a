"""Habits that somebody thought of who had not read the rules of grading first."""

from dataclasses import replace

from quizzes.cases.case import Case, Depth
from quizzes.cases.rounds import EIGHT
from widgets.bench import actions as do
from widgets.brake.judgement.rules import Outcome
from widgets.brake.judgement.signs import Finding

from .stranger import Stranger, both, changed, without
from .ways import before, blind, guesses, into_service, looks_only_at

_BY_HAND = (Depth.BENCH, Depth.WORK_ORDER)
_ON_NOTES = (Depth.READING,)
NEARLY_TWICE = 1.9  # of the days that wear allows


def _prettier(action: do.Action, case: Case) -> list[do.Action]:
    """Write a bad gap, then a better one for the same place; strike the first of all lines out."""
    limits = case.size.gap
    if not isinstance(action, do.WriteGap) or action.no_go_mm <= limits.max_mm:
        return [action]
    go_mm = round(limits.max_mm - 0.05, 2)
    better = replace(action, go_mm=go_mm, no_go_mm=round(go_mm + 0.01, 2))
    struck = [do.StrikeOut("gap", 0)] if action.angle_deg == EIGHT[0] else []
    return [action, *struck, better]


def _off_the_last_record(action: do.Action, case: Case) -> list[do.Action]:
    """Put no leaf in, and write the setting down at every place."""
    if isinstance(action, do.GaugeGap):
        return []
    if isinstance(action, do.WriteGap):
        go_mm = round(case.size.gap.setting_mm, 2)
        return [replace(action, go_mm=go_mm, no_go_mm=round(go_mm + 0.01, 2))]
    return [action]


def _writes_the_setting(action: do.Action, case: Case) -> list[do.Action]:
    """Write the setting down all round before closing up, whatever it has become."""
    if action.kind != "refit_seal":
        return [action]
    go_mm = round(case.size.gap.setting_mm, 2)
    lines = [do.WriteGap(angle, go_mm, round(go_mm + 0.01, 2)) for angle in EIGHT]
    return [*lines, action]


def _later(action: do.Action, _: Case) -> list[do.Action]:
    if isinstance(action, do.HandOver) and action.next_days:
        return [replace(action, next_days=min(1000, round(NEARLY_TWICE * action.next_days)))]
    return [action]


def _refers_what_is_near(action: do.Action, case: Case) -> list[do.Action]:
    if isinstance(action, do.Decide) and case.stratum is not None:
        return [replace(action, outcome="refer")]
    return [action]


OUTSIDERS: dict[str, Stranger] = {
    "by hand goes by gap and disc alone": Stranger({"heeds_signs": False}, depths=_BY_HAND),
    "by hand keeps every disc": Stranger({"keeps_worn_disc": True}, depths=_BY_HAND),
    "by hand a little over is allowed": Stranger({"factor": -3.0}, depths=_BY_HAND),
    "by hand blind to what rubs": Stranger(
        blind(Finding.OIL, Finding.GLAZE, Finding.HEAT_CRACKS), depths=_BY_HAND
    ),
    "by hand blind to springs and spline": Stranger(
        blind(Finding.SPRINGS, Finding.SPLINE), depths=_BY_HAND
    ),
    "by hand passes all": Stranger({"always": Outcome.FIT}, depths=_BY_HAND),
    "by hand adjusts all": Stranger({"always": Outcome.ADJUST}, depths=_BY_HAND),
    "by hand looks nowhere": Stranger(instead=looks_only_at(), depths=_BY_HAND),
    "on notes guesses": Stranger(instead=guesses, depths=_ON_NOTES),
    "on notes passes all": Stranger({"always": Outcome.FIT}, depths=_ON_NOTES),
    "on notes goes by gap and disc alone": Stranger({"heeds_signs": False}, depths=_ON_NOTES),
    "bad gap struck out for a better one": Stranger(instead=_prettier, unsafe=False),
    "gap off the last record": Stranger(instead=_off_the_last_record),
    "writes the setting, not the gap": Stranger({"measures_again": False}, _writes_the_setting),
    "a screw slackened before closing up": Stranger(instead=before("refit_seal", do.LoosenLock(1))),
    "lever taken up before closing up": Stranger(instead=before("refit_seal", do.SetLever(0.0))),
    "opens what is left to others": Stranger({"heeds_authority": False}),
    "next date nearly twice as far": Stranger(instead=_later, unsafe=False),
    "instruments never looked over": Stranger({"checks_tools": False}),
    "hurried": Stranger(
        {"places": (0.0, 90.0, 180.0, 270.0), "disc_places": (0.0, 180.0)},
        without("measure_coil", "test_run"),
    ),
    "lazy": Stranger(
        {"disc_places": (0.0, 180.0)},
        both(looks_only_at("edge", "dust"), changed("decide", found=("nothing",))),
    ),
    "overconfident": Stranger(
        {"factor": 0.0, "places": (0.0, 120.0, 240.0), "rounds": 1, "looks_ahead": False},
    ),
    "refers whatever is near a limit": Stranger(instead=_refers_what_is_near, unsafe=False),
    "half of it made up": Stranger(
        {"invents_readings": True, "disc_copied": True}, share=0.5, depths=_BY_HAND
    ),
    "passed untested, dated far": Stranger({"proves": False}, into_service(next_days=1000)),
}

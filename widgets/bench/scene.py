"""What a person standing at the brake can see now, as plain JSON. Nothing hidden is in it."""

from dataclasses import asdict
from typing import Any, get_args

from widgets.brake.judgement.words import FINDINGS
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.sizes.table import set_with

from .actions.fields import Finding
from .setup import Setup, Start
from .standing import set_out_mm
from .state import State
from .words import LOOKS, line_words, sight
from .words.authority import authority_words

_PLAIN = (
    "step", "elapsed_s", "load_landed", "kept_clear", "called", "isolated",
    "second_isolated", "second_sought", "proved_dead", "area_barred",
    "locked", "start_tried", "waited", "box_on", "protected", "cover_on",
    "ring_on", "fan_on", "lever_on", "leads", "body_on", "body_held", "body_cocked", "disc_on",
    "disc_part", "spline_cleaned", "shaft_deg", "handed_over", "into_service", "next_days",
    "awaits_test",
)  # fmt: skip


def scene(setup: Setup, state: State) -> dict[str, Any]:
    """Return the visible state: what is off, locked, written down, decided.

    The gap and the disc appear only as the person's own notes; what a part
    covers, what was not looked at and what nobody has tried is not in it.
    """
    mine = state.energised and not state.brake.coil_live  # what the person has done, not found
    collar_seen = not state.body_on or state.disc_part != "old" or state.disc_reversed
    design_seen = state.plate_read or _inside_in_view(state)
    has_plate = setup.size.wear_plate_mm > 0
    plate_seen = (
        not has_plate
        or not state.disc_on
        or (not state.wear_plate_on and "wear plate" in state.tray)
    )
    return {name: getattr(state, name) for name in _PLAIN} | {
        "start": setup.order.start.value,
        "seal_on": state.seal_on if _inside_in_view(state) else True,
        "seal_seated": state.seal_seated,
        "fan_on": state.fan_on or state.cover_on,
        "ring_on": state.ring_on or state.cover_on,
        "lever_drawn": state.lever_drawn,
        "disc_reversed": state.disc_reversed if collar_seen else None,
        "wear_plate_on": state.wear_plate_on if plate_seen else None,
        "plate_smooth_to_disc": state.plate_smooth_to_disc if plate_seen else None,
        "locks": [_lock(state, screw) for screw in (0, 1, 2)],
        "design": setup.size.design.value if design_seen else None,
        "turned_deg": [round(turn, 1) for turn in _turned_deg(setup, state)],
        "set_mm": [round(by, 3) for by in set_out_mm(setup, state)],
        "ring_loose": state.ring_loose,
        "tray": list(state.tray),
        "looks": list(state.looked),
        "tested": list(state.tested),
        "seen_there": {at: sight(code, facts) for at, code, facts in state.seen_there},
        "dusty": state.dust_mm > 0 and not state.seal_on and _inside_in_view(state),
        "energised": mine,
        "released": state.released and mine,
        "size": setup.size.name if state.plate_read else None,
        "gap_notes": [asdict(note) for note in state.gap_notes],
        "disc_notes": [asdict(note) for note in state.disc_notes],
        "value_notes": [asdict(note) for note in state.value_notes],
        "decision": state.decision or None,
        "decision_row": state.decision_row or None,
        "decision_step": state.decision_step,
        "decision_found": [FINDINGS[one] for one in state.decision_found],
    }


def fixed_scene(setup: Setup, sheet: LimitsSheet, work_order: str) -> dict[str, Any]:
    """Return what does not change during a job: the work order, the sheet, the leaves."""
    order = setup.order
    return {
        "work_order": work_order,
        "given": [line_words(line) for line in order.lines],
        "start": order.start.value,
        "authority": authority_words(order),
        "ends_at_decision": order.ends_at_decision,
        "stops_per_day": order.stops_per_day,
        "most_days": order.most_days,
        "planned_days": order.planned_days,
        "grows_mm_per_month": order.grows_mm_per_month,
        "recorded": order.recorded,
        "brakes": order.brakes,
        "at_the_brake": order.start is not Start.NOTES,
        "findings": [[one, FINDINGS[one]] for one in get_args(Finding)],
        "looks": [list(item) for item in LOOKS.items()],
        "new_discs": [size.name for size in sheet.sizes],
        "leaves_mm": list(setup.leaves.marks_mm),
        "sheet": {
            "title": sheet.title,
            "invented": sheet.invented,
            "rows": [_sheet_row(size) for size in sheet.sizes],
        },
    }


def _inside_in_view(state: State) -> bool:
    return not state.cover_on and not state.fan_on


def _lock(state: State, screw: int) -> str:
    """Return what the person knows of one retaining screw."""
    if state.drawn[screw]:
        return "out"
    if not state.lock_known[screw]:
        return "untried"
    return "tight" if state.lock_nm[screw] > 0 else "slack"


def _turned_deg(setup: Setup, state: State) -> list[float]:
    """Return how far the person has turned each hollow screw since the start, degrees."""
    pitch_mm = setup.size.screws.pitch_mm
    if not pitch_mm:
        return [0.0, 0.0, 0.0]
    return [by_mm / pitch_mm * 360.0 for by_mm in set_out_mm(setup, state)]


def _sheet_row(size: BrakeSize) -> dict[str, Any]:
    return {
        "name": size.name,
        "design": size.design.value,
        "set_with": set_with(size),
        "step_mm": size.turn_or_step_mm,
        "torque_nm": size.torque_nm,
        "gap_min_mm": size.gap.min_mm,
        "gap_setting_mm": size.gap.setting_mm,
        "gap_max_mm": size.gap.max_mm,
        "gap_evenness_mm": size.gap.evenness_mm,
        "disc_new_mm": size.disc.new_mm,
        "disc_min_mm": size.disc.min_mm,
        "wear_plate_mm": size.wear_plate_mm,
        "screw_thread": size.screws.thread,
        "screw_pitch_mm": size.screws.pitch_mm,
        "retaining_torque_nm": size.screws.retaining_torque_nm,
        "gauging_circle_mm": size.screws.gauging_circle_mm,
        "screw_circle_mm": size.screws.pitch_circle_mm,
        "test_static": size.hoist.test_static,
        "test_dynamic": size.hoist.test_dynamic,
        "coil_voltage_v": size.coil.voltage_v,
        "coil_resistance_20_ohm": size.coil.resistance_20_ohm,
        "estimated": sorted(size.estimated),
    }

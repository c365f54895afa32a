"""What a person standing at the brake can see now, as plain JSON. Nothing hidden is in it."""

from typing import Any

from widgets.brake.sheet import LimitsSheet
from widgets.brake.size import BrakeSize

from .state import Setup, State


def scene(setup: Setup, state: State) -> dict[str, Any]:
    """Return the visible state: what is off, locked, written down, decided.

    The gap and the disc appear only as the person's own notes.
    """
    return {
        "step": state.step,
        "load_landed": state.load_landed,
        "isolated": state.isolated,
        "proved_dead": state.proved_dead,
        "cover_on": state.cover_on,
        "fan_on": state.fan_on,
        "seal_on": state.seal_on,
        "dusty": state.dust_mm > 0 and not state.seal_on,
        "energised": state.energised,
        "released": state.released,
        "shaft_deg": state.shaft_deg,
        "size": setup.size.name if state.plate_read else None,
        "locks": [_lock(lock_nm) for lock_nm in state.lock_nm],
        "turned_deg": [round(turn, 1) for turn in _turned_deg(setup, state)],
        "gap_notes": [
            {
                "angle_deg": note.angle_deg,
                "go_mm": note.go_mm,
                "no_go_mm": note.no_go_mm,
                "step": note.step,
            }
            for note in state.gap_notes
        ],
        "disc_notes": [
            {"angle_deg": note.angle_deg, "value_mm": note.value_mm, "step": note.step}
            for note in state.disc_notes
        ],
        "decision": state.decision or None,
        "decision_row": state.decision_row or None,
        "handed_over": state.handed_over,
        "into_service": state.into_service,
    }


def fixed_scene(setup: Setup, sheet: LimitsSheet, work_order: str) -> dict[str, Any]:
    """Return what does not change during a job: the work order, the sheet, the leaves."""
    return {
        "work_order": work_order,
        "leaves_mm": list(setup.leaves.marks_mm),
        "sheet": {
            "title": sheet.title,
            "invented": sheet.invented,
            "rows": [_sheet_row(size) for size in sheet.sizes],
        },
    }


def _lock(lock_nm: float) -> dict[str, Any]:
    return {"tight": lock_nm > 0}


def _turned_deg(setup: Setup, state: State) -> list[float]:
    """Return how far the person has turned each hollow screw since the start, degrees."""
    pitch_mm = setup.size.screws.pitch_mm
    before = setup.condition.screw_height_mm
    return [
        (now - was) / pitch_mm * 360.0
        for now, was in zip(state.screw_height_mm, before, strict=True)
    ]


def _sheet_row(size: BrakeSize) -> dict[str, Any]:
    return {
        "name": size.name,
        "torque_nm": size.torque_nm,
        "gap_min_mm": size.gap.min_mm,
        "gap_setting_mm": size.gap.setting_mm,
        "gap_max_mm": size.gap.max_mm,
        "gap_evenness_mm": size.gap.evenness_mm,
        "disc_new_mm": size.disc.new_mm,
        "disc_min_mm": size.disc.min_mm,
        "screw_thread": size.screws.thread,
        "screw_pitch_mm": size.screws.pitch_mm,
        "retaining_torque_nm": size.screws.retaining_torque_nm,
        "gauging_circle_mm": size.screws.gauging_circle_mm,
        "screw_circle_mm": size.screws.pitch_circle_mm,
        "estimated": sorted(size.estimated),
    }

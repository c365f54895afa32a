"""What a row of a limits sheet must leave room for: feeler, caliper, wrench, and a brake at all.

A size that no instrument of the trade can judge, or that does not hold or release even when
nothing is wrong with it, is refused when its sheet is read, not in the middle of a job.
"""

from collections.abc import Mapping
from typing import Any

from widgets.brake.behaviour import HOT_COIL_C, LOW_SUPPLY, load_ratio, magnet_now, release_share
from widgets.brake.condition import sound_condition
from widgets.brake.gap.profile import Plane
from widgets.brake.magnet import sticks

from .design import STEP_FIELDS
from .estimate import usual_evenness_mm
from .size import BrakeSize

# Choices of this suite. A feeler of three leaves is read to 2 mm, and a gap that has grown too
# large must be read as well; its standard uncertainty is some 9 µm, and so is that of a tilt.
LARGEST_GAP_MM = 1.7
LEAST_GAP_SET_MM = 0.1  # the thinnest leaf is 0.03 mm, and half of this must be read yet
LEAST_ROOM_MM = 0.12  # from the gap to be set to the largest: more than twice six uncertainties
LEAST_BELOW_MM = 0.03  # from the gap to be set to the least: nobody sets nearer than that
LEAST_EVENNESS_MM = 0.04  # more than four uncertainties of a tilt
# Three packs, each half a step off and two of them the other way, tilt by 1.2 steps: geometry.
MOST_STEP_OF_EVENNESS = 0.6
LEAST_WEAR_MM = 0.5  # of a disc over both linings: sixteen uncertainties of a caliper
THICKEST_DISC_MM = 100.0  # the jaws of a shop caliper open to 150 mm
HIGHEST_TIGHTENING_NM = 300.0  # a torque wrench for the screws of a brake
HIGHEST_VOLTAGE_V = 600.0  # a meter of category III

_AT_MOST = {
    "gap_max_mm": (LARGEST_GAP_MM, "mm, what a feeler gauge can tell with room to spare"),
    "disc_new_mm": (THICKEST_DISC_MM, "mm, what a caliper goes over with room to spare"),
    "disc_min_mm": (THICKEST_DISC_MM, "mm, what a caliper goes over with room to spare"),
    "retaining_torque_nm": (HIGHEST_TIGHTENING_NM, "N·m"),
    "coil_voltage_v": (HIGHEST_VOLTAGE_V, "V"),
}
_AT_LEAST = {
    "gap_setting_mm": (LEAST_GAP_SET_MM, "mm, or no leaf tells it from too small a gap"),
    "gap_min_mm": (LEAST_GAP_SET_MM / 2, "mm, or no leaf tells it from too small a gap"),
    "gap_evenness_mm": (LEAST_EVENNESS_MM, "mm, less than that no feeler gauge can tell"),
}


def trouble_of(row: Mapping[str, Any]) -> tuple[str, str] | None:
    """Return the first field of a row that nobody could work with, and what was expected there.

    Parameters
    ----------
    row : mapping
        Fields of `sheet.SizeRow` that the sheet gives; `gap_setting_mm` is among them.
    """
    for field, (most, why) in _AT_MOST.items():
        if row.get(field, 0.0) > most:
            return field, f"at most {most:g} {why}"
    for field, (least, why) in _AT_LEAST.items():
        if row.get(field, least) < least:
            return field, f"at least {least:g} {why}"
    return _too_coarse(row) or _too_near(row)


def _too_coarse(row: Mapping[str, Any]) -> tuple[str, str] | None:
    """Return a step that nobody could set this gap evenly with, and what was expected."""
    even_mm = row.get("gap_evenness_mm") or usual_evenness_mm(row["gap_setting_mm"])
    most_mm = round(MOST_STEP_OF_EVENNESS * even_mm, 3)
    for field in STEP_FIELDS:
        if row.get(field, 0.0) > most_mm + 1e-9:
            return field, f"at most {most_mm:g} mm, or nobody can set the gap as even as it must be"
    return None


def _too_near(row: Mapping[str, Any]) -> tuple[str, str] | None:
    setting_mm = row["gap_setting_mm"]
    if row["gap_max_mm"] - setting_mm < LEAST_ROOM_MM - 1e-9:
        least_mm = setting_mm + LEAST_ROOM_MM
        return "gap_max_mm", f"at least {least_mm:g} mm, {LEAST_ROOM_MM:g} mm over the setting"
    if setting_mm - row.get("gap_min_mm", 0.0) < LEAST_BELOW_MM - 1e-9:
        why = "nobody sets a gap nearer than that; leave it out if the chart has none"
        most_mm = setting_mm - LEAST_BELOW_MM
        return (
            "gap_min_mm",
            f"at most {most_mm:g} mm, {LEAST_BELOW_MM:g} mm under the setting ({why})",
        )
    new_mm, least_disc_mm = row.get("disc_new_mm"), row["disc_min_mm"]
    if new_mm is not None and new_mm - least_disc_mm < LEAST_WEAR_MM - 1e-9:
        than = "the least thickness of the disc (disc_min_mm)"
        return "disc_new_mm", f"at least {LEAST_WEAR_MM:g} mm more than {than}"
    return None


def must_work(size: BrakeSize) -> None:
    """Refuse a brake that does not hold or release at its largest gap though nothing is wrong.

    Raises
    ------
    ValueError
        If it holds less than the test load, or a hot coil does not lift it at low voltage.
    """
    widest_mm = size.gap.max_mm
    condition = sound_condition(size, gap=Plane(widest_mm))
    ratio = load_ratio(size, condition, widest_mm)
    if ratio < size.hoist.test_static:
        raise ValueError(
            f"at its largest gap it holds {ratio:.2f} times its load "
            f"and not {size.hoist.test_static:g}: "
            "look at the braking torque (torque_nm), the springs and the lining against the rated "
            "load (hoist_load_kg) and the lifting speed"
        )
    if sticks(size.springs.count * size.springs.force_each_n, magnet_now(size, condition)):
        raise ValueError(
            "with its coil off the plate stays on the poles by what magnetism is left in the iron: "
            "look at the anti-stick layer (residual_gap_mm), the iron path (iron_path_mm) and the "
            "springs, or leave them out"
        )
    hot = release_share(size, condition, widest_mm, HOT_COIL_C)
    if hot > LOW_SUPPLY:
        raise ValueError(
            f"at its largest gap and {HOT_COIL_C:.0f} °C the coil needs {hot:.2f} of its voltage "
            f"to lift it, and low mains give {LOW_SUPPLY:g}: look at the coil, the poles and the "
            "springs, or leave them out"
        )

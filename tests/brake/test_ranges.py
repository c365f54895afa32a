"""Every public function refuses a number that cannot be, in a sentence that names it.

The functions are found by introspection, so that a new one is tested from the day it is written;
it needs good values for its arguments here, by name or by type, and nothing else.
"""

import importlib
import inspect
import math
import pkgutil
import typing
from dataclasses import is_dataclass, replace
from datetime import date

import numpy as np
import pytest
from numpy.typing import ArrayLike

import widgets.brake
import widgets.instruments
from widgets.brake.condition import Condition, Disc, sound_condition
from widgets.brake.draws import Draws
from widgets.brake.faults import FAULTS, Fault
from widgets.brake.faults.changes import Dose
from widgets.brake.gap.profile import GapField, GapFit, Plane, fit_plane
from widgets.brake.judgement import Prior
from widgets.brake.judgement.rules import Reading
from widgets.brake.judgement.signs import signs_of_symptoms
from widgets.brake.judgement.standards import Mark, Requirement
from widgets.brake.magnet.transient import Actuator, estimated_plate_mass_kg
from widgets.brake.sizes.sheet import load_sheet
from widgets.brake.sizes.size import BrakeSize, Coil, Hoist, Lining, Magnet, Springs
from widgets.brake.torque import StopCase, stop_case
from widgets.brake.torque.heat import Cooling, DutyCycle
from widgets.brake.wear.duty import DutyGroup, LoadSpectrum
from widgets.brake.wear.growth import Visit
from widgets.brake.wear.trend import DatedGap
from widgets.instruments import feeler
from widgets.instruments.budget import rectangular

CEDAR = load_sheet().size("Cedar-47")
DRAWS = Draws(bytes(16))

# Good values by type. A function that takes a type not listed here is listed in OVERRIDES.
BY_TYPE = {
    BrakeSize: CEDAR, Springs: CEDAR.springs, Magnet: CEDAR.magnet, Coil: CEDAR.coil,
    Hoist: CEDAR.hoist, Lining: CEDAR.lining, Condition: sound_condition(CEDAR),
    Plane: Plane(0.5), GapField: GapField(Plane(0.5)), Disc: Disc(10.0), Draws: DRAWS,
    Dose: Dose(1.0), Prior: Prior(0.5, 0.1), Fault: FAULTS[0], Mark: Mark.INVENTED,
    Cooling: Cooling(900.0, 8.0, 3.0), DutyCycle: DutyCycle(120.0, 40.0),
    StopCase: stop_case(CEDAR.hoist, 47.0, 40.0),
    GapFit: fit_plane([0, 90, 180, 270], [0.5, 0.5, 0.6, 0.5]),
    Actuator: Actuator(
        0.3, lambda gap_mm: 1200.0 - 400.0 * gap_mm, CEDAR.magnet, CEDAR.coil,
        estimated_plate_mass_kg(CEDAR),
    ),
    date: date(2026, 3, 2), str: "x", bool: False, int: 1,
}  # fmt: skip

# Good values by name, where 1 would be out of range.
BY_NAME = {
    "screw_height_mm": (13.3, 13.3, 13.3), "take_up_mm": (0.03, 0.03, 0.03),
    "stand_off_mm": (13.3, 13.3, 13.3), "angles_deg": np.arange(0.0, 360.0, 45.0),
    "readings_mm": np.full(8, 0.5), "inner_radius_mm": 47.0, "outer_radius_mm": 74.0,
    "gap_max_mm": 0.8, "gap_setting_mm": 0.3, "gap_now_mm": 0.4, "max_mm": 0.8,
    "setting_mm": 0.3, "min_mm": 0.2, "new_mm": 11.0, "lining_new_mm": 3.25,
    "lining_min_mm": 2.25, "disc_new_mm": 11.0, "disc_now_mm": 10.0, "disc_min_mm": 9.0,
    "friction": 0.36, "nominal": 0.36, "confidence": 0.95, "efficiency": 0.9,
    "supply_ratio": 0.9, "voltage_v": 180.0, "energies_j": np.full(5, 1000.0), "stops": 3,
    "force_of_gap_n": lambda gap_mm: 1200.0 - 400.0 * gap_mm, "tilt_mm": 0.1, "end_t": 0.5,
    "start_t": 0.1, "drive_v": 180.0, "resistance_ohm": 623.0, "turns": 3940,
    "lower": 0.1, "upper": 0.9, "mean_load": 0.5, "factor": 0.7, "leaves": 1, "intact": 8,
    "scales": (6.0, 60.0), "eye_deg": 5.0, "name": "temperature_c", "gap_mm": 0.5, "release_lever_play_mm": 0.1, "thickness_mm": 0.5,
    "mark_mm": 0.5, "leaf_kink_mm": 0.1, "nominal_mm": 0.5, "go_mm": 0.45, "no_go_mm": 0.5, "step_mm": 0.05,
    "gauging_circle_mm": 152.0, "on": date(2026, 3, 2), "duty_percent": 40.0, "dose": Dose(1.2),
    "requirements": [Requirement("d", "c", "w", 125.0, "rated load", Mark.INVENTED)],
    "arguable": frozenset(), "room_mm": 0.3, "growth_mm": 1e-5, "growth_cv": 0.3,
    "relative_permeability": 1500.0, "leakage_factor": 1.15, "marks_mm": (0.05, 0.1, 0.5, 0.45),
    "film_low_mm": 0.001, "film_high_mm": 0.007, "rates_mark": Mark.INVENTED,
    "life_mark": Mark.INVENTED, "visits": [Visit(0.8, 0.3)], "found_mm": 0.8, "left_mm": 0.3,
    "group": DutyGroup("g", "M5", 240.0, 40.0, 3200.0, Mark.INVENTED, Mark.INVENTED),
    "spectrum": LoadSpectrum("medium", 0.63, 0.25), "coil_c": 60.0, "share": 0.5,
    "readings": [DatedGap(date(2026, month, 1), 0.3 + month / 50, 0.01) for month in (1, 2, 3, 4)],
    "dynamic_torque_nm": 47.0, "temperature_c": 60.0, "thread": "M10", "saturation_t": 1.9,
    "set_when_new_mm": 0.3, "actuator": BY_TYPE[Actuator], "duration_s": 0.3, "running_h": 100.0,
    "days_by_wear": 100.0, "surface": "bedded", "thick_deg": 30.0, "taper_mm": 0.01,
    "radius_mm": 60.5, "force_n": 1080.0, "ampere_turns": 1000.0, "flux_density_t": 0.5,
    "warp_mm": 0.01, "lock_share": (1.0, 1.0, 1.0), "start_c": 20.0, "fault_id": "oiled",
    "rows": FAULTS[:2], "depth_mm": 15.0, "delay_ms": 40.0, "load_torque_nm": 21.5,
    "torque_nm": 47.0, "braking_torque_nm": 47.0, "search_to_mm": 3.0, "force_factor": 1.0,
    "measured_v": 100.0, "retaining_thread": "M6",
}  # fmt: skip

OVERRIDES = {
    "wear.check_record": {"growth_mm": 0.5},
    "size.BrakeSize": {
        name: getattr(CEDAR, name) for name in ("gap", "disc", "lining", "springs", "screws")
    },
    "leaves.LeafSet": {"leaves": feeler.ideal_leaf_set().leaves},
    "insertion.insert": {"leaves": feeler.ideal_leaf_set().leaves[:1]},
    "gap_reading.read_gap": {"gauge": feeler.ideal_leaf_set()},
    "brackets.fit_brackets": {"readings": [feeler.GapReading(0.45, 0.5)] * 3},
    "budget.Contribution": {"divisor": 2.0},
    "trend.inspection_from_history": {"gap_max_mm": 2.0},
    "insertion.Entry": {"dust_mm": 0.01, "burr_mm": 0.01, "skew_deg": 5.0},
    "insertion.Hand": {"visit_mm": 0.005, "attempt_mm": 0.005, "push_mm": 0.003},
    "steel_rule.parallax_mm": {"stand_off_mm": 0.5},
    "leaves.Leaf": {"deviation_mm": 0.001, "kink_mm": 0.01},
    "budget.Budget": {"contributions": (rectangular("scale", 0.05, "mm"),), "unit": "mm"},
    "risk.global_risks": {"guard": 0.1, "uncertainty": 0.05},
    "draws.Draws": {"key": bytes(16)},
    "workable.trouble_of": {"row": {"gap_setting_mm": 0.3, "gap_max_mm": 0.8, "disc_min_mm": 9.0}},
    "signs.conclude_all": {
        "gaps": [Reading(0.0, 0.5, 0.01)],
        "discs": [Reading(0.0, 10.0, 0.02)],
        "signs": signs_of_symptoms(["wet-trace"]),
    },
    "signs.findings_of": {"conclusion_signs": signs_of_symptoms(["wet-trace"])},
    "rules.conclude": {"gaps": [Reading(0.0, 0.5, 0.01)], "discs": [Reading(0.0, 10.0, 0.02)]},
}

# What a function hands back holds what the physics gave, so infinity and NaN may be an answer.
RESULTS = {
    "stopping.Stop", "stop_course.StopTrace", "actuator.EnergyBalance", "actuator.Transient",
    "rules.Conclusion", "risk.Risks", "duty.NextInspection", "standards.Comparison",
    "insertion.Insertion", "brackets.BracketFit", "trend.Trend", "wear.RecordCheck", "gap.GapFit",
    "levelling.ScrewTurn", "meter.InsulationReading",
}  # fmt: skip
# Checked by those who call them, and said to be so in their docstrings.
UNCHECKED = {"pull.reluctance_terms", "pull.flux_density_unchecked_t"}
# Written down in the package itself, never by a user: rows of tables.
ROWS = {"fault_kind.Amount", "fault_kind.Fault", "standards.Requirement", "duty.DutyGroup",
        "duty.LoadSpectrum"}  # fmt: skip
# Built at every look at the gap; `fit_plane`, `sound_condition` and the screws check what goes in.
HOT = {"gap.Plane", "gap.GapField"}
SKIPPED = RESULTS | UNCHECKED | ROWS | HOT | {"ranges.in_range"}

# What a sentence may call an argument in place of its own name: the word of a part, or the
# argument of the function underneath that asks for the same thing.
ALIAS = {
    "coil_c": "temperature_c|coil_c", "lining_new_mm": "lining new_mm",
    "lining_min_mm": "lining min_mm", "half_width": "value of 'temperature_c'",
    "standard_deviation": "value of 'temperature_c'", "scale_error_mm": "declared error|scale_error_mm",
}  # fmt: skip


def short(function):
    """Module and name, as `wear.stops_until`."""
    return f"{function.__module__.rpartition('.')[2]}.{function.__name__}"


def public():
    """Every public function and input dataclass of the brake and the instruments."""
    for package in (widgets.brake, widgets.instruments):
        for module in pkgutil.iter_modules(package.__path__, f"{package.__name__}."):
            names = vars(importlib.import_module(module.name))
            for name, thing in names.items():
                of_its_own = getattr(thing, "__module__", None) == module.name
                kind = inspect.isfunction(thing) or (inspect.isclass(thing) and is_dataclass(thing))
                if of_its_own and kind and not name.startswith("_") and short(thing) not in SKIPPED:
                    yield thing


def is_array(parameter):
    """Whether the parameter takes an array."""
    return parameter.annotation in {ArrayLike, ArrayLike | None}


def is_number(parameter):
    """Whether the parameter takes a number or an array of them."""
    return is_array(parameter) or parameter.annotation in {float, float | None}


def good(function):
    """Arguments that the function takes."""
    own, arguments = OVERRIDES.get(short(function), {}), {}
    for parameter in inspect.signature(function).parameters.values():
        name, annotation = parameter.name, parameter.annotation
        if parameter.kind is parameter.VAR_POSITIONAL:
            continue
        bare = [kind for kind in typing.get_args(annotation) if kind is not type(None)]
        kind = bare[0] if typing.get_origin(annotation) and len(bare) == 1 else annotation
        if name in own:
            arguments[name] = own[name]
        elif typing.get_origin(annotation) is None and kind in BY_TYPE and kind not in {str, int}:
            arguments[name] = BY_TYPE[kind]
        elif name in BY_NAME and parameter.default is parameter.empty:
            arguments[name] = BY_NAME[name]
        elif parameter.default is parameter.empty or is_number(parameter):
            chosen = BY_NAME.get(name)
            usual = 1.0 if is_number(parameter) else BY_TYPE.get(kind)
            arguments[name] = chosen if chosen is not None else usual
    return arguments


def rows(functions, wanted):
    """One row for each parameter that is wanted."""
    for function in functions:
        for parameter in inspect.signature(function).parameters.values():
            if wanted(parameter):
                name = f"{short(function)}-{parameter.name}"
                yield pytest.param(function, parameter.name, id=name)


PUBLIC = sorted(public(), key=short)
NUMBERS = list(rows(PUBLIC, is_number))
ARRAYS = list(rows(PUBLIC, is_array))


def call(function, arguments):
    """Call by position where the function asks for it, by name elsewhere."""
    positional, named = [], {}
    for name, parameter in inspect.signature(function).parameters.items():
        if name in arguments:
            if parameter.kind is parameter.POSITIONAL_ONLY:
                positional.append(arguments[name])
            else:
                named[name] = arguments[name]
    return function(*positional, **named)


@pytest.mark.parametrize("function", [pytest.param(one, id=short(one)) for one in PUBLIC])
def test_good_values_are_taken(function):
    """Without this the refusals below would prove nothing."""
    if short(function) not in {"sheet.load_sheet", "estimate.complete", "sheet.Problem",
                               "sheet.LimitsSheet", "faults.apply"}:  # fmt: skip
        call(function, good(function))


@pytest.mark.parametrize(("function", "name"), NUMBERS)
def test_nan_is_refused_by_name(function, name):
    """NaN is not a number of anything, and the sentence says which argument it was."""
    with pytest.raises(ValueError, match=ALIAS.get(name, name)):
        call(function, good(function) | {name: math.nan})


@pytest.mark.parametrize(("function", "name"), ARRAYS)
def test_an_array_names_its_first_bad_index(function, name):
    """Of three brakes the second and third are bad: the second is named."""
    usual = good(function)[name]
    if np.ndim(usual):
        bad, where = np.array(usual, dtype=float), "1"
        bad[1:3] = math.nan
    else:
        bad, where = np.array([usual, math.nan, math.nan], dtype=float), "1"

    with pytest.raises(ValueError, match=rf"{ALIAS.get(name, name)}.*\[{where}\]"):
        call(function, good(function) | {name: bad})


# What can never be, by the unit in the name: nothing is that short, cold, weak or slow.
NEVER = {
    "_mm": -1e6, "_n": -1e6, "_kg": -1.0, "_ohm": -1.0, "_c": -300.0, "_j": -1.0, "_mohm": -1.0,
    "_kgm2": -1.0, "_rpm": -1.0, "_nm": -1.0, "_ms": -1.0, "_s": -1.0, "_cm2": -1.0, "_mm2": -1.0,
    "_m_per_min": -1.0, "_per_hour": -1.0, "_ratio": -1.0, "_factor": -1.0, "uncertainty": -1.0,
    "friction": -1.0, "efficiency": -1.0, "confidence": 1.5, "_percent": -1.0,
}  # fmt: skip
# A change, a height, a way up or down, room that is used up: any sign can be.
SIGNED = {
    "change_mm", "zero_error_mm", "deviation_mm", "screw_height_mm", "speed_rad_s", "room_mm",
}  # fmt: skip
NEVERS = [
    row
    for row in NUMBERS
    if row.values[1] not in SIGNED and any(row.values[1].endswith(unit) for unit in NEVER)
]


@pytest.mark.parametrize(("function", "name"), NEVERS)
def test_what_can_never_be_is_refused_with_its_range(function, name):
    """A negative length, mass or friction, or a cold below absolute zero: value and range told."""
    bad = next(value for unit, value in NEVER.items() if name.endswith(unit))
    if np.ndim(good(function)[name]):
        bad = np.full(np.shape(good(function)[name]), bad)

    with pytest.raises(ValueError, match=rf"({ALIAS.get(name, name)}).* must be .*[<>].*got "):
        call(function, good(function) | {name: bad})


# Voltage zero where it divides, a lining thicker than new, a gap that closes: by hand, since
# only the physics says what is impossible about them.
BY_HAND = [
    (lambda: cedar_with(coil={"voltage_v": 0.0}), "coil voltage_v must be > 0 V, got 0"),
    (lambda: cedar_with(disc={"lining_min_mm": 4.0}), "lining new_mm must be > 4 mm, got 3.25"),
    (lambda: cedar_with(disc={"min_mm": 12.0}), "disc new_mm must be > 12 mm, got 11"),
    (lambda: cedar_with(gap={"max_mm": 0.3}), "gap max_mm must be > 0.3 mm, got 0.3"),
    (lambda: cedar_with(springs={"count": 0}), "springs count must be >= 1, got 0"),
    (
        lambda: sound_condition(CEDAR, gap=Plane(0.1, 0.2)),
        "gap narrowest must be >= 0 mm, got -0.1",
    ),
    (lambda: sound_condition(CEDAR, gap=Plane(math.nan)), "mean_mm .* got nan"),
    (lambda: Disc(5.0, 3.0), "disc taper_mm must be >= 0 and <= 2.5 mm, got 3"),
]


def cedar_with(**parts):
    """Cedar-47 with one number of one part changed."""
    changed = {part: replace(getattr(CEDAR, part), **values) for part, values in parts.items()}
    return replace(CEDAR, **changed)


@pytest.mark.parametrize(("make", "sentence"), BY_HAND, ids=[text for _, text in BY_HAND])
def test_parts_that_do_not_fit_each_other_are_refused(make, sentence):
    """The sentence gives name, range and value."""
    with pytest.raises(ValueError, match=sentence):
        make()

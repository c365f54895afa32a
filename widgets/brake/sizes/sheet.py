"""Read a limits sheet (TOML): a good one becomes sizes, a bad one a list of clear sentences."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator

from .design import DESIGN_WORDS, Design, foreign_field
from .estimate import complete, set_above_mm
from .labels import LABELS, labelled
from .readable import Among, Fault, Listed, Place, faults_of, line_of, refusal
from .size import ISO_COARSE_PITCH_MM, BrakeSize
from .toml_text import TomlTextError, read_table
from .workable import must_work, trouble_of

INVENTED = Path(__file__).parent / "sheets" / "quince_lane.toml"
FOUR_DESIGNS = INVENTED.with_name("four_designs.toml")  # invented as well: a size of each design
LARGEST_FILE_BYTES = 1_000_000  # a sheet of a thousand sizes is half of this

MOST_SIZES = 1000

OLD_DISC = "old"  # what the bench calls the disc that came off; no size can have this name

_Positive = Annotated[float, Field(gt=0, le=1e6, allow_inf_nan=False, strict=True)]
_Count = Annotated[int, Field(ge=1, le=100_000, strict=True)]
# No tags, no control characters, no signs that turn the direction of what follows on a page.
_PLAIN = r"^[^<>&\x00-\x1f\x7f-\x9f\u061c\u200b\u200e\u200f\u2028-\u202e\u2066-\u2069]+$"
_Text = Annotated[str, Field(min_length=1, max_length=80, pattern=_PLAIN)]


class SizeRow(BaseModel):
    """One `[[size]]` of a sheet: three numbers of the maker's chart, and whatever else is known.

    Lengths are mm. `gap_setting_mm` left out means that the brake is set a little
    over `gap_min_mm`; `gap_min_mm` left out is estimated.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    name: _Text
    design: Annotated[str, Among(tuple(Design))] = Design.HOLLOW_SCREWS.value
    gap_max_mm: _Positive
    disc_min_mm: _Positive
    gap_setting_mm: _Positive | None = None
    gap_min_mm: _Positive | None = None
    gap_evenness_mm: _Positive | None = None
    disc_new_mm: _Positive | None = None
    lining_new_mm: _Positive | None = None
    lining_min_mm: _Positive | None = None
    wear_plate_mm: Annotated[float, Field(ge=0, le=100, strict=True)] | None = None
    torque_nm: _Positive | None = None
    lining_inner_radius_mm: _Positive | None = None
    lining_outer_radius_mm: _Positive | None = None
    friction: Annotated[float, Field(gt=0, le=1, strict=True)] | None = None
    spring_count: _Count | None = None
    spring_force_each_n: _Positive | None = None
    spring_rate_each_n_per_mm: _Positive | None = None
    screw_thread: _Text | None = None
    screw_pitch_mm: _Positive | None = None
    shim_step_mm: _Positive | None = None
    ring_notch_mm: _Positive | None = None
    screw_circle_mm: _Positive | None = None
    gauging_circle_mm: _Positive | None = None
    retaining_thread: _Text | None = None
    retaining_torque_nm: _Positive | None = None
    coil_voltage_v: _Positive | None = None
    coil_resistance_20_ohm: _Positive | None = None
    coil_turns: _Count | None = None
    pole_area_cm2: _Positive | None = None
    residual_gap_mm: _Positive | None = None
    iron_path_mm: _Positive | None = None
    hoist_load_kg: _Positive | None = None
    hoist_speed_m_per_min: _Positive | None = None
    motor_rpm: _Positive | None = None
    motor_inertia_kgm2: _Positive | None = None
    torque_rise_ms: _Positive | None = None
    test_static: Annotated[float, Field(ge=1, le=2, strict=True)] | None = None
    test_dynamic: Annotated[float, Field(ge=1, le=2, strict=True)] | None = None

    @model_validator(mode="after")
    def _hangs_together(self) -> "SizeRow":
        given = self.model_dump(exclude_none=True)
        _of_its_design(Design(self.design), given)
        setting = self.gap_setting_mm or (self.gap_min_mm and set_above_mm(self.gap_min_mm))
        if setting is None:
            raise refusal("the gap to be set (gap_setting_mm or gap_min_mm)", "gap_setting_mm")
        _smaller("gap_min_mm", self.gap_min_mm, "gap_setting_mm", self.gap_setting_mm, equal=True)
        if setting >= self.gap_max_mm:
            raise refusal(f"more than the gap to be set, {setting:g} mm", "gap_max_mm")
        _smaller("disc_min_mm", self.disc_min_mm, "disc_new_mm", self.disc_new_mm)
        _smaller("test_dynamic", self.test_dynamic, "test_static", self.test_static, equal=True)
        _smaller("lining_min_mm", self.lining_min_mm, "lining_new_mm", self.lining_new_mm)
        _smaller(
            "lining_inner_radius_mm",
            self.lining_inner_radius_mm,
            "lining_outer_radius_mm",
            self.lining_outer_radius_mm,
        )
        unknown = self.screw_thread and self.screw_thread not in ISO_COARSE_PITCH_MM
        if unknown and self.screw_pitch_mm is None:
            threads = ", ".join(ISO_COARSE_PITCH_MM)
            raise refusal(f"one of {threads}, or screw_pitch_mm beside it", "screw_thread")
        if self.name != self.name.strip() or self.name == OLD_DISC:
            expected = f"what the nameplate says, no spaces at its ends, not {OLD_DISC!r}"
            raise refusal(expected, "name")
        trouble = trouble_of(given | {"gap_setting_mm": setting})
        if trouble:
            field, expected = trouble
            raise refusal(expected, field)
        return self


def _of_its_design(design: Design, given: Mapping[str, object]) -> None:
    foreign = foreign_field(design, given)
    if foreign:
        field, other = foreign
        words = f"nothing here: the design of this size is {DESIGN_WORDS[design]} ({design.value})"
        raise refusal(f"{words}, and this belongs to {DESIGN_WORDS[other]} ({other.value})", field)


def _smaller(
    low_name: str,
    low: float | None,
    high_name: str,
    high: float | None,
    *,
    equal: bool = False,
) -> None:
    if low is None or high is None or low < high or (equal and low == high):
        return
    raise refusal(f"less than {high:g}, the {labelled(high_name)}", low_name)


class _Sheet(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")

    title: _Text
    invented: bool = False
    source: _Text | None = None
    size: Annotated[list[SizeRow], Listed(1, MOST_SIZES, f"1 to {MOST_SIZES} tables [[size]]")]


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault of a sheet: line (0 if unknown), field, what is there, what was expected.

    `label` is what the field is called in words, if it is not the field itself.
    """

    line: int
    field: str
    got: str
    expected: str
    label: str = ""

    def __str__(self) -> str:
        where = f"line {self.line}, " if self.line else ""
        got = f", got {self.got}" if self.got else ""
        return f"{where}{self.label or self.field}: expected {self.expected}{got}"


class LimitsSheetError(ValueError):
    """A sheet that cannot be used; `problems` holds one entry a fault."""

    def __init__(self, path: Path, problems: Sequence[Problem]) -> None:
        self.path = path
        self.problems = tuple(problems)
        super().__init__("\n".join(f"{path.name}, {problem}" for problem in self.problems))


@dataclass(frozen=True, slots=True)
class LimitsSheet:
    """A sheet that can be used: its title, whether it is invented, and its sizes in order."""

    title: str
    invented: bool
    sizes: tuple[BrakeSize, ...]

    def size(self, name: str) -> BrakeSize:
        """Return the size called `name`.

        Raises
        ------
        KeyError
            If the sheet has no such size; the message lists those it has.
        """
        for size in self.sizes:
            if size.name == name:
                return size
        names = ", ".join(size.name for size in self.sizes)
        raise KeyError(f"no size {name!r:.60} on the sheet {self.title!r}; it has {names}")


def load_sheet(path: str | Path = INVENTED) -> LimitsSheet:
    """Return the limits sheet kept in the TOML file at `path`.

    Raises
    ------
    LimitsSheetError
        If the file cannot be read, is not TOML, or a field is wrong or
        missing; it lists every fault with line, field and what was expected.
    """
    path = Path(path)
    try:
        text, table = read_table(path, LARGEST_FILE_BYTES)
    except TomlTextError as error:
        raise LimitsSheetError(path, [_file_problem(error)]) from None
    try:
        sheet = _Sheet.model_validate(table)
    except ValidationError as error:
        faults = faults_of(error, lambda _: "one of the fields that DEVELOPERS.md lists")
        raise LimitsSheetError(path, [_problem(fault, text) for fault in faults]) from None
    _refuse_twins(path, sheet, text)
    return LimitsSheet(sheet.title, sheet.invented, _complete_all(path, sheet, text))


@lru_cache(maxsize=1)
def four_designs() -> LimitsSheet:
    """Return the invented sheet with a size of each design."""
    return load_sheet(FOUR_DESIGNS)


def _complete_all(path: Path, sheet: _Sheet, text: str) -> tuple[BrakeSize, ...]:
    sizes, problems = [], []
    for index, row in enumerate(sheet.size):
        try:
            size = complete(row.model_dump(exclude_none=True), invented=sheet.invented)
            must_work(size)
            sizes.append(size)
        except ValueError as error:
            line = line_of(text, _name_of(index))
            problems.append(Problem(line, f"size {row.name}", "", f"a brake that can be: {error}"))
    if problems:
        raise LimitsSheetError(path, problems)
    return tuple(sizes)


def _file_problem(error: TomlTextError) -> Problem:
    place = f"column {error.column}" if error.line else error.place
    return Problem(error.line, place, error.got, error.expected)


def _problem(fault: Fault, text: str) -> Problem:
    name = fault.name or "the sheet"
    key = str(fault.place[-1]) if fault.place else ""
    label = name.removesuffix(key) + labelled(key) if key in LABELS else ""
    return Problem(line_of(text, fault.place), name, fault.got, fault.expected, label)


def _name_of(index: int) -> Place:
    return ("size", index, "name")


def _refuse_twins(path: Path, sheet: _Sheet, text: str) -> None:
    names = [row.name for row in sheet.size]
    twins = [
        _problem(Fault(_name_of(index), "a new name", repr(name)), text)
        for index, name in enumerate(names)
        if name in names[:index]
    ]
    if twins:
        raise LimitsSheetError(path, twins)

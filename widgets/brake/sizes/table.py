"""The limits sheet as a table: what a technician looks up, in words, estimates marked as such."""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass

from widgets.brake.days import day_words
from widgets.brake.sizes.asked import asked_of
from widgets.brake.sizes.design import DESIGN_WORDS, STEP_FIELDS
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.brake.sizes.size import BrakeSize

MM_PER_INCH = 25.4  # exact, by definition of the inch
CAUTIONS = (
    (
        "Before a cover comes off: load landed, hook empty, every supply locked off and proved "
        "dead, nobody under the hook. The springs push with the current off, too."
    ),
    (
        "The maker’s data for the brake in front of you, the local code and the licensed person "
        "come first. Compare every row with the maker’s own sheet before it is used."
    ),
)
INVENTED_WORDS = (
    "Every size and number on this sheet is made up for teaching. Never set, pass "
    "or reject a real brake by it."
)
ESTIMATED_WORDS = (
    "A number marked est. was not on the sheet: the suite worked it out so that lessons can be "
    "taught. It decides nothing about a real brake. Ask the maker."
)


@dataclass(frozen=True, slots=True)
class Cell:
    """What is in one cell: its text, whether it is in mm, whether it is an estimate."""

    text: str
    in_mm: bool = False
    estimated: bool = False

    @property
    def inches(self) -> str:
        """The same length in inches; empty if the cell holds none."""
        if not self.in_mm or not self.text:
            return ""
        length_mm = float(self.text)
        decimals = 4 if abs(length_mm) < 10 else 3
        return f"{length_mm / MM_PER_INCH:.{decimals}f}"


@dataclass(frozen=True, slots=True)
class Column:
    """One column: over what it stands, its unit, and the fields of a sheet that it shows."""

    group: str
    head: str
    unit: str
    fields: tuple[str, ...]
    says: Callable[[BrakeSize], str]


def _length(group: str, head: str, field: str, pick: Callable[[BrakeSize], float]) -> Column:
    return Column(group, head, "mm", (field,), lambda size: f"{pick(size):.2f}")


def _plain(
    group: str, head: str, unit: str, field: str, says: Callable[[BrakeSize], str]
) -> Column:
    return Column(group, head, unit, (field,), says)


def set_with(size: BrakeSize) -> str:
    """Return what sets the gap of a size, in words, with the thread of hollow screws."""
    words = DESIGN_WORDS[size.design]
    return f"{words} {size.screws.thread}" if size.screws.thread else words


def _step(size: BrakeSize) -> str:
    return f"{size.turn_or_step_mm:.2f}" if size.turn_or_step_mm else ""


COLUMNS = (
    _length("Air gap", "least", "gap_min_mm", lambda size: size.gap.min_mm),
    _length("Air gap", "to set", "gap_setting_mm", lambda size: size.gap.setting_mm),
    _length("Air gap", "largest", "gap_max_mm", lambda size: size.gap.max_mm),
    _length("Air gap", "uneven by", "gap_evenness_mm", lambda size: size.gap.evenness_mm),
    _length("Disc", "new", "disc_new_mm", lambda size: size.disc.new_mm),
    _length("Disc", "least", "disc_min_mm", lambda size: size.disc.min_mm),
    _length("One lining", "new", "lining_new_mm", lambda size: size.disc.lining_new_mm),
    _length("One lining", "least", "lining_min_mm", lambda size: size.disc.lining_min_mm),
    _length("Wear plate", "thick", "wear_plate_mm", lambda size: size.wear_plate_mm),
    Column("Gap set with", "what", "", ("screw_thread",), set_with),
    Column("Gap set with", "per turn or step", "mm", ("screw_pitch_mm", *STEP_FIELDS), _step),
    _plain(
        "Retaining screw",
        "tighten to",
        "N·m",
        "retaining_torque_nm",
        lambda size: f"{size.screws.retaining_torque_nm:g}",
    ),
    _plain("Brake", "torque", "N·m", "torque_nm", lambda size: f"{size.torque_nm:.4g}"),
    _plain("Load test", "held", "rated", "test_static", lambda size: f"{size.hoist.test_static:g}"),
    _plain(
        "Load test", "stopped", "rated", "test_dynamic", lambda size: f"{size.hoist.test_dynamic:g}"
    ),
    _plain("Coil", "direct", "V", "coil_voltage_v", lambda size: f"{size.coil.voltage_v:g}"),
)


@dataclass(frozen=True, slots=True)
class SheetInForce:
    """The limits sheet that everything uses, with where it is from.

    Attributes
    ----------
    sheet : LimitsSheet
        Title and sizes.
    source : str
        What the sheet says of where its numbers are from; empty if nothing.
    file : str
        Name of its file.
    dated : date
        Day on which the file was last changed.
    """

    sheet: LimitsSheet
    source: str
    file: str
    dated: dt.date

    @property
    def origin(self) -> str:
        """Where the numbers are from, in a sentence."""
        said = self.source or (
            "invented for teaching" if self.sheet.invented else "the sheet names no source"
        )
        return f"Source: {said}. File {self.file}, last changed on {day_words(self.dated)}."

    @property
    def any_estimated(self) -> bool:
        """Whether a number in the table is an estimate."""
        return any(cell.estimated for row in self.rows() for cell in row)

    @property
    def asked(self) -> tuple[str, ...]:
        """What the sheet leaves out and the suite had to take for granted, size by size."""
        return tuple(words for size in self.sheet.sizes for words in asked_of(size))

    def rows(self) -> list[list[Cell]]:
        """Return a row for each size: its name, and a cell for each of `COLUMNS`."""
        return [
            [Cell(size.name), *(_cell(size, column) for column in COLUMNS)]
            for size in self.sheet.sizes
        ]


def _cell(size: BrakeSize, column: Column) -> Cell:
    estimated = bool(size.estimated & set(column.fields))
    return Cell(column.says(size), column.unit == "mm", estimated)

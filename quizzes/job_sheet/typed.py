"""The job sheet as it is typed: what each field may hold, with its label and what was expected."""

import datetime as dt
import re
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    GetCoreSchemaHandler,
    PlainValidator,
    ValidationInfo,
    model_validator,
)
from pydantic_core import CoreSchema, core_schema

from widgets.brake.sizes.readable import refusal

from .entry import (
    COARSEST_MM,
    COUNTER,
    FEWEST_PLACES,
    MOST_PLACES,
    NO_WORK,
    PER_DAY,
    THICKEST_MM,
    WIDEST_MM,
    WORKS,
)

_NUMBER = re.compile(r"[-+]?(\d{1,12}(\.\d{0,12})?|\.\d{1,12})")
_EARLIEST = dt.date(1970, 1, 1)


@dataclass(frozen=True, slots=True)
class Typed:
    """Annotation: the text is a number from `low` to `high`; a comma is a decimal point."""

    low: float
    high: float
    unit: str

    def __get_pydantic_core_schema__(self, _: object, __: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self._number)

    def _number(self, text: str) -> float:
        plain = text.replace(",", ".").replace("−", "-")
        if not _NUMBER.fullmatch(plain) or not self.low <= float(plain) <= self.high:
            raise refusal(f"a number from {self.low:g} to {self.high:g} {self.unit}")
        return float(plain)


def date_of(text: str, latest: dt.date) -> dt.date | None:
    """Return the day that a text names as year-month-day, none if it names none up to `latest`."""
    if not re.fullmatch(r"\d{4}-\d\d-\d\d", text):
        return None
    try:
        found = dt.date.fromisoformat(text)
    except ValueError:
        return None
    return found if _EARLIEST <= found <= latest else None


def _day(text: str, info: ValidationInfo) -> dt.date:
    known: Any = info.context
    latest: dt.date = known["on" if info.field_name == "visited_on" else "today"]
    found = date_of(text, latest)
    if found is None:
        raise refusal(f"a date from {_EARLIEST} to {latest}, as year-month-day")
    return found


def _size_name(text: str, info: ValidationInfo) -> str:
    known: Any = info.context
    if text not in known["sizes"]:
        raise refusal("one of the limits sheet, read from the nameplate")
    return text


_Day = Annotated[dt.date, PlainValidator(_day)]
_Work = Annotated[str, BeforeValidator(lambda text: text if text in WORKS else NO_WORK)]
_Leaves = Annotated[int, BeforeValidator(lambda text: text if text in {"1", "2", "3"} else 1)]
_Duty = Annotated[str, BeforeValidator(lambda text: COUNTER if text == COUNTER else PER_DAY)]
_Angle = Annotated[float, Typed(0, 360, "degrees")]
_Thickness = Annotated[float, Typed(0.1, THICKEST_MM, "mm")]
_Count = Annotated[float, Typed(0, 1e9, "starts")]


class _Row(BaseModel):
    """A row of a group; its fields are the columns, in order."""

    model_config = ConfigDict(frozen=True)


class GapRow(_Row):
    """A place at which leaves went in and did not."""

    angle_deg: _Angle = Field(title="angle")
    go_mm: Annotated[float, Typed(0, WIDEST_MM, "mm")] = Field(title="go")
    no_go_mm: Annotated[float, Typed(0, WIDEST_MM + COARSEST_MM, "mm")] = Field(title="no-go")
    leaves: _Leaves = Field(default=1, title="leaves")

    @model_validator(mode="after")
    def _brackets(self) -> "GapRow":
        # A thousandth of a micrometre for numbers that binary cannot hold.
        if not self.go_mm < self.no_go_mm <= self.go_mm + COARSEST_MM + 1e-9:
            raise refusal(
                f"more than go ({self.go_mm:g} mm), by {COARSEST_MM:g} mm at most, because the gap "
                "lies between the two",
                "no_go_mm",
            )
        return self


class DiscRow(_Row):
    """A place at which the disc was measured."""

    angle_deg: _Angle = Field(title="angle")
    value_mm: _Thickness = Field(title="thickness")


class VisitRow(_Row):
    """An earlier visit."""

    visited_on: _Day = Field(title="date")
    gap_mm: Annotated[float, Typed(0.01, WIDEST_MM, "mm")] = Field(title="gap")
    disc_mm: _Thickness | None = Field(default=None, title="disc")
    work: _Work = Field(default=NO_WORK, title="work")
    duty: _Count | None = Field(default=None, title="stops or counter")


def _enough(rows: dict[str, GapRow]) -> dict[str, GapRow]:
    count = len({round(row.angle_deg % 360.0, 6) for row in rows.values()})
    if count < FEWEST_PLACES:
        raise refusal(
            f"{FEWEST_PLACES} to {MOST_PLACES} different places round the rim, got {count}. Three "
            "fix a plane; eight show a warp"
        )
    return rows


def _enough_or_none(rows: dict[str, GapRow]) -> dict[str, GapRow]:
    return _enough(rows) if rows else rows


def _some(rows: dict[str, DiscRow]) -> dict[str, DiscRow]:
    if not rows:
        raise refusal(
            f"1 to {MOST_PLACES} places, and nothing is there. A gap alone does not say whether "
            "the disc is worn out"
        )
    return rows


class TypedSheet(BaseModel):
    """The whole sheet; rows stand under their number as the page counts them, from 0."""

    model_config = ConfigDict(frozen=True)

    size: Annotated[str, PlainValidator(_size_name)] = Field(title="Size of brake")
    on: _Day = Field(title="Date of the readings")
    gap: Annotated[dict[str, GapRow], AfterValidator(_enough)] = Field(title="Gap reading")
    turned: Annotated[dict[str, GapRow], AfterValidator(_enough_or_none)] = Field(
        title="Gap reading after half a turn"
    )
    disc: Annotated[dict[str, DiscRow], AfterValidator(_some)] = Field(title="Disc reading")
    history: dict[str, VisitRow] = Field(title="History row")
    work_since: _Work = NO_WORK
    duty_kind: _Duty = PER_DAY
    caliper_error: Annotated[float, Typed(0.005, 1, "mm")] | None = Field(
        default=None, title="Caliper, declared error"
    )
    duty_now: _Count | None = Field(default=None, title="Counter now")
    stops_ahead: Annotated[float, Typed(0.01, 20_000, "stops")] | None = Field(
        default=None, title="Stops per day from now on"
    )
    code_days: Annotated[float, Typed(1, 3660, "days")] | None = Field(
        default=None, title="Code interval"
    )


ROWS: dict[str, type[_Row]] = {
    "gap": GapRow,
    "turned": GapRow,
    "disc": DiscRow,
    "history": VisitRow,
}

"""Measuring, writing down, deciding."""

from typing import Annotated, Literal

from pydantic import Field
from pydantic.dataclasses import dataclass

from .fields import (
    STRICT,
    Angle,
    Finding,
    Leaf,
    Millimetres,
    Name,
    Number,
    Outcomes,
    Quantity,
    Tool,
    Words,
)


@dataclass(frozen=True, config=STRICT)
class CheckTool:
    """Look an instrument over: leaves for kinks, the caliper's zero, the wrench on its tester."""

    tool: Tool
    kind: Literal["check_tool"] = "check_tool"


@dataclass(frozen=True, config=STRICT)
class ChangeTool:
    """Have other leaves, another caliper or another wrench from the store."""

    tool: Tool
    kind: Literal["change_tool"] = "change_tool"


@dataclass(frozen=True, config=STRICT)
class GaugeGap:
    """Push a stack of one to three leaves into the gap at an angle, softly or with force."""

    angle_deg: Angle
    leaves_mm: Annotated[tuple[Leaf, ...], Field(min_length=1, max_length=6)]
    hand: Literal["soft", "forced"] = "soft"
    kind: Literal["gauge_gap"] = "gauge_gap"


@dataclass(frozen=True, config=STRICT)
class MeasureDisc:
    """Measure the disc over both linings at an angle, with caliper or rule."""

    angle_deg: Angle
    tool: Literal["caliper", "rule"] = "caliper"
    kind: Literal["measure_disc"] = "measure_disc"


@dataclass(frozen=True, config=STRICT)
class MeasureCoil:
    """Put the meter to the brake's terminals; for ohms the coil's leads lifted, or left on."""

    what: Literal["resistance", "insulation", "voltage"]
    leads_lifted: bool = True
    kind: Literal["measure_coil"] = "measure_coil"


@dataclass(frozen=True, config=STRICT)
class FindRelease:
    """Raise the direct voltage slowly from nothing until the plate is pulled in."""

    kind: Literal["find_release"] = "find_release"


@dataclass(frozen=True, config=STRICT)
class WriteGap:
    """Write down a gap reading: largest stack that goes, smallest that will not."""

    angle_deg: Angle
    go_mm: Millimetres
    no_go_mm: Millimetres
    kind: Literal["write_gap"] = "write_gap"


@dataclass(frozen=True, config=STRICT)
class WriteDisc:
    """Write down a disc reading."""

    angle_deg: Angle
    value_mm: Millimetres
    tool: Literal["caliper", "rule"] = "caliper"
    kind: Literal["write_disc"] = "write_disc"


@dataclass(frozen=True, config=STRICT)
class WriteValue:
    """Write down a reading of the meter, of the release or of the lever."""

    what: Quantity
    value: Annotated[float, Field(ge=0, le=1_000_000)]
    kind: Literal["write_value"] = "write_value"


@dataclass(frozen=True, config=STRICT)
class StrikeOut:
    """Strike a line of the notes through; it stays legible."""

    sheet: Literal["gap", "disc", "value"]
    line: Number
    kind: Literal["strike_out"] = "strike_out"


@dataclass(frozen=True, config=STRICT)
class Decide:
    """Say what the brake needs, by which row of the limits sheet, and what was found."""

    outcome: Outcomes
    row: Name
    why: Words = ""
    found: Annotated[tuple[Finding, ...], Field(max_length=8)] = ()
    kind: Literal["decide"] = "decide"

"""The notes sheet: what a person writes down, line by line."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Line:
    """A line of a colleague's notes: its code, and the name of the size or symptom it speaks of."""

    code: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class GapNote:
    """A gap reading written down: place, stacks that go and will not, at which step."""

    angle_deg: float
    go_mm: float
    no_go_mm: float
    step: int
    struck: bool = False


@dataclass(frozen=True, slots=True)
class DiscNote:
    """A disc reading that the person wrote down: place, value, tool, at which step."""

    angle_deg: float
    value_mm: float
    step: int
    tool: str = "caliper"
    struck: bool = False


@dataclass(frozen=True, slots=True)
class ValueNote:
    """A reading of meter, release or lever written down: which, value, at which step."""

    what: str
    value: float
    step: int
    struck: bool = False

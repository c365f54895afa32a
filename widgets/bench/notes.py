"""The notes sheet: what a person writes down, line by line."""

from dataclasses import dataclass

SAME_TORQUE = 0.02  # of the plate's, by which a record may round it; a choice


@dataclass(frozen=True, slots=True)
class Line:
    """A line of a colleague's notes: its code, and the name of the size or symptom it speaks of."""

    code: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class Record:
    """The last record of a hoist: of which year, for a brake of which torque and largest gap."""

    year: int
    torque_nm: float
    gap_max_mm: float

    def fits(self, torque_nm: float, built: int) -> bool:
        """Return whether it can be of the brake whose plate says this torque and year (0: none)."""
        return abs(self.torque_nm - torque_nm) <= SAME_TORQUE * torque_nm and self.year >= built


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

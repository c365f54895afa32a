"""A filled job sheet: what is on it, and what is wrong with one that cannot be judged."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.feeler.gap_reading import GapReading

FEWEST_PLACES, MOST_PLACES = 3, 12
MOST_HISTORY = 20
WIDEST_MM = 5.0  # of a gap that is typed; far beyond any brake of this kind
THICKEST_MM = 100.0  # of a disc that is typed
COARSEST_MM = 0.5  # between go and no-go; wider tells nothing
NO_WORK, ADJUSTED, NEW_DISC = "none", "adjusted", "new disc"
WORKS = (NO_WORK, ADJUSTED, NEW_DISC)
PER_DAY, COUNTER = "per day", "counter"
LONGEST_TEXT = {
    "hoist": 80,
    "name": 80,
    "gap_instrument": 80,
    "disc_instrument": 80,
    "remarks": 2000,
}


@dataclass(frozen=True, slots=True)
class Trouble:
    """One thing that cannot be: the field it stands in, and the sentence about it."""

    field: str
    words: str


class EntryError(ValueError):
    """A sheet that cannot be judged; `troubles` holds one entry a field."""

    def __init__(self, troubles: tuple[Trouble, ...]) -> None:
        self.troubles = troubles
        super().__init__("\n".join(trouble.words for trouble in troubles))


@dataclass(frozen=True, slots=True)
class Place:
    """A gap reading at one place: angle, degrees, and what the leaves said."""

    angle_deg: float
    reading: GapReading


@dataclass(frozen=True, slots=True)
class DiscPlace:
    """A disc reading at one place: angle, degrees; thickness over both linings, mm."""

    angle_deg: float
    value_mm: float


@dataclass(frozen=True, slots=True)
class PastVisit:
    """One row of the history.

    `work` is what was done to the brake between the row before and this one;
    `duty` is stops per day or a counter's reading, None if not written down.
    """

    on: dt.date
    gap_mm: float
    disc_mm: float | None
    work: str
    duty: float | None


@dataclass(frozen=True, slots=True)
class JobEntry:
    """A filled job sheet, every number of it in its range.

    `limits_typed` is true where the limits were typed on the page and are on no sheet.
    """

    size: BrakeSize
    on: dt.date
    texts: Mapping[str, str]
    first: tuple[Place, ...]
    turned: tuple[Place, ...]
    discs: tuple[DiscPlace, ...]
    caliper_error_mm: float
    history: tuple[PastVisit, ...]
    work_since: str
    duty_kind: str
    duty_now: float | None
    stops_ahead: float | None
    code_days: int | None
    limits_typed: bool = False

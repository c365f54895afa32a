"""One candidate at one brake: what they do it through, and what they know by now.

A candidate knows what they saw, felt, read and were given; nothing else gets in here.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TypeVar

from widgets.bench import actions as do
from widgets.bench.actions.fields import LookAt
from widgets.bench.observed import Observation
from widgets.bench.setup import Order
from widgets.brake.judgement.rules import Reading
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.brake.sizes.size import BrakeSize

from .habits import Habits
from .own_rules import KNOWN, asks_to_refer, heeded

Act = Callable[[do.Action], Observation]
_Wish = TypeVar("_Wish")
# One object for each, made once: a person who looks twice does the same thing twice.
_LOOKS: dict[LookAt, do.Look] = {}


@lru_cache(maxsize=4096)
def made(kind: Callable[..., _Wish], *fields: object) -> _Wish:
    """Return an action of these fields: the same object each time, for many do the same."""
    return kind(*fields)


@dataclass(slots=True)
class Job:
    """What a candidate works with and has found out.

    Attributes
    ----------
    row : BrakeSize
        Row of the limits sheet that they use, once the plate is read.
    plate : BrakeSize
        What the plate says: spare parts and coil are looked up by its name.
    noticed : dict of str
        Codes of what they noticed, in the order of finding (the values say nothing).
    gaps, discs : list of Reading
        The latest reading at each place.
    lever_drawn, play_mm
        What the hand release felt like.
    otherwise : bool
        Whether a habit has made them do something that the careful one would not have done.
    """

    act: Act
    sheet: LimitsSheet
    habits: Habits
    order: Order
    row: BrakeSize
    plate: BrakeSize
    noticed: dict[str, None] = field(default_factory=dict)
    gaps: list[Reading] = field(default_factory=list)
    discs: list[Reading] = field(default_factory=list)
    fan_there: bool = True
    band_there: bool = True
    lever_drawn: bool = False
    play_mm: float | None = None
    new_disc: bool = False
    last_step: int | None = None
    coil_c: float = 20.0
    locked_off: bool = False
    body_on: bool = True
    box_on: bool = True
    wrench_tried: bool = False
    cannot_be_set: bool = False
    otherwise: bool = False

    def notice(self, codes: Iterable[str | None]) -> None:
        """Keep what says something to somebody of the trade."""
        for code in codes:
            if code is not None and code in KNOWN:
                self.noticed[code] = None

    def look(self, *places: LookAt) -> list[str]:
        """Look at parts, keep their signs, and return the codes of what was seen, in order."""
        codes: list[str] = []
        for place in places:
            wish = _LOOKS.get(place)
            if wish is None:
                wish = _LOOKS[place] = do.Look(at=place)
            codes.extend(self.act(wish).facts.get("symptoms", ()))
        self.notice(codes)
        return codes

    def open_box(self) -> None:
        """Lay the terminals bare, or have it done where the order leaves that to others."""
        if self.box_on:
            alone = "terminals" in self.order.may or not self.habits.heeds_authority
            self.act(made(do.OpenBox, "self" if alone else "electrician"))
            self.box_on = False

    def supply_on(self) -> None:
        """Take the own lock off and switch on, unless it is on."""
        if self.locked_off:
            self.act(made(do.RestoreSupply))
            self.locked_off = False

    def supply_off(self) -> None:
        """Switch off, lock and tag, unless that is done."""
        if not self.locked_off:
            self.act(made(do.Isolate))
            self.locked_off = True

    def asks_to_refer(self) -> bool:
        """Return whether something was found that is not to be put right at the bench."""
        return asks_to_refer(heeded(self.noticed, self.habits))

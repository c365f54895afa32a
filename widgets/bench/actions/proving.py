"""Release, bedding in, tests and hand-over."""

from typing import Annotated, Literal

from pydantic import Field
from pydantic.dataclasses import dataclass

from .fields import STRICT, Words


@dataclass(frozen=True, config=STRICT)
class Energise:
    """Give the coil its voltage: from the hoist's own supply, or from a test supply at the coil."""

    supply: Literal["hoist", "test"] = "hoist"
    kind: Literal["energise"] = "energise"


@dataclass(frozen=True, config=STRICT)
class DeEnergise:
    """Take the voltage off the coil."""

    kind: Literal["de_energise"] = "de_energise"


@dataclass(frozen=True, config=STRICT)
class TurnShaft:
    """Turn the motor shaft by hand."""

    turn_deg: Annotated[float, Field(ge=-360, le=360)]
    kind: Literal["turn_shaft"] = "turn_shaft"


@dataclass(frozen=True, config=STRICT)
class BedIn:
    """Bed the new lining in: light stops without load, as prescribed."""

    kind: Literal["bed_in"] = "bed_in"


@dataclass(frozen=True, config=STRICT)
class TestRun:
    """Run up, down, and an emergency stop without load."""

    kind: Literal["test_run"] = "test_run"


@dataclass(frozen=True, config=STRICT)
class TestHold:
    """Lift the ordered load a hand's breadth, stop, watch; `dynamic`: then lower it and stop.

    `weighed`: the load was weighed before; `floor_clear`: cleared, barred, a stop signal agreed;
    `on`: which brake it hangs on where the hoist has two, the other held open.
    """

    weighed: bool = True
    floor_clear: bool = True
    dynamic: bool = False
    on: Literal["both", "this", "other"] = "both"
    kind: Literal["test_hold"] = "test_hold"
    __test__ = False  # not for pytest


@dataclass(frozen=True, config=STRICT)
class HandOver:
    """Give the hoist back: into service, or kept out of service with lock and tag.

    `awaits_test`: done, tagged, and left for somebody who may test with a load.
    """

    into_service: bool
    remarks: Words = ""
    next_days: Annotated[int, Field(ge=1, le=1000)] | None = None
    awaits_test: bool = False
    kind: Literal["hand_over"] = "hand_over"

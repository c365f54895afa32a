"""Landing the load, isolating, proving dead, and giving the supply back."""

from typing import Literal

from pydantic.dataclasses import dataclass

from .fields import STRICT


@dataclass(frozen=True, config=STRICT)
class LandLoad:
    """Land the load, take it off, lower the empty hook to rest and see the rope go slack."""

    kind: Literal["land_load"] = "land_load"


@dataclass(frozen=True, config=STRICT)
class Isolate:
    """Switch the main switch off, put on one's own lock and tag."""

    kind: Literal["isolate"] = "isolate"


@dataclass(frozen=True, config=STRICT)
class IsolateSecond:
    """Find the second supply of the brake's coil, switch it off, lock and tag it."""

    kind: Literal["isolate_second"] = "isolate_second"


@dataclass(frozen=True, config=STRICT)
class ProveDead:
    """Test motor and brake terminals, alternating and direct side, with a proved tester."""

    kind: Literal["prove_dead"] = "prove_dead"


@dataclass(frozen=True, config=STRICT)
class RestoreSupply:
    """Take off one's own locks and switch on, for a test or at the end."""

    kind: Literal["restore_supply"] = "restore_supply"

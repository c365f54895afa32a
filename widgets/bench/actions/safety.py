"""Landing the load, isolating, proving dead, and giving the supply back."""

from typing import Literal

from pydantic.dataclasses import dataclass

from .fields import STRICT


@dataclass(frozen=True, config=STRICT)
class LandLoad:
    """Land the load: unhook it, prove the rope slack, clear and bar the area; parts can be left."""

    unhook: bool = True
    prove_slack: bool = True
    bar_area: bool = True
    kind: Literal["land_load"] = "land_load"


@dataclass(frozen=True, config=STRICT)
class KeepClear:
    """Send everybody away from load, rope and drum; bar the area, call the person responsible."""

    bar_area: bool = True
    call: bool = True
    kind: Literal["keep_clear"] = "keep_clear"


@dataclass(frozen=True, config=STRICT)
class LetCool:
    """Let a hot brake stand until a hand can be laid on it."""

    kind: Literal["let_cool"] = "let_cool"


@dataclass(frozen=True, config=STRICT)
class Isolate:
    """Controls and main switch off; lock and tag, try to start, wait for stored energy."""

    lock: bool = True
    try_start: bool = True
    wait: bool = True
    kind: Literal["isolate"] = "isolate"


@dataclass(frozen=True, config=STRICT)
class IsolateSecond:
    """Find the second supply of the brake's coil, switch it off, lock and tag it."""

    kind: Literal["isolate_second"] = "isolate_second"


@dataclass(frozen=True, config=STRICT)
class OpenBox:
    """Take the cover off the terminal box: oneself, or have an electrician do it beside one."""

    by: Literal["self", "electrician"] = "self"
    kind: Literal["open_box"] = "open_box"


@dataclass(frozen=True, config=STRICT)
class CloseBox:
    """Put the cover of the terminal box on."""

    kind: Literal["close_box"] = "close_box"


@dataclass(frozen=True, config=STRICT)
class ProveDead:
    """Test the terminals: with which tester, proved on a known source or not, which sides."""

    tester: Literal["two_pole", "contactless"] = "two_pole"
    known_source: bool = True
    sides: Literal["both", "ac"] = "both"
    kind: Literal["prove_dead"] = "prove_dead"


@dataclass(frozen=True, config=STRICT)
class RestoreSupply:
    """Take off one's own locks and switch on, for a test or at the end."""

    kind: Literal["restore_supply"] = "restore_supply"

"""Retaining screws, what sets the gap (hollow screws, shims, an adjusting ring), hand release."""

from typing import Annotated, Literal

from pydantic import Field
from pydantic.dataclasses import dataclass

from .fields import STRICT, Screw

# What moves the setting, whatever the design.
SETS_THE_GAP = ("turn_screw", "change_shim", "turn_adjusting_ring")


@dataclass(frozen=True, config=STRICT)
class TryLock:
    """Try one retaining screw with the torque wrench, without moving it."""

    screw: Screw
    kind: Literal["try_lock"] = "try_lock"


@dataclass(frozen=True, config=STRICT)
class LoosenLock:
    """Slacken one retaining screw by a quarter turn."""

    screw: Screw
    kind: Literal["loosen_lock"] = "loosen_lock"


@dataclass(frozen=True, config=STRICT)
class TightenLock:
    """Tighten one retaining screw to a torque."""

    screw: Screw
    torque_nm: Annotated[float, Field(gt=0, le=500)]
    kind: Literal["tighten_lock"] = "tighten_lock"


@dataclass(frozen=True, config=STRICT)
class TurnScrew:
    """Turn one hollow screw: plus is out (gap wider), minus is in."""

    screw: Screw
    turn_deg: Annotated[float, Field(ge=-720, le=720)]
    kind: Literal["turn_screw"] = "turn_screw"


@dataclass(frozen=True, config=STRICT)
class ChangeShim:
    """Put shims under one spacer (plus, gap wider) or take them out (minus): their thickness."""

    screw: Screw
    change_mm: Annotated[float, Field(ge=-10, le=10)]
    kind: Literal["change_shim"] = "change_shim"


@dataclass(frozen=True, config=STRICT)
class LoosenAdjustingRing:
    """Loosen the set screw of the adjusting ring."""

    kind: Literal["loosen_adjusting_ring"] = "loosen_adjusting_ring"


@dataclass(frozen=True, config=STRICT)
class TurnAdjustingRing:
    """Turn the adjusting ring by notches: plus is out (gap wider all round), minus is in."""

    notches: Annotated[int, Field(ge=-500, le=500)]
    kind: Literal["turn_adjusting_ring"] = "turn_adjusting_ring"


@dataclass(frozen=True, config=STRICT)
class LockAdjustingRing:
    """Lock the adjusting ring in its notch."""

    kind: Literal["lock_adjusting_ring"] = "lock_adjusting_ring"


@dataclass(frozen=True, config=STRICT)
class WorkLever:
    """Pull the hand release, feel its play, and let it go."""

    kind: Literal["work_lever"] = "work_lever"


@dataclass(frozen=True, config=STRICT)
class SetLever:
    """Set the play of the hand release, as plate travel before it lifts."""

    play_mm: Annotated[float, Field(ge=0, le=10)]
    kind: Literal["set_lever"] = "set_lever"

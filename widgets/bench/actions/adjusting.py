"""Retaining screws, hollow screws, hand release."""

from typing import Annotated, Literal

from pydantic import Field
from pydantic.dataclasses import dataclass

from .fields import STRICT, Screw


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
class WorkLever:
    """Pull the hand release, feel its play, and let it go."""

    kind: Literal["work_lever"] = "work_lever"


@dataclass(frozen=True, config=STRICT)
class SetLever:
    """Set the play of the hand release, as plate travel before it lifts."""

    play_mm: Annotated[float, Field(ge=0, le=10)]
    kind: Literal["set_lever"] = "set_lever"

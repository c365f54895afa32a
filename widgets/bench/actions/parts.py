"""Taking the brake apart and putting it together."""

from typing import Literal

from pydantic.dataclasses import dataclass

from .fields import STRICT, Name, Screw


@dataclass(frozen=True, config=STRICT)
class DisconnectLeads:
    """Mark the coil's leads and take them off their terminals."""

    kind: Literal["disconnect_leads"] = "disconnect_leads"


@dataclass(frozen=True, config=STRICT)
class ConnectLeads:
    """Put the coil's leads on the direct or on the alternating side."""

    side: Literal["dc", "ac"] = "dc"
    kind: Literal["connect_leads"] = "connect_leads"


@dataclass(frozen=True, config=STRICT)
class RemoveLever:
    """Take the hand release off the magnet body."""

    kind: Literal["remove_lever"] = "remove_lever"


@dataclass(frozen=True, config=STRICT)
class RefitLever:
    """Put the hand release back."""

    kind: Literal["refit_lever"] = "refit_lever"


@dataclass(frozen=True, config=STRICT)
class HoldBody:
    """Take the weight of the magnet body in a sling."""

    kind: Literal["hold_body"] = "hold_body"


@dataclass(frozen=True, config=STRICT)
class DrawLock:
    """Draw one slack retaining screw right out."""

    screw: Screw
    kind: Literal["draw_lock"] = "draw_lock"


@dataclass(frozen=True, config=STRICT)
class RemoveBody:
    """Take magnet body, springs and pressure plate off as one."""

    kind: Literal["remove_body"] = "remove_body"


@dataclass(frozen=True, config=STRICT)
class RemoveDisc:
    """Slide the disc off the hub."""

    kind: Literal["remove_disc"] = "remove_disc"


@dataclass(frozen=True, config=STRICT)
class RemoveWearPlate:
    """Take the wear plate off the motor end."""

    kind: Literal["remove_wear_plate"] = "remove_wear_plate"


@dataclass(frozen=True, config=STRICT)
class CleanSpline:
    """Clean the spline, dry, and try the disc's slide."""

    kind: Literal["clean_spline"] = "clean_spline"


@dataclass(frozen=True, config=STRICT)
class FitWearPlate:
    """Put the wear plate on, its smooth side to the disc or to the motor."""

    smooth_to_disc: bool = True
    kind: Literal["fit_wear_plate"] = "fit_wear_plate"


@dataclass(frozen=True, config=STRICT)
class FitDisc:
    """Put a disc on the hub: the old one or a new one of a size, the right way or turned."""

    part: Name
    reversed: bool = False
    kind: Literal["fit_disc"] = "fit_disc"


@dataclass(frozen=True, config=STRICT)
class FitBody:
    """Put magnet body, springs and pressure plate on as one."""

    kind: Literal["fit_body"] = "fit_body"


@dataclass(frozen=True, config=STRICT)
class StartLock:
    """Start one retaining screw in its thread, by hand or with the wrench."""

    screw: Screw
    by: Literal["hand", "wrench"] = "hand"
    kind: Literal["start_lock"] = "start_lock"

"""Cover, fan and seal, looking and cleaning."""

from typing import Literal

from pydantic.dataclasses import dataclass

from .fields import STRICT, LookAt


@dataclass(frozen=True, config=STRICT)
class RemoveCover:
    """Take the fan cover off, with mask, eye protection and gloves on or as one is."""

    protected: bool = True
    kind: Literal["remove_cover"] = "remove_cover"


@dataclass(frozen=True, config=STRICT)
class RefitCover:
    """Put the fan cover back."""

    kind: Literal["refit_cover"] = "refit_cover"


@dataclass(frozen=True, config=STRICT)
class RemoveRing:
    """Take the ring that keeps the fan on its shaft."""

    kind: Literal["remove_ring"] = "remove_ring"


@dataclass(frozen=True, config=STRICT)
class RefitRing:
    """Snap the fan's ring into its groove."""

    kind: Literal["refit_ring"] = "refit_ring"


@dataclass(frozen=True, config=STRICT)
class RemoveFan:
    """Draw the fan off its key."""

    kind: Literal["remove_fan"] = "remove_fan"


@dataclass(frozen=True, config=STRICT)
class RefitFan:
    """Put the fan on the shaft, on its key or without."""

    on_key: bool = True
    kind: Literal["refit_fan"] = "refit_fan"


@dataclass(frozen=True, config=STRICT)
class RemoveSeal:
    """Roll the seal band back from the gap."""

    kind: Literal["remove_seal"] = "remove_seal"


@dataclass(frozen=True, config=STRICT)
class RefitSeal:
    """Put the seal band back: the old or a new one; its lip seated all round or not."""

    band: Literal["old", "new"] = "old"
    seated: bool = True
    kind: Literal["refit_seal"] = "refit_seal"


@dataclass(frozen=True, config=STRICT)
class ReadPlate:
    """Read the brake's plate: which size it is."""

    kind: Literal["read_plate"] = "read_plate"


@dataclass(frozen=True, config=STRICT)
class Look:
    """Look at one part, or watch and hear the hoist run without load."""

    at: LookAt
    kind: Literal["look"] = "look"


@dataclass(frozen=True, config=STRICT)
class Clean:
    """Get rid of dust, or wipe the faces."""

    method: Literal["vacuum", "damp_wipe", "air_blast", "dry_brush", "solvent"]
    kind: Literal["clean"] = "clean"


@dataclass(frozen=True, config=STRICT)
class StopWater:
    """Find where water comes in, and have it stopped."""

    kind: Literal["stop_water"] = "stop_water"


@dataclass(frozen=True, config=STRICT)
class DryOut:
    """Dry the open brake with warm air, as its sheet allows, until it is dry all through."""

    kind: Literal["dry_out"] = "dry_out"

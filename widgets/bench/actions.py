"""What a person can do at the bench: a small frozen dataclass an action, each with a JSON form."""

import json
from typing import Annotated, Any, Literal

from pydantic import ConfigDict, Field, TypeAdapter, ValidationError
from pydantic.dataclasses import dataclass

LARGEST_ACTION_CHARS = 4_000

_STRICT = ConfigDict(strict=True, extra="forbid", allow_inf_nan=False)
_Angle = Annotated[float, Field(ge=0, lt=360)]
_Screw = Annotated[int, Field(ge=1, le=3)]
_Leaf = Annotated[float, Field(gt=0, le=5)]
_Millimetres = Annotated[float, Field(ge=0, le=1000)]
_Words = Annotated[str, Field(max_length=600)]


@dataclass(frozen=True, config=_STRICT)
class LandLoad:
    """Land the load, take it off, lower the empty hook to rest and see the rope go slack."""

    kind: Literal["land_load"] = "land_load"


@dataclass(frozen=True, config=_STRICT)
class Isolate:
    """Switch the main switch off, put on one's own lock and tag."""

    kind: Literal["isolate"] = "isolate"


@dataclass(frozen=True, config=_STRICT)
class ProveDead:
    """Test motor and brake terminals, alternating and direct side, with a proved tester."""

    kind: Literal["prove_dead"] = "prove_dead"


@dataclass(frozen=True, config=_STRICT)
class RestoreSupply:
    """Take off one's own lock and switch on, for a test or at the end."""

    kind: Literal["restore_supply"] = "restore_supply"


@dataclass(frozen=True, config=_STRICT)
class RemoveCover:
    """Take the fan cover off."""

    kind: Literal["remove_cover"] = "remove_cover"


@dataclass(frozen=True, config=_STRICT)
class RefitCover:
    """Put the fan cover back."""

    kind: Literal["refit_cover"] = "refit_cover"


@dataclass(frozen=True, config=_STRICT)
class RemoveFan:
    """Draw the fan off its key."""

    kind: Literal["remove_fan"] = "remove_fan"


@dataclass(frozen=True, config=_STRICT)
class RefitFan:
    """Put the fan on its key, with its ring."""

    kind: Literal["refit_fan"] = "refit_fan"


@dataclass(frozen=True, config=_STRICT)
class RemoveSeal:
    """Roll the seal band back from the gap."""

    kind: Literal["remove_seal"] = "remove_seal"


@dataclass(frozen=True, config=_STRICT)
class RefitSeal:
    """Seat the seal band in its grooves all the way round."""

    kind: Literal["refit_seal"] = "refit_seal"


@dataclass(frozen=True, config=_STRICT)
class ReadPlate:
    """Read the brake's plate: which size it is."""

    kind: Literal["read_plate"] = "read_plate"


@dataclass(frozen=True, config=_STRICT)
class Clean:
    """Get rid of the dust."""

    method: Literal["vacuum", "damp_wipe", "air_blast", "dry_brush"]
    kind: Literal["clean"] = "clean"


@dataclass(frozen=True, config=_STRICT)
class GaugeGap:
    """Push a stack of one to three leaves into the gap at an angle."""

    angle_deg: _Angle
    leaves_mm: Annotated[tuple[_Leaf, ...], Field(min_length=1, max_length=6)]
    kind: Literal["gauge_gap"] = "gauge_gap"


@dataclass(frozen=True, config=_STRICT)
class MeasureDisc:
    """Close the caliper over both linings of the disc at an angle."""

    angle_deg: _Angle
    kind: Literal["measure_disc"] = "measure_disc"


@dataclass(frozen=True, config=_STRICT)
class LoosenLock:
    """Slacken one retaining screw by a quarter turn."""

    screw: _Screw
    kind: Literal["loosen_lock"] = "loosen_lock"


@dataclass(frozen=True, config=_STRICT)
class TightenLock:
    """Tighten one retaining screw to a torque."""

    screw: _Screw
    torque_nm: Annotated[float, Field(gt=0, le=500)]
    kind: Literal["tighten_lock"] = "tighten_lock"


@dataclass(frozen=True, config=_STRICT)
class TurnScrew:
    """Turn one hollow screw: plus is out (gap wider), minus is in."""

    screw: _Screw
    turn_deg: Annotated[float, Field(ge=-720, le=720)]
    kind: Literal["turn_screw"] = "turn_screw"


@dataclass(frozen=True, config=_STRICT)
class Energise:
    """Give the coil its voltage."""

    kind: Literal["energise"] = "energise"


@dataclass(frozen=True, config=_STRICT)
class DeEnergise:
    """Take the voltage off the coil."""

    kind: Literal["de_energise"] = "de_energise"


@dataclass(frozen=True, config=_STRICT)
class TurnShaft:
    """Turn the motor shaft by hand."""

    turn_deg: Annotated[float, Field(ge=-360, le=360)]
    kind: Literal["turn_shaft"] = "turn_shaft"


@dataclass(frozen=True, config=_STRICT)
class TestHold:
    """Lift the test load a hand's breadth, stop, and watch whether it holds."""

    kind: Literal["test_hold"] = "test_hold"
    __test__ = False  # not for pytest


@dataclass(frozen=True, config=_STRICT)
class WriteGap:
    """Write down a gap reading: largest stack that goes, smallest that will not."""

    angle_deg: _Angle
    go_mm: _Millimetres
    no_go_mm: _Millimetres
    kind: Literal["write_gap"] = "write_gap"


@dataclass(frozen=True, config=_STRICT)
class WriteDisc:
    """Write down a disc reading."""

    angle_deg: _Angle
    value_mm: _Millimetres
    kind: Literal["write_disc"] = "write_disc"


@dataclass(frozen=True, config=_STRICT)
class Decide:
    """Say what the brake needs, and by which row of the limits sheet."""

    outcome: Literal["fit", "adjust", "replace", "refer"]
    row: Annotated[str, Field(max_length=80)]
    why: _Words = ""
    kind: Literal["decide"] = "decide"


@dataclass(frozen=True, config=_STRICT)
class HandOver:
    """Give the hoist back: into service, or kept out of service with lock and tag."""

    into_service: bool
    remarks: _Words = ""
    kind: Literal["hand_over"] = "hand_over"


Action = (
    LandLoad
    | Isolate
    | ProveDead
    | RestoreSupply
    | RemoveCover
    | RefitCover
    | RemoveFan
    | RefitFan
    | RemoveSeal
    | RefitSeal
    | ReadPlate
    | Clean
    | GaugeGap
    | MeasureDisc
    | LoosenLock
    | TightenLock
    | TurnScrew
    | Energise
    | DeEnergise
    | TurnShaft
    | TestHold
    | WriteGap
    | WriteDisc
    | Decide
    | HandOver
)

_ADAPTER: TypeAdapter[Action] = TypeAdapter(Annotated[Action, Field(discriminator="kind")])


class BadActionError(ValueError):
    """A message that is no action; its text says in one sentence what was wrong."""


def to_json(wish: Action) -> dict[str, Any]:
    """Return the JSON form of an action: its kind and its fields."""
    form: dict[str, Any] = _ADAPTER.dump_python(wish, mode="json")
    return form


def from_json(form: object) -> Action:
    """Return the action that a JSON object from outside stands for.

    Raises
    ------
    BadActionError
        If it is not an object, too long, of an unknown kind, or a field is
        missing, of the wrong type, not finite or out of range.
    """
    if not isinstance(form, dict) or not all(isinstance(key, str) for key in form):
        raise BadActionError("An action must be an object with a kind.")
    text = _bounded_text(form)
    try:
        return _ADAPTER.validate_json(text)
    except ValidationError as error:
        raise BadActionError(_sentence(error)) from None


def _bounded_text(form: dict[str, Any]) -> str:
    if len(form) > 8:
        raise BadActionError("An action has at most 8 fields.")
    # Look before encoding: ten megabytes of text must not be copied to be refused.
    if any(isinstance(value, str) and len(value) > LARGEST_ACTION_CHARS for value in form.values()):
        raise BadActionError(f"A text may have at most {LARGEST_ACTION_CHARS} characters.")
    if any(isinstance(value, (list, tuple, dict)) and len(value) > 12 for value in form.values()):
        raise BadActionError("A list may have at most 12 entries.")
    try:
        text = json.dumps(form, allow_nan=False)
    except (ValueError, TypeError, RecursionError):
        raise BadActionError("An action must be plain JSON with finite numbers.") from None
    if len(text) > 2 * LARGEST_ACTION_CHARS:
        raise BadActionError(f"An action may have at most {2 * LARGEST_ACTION_CHARS} characters.")
    return text


def _sentence(error: ValidationError) -> str:
    fault = error.errors(include_url=False, include_input=False)[0]
    field = ".".join(str(part) for part in fault["loc"][1:]) or "kind"
    message = str(fault["msg"]).removeprefix("Input should be ")
    if fault["type"] in {"union_tag_invalid", "union_tag_not_found"}:
        return "There is no such action."
    return f"{field}: expected {message[:160]}."

"""Setting a gap with shims or an adjusting ring, in words, and what a design has not."""

from collections.abc import Mapping
from typing import Any

from widgets.brake.sizes.design import Design

from .by_fact import Words

BUILT: Mapping[Design, str] = {
    Design.HOLLOW_SCREWS: "three hollow screws set the gap of this brake.",
    Design.SHIMS: "shims under three spacers set the gap of this brake.",
    Design.ADJUSTING_RING: "one ring sets the gap of this brake, equally all the way round.",
    Design.FIXED: "nothing on this brake sets its gap. It cannot be adjusted.",
}


def _built(facts: Mapping[str, Any]) -> str:
    return BUILT[Design(facts["design"])]


def _shim(facts: Mapping[str, Any]) -> str:
    change_mm = facts["change_mm"]
    what = "put in" if change_mm > 0 else "taken out"
    way = "wider" if change_mm > 0 else "narrower"
    return (
        f"Shims of {abs(change_mm):g} mm {what} at screw {facts['screw']}: the gap is {way} there."
    )


def _turned(facts: Mapping[str, Any]) -> str:
    count = abs(facts["notches"])
    notches = "1 notch" if count == 1 else f"{count} notches"
    return f"Adjusting ring {notches} {'out' if facts['notches'] > 0 else 'in'}."


NOT_SET: Mapping[str, Words] = {
    "hollow-screw.none-of-this-design": lambda facts: (
        f"There is no hollow screw to turn: {_built(facts)}"
    ),
    "shim.none-of-this-design": lambda facts: f"There are no shims to change: {_built(facts)}",
    "adjusting-ring.none-of-this-design": lambda facts: (
        f"There is no adjusting ring: {_built(facts)}"
    ),
    "shim.clamped": "The pack at screw {screw} is clamped: slacken its retaining screw first.",
    "shim.no-such-thickness": "There is no such shim: they come in steps of {step_mm:g} mm.",
    "shim.no-room": (
        "That does not go under the spacer at screw {screw}: let off by a quarter turn, its "
        "screw leaves {room_mm:g} mm of room. Put in less at a time, or take the screws out."
    ),
    "shim.home": "There is no shim left under the spacer at screw {screw}: it sits on its seat.",
    "shim.end": "With so many shims the retaining screw at {screw} is too short: you stop.",
    "shim.solid": "Without that shim the body would sit on the plate: you leave it in.",
    "adjusting-ring.already-loose": "The set screw of the adjusting ring is loose already.",
    "adjusting-ring.already-locked": "The adjusting ring is locked already.",
    "adjusting-ring.locked": "The adjusting ring does not turn: its set screw holds it.",
    "adjusting-ring.no-notch": "By how many notches? The ring has not moved.",
    "adjusting-ring.home": "The adjusting ring is home: it will not go in any further.",
    "adjusting-ring.end": "The adjusting ring would come off its thread: you stop.",
    "adjusting-ring.solid": "The adjusting ring goes solid: the body sits on the plate. You stop.",
}
SET: Mapping[str, Words] = {
    "shim.changed": _shim,
    "adjusting-ring.loose": "The set screw of the adjusting ring is loose; the ring has play.",
    "adjusting-ring.turned": _turned,
    "adjusting-ring.locked-now": "The adjusting ring is locked in its notch; its play is gone.",
}

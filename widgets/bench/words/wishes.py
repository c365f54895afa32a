"""Why a wish from outside came to nothing, in words."""

from collections.abc import Mapping

# What a person calls the fields that can be typed; any other comes from no key of ours.
FIELD_WORDS: Mapping[str, str] = {
    "angle_deg": "The place round the rim, in degrees",
    "change_mm": "The thickness of the shims, in mm",
    "go_mm": "The stack that goes in, in mm",
    "leaves_mm": "The leaves in the hand, in mm",
    "next_days": "The days until the next inspection",
    "no_go_mm": "The stack that does not go in, in mm",
    "notches": "The number of notches",
    "on": "The brake under test",
    "remarks": "The remarks",
    "screw": "The screw",
    "torque_nm": "The torque of the wrench, in N·m",
    "turn_deg": "The turn, in degrees",
    "value_mm": "The reading, in mm",
    "why": "The reason",
}


WISHES: Mapping[str, str] = {
    "wish.no-object": "That cannot be done here. An action must be an object with a kind.",
    "wish.too-many-fields": "That cannot be done here. An action has at most {most} fields.",
    "wish.text-too-long": ("That cannot be done here. A text may have at most {most} characters."),
    "wish.list-too-long": ("That cannot be done here. A list may have at most {most} entries."),
    "wish.not-json": (
        "That cannot be done here. An action must be plain JSON with finite numbers."
    ),
    "wish.too-long": ("That cannot be done here. An action may have at most {most} characters."),
    "wish.no-such-action": "That cannot be done here. There is no such action.",
    "wish.bad-field": "That cannot be done here. {field} must be {expected}.",
    "wish.not-kept": "{cause} What you just did was not kept and has not happened.",
    "wish.stale": (
        "This sitting has gone on in another tab. Nothing was lost: load the page again to see it. "
        "What you just did was not kept and has not happened."
    ),
    "wish.failed": ("Something went wrong on our side. Nothing has changed; please try again."),
}

"""What was seen of water and of a second brake, in words."""

from collections.abc import Mapping

DRIED: Mapping[str, str] = {
    "water.none": "You go round and look up: no water reaches this brake.",
    "water.stopped": (
        "You follow the track to a cable entry that stands open under a dripping roof. You "
        "close it, catch the drip and report the roof."
    ),
    "brake.wet-again": "Warm air for an hour. Then the next drops run in: it is wet again.",
    "brake.dried": "Warm air until a cloth no longer picks up any damp: the brake is dry.",
}
ON_ONE: Mapping[str, str] = {
    "both": "both brakes together",
    "this": "this brake alone, the other held open",
    "other": "the other brake alone, this one held open",
}

"""How somebody could have been hurt, in words."""

from collections.abc import Mapping

ALARMS: Mapping[str, str] = {
    "arc-at-leads": "The coil’s leads were taken off live: they drew an arc as long as a finger.",
    "body-drops": "Nothing held the magnet body: the springs throw it off and it drops.",
    "burnt-hand": "The metal is hot enough to burn, and it burns your hand.",
    "dust-in-the-air": "Brake dust was blown into the air.",
    "fan-open": "The hoist was run with its fan uncovered, within reach of a hand.",
    "hand-on-live-shaft": (
        "The main supply was on: anybody pressing a button would have turned the shaft "
        "under the hand."
    ),
    "floor-not-clear": "The test load hung over a floor that anybody could walk across.",
    "live-terminals-bare": "The supply was on, with bare live terminals within reach of a hand.",
    "load-not-weighed": (
        "Nobody had weighed the load, so nobody knows what it did to hook and brake."
    ),
    "load-drops": "The last screw lets go with the load on the hook: the load drops with a jerk.",
    "load-falls": "The brake is off with the load on the hook: the load falls.",
    "load-ran-down": "The load was on the hook: it ran down while the brake was open.",
    "load-runs-down": "The load was on the hook: it runs down with nothing to hold it.",
    "meter-on-live": "The meter, set to ohms, was put across a live circuit.",
    "test-load-runs-down": "The test load runs down until it hits the floor.",
    "test-load-slips": "The magnet body shifts on its loose screws and the test load slips.",
}

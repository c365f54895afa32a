"""A run on the stage in words: what is done at a step, and where a run parts from careful work."""

from collections.abc import Callable, Mapping, Sequence
from itertools import zip_longest
from typing import Any

from quizzes.grading.words.names import PLACES
from widgets.bench.actions import Action
from widgets.bench.actions.codec import to_json
from widgets.bench.words import DECISION_WORDS

Facts = Mapping[str, Any]
Words = str | Callable[[Facts], str]

_TESTERS = {"contactless": "a non-contact tester", "two_pole": "a two-pole tester"}
_CLEANERS = {
    "vacuum": "a vacuum cleaner", "damp_wipe": "a damp cloth", "air_blast": "compressed air",
    "dry_brush": "a dry brush", "solvent": "solvent",
}  # fmt: skip


_TOOLS = {"leaves": "leaves themselves", "caliper": "caliper’s zero", "wrench": "torque wrench"}
_CHANGED = {
    "leaves": "Other leaves taken",
    "caliper": "Another caliper from the store",
    "wrench": "Another torque wrench from the store",
}


def _leaves(facts: Facts) -> str:
    stack = " + ".join(f"{leaf:.2f}" for leaf in facts["leaves_mm"])
    force = ", with force" if facts["hand"] == "forced" else ""
    return f"Leaf {stack} mm into the gap at {facts['angle_deg']:g}°{force}"


def _turned(facts: Facts) -> str:
    way = "out" if facts["turn_deg"] > 0 else "in"
    return f"Hollow screw {facts['screw']} turned {abs(facts['turn_deg']):.0f}° {way}"


def _landed(facts: Facts) -> str:
    parts = (("unhook", "off the hook"), ("prove_slack", "rope proved slack"),
             ("bar_area", "area barred"))  # fmt: skip
    return ", ".join(["Load landed", *(words for name, words in parts if facts[name])])


def _isolated(facts: Facts) -> str:
    parts = (("lock", "locked"), ("try_start", "start tried"), ("wait", "waited"))
    return ", ".join(["Switched off", *(words for name, words in parts if facts[name])])


def _tested(facts: Facts) -> str:
    proved = ", proved on a known source" if facts["known_source"] else ""
    return f"Terminals tested with {_TESTERS[facts['tester']]}{proved}"


def _handed_over(facts: Facts) -> str:
    goes = "into service" if facts["into_service"] else "kept out of service, locked and tagged"
    return f"Handed over: {goes}"


_ON_ONE = {"both": "", "this": " on this brake alone", "other": " on the other brake alone"}


def _held(facts: Facts) -> str:
    parts = (("weighed", "weighed"), ("floor_clear", "floor cleared"), ("dynamic", "lowered too"))
    return ", ".join(
        [
            f"Test load lifted{_ON_ONE[facts['on']]}",
            *(words for name, words in parts if facts[name]),
        ]
    )


_AT = "at {angle_deg:g}°"
_ACTS: Mapping[str, Words] = {
    "land_load": _landed,
    "keep_clear": "Everybody sent away from load, rope and drum",
    "let_cool": "The brake left to cool",
    "isolate": _isolated,
    "isolate_second": "A second feed looked for",
    "prove_dead": _tested,
    "open_box": lambda facts: (
        "Terminal box opened" + (" by an electrician" if facts["by"] == "electrician" else "")
    ),
    "close_box": "Cover of the terminal box put on",
    "restore_supply": "Locks off, supply on",
    "remove_cover": "Cover taken off",
    "refit_cover": "Cover put on",
    "remove_ring": "Ring of the fan taken out",
    "refit_ring": "Ring of the fan snapped in",
    "remove_fan": "Fan drawn off",
    "refit_fan": lambda facts: f"Fan put on {'its key' if facts['on_key'] else 'without its key'}",
    "remove_seal": "Seal band rolled back",
    "refit_seal": "Seal band put on",
    "read_plate": "Nameplate of the brake read",
    "look": lambda facts: f"Looked at {PLACES.get(facts['at'], facts['at'])}",
    "clean": lambda facts: f"Cleaned with {_CLEANERS[facts['method']]}",
    "stop_water": "The source of the water looked for",
    "dry_out": "Dried with warm air",
    "check_tool": lambda facts: f"A look at the {_TOOLS[facts['tool']]}",
    "change_tool": lambda facts: _CHANGED[facts["tool"]],
    "gauge_gap": _leaves,
    "measure_disc": f"{{tool}} over the disc {_AT}",
    "measure_coil": "Meter on the coil: {what}",
    "find_release": "Voltage raised until the plate pulls in",
    "write_gap": f"Written: gap {_AT}, {{go_mm:.2f}} mm goes, {{no_go_mm:.2f}} mm will not",
    "write_disc": f"Written: disc {_AT}, {{value_mm:g}} mm",
    "write_value": "Written: a reading of the coil, the release or the lever",
    "strike_out": "A line of the notes struck out",
    "decide": lambda facts: f"Decided: {DECISION_WORDS[facts['outcome']]}",
    "try_lock": "Retaining screw {screw} tried",
    "loosen_lock": "Retaining screw {screw} slackened",
    "tighten_lock": "Retaining screw {screw} tightened to {torque_nm:g} N·m",
    "turn_screw": _turned,
    "change_shim": "Shims changed at screw {screw} by {change_mm:+g} mm",
    "loosen_adjusting_ring": "Adjusting ring loosened",
    "turn_adjusting_ring": "Adjusting ring turned by {notches:+d} notches",
    "lock_adjusting_ring": "Adjusting ring locked",
    "work_lever": "Hand release pulled and let go",
    "set_lever": "Hand release set to {play_mm:g} mm of play",
    "disconnect_leads": "Coil’s leads marked and taken off",
    "connect_leads": "Coil’s leads connected",
    "remove_lever": "Hand release taken off",
    "refit_lever": "Hand release put on",
    "hold_body": "Sling takes the body’s weight",
    "draw_lock": "Retaining screw {screw} taken out",
    "remove_body": "Magnet body taken off",
    "remove_disc": "Disc slid off the hub",
    "remove_wear_plate": "Wear plate taken off",
    "clean_spline": "Spline of the hub cleaned",
    "fit_wear_plate": "Wear plate put on",
    "fit_disc": lambda facts: (
        f"Disc slid on, collar to the {'brake' if facts['reversed'] else 'motor'}"
    ),
    "fit_body": "Magnet body put on",
    "start_lock": "Retaining screw {screw} started by {by}",
    "energise": lambda facts: (
        "Coil fed from the test supply" if facts["supply"] == "test" else "Coil energised"
    ),
    "de_energise": "Coil’s voltage taken off",
    "turn_shaft": "Shaft turned by {turn_deg:g}°",
    "bed_in": "New lining bedded in",
    "test_run": "Run without load",
    "test_hold": _held,
    "hand_over": _handed_over,
}
DECISIONS = frozenset({"decide", "hand_over"})


def act_line(action: Action) -> str:
    """Return what is done, in a few words without a full stop."""
    words = _ACTS[action.kind]
    facts = to_json(action)
    said = words.format(**facts) if isinstance(words, str) else words(facts)
    return said[:1].upper() + said[1:]


def next_decision(script: Sequence[Action], at: int) -> int:
    """Return how many steps of a run are done just before its next decision; all, if none is left.

    Parameters
    ----------
    script : sequence of Action
        The whole run.
    at : int
        How many of its steps are done.
    """
    coming = (n for n in range(at + 1, len(script)) if script[n].kind in DECISIONS)
    return next(coming, len(script))


def parted_at(script: Sequence[Action], careful: Sequence[Action]) -> int | None:
    """Return the first step, from 0, at which a run is another than the careful one; None if none.

    What is typed as a reason says nothing of the work, and is not looked at.
    """
    pairs = enumerate(zip_longest(map(_work, script), map(_work, careful)))
    return next((number for number, (own, other) in pairs if own != other), None)


def _work(action: Action) -> dict[str, Any]:
    facts = to_json(action)
    return {name: value for name, value in facts.items() if name not in {"why", "remarks"}}

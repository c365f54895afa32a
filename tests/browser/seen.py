"""What a person takes from the page after an action: from its words, displays and drawn scales."""

import re
from typing import Any

from playwright.sync_api import Page

from widgets.bench.words import SYMPTOM_WORDS

from .scales import read_dial, read_display, read_rule, read_vernier

MORE_SIGHTS = {
    "fan-rattles": ("The fan rattles.", "No air comes from the cover."),
    "smell-of-lining": ("The disc rubs and smells warm.",),
}


def seen_after(page: Page, action: Any, words: str) -> dict[str, Any]:
    """Return what was seen, felt or read, by the names that a candidate knows it by."""
    look = _LOOKS.get(action.kind)
    return look(page, action, words) if look else {}


def _see_look(_page: Page, _action: Any, words: str) -> dict[str, Any]:
    codes = [code for code, said in SYMPTOM_WORDS.items() if said in words]
    more = [code for code, said in MORE_SIGHTS.items() if any(one in words for one in said)]
    return {"symptoms": codes + more}


def _see_prove_dead(_page: Page, _action: Any, words: str) -> dict[str, Any]:
    return {"dc_live": "lights up" in words}


def _see_read_plate(_page: Page, _action: Any, words: str) -> dict[str, Any]:
    built = re.search(r"built (\d+)", words)
    year = {"built": int(built[1])} if built else {}
    return {"size": re.search(r"The nameplate says: ([\w-]+),", words)[1], **year}


def _see_check_tool(_page: Page, action: Any, words: str) -> dict[str, Any]:
    if action.tool == "leaves":
        return {"straight": "bent" not in words}
    numbers = [float(one) for one in re.findall(r"-?\d+(?:\.\d+)?(?= (?:mm|N·m))", words)]
    return dict(zip(["zero_mm"] if action.tool == "caliper" else ["set_nm", "clicks_nm"], numbers, strict=True))  # fmt: skip


def _see_gauge_gap(_page: Page, _action: Any, words: str) -> dict[str, Any]:
    felt = re.search(r"(slides|drags|will not enter)", words)
    return {"feel": felt[1].replace(" ", "-")} if felt else {}


def _see_measure_disc(page: Page, action: Any, _words: str) -> dict[str, Any]:
    read = read_vernier if action.tool == "caliper" else read_rule
    return {"shown_mm": read(page)}


def _see_measure_coil(page: Page, action: Any, words: str) -> dict[str, Any]:
    if "flash" in words:
        return {}
    name = {"resistance": "shown_ohm", "insulation": "shown_mohm", "voltage": "shown_v"}[
        action.what
    ]
    seen = {name: read_display(page, 0)}
    if action.what != "voltage":
        seen["coil_c"] = read_display(page, 1)
    return seen


def _see_find_release(page: Page, _action: Any, words: str) -> dict[str, Any]:
    return {"percent": None if "does not move" in words else read_dial(page)}


def _see_try_lock(_page: Page, _action: Any, words: str) -> dict[str, Any]:
    return {"holds": "nothing moves" in words}


def _see_work_lever(_page: Page, _action: Any, words: str) -> dict[str, Any]:
    play = re.search(r"([\d.]+) mm of play", words)
    play_mm = float(play[1]) if play else 0.0
    kind = "some" if play_mm else "none"
    return {"play": kind, "play_mm": play_mm, "returns": "stays where" not in words}


def _see_energise(_page: Page, _action: Any, words: str) -> dict[str, Any]:
    return {"released": "The brake is open" in words}


def _see_de_energise(_page: Page, _action: Any, words: str) -> dict[str, Any]:
    said = {"A clack": "prompt", "A pause": "late"}
    return {"applied": next((how for start, how in said.items() if start in words), None)}


def _see_turn_shaft(_page: Page, _action: Any, words: str) -> dict[str, Any]:
    said = {"does not move": "not", "rubs": "rubs", "jerk": "jerks"}
    return {"turns": next((how for part, how in said.items() if part in words), "freely")}


def _see_test_hold(_page: Page, _action: Any, words: str) -> dict[str, Any]:
    still = {"shaft": "still"} if "stands still" in words else {}
    return {"holds": None if "stalls" in words else "stopped, held" in words, **still}


def _see_land_load(_page: Page, _action: Any, words: str) -> dict[str, Any]:
    return {"comes": "the load hangs" not in words}


def _see_remove_cover(_page: Page, _action: Any, words: str) -> dict[str, Any]:
    return {"fan_there": "no fan" not in words}


_LOOKS = {
    "land_load": _see_land_load,
    "look": _see_look,
    "prove_dead": _see_prove_dead,
    "remove_cover": _see_remove_cover,
    "read_plate": _see_read_plate,
    "check_tool": _see_check_tool,
    "gauge_gap": _see_gauge_gap,
    "measure_disc": _see_measure_disc,
    "measure_coil": _see_measure_coil,
    "find_release": _see_find_release,
    "try_lock": _see_try_lock,
    "work_lever": _see_work_lever,
    "energise": _see_energise,
    "de_energise": _see_de_energise,
    "turn_shaft": _see_turn_shaft,
    "test_hold": _see_test_hold,
    "test_run": _see_look,
}

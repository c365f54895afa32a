"""What was seen and heard while a brake was made safe, in words: a code to its sentences."""

from collections.abc import Callable, Mapping

from .by_fact import Facts, and_so, if_so


def _switched_off(facts: Facts) -> str:
    words = ["Controls and main switch off."]
    if facts["locked"]:
        words.append("Your lock and your tag are on it; the key is in your pocket.")
    if facts["tried"]:
        words.append("You try to start: nothing moves.")
    if facts["waited"]:
        words.append("You wait as long as the plate of the drive says.")
    if facts["drops_in"]:
        words.append("The brake closes with a clack.")
    return " ".join(words)


MADE_SAFE: Mapping[str, str | Callable[[Facts], str]] = {
    "load.landed": and_so(
        "The load is down and off the hook. The hook rests, the rope hangs slack.",
        "barred",
        "The area is clear and barred.",
    ),
    "load.will-not-come-down": (
        "You press “down”. It hums, nothing moves, the load hangs. You let go at once."
    ),
    "area.kept-clear": lambda facts: " ".join(
        filter(
            None,
            [
                "Everybody is sent away from load, rope and drum.",
                "The area is barred." if facts["barred"] else "",
                "The person responsible is called, and told what was seen."
                if facts["called"]
                else "",
            ],
        )
    ),
    "brake.cooled": "You wait until you can lay a hand on it.",
    "load.area-barred": "The area is clear and barred.",
    "load.down-on-the-hook": "The load stands on the floor, still on the hook.",
    "load.rope-not-proved": "The load is off the hook. Nobody has seen whether the rope is slack.",
    "supply.locked": _switched_off,
    "box.open": lambda facts: (
        "The cover of the terminal box is off; the terminals are bare."
        if facts["by"] == "self"
        else "An electrician takes the cover of the terminal box off, stays beside you, and holds "
        "the tips wherever the terminals are live."
    ),
    "box.closed": "Cover on the terminal box, its seal in place.",
    "supply.restored": "You take off your own locks and tags and switch on. The supply is back.",
    "second-feed.none": "You follow the leads and the diagram: there is no second feed.",
    "second-feed.locked": (
        "A test supply had been left on the coil, fed from another circuit. It is off now, "
        "locked and tagged. The brake closes with a clack."
    ),
    "tester.supply-live": (
        "The tester lights up: the supply is live, {supply_v:.0f} V on the DC side."
    ),
    "tester.coil-live": (
        "Motor dead. At the brake the tester lights up on the DC side: {supply_v:.0f} V. "
        "Something else is feeding this coil."
    ),
    "tester.pen": if_so(
        "live",
        "The non-contact tester lights up at the motor. It cannot show DC voltage.",
        (
            "The non-contact tester stays dark. It cannot show DC voltage, and nothing "
            "shows that it works."
        ),
    ),
    "tester.still-charged": (
        "The tester glows and fades: something in there is still discharging."
    ),
    "tester.silent-not-proved": "The tester stays dark, but nothing has shown that it works.",
    "tester.one-side-only": ("Dead at the motor and on the AC side. The DC side was not tested."),
    "tester.dead": (
        "Tester proved, terminals tested, tester proved again: motor dead, "
        "brake dead on the AC side and on the DC side."
    ),
}

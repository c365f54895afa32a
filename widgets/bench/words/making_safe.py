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
        words.append("The brake drops in with a clack.")
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
    "brake.cooled": "You wait until a hand can be laid on it.",
    "load.area-barred": "The area is clear and barred.",
    "load.down-on-the-hook": "The load stands on the floor, still on the hook.",
    "load.rope-not-proved": "The load is off the hook. Whether the rope is slack, nobody has seen.",
    "supply.locked": _switched_off,
    "box.open": lambda facts: (
        "The cover of the terminal box is off; the terminals lie bare."
        if facts["by"] == "self"
        else "An electrician takes the cover of the terminal box off, and stays beside you."
    ),
    "box.closed": "Cover on the terminal box, its seal in place.",
    "supply.restored": "You take off your own locks and tags and switch on. The supply is back.",
    "second-feed.none": "You follow the leads and the diagram: there is no second feed.",
    "second-feed.locked": (
        "A test supply had been left on the coil, fed from another circuit. It is off now, "
        "locked and tagged. The brake drops in with a clack."
    ),
    "tester.supply-live": (
        "The tester lights up: the supply is live, {supply_v:.0f} V on the direct side."
    ),
    "tester.coil-live": (
        "Motor dead. At the brake the tester lights up on the direct side: {supply_v:.0f} V. "
        "Something feeds this coil from elsewhere."
    ),
    "tester.pen": if_so(
        "live",
        "The contactless tester lights up at the motor. Of direct voltage it says nothing.",
        "The contactless tester stays dark. It says nothing of direct voltage or of itself.",
    ),
    "tester.still-charged": (
        "The tester glimmers and fades: something in there still gives its energy back."
    ),
    "tester.silent-not-proved": "The tester stays dark. Whether it works, nothing has shown.",
    "tester.one-side-only": (
        "Dead at the motor and on the alternating side. The direct side was not tested."
    ),
    "tester.dead": (
        "Tester proved, terminals tested, tester proved again: motor dead, "
        "brake dead on the alternating and on the direct side."
    ),
}

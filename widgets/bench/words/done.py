"""What was seen, felt and heard when something was done, in words: a code to its sentences."""

from collections.abc import Callable, Mapping

from .around import DRIED, ON_ONE
from .by_fact import Facts, and_so, if_so
from .making_safe import MADE_SAFE
from .names import DECISION_WORDS, FEEL_WORDS, SYMPTOM_WORDS
from .setting import SET
from .sights import look_words

_CLEANING = {
    "vacuum": "Dust drawn off with the vacuum cleaner for harmful dust.",
    "damp_wipe": "Dust taken up with a damp cloth, cloth bagged.",
    "air_blast": "A grey cloud fills the room. The brake is clean; the air you breathe is not.",
    "dry_brush": "Dust flies from the brush. The brake is clean; the air you breathe is not.",
    "solvent": "The dust is gone. Solvent has run onto the lining and soaks in.",
}
_CHANGED = {
    "leaves": "Another set of leaves from the store, straight, its label valid.",
    "caliper": "Another caliper from the store: wiped and closed, it shows zero.",
    "wrench": "Another torque wrench from the store, its label valid.",
}
_QUANTITIES = {
    "coil_ohm": "coil resistance {:g} Ω",
    "coil_c": "coil temperature {:g} °C",
    "insulation_mohm": "insulation {:g} MΩ",
    "voltage_v": "voltage at the coil {:g} V",
    "release_percent": "released at {:g} % of the rated voltage",
    "lever_play_mm": "play of the hand release {:g} mm",
}


def _cover_on(facts: Facts) -> str:
    left = ", ".join(facts["left_over"])
    return "Cover on, screws tight." + (f" Left over on the bench: {left}." if left else "")


def _felt(facts: Facts) -> str:
    total_mm = sum(facts["leaves_mm"])
    return f"At {facts['angle_deg']:.0f}°: {total_mm:.2f} mm {FEEL_WORDS[facts['feel']]}"


def _disc_measured(facts: Facts) -> str:
    """Return where the tool stands. The number is not said: it is read from the scale."""
    if facts["tool"] == "rule":
        return f"At {facts['angle_deg']:.0f}°: the rule stands against the edge. Read it."
    return f"At {facts['angle_deg']:.0f}°: the jaws are closed over both linings. Read the scale."


def _written(facts: Facts) -> str:
    ((what, value),) = facts.items()
    return f"Written: {_QUANTITIES[what].format(value)}."


def _lever(facts: Facts) -> str:
    if not facts["returns"]:
        return "The lever stays where you pulled it. It does not spring back."
    if facts["play"] == "none":
        return "The lever bites at once, without play. When you let go, it springs back."
    return (
        f"The lever has {facts['play_mm']:.1f} mm of play at the plate. It lifts, and springs back."
    )


def _turned(facts: Facts) -> str:
    way = "out" if facts["turn_deg"] > 0 else "in"
    return f"Hollow screw {facts['screw']}: {abs(facts['turn_deg']):g}° {way}."


def _leads_on(facts: Facts) -> str:
    return f"Leads on the {facts['side'].upper()} side of the rectifier, screws tight."


def _disc_on(facts: Facts) -> str:
    words = "New disc on the hub" if facts["new"] else "Old disc on the hub"
    words += ", collar to the brake. " if facts["reversed"] else ", collar to the motor. "
    return words + (
        "It slides, but catches on the way." if facts["catches"] else "It slides freely."
    )


def _ran(facts: Facts) -> str:
    words = [SYMPTOM_WORDS[code] for code in facts["running"]]
    if facts["fan"] != "ok":
        words.append(
            "No air comes from the cover." if facts["fan"] == "off" else "The fan rattles."
        )
    if facts["rubs"]:
        words.append("The disc rubs and smells warm.")
    if not words:
        words = ["It lifts, lowers and stops as it should; no smell, no drag."]
    return "Up, down, emergency stop, hook empty. " + " ".join(words)


def _decided(facts: Facts) -> str:
    words = f"Written on the record: {DECISION_WORDS[facts['outcome']]}, by the row {facts['row']}."
    return f"{words} That was the question here." if facts["ends"] else words


def _signed(facts: Facts) -> str:
    words = "The hoist stays locked and tagged out of service. You sign the record."
    if facts.get("awaits_test"):
        words = (
            "Locked and tagged: left for a load test by somebody who may do one. You sign "
            "the record."
        )
    if facts["into_service"]:
        words = "The hoist goes back into service. You sign the record."
    if facts["next_days"] is not None:
        days = "1 day" if facts["next_days"] == 1 else f"{facts['next_days']} days"
        words += f" Next inspection in {days} at the latest."
    return words


DONE: Mapping[str, str | Callable[[Facts], str]] = {
    **MADE_SAFE,
    # opening and closing
    "cover.off": if_so(
        "fan_there",
        "Cover off. The fan is in front of you.",
        "Cover off. There is no fan on the shaft.",
    ),
    "cover.on": _cover_on,
    "ring.off": "Ring out of its groove and in the tray.",
    "ring.on": "The ring snaps into its groove.",
    "fan.off": "Fan drawn off its key. Key kept.",
    "fan.on": if_so("on_key", "Fan on its key.", "Fan pushed on; the key is still in the tray."),
    "seal.off": and_so(
        "Seal band rolled back; it is whole. You can see the gap and the edge of the disc.",
        "dusty",
        "Grey dust sits on the edge and in the gap.",
    ),
    "seal.on": if_so(
        "seated",
        "Seal band seated in both grooves all round.",
        "Seal band on; its lip stands out of the groove on the far side.",
    ),
    "plate.read": lambda facts: (
        "The nameplate says: {size}, {torque_nm:g} N·m, coil {coil_v:g} V DC".format(**facts)
        + (f", built {facts['built']}." if "built" in facts else ".")
    ),
    "dust.gone": lambda facts: _CLEANING[facts["method"]],
    **DRIED,
    # looking
    "look.seen": look_words,
    "look.runs-open": "It runs up and down.",
    "look.new-disc": (
        "It carries the number of {size}. It is dry and clean, {disc_mm:g} mm by its "
        "label; one face is marked for the motor side."
    ),
    # measuring
    "tool.leaves": if_so(
        "straight",
        "You wipe the leaves and look along them: straight and clean.",
        "You wipe the leaves and look along them: several are bent near their tips.",
    ),
    "tool.caliper": "You wipe the jaws and close them: it shows {zero_mm:.2f} mm.",
    "tool.wrench": "On the tester, set to {set_nm:g} N·m, the wrench clicks at {clicks_nm:g} N·m.",
    "tool.changed": lambda facts: _CHANGED[facts["tool"]],
    "gap.felt": _felt,
    "disc.measured": _disc_measured,
    "meter.flash": "A flash at the tips.",
    "meter.through-rectifier": (
        "500 V went through the rectifier with the coil. The tester shows next to nothing."
    ),
    "meter.insulation": "Coil to earth, 500 V: read the tester.",
    "meter.resistance": (
        "Meter across the coil, thermometer on it at {coil_c:.0f} °C: read the meter."
    ),
    "meter.voltage": "Insulated tips on the DC side: read the meter.",
    "release.none": "You raise the voltage to the end of the scale; the plate does not move.",
    "release.found": (
        "A clack: the plate pulls in. Read the dial. You turn the voltage down; the brake closes."
    ),
    # writing down
    "notes.gap": (
        "Written: gap at {angle_deg:.0f}°, {go_mm:.2f} mm goes, {no_go_mm:.2f} mm will not."
    ),
    "notes.disc": "Written: disc at {angle_deg:.0f}°, {disc_mm:.2f} mm, by {tool}.",
    "notes.value": _written,
    "notes.coil-open": "Written: coil resistance over the scale.",
    "notes.struck": "Struck through; still legible.",
    # locks, hollow screws, lever
    "lock.tried": if_so(
        "holds",
        "Retaining screw {screw} holds: the wrench clicks and nothing moves.",
        "Retaining screw {screw} moves under the wrench: it was not tight.",
    ),
    "lock.slack": "Retaining screw {screw} breaks loose; a quarter turn, and it is slack.",
    "lock.tight": "Retaining screw {screw}: the wrench clicks at {torque_nm:g} N·m.",
    "hollow-screw.turned": _turned,
    **SET,
    "lever.worked": _lever,
    "lever.set": "Play of the hand release set to {play_mm:g} mm at the plate.",
    # taking apart and putting together
    "leads.off": "Leads marked, taken off, ends covered.",
    "leads.off-live": "",
    "leads.on": _leads_on,
    "lever.off": "Hand release off, its nuts counted.",
    "lever.on": "Hand release on. Its play is not set.",
    "body.held": "The sling has the weight of the magnet body.",
    "lock.out": and_so(
        "Retaining screw {screw} out and in the tray.",
        "cocks",
        "The springs push the body off on this side; it tilts and jams on the others.",
    ),
    "body.off": and_so(
        "Magnet body, springs and pressure plate off as one, laid down face up.",
        "lead_tears",
        "A lead that was still connected tears from its terminal.",
    ),
    "disc.off": "Disc off the hub. You can see where its collar pointed.",
    "wear-plate.off": "Wear plate off; the motor end behind it is clean.",
    "spline.cleaned": if_so(
        "stepped",
        "Spline wiped clean with a damp cloth, and dried. "
        "Its teeth are stepped where the disc ran.",
        "Spline wiped clean with a damp cloth, and dried. Its flanks are whole.",
    ),
    "wear-plate.on": if_so(
        "smooth_to_disc",
        "Wear plate on, smooth side to the disc, screw heads below the face.",
        "Wear plate on, smooth side to the motor.",
    ),
    "disc.on": _disc_on,
    "body.on": "Plate in its guides, body in front of the disc. The screws are not started.",
    "lock.crossed": (
        "Retaining screw {screw} goes stiff at half a turn: the thread is crossed. You "
        "take it out again."
    ),
    "lock.started": and_so(
        "Retaining screw {screw} started by hand, finger-tight.",
        "tips",
        "With no screw at the top, the body tips out of its guides.",
    ),
    # proving
    "coil.hums": "The coil hums; the plate does not move. The brake stays on.",
    "coil.chatters": ("A loud rattle: the plate chatters and does not pull in. It smells warm."),
    "coil.drawn-in": "A clean clack: the plate pulls in. The brake is open.",
    "coil.hum-stops": "The hum stops.",
    "coil.applied-late": "A pause, then a dull tap: the springs grip the disc.",
    "coil.applied": "A clack: the springs grip the disc again.",
    "shaft.held": "The shaft does not move: the brake holds it.",
    "shaft.free-of-the-brake": "The shaft turns freely; the brake is off it.",
    "shaft.jerks": "The shaft sticks, then breaks away with a jerk.",
    "shaft.rubs": "The shaft turns, but the disc rubs; you feel it come and go.",
    "shaft.free": "The shaft turns freely.",
    "bedding.stalls": "The motor stalls against its own brake: you stop at once.",
    "bedding.done": "Light stops without load, as prescribed: the lining has bedded in.",
    "bedding.no-change": "Light stops without load. Nothing changes.",
    "bedding.oil-again": "After a few stops there is a dark wet film on the lining again.",
    "test-run.open": "It runs.",
    "test-run.done": _ran,
    "test-hold.stalls": (
        "The motor stalls against its own brake: nothing lifts. You let go of the button."
    ),
    "test-hold.slips": "",
    "test-hold.shaft-still": (
        "The test load sinks, while the shaft and its fan stand still. You set it down at once."
    ),
    "test-hold.alone-sinks": lambda facts: (
        f"The test load sinks on {ON_ONE[facts['on']]}. You let the one held open close: it stops."
    ),
    "test-hold.runs-down": "",
    "test-hold.creeps": "The test load creeps down. You set it down at once.",
    "test-hold.held": lambda facts: (
        f"Test load of {facts['load_share']:g} times the rated load lifted, stopped, held"
        + (f" by {ON_ONE[facts['on']]}" if "on" in facts else "")
        + (", lowered and stopped within its distance" if facts.get("dynamic") else "")
        + ". You set it down."
    ),
    # the record
    "record.decided": _decided,
    "record.signed": _signed,
}

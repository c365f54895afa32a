"""Looking at one part, and watching the hoist run; what is in the way of the eye."""

from collections.abc import Callable, Mapping

from widgets.bench.actions import Look
from widgets.bench.observed import Outcome, harmed, refused, seen
from widgets.bench.setup import Setup
from widgets.bench.state import State
from widgets.bench.symptoms import sights_at

LOOKS: Mapping[str, str] = {
    "running": "Have it run without load, watch and listen",
    "outside": "All round the closed brake",
    "fan": "Fan, key and ring",
    "seal": "Seal band and its seat",
    "dust": "Dust in and round the gap",
    "edge": "Edge of disc and lining",
    "screws": "Hollow and retaining screws",
    "lever": "Hand release",
    "leads": "Leads, terminals, rectifier",
    "springs": "Springs and their ends",
    "faces": "Faces of lining, plate and motor end",
    "hub": "Hub, key and spline",
    "wear_plate": "Wear plate",
    "new_disc": "The new disc: number, ring, spline, marks",
}
_NOTHING = "Nothing out of the ordinary there."


def look(setup: Setup, state: State, action: Look) -> Outcome:
    """Return what one part shows."""
    place = action.at
    obstacle = _OBSTACLES.get(place, _nothing)(state)
    if obstacle:
        return refused(state, obstacle)
    if place == "new_disc":
        label = _new_disc_words(setup)
        return seen(_remembered(state, place, label), label, at=place, sights=[])
    if place == "running" and not state.cover_on:
        alarm = "The hoist was run with its fan open to the hand."
        after = _remembered(state, place, "It runs up and down.")
        return harmed(after, "It runs up and down.", alarm, at=place, sights=[])
    found = list(sights_at(setup, state, place))
    words = [sight.words for sight in found] + _plain_words(setup, state, place)
    if place == "running":
        words.insert(0, "Up, down, stop, with the hook empty.")
    said = " ".join(words or [_NOTHING])
    after = _remembered(state, place, said)
    return seen(after, said, at=place, sights=[sight.code for sight in found])


def _remembered(state: State, place: str, words: str) -> State:
    """Return the state with a place looked at, and what was seen there."""
    others = tuple(line for line in state.seen_there if line[0] != place)
    looked = state.looked if place in state.looked else (*state.looked, place)
    return state._replace(looked=looked, seen_there=(*others, (place, words)))


def _plain_words(setup: Setup, state: State, place: str) -> list[str]:
    """Return what is seen of a part whether or not something is wrong with it."""
    if place == "springs" and not state.body_on:
        count, whole = setup.size.springs.count, state.brake.springs_intact
        return [f"{whole} of {count} springs are whole."]
    if place == "wear_plate" and state.brake.wear_plate_mm > 0:
        side = "smooth" if state.plate_smooth_to_disc else "rough"
        return [f"The wear plate is there; its {side} side faces the disc."]
    if place == "fan" and state.fan_on and state.brake.fan_ok and not state.fan_keyed:
        return ["The fan sits on the shaft without its key."]
    if place == "seal" and state.seal_on and not state.seal_seated:
        return ["The lip of the seal band stands out of its groove on one side."]
    return []


def _new_disc_words(setup: Setup) -> str:
    size = setup.size
    return (
        f"The number on it is that of {size.name}. Dry, clean, {size.disc.new_mm:g} mm by its "
        "label; one face is marked for the motor side."
    )


def _nothing(_: State) -> str:
    return ""


def _running(state: State) -> str:
    if state.isolated:
        return "The hoist will not run: the main switch is locked off."
    return "" if state.body_on and state.disc_on else "The brake is in pieces: nothing to run."


def in_the_way(state: State, *parts: str) -> str:
    """Return the first of the named parts that is still on, or nothing."""
    on = {"cover": state.cover_on, "fan": state.fan_on, "seal band": state.seal_on,
          "magnet body": state.body_on, "disc": state.disc_on}  # fmt: skip
    return next((part for part in parts if on[part]), "")


def _behind(*parts: str) -> Callable[[State], str]:
    def obstacle(state: State) -> str:
        part = in_the_way(state, *parts)
        return f"You cannot see it: the {part} is in the way." if part else ""

    return obstacle


_OBSTACLES: Mapping[str, Callable[[State], str]] = {
    "running": _running,
    "fan": _behind("cover"),
    "seal": _behind("cover", "fan"),
    "dust": _behind("cover", "fan", "seal band"),
    "edge": _behind("cover", "fan", "seal band"),
    "screws": _behind("cover", "fan"),
    "leads": _behind("cover"),
    "springs": _behind("cover", "fan"),
    "faces": _behind("cover", "fan", "magnet body"),
    "hub": _behind("cover", "fan", "seal band"),
    "wear_plate": _behind("cover", "fan", "seal band"),
}

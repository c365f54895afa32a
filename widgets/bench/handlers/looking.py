"""Looking at one part, and watching the hoist run; what is in the way of the eye."""

from collections.abc import Callable, Mapping
from operator import attrgetter

from widgets.bench.actions import Look
from widgets.bench.observed import Outcome, harmed, not_possible, seen, wrong_order
from widgets.bench.orders.getting_in import in_front_of
from widgets.bench.setup import Setup
from widgets.bench.state import State
from widgets.bench.symptoms import symptoms_at

from .in_sight import plain_facts, shade


def look(setup: Setup, state: State, action: Look) -> Outcome:
    """Return what one part shows."""
    place = action.at
    kept_from = _KEPT_FROM.get(place, _nothing)(state)
    if kept_from:
        return kept_from
    if place == "new_disc":
        size = setup.size
        return _remembered(
            seen(
                state,
                "look.new-disc",
                at=place,
                symptoms=[],
                size=size.name,
                disc_mm=size.disc.new_mm,
                shade=shade(setup, place),
            )
        )
    if place == "running" and not state.cover_on:
        return _remembered(harmed(state, "look.runs-open", "fan-open", at=place, symptoms=[]))
    symptoms = [symptom.code for symptom in symptoms_at(setup, state, place)]
    facts = plain_facts(setup, state, place)
    if place != "running":
        facts["shade"] = shade(setup, place)
    return _remembered(seen(state, "look.seen", at=place, symptoms=symptoms, **facts))


def _remembered(outcome: Outcome) -> Outcome:
    """Return the outcome with the place looked at, and what was seen there, kept in the state."""
    state, observation = outcome
    place = observation.facts["at"]
    others = tuple(one for one in state.seen_there if one[0] != place)
    looked = state.looked if place in state.looked else (*state.looked, place)
    there = (*others, (place, observation.code, observation.facts))
    return state._replace(looked=looked, seen_there=there), observation


def _nothing(_: State) -> Outcome | None:
    return None


def _running(state: State) -> Outcome | None:
    if state.isolated:
        return not_possible(state, "look.locked-off")
    if state.load_stuck:
        return not_possible(state, "look.load-hangs")
    return None if state.body_on and state.disc_on else wrong_order(state, "look.in-pieces")


def _box(state: State) -> Outcome | None:
    return wrong_order(state, "terminals.box-shut") if state.box_on else None


def in_the_way(state: State, what: str) -> str:
    """Return the first part, from the outside in, that still hides something, or nothing.

    What hides what follows from the order of opening and of taking apart.
    """
    for part in in_front_of(what):
        if _IS_ON[part](state):
            return part
    return ""


_IS_ON: Mapping[str, Callable[[State], bool]] = {
    "cover": attrgetter("cover_on"),
    "fan": attrgetter("fan_on"),
    "seal band": attrgetter("seal_on"),
    "magnet body": attrgetter("body_on"),
    "disc": attrgetter("disc_on"),
}


def _behind(what: str) -> Callable[[State], Outcome | None]:
    def kept_from(state: State) -> Outcome | None:
        part = in_the_way(state, what)
        return wrong_order(state, "look.in-the-way", part=part) if part else None

    return kept_from


_KEPT_FROM: Mapping[str, Callable[[State], Outcome | None]] = {
    "running": _running,
    "leads": _box,
    **{
        place: _behind(place)
        for place in (
            "fan", "seal", "dust", "edge", "screws", "springs", "faces", "hub",
            "wear_plate",
        )
    },
}  # fmt: skip

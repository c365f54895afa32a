"""A finished job told as prose: sentences of our own round the numbers that the log holds."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from widgets.bench.session import Event
from widgets.bench.words import noticed_words, said
from widgets.brake.sizes.size import BrakeSize

WHO = "Mira"  # invented, like everybody in these lessons
_NOTHING = "Nothing out of the ordinary there."


class Log:
    """The events of one chapter, asked for what was done and what was read."""

    def __init__(self, events: Sequence[Event]) -> None:
        self._events = events

    def of(self, kind: str, **asked: object) -> list[Event]:
        """Return the events of a kind whose action has these fields, in order."""
        return [
            one for one in self._events
            if one.action["kind"] == kind and all(one.action.get(k) == v for k, v in asked.items())
        ]  # fmt: skip

    def facts(self, kind: str, **asked: object) -> Mapping[str, Any]:
        """Return what the first such event showed; nothing, if there was none."""
        found = self.of(kind, **asked)
        return found[0].observation["facts"] if found else {}

    def seen(self, *at: str) -> str:
        """Return what was seen at some places, in the bench's words; empty if nothing was."""
        seen = [event.observation for place in at for event in self.of("look", at=place)]
        words = [noticed_words(one["facts"]) if one["done"] else said(one) for one in seen]
        return " ".join(one for one in dict.fromkeys(words) if one)


def told(name: str, events: Sequence[Event], size: BrakeSize) -> tuple[str, ...]:
    """Return the paragraphs of a chapter; what was not done is not told."""
    return tuple(one for one in _CHAPTERS[name](Log(events), size) if one)


def _making_safe(log: Log, _: BrakeSize) -> Iterator[str]:
    yield (
        f"{WHO} reads the card twice and walks to bay 4 with her hands in her pockets. Whatever "
        "hangs on the hook comes down first. She bars the floor, has the load lowered and "
        "unhooked, and takes the rope in her gloved hand. It is slack."
    )
    yield (
        "The hoist may still run, so she asks to see it run: once it is dead, it has nothing more "
        f"to tell. Into her notes goes: “{log.seen('running', 'outside') or _NOTHING}”"
    )
    tried = log.facts("isolate")
    if tried.get("locked"):
        yield (
            "Control to off, main switch off, her own lock and tag on it, the key in her pocket. "
            "She tries to start: nothing moves. She waits until the stored charge is gone."
        )
    if log.facts("prove_dead").get("live") is False:
        yield (
            "The terminal box comes open. The tester goes to a source that she knows is live, to "
            "the terminals of motor and brake, AC side and DC side, and to the source again. Dead. "
            "Only now may a cover come off."
        )


def _opening(log: Log, _: BrakeSize) -> Iterator[str]:
    parts = [words for kind, words in _PARTS if log.of(kind)]
    yield (
        f"Mask, eye protection, gloves. Then she takes off {_listed(parts)}, and lays each on the "
        "tray in the order in which it came off. Going back, the tray will be her list."
    )
    plate = log.facts("read_plate")
    if plate:
        yield (
            f"The nameplate of the brake says {plate['size']}, {plate['torque_nm']:g} N·m, coil "
            f"{plate['coil_v']:g} V. That is the row of the limits sheet by which she will judge, "
            "and no other."
        )
    seen = log.seen("fan", "leads", "seal", "dust", "edge", "screws", "lever", "springs", "hub")
    yield (
        "The cloth stays in its bag for a moment. She goes round with the lamp: "
        f"“{seen or _NOTHING}” "
        "Had there been oil or a crack, the cloth would have wiped away the proof."
    )
    if log.of("clean"):
        yield "Now the vacuum cleaner. The air line on the wall stays where it is."
    zero = log.facts("check_tool", tool="caliper")
    if zero:
        yield (
            "She wipes the leaves and looks along them: straight. She closes the jaws of the "
            f"caliper: it shows {zero['zero_mm']:.2f} mm."
        )


def _measuring(log: Log, _: BrakeSize) -> Iterator[str]:
    tried, lever = log.of("try_lock"), log.facts("work_lever")
    if tried:
        yield (
            f"First the {len(tried)} retaining screws. The wrench clicks at each, and nothing "
            "moves. On a loose body every reading of the gap would be worthless."
        )
    if lever.get("returns"):
        yield (
            f"The hand release has {lever['play_mm']:.1f} mm of play and springs back. So it is "
            "not holding the plate off the disc, and what the leaves find is the real gap."
        )
    yield _gauged(log)
    discs = [event.action["value_mm"] for event in log.of("write_disc")]
    if discs:
        yield (
            "A gap alone decides nothing, so the caliper goes over the disc at "
            f"{len(discs)} places: {_listed([f'{mm:.2f}' for mm in discs])} mm. She draws a ring "
            f"round the thinnest, {min(discs):.2f} mm."
        )
    ohm, earth = (log.facts("measure_coil", what=one) for one in ("resistance", "insulation"))
    if ohm and earth:
        yield (
            f"The coil has {ohm['shown_ohm']:g} Ω at {ohm['coil_c']:g} °C, and "
            f"{earth['shown_mohm']:g} MΩ to earth."
        )
    volts = log.facts("measure_coil", what="voltage")
    if volts:
        yield (
            f"For one reading she needs the supply: {volts['shown_v']:g} V at the coil, a clean "
            "click, a prompt clack. Then she locks off and proves dead a second time, as if it "
            "were the first."
        )


def _gauged(log: Log) -> str:
    notes, tries = [one.action for one in log.of("write_gap")], log.of("gauge_gap")
    if not notes:
        return ""
    least, most = min(one["go_mm"] for one in notes), max(one["no_go_mm"] for one in notes)
    return (
        f"Then the leaves, at {len(notes)} places round the rim. At each she looks for the "
        "thickest stack that drags and the thinnest that will not enter, and writes both down "
        f"before she moves on. After {len(tries)} tries she has it: nowhere under {least:.2f} mm, "
        f"nowhere over {most:.2f} mm."
    )


def _deciding(log: Log, size: BrakeSize) -> Iterator[str]:
    decided = log.of("decide")
    if not decided:
        return
    yield (
        f"She lays her notes beside the row of the sheet: largest gap {size.gap.max_mm:g} mm, "
        f"least disc {size.disc.min_mm:g} mm. The disc comes first, because nobody sets a gap "
        "on a worn-out disc. Is its thinnest place above the least, and will it be at the next "
        "inspection? It is, and it will. Then the gap: is its widest place beyond the largest? "
        "It is."
    )
    yield (
        "That fits the card. The plate has further to travel, so it strikes later and louder. "
        "Nothing that she saw or measured asks for more. "
        f"“{decided[0].action['why'].capitalize()}”, she writes, and under it: "
        f"{decided[0].action['outcome']}."
    )


def _setting(log: Log, size: BrakeSize) -> Iterator[str]:
    yield (
        "One after the other she lets the retaining screws off by a quarter of a turn, the body "
        "supported. The springs lift it at once. What the leaves would say now is tenths too "
        "large, so they stay in their case. She turns by the readings that she took while all "
        "was tight."
    )
    turned: dict[int, float] = {}
    for event in log.of("turn_screw"):
        screw = int(event.action["screw"])
        turned[screw] = turned.get(screw, 0.0) + float(event.action["turn_deg"])
    if turned:
        each = [f"screw {screw} by {abs(deg):.0f}°" for screw, deg in sorted(turned.items())]
        yield (
            f"She turns the hollow screws {'in' if sum(turned.values()) < 0 else 'out'}: "
            f"{_listed(each)}."
        )
    stages = list(dict.fromkeys(float(one.action["torque_nm"]) for one in log.of("tighten_lock")))
    wrench = log.facts("check_tool", tool="wrench")
    if stages and wrench:
        yield (
            f"On the tester the wrench, set to {wrench['set_nm']:g} N·m, clicks at "
            f"{wrench['clicks_nm']:g}. So she trusts it. All three to "
            f"{_listed([f'{nm:g} N·m' for nm in stages], 'then all three to ')}."
        )
    notes = [one.action for one in log.of("write_gap")]
    if notes:
        least, most = min(one["go_mm"] for one in notes), max(one["no_go_mm"] for one in notes)
        yield (
            f"Her colleague already holds the cover. She shakes her head and takes out the leaves: "
            f"the same {len(notes)} places once more. Between {least:.2f} and {most:.2f} mm, where "
            f"{size.gap.setting_mm:g} mm was asked for. This round goes into the record."
        )


def _proving(log: Log, _: BrakeSize) -> Iterator[str]:
    found, shaft = log.facts("find_release"), log.facts("turn_shaft")
    yield "Seal in its grooves, fan on its key, ring snapped in: the tray empties from the far end."
    if found and shaft:
        yield (
            "With the motor still locked off, the coil gets her own test supply. She raises the "
            f"voltage slowly. At {found['percent']:g} % of the rated voltage the plate pulls in. "
            f"She turns the shaft by hand: {shaft['turns']}. She takes the voltage away, and the "
            "springs have the disc again."
        )
    if log.of("close_box") and log.of("refit_cover"):
        yield (
            "The voltage of the hoist itself, at the coil, is checked once more. Locked off, "
            "proved dead, box closed, cover on. The tray is empty."
        )
    run, held = log.facts("test_run"), log.facts("test_hold")
    if run:
        smooth = (
            "no smell, no drag" if not run["symptoms"] else said(log.of("test_run")[0].observation)
        )
        yield f"Locks off. Up, down, emergency stop, hook empty: {smooth}."
    if held:
        yield (
            f"Last the test that the order asks for: {held['load_share']:g} times the rated load, "
            "weighed, a hand’s breadth over a floor that is clear. Everybody watches the hook. "
            f"{'It does not move.' if held['holds'] else 'It sinks.'}"
        )
    signed = log.facts("hand_over")
    if signed:
        yield (
            f"{WHO} signs the record, with the next inspection in {signed['next_days']} days at "
            "the latest. The card from bay 4 goes back with one word on it: done."
        )


def _listed(words: Sequence[str], last: str = "") -> str:
    """Return words as a list in a sentence.

    Examples
    --------
    >>> _listed(["cover", "ring", "fan"])
    'cover, ring and fan'
    """
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])}{', ' + last if last else ' and '}{words[-1]}"


_PARTS = (
    ("remove_cover", "the cover"),
    ("remove_ring", "the ring of the fan"),
    ("remove_fan", "the fan"),
    ("remove_seal", "the seal"),
)
_CHAPTERS: Mapping[str, Callable[[Log, BrakeSize], Iterator[str]]] = {
    "making safe": _making_safe,
    "opening": _opening,
    "measuring": _measuring,
    "deciding": _deciding,
    "setting": _setting,
    "proving": _proving,
}

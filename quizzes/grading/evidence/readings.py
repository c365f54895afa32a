"""Readings that were written down, each judged: how far off, and whether it was taken at all."""

from collections.abc import Iterable, Iterator, Sequence
from operator import attrgetter
from typing import NamedTuple, TypeVar

from widgets.bench import actions as do
from widgets.bench.handlers.measuring import SAME_PLACE_DEG
from widgets.bench.notes import DiscNote, GapNote
from widgets.bench.standing import under_blade_mm
from widgets.brake.judgement.rules import Reading
from widgets.instruments.written import bracket, disc_reading, gap_reading

from .log import GAP_WORK, Log, Step

AS_WRITTEN_MM = 0.0051  # mm, a stack written down is the stack that was tried, but for rounding
AS_SHOWN_MM = 0.051  # mm, a scale of a twentieth may be read a step off
BEYOND_LEAVES_MM = 1.95  # mm, wider than this no stack of a set tells more
VALUE_SHARE = 0.03  # of what meter or thermometer showed, that a note of it may be off; a choice
LEAVES_APART_DEG = 20.0  # two readings nearer than this are one place


class JudgedGap(NamedTuple):
    """A gap that was written down: reading, error against the truth then, how it came about.

    `z` is reading minus truth in standard uncertainties; `gauged` whether a leaf
    was put in there at all since the gap last changed; `supported` whether both
    stacks were felt as written; `step_mm` from the stack that goes to the one that
    will not; `given` a colleague's.
    """

    step: int
    reading: Reading
    go_mm: float
    step_mm: float
    z: float = 0.0
    gauged: bool = True
    supported: bool = True
    energised: bool = False
    dusty: bool = False
    forced: bool = False
    given: bool = False
    struck: bool = False


class JudgedDisc(NamedTuple):
    """A disc reading that was written down, its error, and whether an instrument showed it."""

    step: int
    reading: Reading
    tool: str
    z: float = 0.0
    gauged: bool = True
    supported: bool = True
    given: bool = False
    struck: bool = False


class JudgedValue(NamedTuple):
    """A reading of meter, release or lever that was written down: whether taken, whether so."""

    step: int
    what: str
    value: float
    gauged: bool = True
    given: bool = False
    supported: bool = True


class _Try(NamedTuple):
    """One stack pushed in at a place."""

    mm: float
    went: bool
    energised: bool
    dusty: bool
    forced: bool


_Judged = TypeVar("_Judged", JudgedGap, JudgedDisc)
_STEP = attrgetter("step")


def judged_gaps(log: Log) -> tuple[JudgedGap, ...]:
    """Return every gap reading that is in the notes, judged, in order."""
    found = [_given_gap(note) for note in log.start.gap_notes]
    line, tries, struck = len(found), dict[float, list[_Try]](), list[JudgedGap]()
    for step in log.did("gauge_gap", "write_gap", *GAP_WORK):
        action = step.action
        if isinstance(action, do.GaugeGap):
            tries.setdefault(action.angle_deg, []).append(_tried(action, step))
        elif isinstance(action, do.WriteGap):
            to = found if log.stands("gap", line, step.number) else struck
            to.append(_judge_gap(log, step, action, _there(tries, action.angle_deg)))
            line += 1
        else:
            tries.clear()
    return _with_struck(log, found, struck)


def judged_discs(log: Log) -> tuple[JudgedDisc, ...]:
    """Return every disc reading that is in the notes, judged, in order."""
    found = [_given_disc(note) for note in log.start.disc_notes]
    line, shown, struck = len(found), dict[float, list[tuple[str, float]]](), list[JudgedDisc]()
    for step in log.did("measure_disc", "write_disc", "fit_disc"):
        action = step.action
        if isinstance(action, do.MeasureDisc):
            mm = step.observation.facts["shown_mm"]
            shown.setdefault(action.angle_deg, []).append((action.tool, mm))
        elif isinstance(action, do.WriteDisc):
            to = found if log.stands("disc", line, step.number) else struck
            to.append(_judge_disc(step, action, _there(shown, action.angle_deg)))
            line += 1
        else:
            shown.clear()
    return _with_struck(log, found, struck)


def _with_struck(log: Log, found: list[_Judged], struck: Iterable[_Judged]) -> tuple[_Judged, ...]:
    """Return the readings that stand, and those struck that were taken and not taken again.

    A slip of the pen is supported by no instrument; whoever doubts a reading takes it again.
    """
    read = [one for one in struck if one.gauged and one.supported]
    kept = [one._replace(struck=True) for one in read
            if not any(_in_stead(log, other, one) for other in found)]  # fmt: skip
    return tuple(sorted(found + kept, key=_STEP)) if kept else tuple(found)


def _in_stead(log: Log, other: JudgedGap | JudgedDisc, one: JudgedGap | JudgedDisc) -> bool:
    near = apart_deg(other.reading.angle_deg, one.reading.angle_deg) <= SAME_PLACE_DEG
    same_part = (other.step < log.decided_at) == (one.step < log.decided_at)
    return near and same_part and other.step > one.step


_SHOWN_BY = {
    "coil_ohm": ("measure_coil", "resistance", "shown_ohm"),
    "coil_c": ("measure_coil", "", "coil_c"),
    "insulation_mohm": ("measure_coil", "insulation", "shown_mohm"),
    "voltage_v": ("measure_coil", "voltage", "shown_v"),
    "release_percent": ("find_release", "", "percent"),
    "lever_play_mm": ("work_lever", "", "play_mm"),
}


def judged_values(log: Log) -> tuple[JudgedValue, ...]:
    """Return every reading of meter, release or lever that is in the notes, in order."""
    given = log.start.value_notes
    found = [
        JudgedValue(-1, note.what, note.value, given=True) for note in given if not note.struck
    ]
    for line, step in enumerate(log.did("write_value"), start=len(given)):
        action = step.action
        if isinstance(action, do.WriteValue) and log.stands("value", line, step.number):
            shown = tuple(_shown_of(log, action.what, step.number))
            so = not shown or any(_as_shown(action.value, one) for one in shown)
            found.append(
                JudgedValue(
                    step.number, action.what, action.value, gauged=bool(shown), supported=so
                )
            )
    return tuple(found)


def _shown_of(log: Log, what: str, before: int) -> Iterator[float | None]:
    """Yield what was shown of a value before a step; None for over the scale."""
    kind, wanted, fact = _SHOWN_BY[what]
    kinds = (kind, "set_lever") if what == "lever_play_mm" else (kind,)
    for step in log.did(*kinds):
        seen = step.observation.facts
        if step.number < before and (not wanted or seen.get("what") == wanted):
            yield None if seen.get("over_scale") else seen.get(fact)


def _as_shown(value: float, shown: float | None) -> bool:
    """Return whether a value is what was shown, read to a whole unit or to a few hundredths."""
    if shown is None:
        return True
    return abs(value - shown) <= max(VALUE_SHARE * abs(shown), min(0.5, 0.5 * abs(shown)))


def _given_gap(note: GapNote) -> JudgedGap:
    reading = gap_reading(note.angle_deg, note.go_mm, note.no_go_mm)
    return JudgedGap(-1, reading, note.go_mm, note.no_go_mm - note.go_mm, given=True)


def _given_disc(note: DiscNote) -> JudgedDisc:
    reading = disc_reading(note.angle_deg, note.value_mm, note.tool)
    return JudgedDisc(-1, reading, note.tool, given=True)


def _tried(action: do.GaugeGap, step: Step) -> _Try:
    went = step.observation.facts["feel"] != "will-not-enter"
    live = step.before.released or step.before.energised
    forced = action.hand == "forced"
    return _Try(sum(action.leaves_mm), went, live, step.before.dust_mm > 0, forced)


_Thing = TypeVar("_Thing")


def _there(by_place: dict[float, list[_Thing]], angle_deg: float) -> list[_Thing]:
    """Return what was done at a place, or so near to it that it is the same."""
    if angle_deg in by_place and len(by_place) == 1:
        return by_place[angle_deg]
    return [
        one
        for place, things in by_place.items()
        if place == angle_deg or apart_deg(place, angle_deg) <= SAME_PLACE_DEG
        for one in things
    ]


def _judge_gap(log: Log, step: Step, note: do.WriteGap, tries: Sequence[_Try]) -> JudgedGap:
    reading = gap_reading(note.angle_deg, note.go_mm, note.no_go_mm)
    off_mm = _off_mm(log, step, note, reading)
    goes, stuck = _borne_out(note, tries)
    # Whoever felt both stacks again as they should be felt has made up for what went before.
    fair = [one for one in tries if not (one.energised or one.dusty or one.forced)]
    spoilt = () if all(_borne_out(note, fair)) else tries
    return JudgedGap(
        step.number,
        reading,
        note.go_mm,
        note.no_go_mm - note.go_mm,
        off_mm / reading.u_mm,
        gauged=bool(tries),
        supported=goes and stuck,
        energised=any(one.energised for one in spoilt),
        dusty=any(one.dusty for one in spoilt),
        forced=any(one.forced for one in spoilt),
    )


def _borne_out(note: do.WriteGap, tries: Sequence[_Try]) -> tuple[bool, bool]:
    """Return whether the stack that goes, and the one that will not, were felt as written."""
    goes = note.go_mm == 0 or any(
        one.went and abs(one.mm - note.go_mm) < AS_WRITTEN_MM for one in tries
    )
    stuck = note.go_mm >= BEYOND_LEAVES_MM or any(
        not one.went and abs(one.mm - note.no_go_mm) < AS_WRITTEN_MM for one in tries
    )
    return goes, stuck


def _off_mm(log: Log, step: Step, note: do.WriteGap, reading: Reading) -> float:
    """Return how far a gap reading lies from what a straight leaf meets at that place then, mm.

    A leaf rides on what is narrowest under its width, and films lie between leaves: anything
    from there, less the films, to the gap at its middle is a good reading.
    """
    if not step.before.body_on:
        return reading.value_mm
    middle_mm, edge_mm = under_blade_mm(log.setup, step.before, note.angle_deg)
    if note.go_mm >= BEYOND_LEAVES_MM and middle_mm >= note.go_mm:
        return 0.0
    read = bracket(note.go_mm, note.no_go_mm)
    low_mm = min(edge_mm, middle_mm) - (read.estimate_mm - read.middle_mm)
    return reading.value_mm - min(max(reading.value_mm, low_mm), middle_mm)


def _judge_disc(step: Step, note: do.WriteDisc, shown: Sequence[tuple[str, float]]) -> JudgedDisc:
    reading = disc_reading(note.angle_deg, note.value_mm, note.tool)
    truth_mm = step.before.brake.disc.at_mm(note.angle_deg, step.before.shaft_deg)
    return JudgedDisc(
        step.number,
        reading,
        note.tool,
        (note.value_mm - truth_mm) / reading.u_mm,
        gauged=bool(shown),
        supported=any(
            tool == note.tool and abs(mm - note.value_mm) < AS_SHOWN_MM for tool, mm in shown
        ),
    )


def apart_deg(first_deg: float, second_deg: float) -> float:
    """Return the angle between two places round the rim, degrees, 0 to 180."""
    return abs((first_deg - second_deg + 180) % 360 - 180)


def latest(judged: Iterable[_Judged]) -> tuple[_Judged, ...]:
    """Return the last reading at each place, in the order of the places' first readings."""
    by_place = {round(one.reading.angle_deg % 360): one for one in judged}
    return tuple(by_place.values())


def places_apart(
    judged: Sequence[JudgedGap | JudgedDisc], least_deg: float = LEAVES_APART_DEG
) -> int:
    """Return how many places lie at least `least_deg` from each other, degrees."""
    chosen: list[float] = []
    for angle in sorted([one.reading.angle_deg % 360 for one in judged]):
        # In order round the rim, only the last one chosen and the first can be too near.
        apart = [apart_deg(angle, other) for other in (*chosen[-1:], *chosen[:1])]
        if min(apart, default=360.0) >= least_deg:
            chosen.append(angle)
    return len(chosen)

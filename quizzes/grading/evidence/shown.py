"""What instruments showed, written down or not: evidence all the same.

A reading that is in the notes counts as it is written where leaves or caliper bear it out.
Where they told something else, or told it and nobody wrote it, what they told counts.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import fmean
from typing import NamedTuple

from widgets.bench import actions as do
from widgets.bench.handlers.measuring import SAME_PLACE_DEG
from widgets.brake.judgement.rules import Reading
from widgets.instruments.written import disc_reading, gap_reading

from .log import Log, Step
from .readings import JudgedDisc, JudgedGap, apart_deg

BRACKET_MM = 0.0601  # mm, a stack that goes and one a leaf of a twentieth thicker that will not
BEYOND_STEP_MM = 0.01  # mm, what is added to a stack that went in where none was ever stopped
CHANGED_U = 3.0  # standard uncertainties from which a later round says something else


class Shown(NamedTuple):
    """What an instrument told at a place: reading, step that told it, where the shaft stood.

    `thickest_mm` is the thickest stack that went in there without force; 0 of a disc.
    """

    reading: Reading
    step: int
    shaft_deg: float = 0.0
    thickest_mm: float = 0.0


@dataclass(slots=True)
class _Felt:
    """What leaves have told at one place so far."""

    go_mm: float | None = None
    no_go_mm: float | None = None
    bracket: tuple[float, float] | None = None
    step: int = -1
    thickest_mm: float = 0.0
    shaft_deg: float = 0.0

    def try_of(self, mm: float, *, went: bool, step: int) -> None:
        """Take one more try with a stack; the later counts where two contradict each other."""
        if went:
            self.go_mm = mm if self.go_mm is None else max(self.go_mm, mm)
            self.thickest_mm = max(self.thickest_mm, mm)
            if self.no_go_mm is not None and self.no_go_mm <= mm:
                self.no_go_mm = None
        else:
            self.no_go_mm = mm if self.no_go_mm is None else min(self.no_go_mm, mm)
            if self.go_mm is not None and self.go_mm >= mm:
                self.go_mm = None
        known = self.go_mm is not None and self.no_go_mm is not None
        if known and self.no_go_mm - self.go_mm <= BRACKET_MM:  # type: ignore[operator]
            self.bracket, self.step = (self.go_mm, self.no_go_mm), step  # type: ignore[assignment]


def felt_gaps(log: Log, since: int, until: int, largest_mm: float) -> tuple[Shown, ...]:
    """Return what leaves told of the gap at each place between two steps, coil off, dust gone.

    Where no stack was stopped, one thicker than `largest_mm` that went in tells enough.
    """
    places: dict[float, _Felt] = {}
    for step in log.did("gauge_gap"):
        action = step.action
        if not since < step.number < until or not isinstance(action, do.GaugeGap):
            continue
        if _spoilt(step, action):
            continue
        went = step.observation.facts["feel"] != "will-not-enter"
        place = _place(places, action.angle_deg)
        felt = places.get(place)
        if felt is None or felt.shaft_deg != step.before.shaft_deg:
            felt = places[place] = _Felt(shaft_deg=step.before.shaft_deg)
        felt.try_of(round(sum(action.leaves_mm), 3), went=went, step=step.number)
    return tuple(_told(places, largest_mm))


def _spoilt(step: Step, action: do.GaugeGap) -> bool:
    before = step.before
    return before.released or before.energised or before.dust_mm > 0 or action.hand == "forced"


def _place(places: Mapping[float, _Felt], angle_deg: float) -> float:
    # No two places are as near to each other as that: one that is there already is its own.
    if angle_deg in places:
        return angle_deg
    for place in places:
        if apart_deg(place, angle_deg) <= SAME_PLACE_DEG:
            return place
    return angle_deg


def _told(places: dict[float, _Felt], largest_mm: float) -> Iterator[Shown]:
    for angle_deg, felt in places.items():
        if felt.bracket:
            reading = gap_reading(angle_deg, *felt.bracket)
            if felt.thickest_mm - felt.bracket[1] > CHANGED_U * reading.u_mm:
                reading = gap_reading(
                    angle_deg, felt.thickest_mm, round(felt.thickest_mm + BEYOND_STEP_MM, 3)
                )
            yield Shown(reading, felt.step, felt.shaft_deg, felt.thickest_mm)
        elif felt.no_go_mm is None and felt.thickest_mm > largest_mm:
            thicker_mm = round(felt.thickest_mm + BEYOND_STEP_MM, 3)
            reading = gap_reading(angle_deg, felt.thickest_mm, thicker_mm)
            yield Shown(reading, felt.step, felt.shaft_deg, felt.thickest_mm)


def shown_discs(log: Log, until: int) -> tuple[Shown, ...]:
    """Return every reading that a caliper showed of the disc as found, before a step."""
    fitted = log.did("fit_disc")
    until = min(until, fitted[0].number) if fitted else until
    return tuple(
        Shown(
            disc_reading(step.action.angle_deg, step.observation.facts["shown_mm"]),
            step.number,
            step.before.shaft_deg,
        )
        for step in log.did("measure_disc")
        if step.number < until
        and isinstance(step.action, do.MeasureDisc)
        and step.action.tool == "caliper"
    )


def gaps_in_evidence(written: Sequence[JudgedGap], felt: Sequence[Shown]) -> tuple[Reading, ...]:
    """Return one reading a place: as written where leaves bear it out, else as they told it."""
    readings, left = [], list(felt)
    for one in written:
        there = next((told for told in left if _near(told.reading, one.reading)), None)
        if there is not None:
            left.remove(there)
        readings.append(_gap_that_counts(one, there))
    return (*readings, *(told.reading for told in left))


def _gap_that_counts(one: JudgedGap, told: Shown | None) -> Reading:
    if told is None or one.forced or one.energised or one.dusty:
        return one.reading
    off = abs(told.reading.value_mm - one.reading.value_mm) / max(told.reading.u_mm, 1e-6)
    # A stack that went in without force has proved the gap, however often one was stopped since.
    no_go_mm = one.go_mm + one.step_mm
    wider = told.thickest_mm - no_go_mm > CHANGED_U * one.reading.u_mm
    if one.supported and not wider and not (told.step > one.step and off > CHANGED_U):
        return one.reading
    return told.reading


def discs_in_evidence(written: Sequence[JudgedDisc], shown: Sequence[Shown]) -> tuple[Reading, ...]:
    """Return one reading a place: what the caliper showed there, nearest to what was written.

    A place is one of the disc: it turns with the rotor, so a thin side that was turned away from
    where it was read has been read all the same.
    """
    readings, places = [], list[float]()
    for one in written:
        nearest = _nearest(one, shown)
        readings.append(_disc_that_counts(one, nearest, shown))
        places.append(one.reading.angle_deg if nearest is None else _of_the_disc(nearest))
    unwritten: dict[float, Reading] = {}
    for told in shown:
        at = _of_the_disc(told)
        if not any(apart_deg(at, place) <= SAME_PLACE_DEG for place in places):
            unwritten[round(at % 360)] = told.reading
    return (*readings, *unwritten.values())


def _of_the_disc(told: Shown) -> float:
    """Return the place of the disc itself that was read, degrees."""
    return told.reading.angle_deg - told.shaft_deg


def _nearest(one: JudgedDisc, shown: Sequence[Shown]) -> Shown | None:
    """Return what the caliper showed at a place nearest to what was written; None of nothing."""
    there = (told for told in shown if _near(told.reading, one.reading))
    return min(
        there,
        key=lambda told: abs(told.reading.value_mm - one.reading.value_mm),
        default=None,
    )


def _disc_that_counts(one: JudgedDisc, nearest: Shown | None, shown: Sequence[Shown]) -> Reading:
    if nearest is None or one.tool == "rule":
        return one.reading
    # Of what was shown there again and again nobody picks the best: the mean counts. Whoever reads
    # a second time and writes that down has picked nothing.
    alike = [
        told
        for told in shown
        if told.shaft_deg == nearest.shaft_deg and _near(told.reading, one.reading)
    ]
    if len(alike) == 1 or (len(alike) == 2 and nearest is alike[-1]):
        return nearest.reading
    return replace(nearest.reading, value_mm=fmean(told.reading.value_mm for told in alike))


def _near(one: Reading, other: Reading) -> bool:
    return apart_deg(one.angle_deg, other.angle_deg) <= SAME_PLACE_DEG

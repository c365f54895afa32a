"""One whole job as a story: a careful candidate works a brake, and each chapter tells its part."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby
from typing import Any

from quizzes.candidates.worker import CAREFUL, work
from quizzes.desks.explorers.worked import Lines
from quizzes.sittings.in_force import sheet_in_force
from widgets.bench.session import Event, Session
from widgets.bench.setup import Start
from widgets.bench.words import said
from widgets.brake.judgement.rules import Reading
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.feeler import GapReading

from .lesson_runs import staged

CHAPTERS = ("making safe", "opening", "measuring", "deciding", "setting", "proving")
# The first act of each chapter after the first. A chapter ends where the next one begins.
_BEGINS: Mapping[str, tuple[str, ...]] = {
    "opening": ("remove_cover",),
    "measuring": ("try_lock", "gauge_gap"),
    "deciding": ("decide",),
    "setting": ("loosen_lock",),
    "proving": ("refit_seal",),
}
_NOTHING = "Nothing out of the ordinary there."


@dataclass(frozen=True, slots=True)
class Story:
    """What a careful person did at a brake, and what was read as found and as left.

    Attributes
    ----------
    events : sequence of Event
        The log of the job.
    found, left : tuple of Reading
        What was written of the gap before a screw was touched, and after the last one was tight.
    """

    events: Sequence[Event]
    found: tuple[Reading, ...]
    left: tuple[Reading, ...]

    def chapter(self, name: str) -> Lines:
        """Return a chapter's sentences.

        Raises
        ------
        ValueError
            If there is no such chapter.
        """
        if name not in CHAPTERS:
            raise ValueError(f"name must be one of {', '.join(CHAPTERS)}, got {name!r:.40}")
        parts = _parted(self.events)
        return Lines(tuple(_told(parts[name])))


@lru_cache(maxsize=8)
def whole_job(size: BrakeSize) -> Story:
    """Return the job of a brake whose gap is too large, from the work order to the record."""
    case = staged(size, "gap-too-large", start=Start.WORK_ORDER)
    session = Session(case.setup())
    work(session.act, sheet_in_force().sheet, CAREFUL, case.order)
    parts = _parted(session.events)
    return Story(tuple(session.events), _gaps(parts["measuring"]), _gaps(parts["setting"]))


def _gaps(events: Sequence[Event]) -> tuple[Reading, ...]:
    written = [event.action for event in events if event.action["kind"] == "write_gap"]
    brackets = [
        (float(note["angle_deg"]), GapReading(float(note["go_mm"]), float(note["no_go_mm"]), 2))
        for note in written
    ]
    return tuple(Reading(at, one.middle_mm, one.uncertainty_mm) for at, one in brackets)


def _parted(events: Sequence[Event]) -> dict[str, list[Event]]:
    parts: dict[str, list[Event]] = {name: [] for name in CHAPTERS}
    place = 0
    for event in events:
        for later in range(place + 1, len(CHAPTERS)):
            if event.action["kind"] in _BEGINS[CHAPTERS[later]]:
                place = later
                break
        parts[CHAPTERS[place]].append(event)
    return parts


def _kind(event: Event) -> str:
    kind = str(event.action["kind"])
    return "gap" if kind in {"gauge_gap", "write_gap"} else kind


def _told(events: Sequence[Event]) -> Iterator[str]:
    """Yield one sentence for each act, and one for a whole round of leaves."""
    for kind, group in groupby(events, key=_kind):
        acts = list(group)
        if kind == "gap":
            yield _round_told(acts)
            continue
        words = [said(act.observation) for act in acts]
        yield from (one for one in dict.fromkeys(words) if one != _NOTHING)


def _round_told(acts: Sequence[Event]) -> str:
    tries = sum(act.action["kind"] == "gauge_gap" for act in acts)
    notes: list[Mapping[str, Any]] = [a.action for a in acts if a.action["kind"] == "write_gap"]
    if not notes:
        return f"The leaves are tried {tries} times."
    least, most = (pick(float(note["go_mm"]) for note in notes) for pick in (min, max))
    return (
        f"Gauged at {len(notes)} places, {tries} tries with the leaves: from {least:.2f} to "
        f"{most:.2f} mm go in. Each place is written down at once."
    )

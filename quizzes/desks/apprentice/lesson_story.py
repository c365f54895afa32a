"""One whole job as a story: a careful candidate works a brake, and each chapter tells its part."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from quizzes.candidates.worker import CAREFUL, work
from quizzes.desks.explorers.numbers import Numbers, numbers
from quizzes.desks.explorers.story import Log, told
from quizzes.desks.explorers.worked import Prose
from quizzes.sittings.in_force import sheet_in_force
from widgets.bench.session import Event, Session
from widgets.bench.setup import Start
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


@dataclass(frozen=True, slots=True)
class Story:
    """What a careful person did at a brake, and what was read as found and as left.

    Attributes
    ----------
    size : BrakeSize
        The brake's size.
    events : sequence of Event
        The log of the job.
    found, left : tuple of Reading
        What was written of the gap before a screw was touched, and after the last one was tight.
    """

    size: BrakeSize
    events: Sequence[Event]
    found: tuple[Reading, ...]
    left: tuple[Reading, ...]

    def chapter(self, name: str) -> Prose:
        """Return what is told in a chapter.

        Raises
        ------
        ValueError
            If there is no such chapter.
        """
        if name not in CHAPTERS:
            raise ValueError(f"name must be one of {', '.join(CHAPTERS)}, got {name!r:.40}")
        return Prose(told(name, _parted(self.events)[name], self.size))

    @property
    def disc_mm(self) -> float:
        """The thinnest place of the disc that was written down, mm."""
        return min(float(one.action["value_mm"]) for one in Log(self.events).of("write_disc"))

    def record(self) -> Numbers:
        """Return the record of the job, line by line, with the limits of the sheet beside it."""
        log, gap = Log(self.events), self.size.gap
        held, signed = log.facts("test_hold"), log.facts("hand_over")
        release = log.facts("find_release")
        return numbers(
            ("record", self.size.name, "the sheet says"),
            ("gap as found, mm", _from_to(self.found), f"at most {gap.max_mm:g}"),
            ("thinnest disc, mm", f"{self.disc_mm:.2f}", f"at least {self.size.disc.min_mm:g}"),
            ("decision", str(log.of("decide")[0].action["outcome"]), ""),
            ("gap as left, mm", _from_to(self.left), f"set {gap.setting_mm:g}"),
            ("pulls in cold, of rated", f"{release.get('percent', 0):g} %", ""),
            ("test load, times rated", f"{held.get('load_share', 0):g}", "as ordered"),
            ("next inspection, days", f"{signed['next_days']}", "or sooner"),
        )


def _from_to(readings: Sequence[Reading]) -> str:
    values = [one.value_mm for one in readings]
    return f"{min(values):.3f} to {max(values):.3f}"


@lru_cache(maxsize=8)
def whole_job(size: BrakeSize) -> Story:
    """Return the job of a brake whose gap is too large, from the work order to the record."""
    case = staged(size, "gap-too-large", start=Start.WORK_ORDER)
    session = Session(case.setup())
    work(session.act, sheet_in_force().sheet, CAREFUL, case.order)
    parts = _parted(session.events)
    return Story(size, tuple(session.events), _gaps(parts["measuring"]), _gaps(parts["setting"]))


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

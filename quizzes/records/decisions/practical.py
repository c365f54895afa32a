"""An observed practical on a real brake: what an observer saw, element by element, and readings."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

from quizzes.analysis.quality.observers import Agreement
from quizzes.grading.words import TITLES
from quizzes.records.checks import plain_text
from quizzes.records.decisions.pseudonyms import pseudonym
from widgets.brake.judgement.rules import Conclusion, Reading, conclude
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.feeler.gap_reading import GapReading

NOTE_LIMIT = 300  # characters
MOST_READINGS = 24
MOST_PHOTOGRAPHS = 12
# What may not be missed at a real hoist; a choice of this scheme.
CRITICAL = ("S1", "S2", "S3", "A2", "A3", "T1", "T2")
DISC_U_MM = 0.03  # mm, standard uncertainty of a caliper in practised hands; common practice


class Seen(StrEnum):
    """What an observer saw of an element."""

    SHOWN = "shown"
    NOT_SHOWN = "not shown"
    NOT_ASKED = "not asked"


@dataclass(frozen=True, slots=True)
class Photo:
    """A photograph that was handed in: its digest, by which it is found, and what it is."""

    sha256: str
    media_type: str
    name: str


@dataclass(frozen=True, slots=True)
class Practical:
    """One observer's sheet of one practical.

    Parameters
    ----------
    size_name : str
        Size of the brake, a row of the sitting's limits sheet.
    hoist : str
        Which hoist, where.
    instruments : str
        Instruments used, with calibration.
    seen : mapping
        `Seen` of each element of `TITLES`; what is left out was not asked.
    notes : str
        What the observer noted, up to 300 characters; may be empty.
    gaps : tuple of (angle, go, no-go)
        Degrees; mm, mm: the thickest stack that went in and the thinnest that did not.
    discs : tuple of (angle, value)
        Degrees; mm over both linings.
    photographs : tuple of Photo
        As handed in.
    person_id : str
        The observer.
    role : str
        In what role.
    second_wanted : bool
        Whether a second observer is to keep a sheet without seeing this one.

    Raises
    ------
    ValueError
        If one of these cannot be, or nothing was asked.
    """

    size_name: str
    hoist: str
    instruments: str
    seen: Mapping[str, Seen]
    notes: str
    gaps: tuple[tuple[float, float, float], ...]
    discs: tuple[tuple[float, float], ...]
    person_id: str
    role: str
    photographs: tuple[Photo, ...] = field(default=())
    second_wanted: bool = False

    def __post_init__(self) -> None:
        for name in ("size_name", "hoist", "instruments", "role"):
            object.__setattr__(self, name, plain_text(name.replace("_", " "), getattr(self, name)))
        if self.notes.strip():
            object.__setattr__(self, "notes", plain_text("notes", self.notes, NOTE_LIMIT))
        unknown = [name for name in self.seen if name not in TITLES]
        if unknown:
            raise ValueError(f"there is no element {unknown[0]!r:.20}")
        asked = {name: Seen(one) for name, one in self.seen.items() if one != Seen.NOT_ASKED}
        if not asked:
            raise ValueError("mark at least one element as shown or not shown")
        object.__setattr__(self, "seen", asked)
        object.__setattr__(self, "person_id", pseudonym(self.person_id))
        if max(len(self.gaps), len(self.discs)) > MOST_READINGS:
            raise ValueError(f"at most {MOST_READINGS} readings of a kind")
        if len(self.photographs) > MOST_PHOTOGRAPHS:
            raise ValueError(f"at most {MOST_PHOTOGRAPHS} photographs")
        self._readings()

    def _readings(self) -> tuple[list[Reading], list[Reading]]:
        gaps = [(angle, GapReading(go, no_go)) for angle, go, no_go in self.gaps]
        return (
            [Reading(angle, one.estimate_mm, one.uncertainty_mm) for angle, one in gaps],
            [Reading(angle, value, DISC_U_MM) for angle, value in self.discs],
        )

    def concluded(self, size: BrakeSize) -> Conclusion:
        """Return what these readings ask for, by the rules that hold everywhere."""
        return conclude(size, *self._readings())

    @property
    def missed(self) -> tuple[str, ...]:
        """Elements that were not shown, and critical ones that nobody asked for."""
        return tuple(
            name
            for name in TITLES
            if self.seen.get(name) is Seen.NOT_SHOWN or (name in CRITICAL and name not in self.seen)
        )

    def body(self) -> dict[str, Any]:
        """Return what the ledger keeps."""
        return {
            "size": self.size_name,
            "hoist": self.hoist,
            "instruments": self.instruments,
            "seen": {name: one.value for name, one in self.seen.items()},
            "notes": self.notes,
            "gaps": [list(one) for one in self.gaps],
            "discs": [list(one) for one in self.discs],
            "photographs": [[one.sha256, one.media_type, one.name] for one in self.photographs],
            "person": self.person_id,
            "role": self.role,
            "second_wanted": self.second_wanted,
        }


def practical_of(body: Mapping[str, Any]) -> Practical:
    """Return the sheet that an entry states; `KeyError`, `TypeError`, `ValueError` if none."""
    return Practical(
        body["size"],
        body["hoist"],
        body["instruments"],
        body["seen"],
        body["notes"],
        tuple((float(a), float(go), float(no_go)) for a, go, no_go in body["gaps"]),
        tuple((float(a), float(value)) for a, value in body["discs"]),
        body["person"],
        body["role"],
        tuple(Photo(*one) for one in body["photographs"]),
        body.get("second_wanted") is True,
    )


def typed_gaps(text: str) -> tuple[tuple[float, float, float], ...]:
    """Return gap readings as typed, a line each: angle, thickest that goes, thinnest that does not.

    Examples
    --------
    >>> typed_gaps("0 0.35 0.40")
    ((0.0, 0.35, 0.4),)
    """
    return tuple((a, go, no_go) for a, go, no_go in _numbers("Gap", text, 3))


def typed_discs(text: str) -> tuple[tuple[float, float], ...]:
    """Return disc readings as typed, a line each: angle, thickness over both linings."""
    return tuple((a, value) for a, value in _numbers("Disc", text, 2))


def _numbers(what: str, text: str, count: int) -> list[list[float]]:
    found = []
    for number, line in enumerate(text.splitlines(), start=1):
        if not line.strip():
            continue
        try:
            values = [float(word.replace(",", ".")) for word in line.split()]
        except ValueError:
            values = []
        if len(values) != count:
            raise ValueError(
                f"{what} readings, line {number}: expected {count} numbers, got {line!r:.60}"
            )
        if not 0 <= values[0] <= 360:
            raise ValueError(
                f"{what} readings, line {number}: an angle is 0 to 360°, got {values[0]:g}"
            )
        found.append(values)
    return found


def agreement(first: Practical, second: Practical) -> Agreement:
    """Return how two observers agree on the elements that both of them marked."""
    pairs = [(first.seen[name], second.seen[name]) for name in first.seen if name in second.seen]
    yes, no = Seen.SHOWN, Seen.NOT_SHOWN
    return Agreement(
        pairs.count((yes, yes)),
        pairs.count((no, no)),
        pairs.count((yes, no)),
        pairs.count((no, yes)),
    )

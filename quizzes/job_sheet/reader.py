"""Reads what a technician typed on the job sheet, or refuses it field by field in sentences."""

import datetime as dt
import re
from collections.abc import Mapping
from dataclasses import dataclass

from widgets.brake.sizes.sheet import LimitsSheet
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.caliper import SCALE_ERROR_MM
from widgets.instruments.feeler.gap_reading import GapReading

from .entry import (
    COARSEST_MM,
    COUNTER,
    FEWEST_PLACES,
    LONGEST_TEXT,
    MOST_HISTORY,
    MOST_PLACES,
    NO_WORK,
    PER_DAY,
    THICKEST_MM,
    WIDEST_MM,
    WORKS,
    DiscPlace,
    EntryError,
    JobEntry,
    PastVisit,
    Place,
    Trouble,
)


@dataclass(frozen=True, slots=True)
class Span:
    """What a number may be: least and largest, with their unit for the sentence."""

    low: float
    high: float
    unit: str = ""

    @property
    def wanted(self) -> str:
        """What is expected, in words."""
        tail = f" {self.unit}" if self.unit else ""
        return f"expected a number from {self.low:g} to {self.high:g}{tail}"


_ANGLE, _GO = Span(0, 360, "degrees"), Span(0, WIDEST_MM, "mm")
_NO_GO, _OLD_GAP = Span(0, WIDEST_MM + COARSEST_MM, "mm"), Span(0.01, WIDEST_MM, "mm")
_DISC, _COUNT = Span(0.1, THICKEST_MM, "mm"), Span(0, 1e9, "starts")
_NUMBER = re.compile(r"[-+]?\d{0,12}(\.\d{0,12})?")


def read_entry(content: Mapping[str, object], sheet: LimitsSheet, today: dt.date) -> JobEntry:
    """Return the sheet that a message holds.

    Parameters
    ----------
    content : mapping
        `fields` (name to text) and `rows` (name to list of lists of text), as
        the page sends them; anything else counts as not filled in.
    sheet : LimitsSheet
        For the size.
    today : date
        No reading is later.

    Raises
    ------
    EntryError
        If a field cannot be; it holds one sentence a field, with what was
        expected there.
    """
    return _Reader(content).entry(sheet, today)


class _Reader:
    """Reads field after field and gathers what cannot be, instead of stopping at the first."""

    def __init__(self, content: Mapping[str, object]) -> None:
        fields, rows = content.get("fields"), content.get("rows")
        self._fields = fields if isinstance(fields, Mapping) else {}
        self._rows = rows if isinstance(rows, Mapping) else {}
        self._troubles: list[Trouble] = []

    def entry(self, sheet: LimitsSheet, today: dt.date) -> JobEntry:
        on = self._date("on", "Date of the readings", self._text("on"), today)
        size = self._size(sheet)
        first = self._places("gap", "Gap reading", needed=True)
        turned = self._places("turned", "Gap reading after half a turn", needed=False)
        discs = self._discs()
        texts = {name: self._text(name)[:most] for name, most in LONGEST_TEXT.items()}
        error_mm = self._optional("caliper_error", "Caliper, declared error", Span(0.005, 1, "mm"))
        history = self._history(on or today)
        counter = self._optional("duty_now", "Counter now", _COUNT)
        ahead = self._optional(
            "stops_ahead", "Stops per day from now on", Span(0.01, 20_000, "stops")
        )
        days = self._optional("code_days", "Code interval", Span(1, 3660, "days"))
        if self._troubles or size is None or on is None:
            raise EntryError(tuple(self._troubles))
        return JobEntry(
            size=size,
            on=on,
            texts=texts,
            first=first,
            turned=turned,
            discs=discs,
            caliper_error_mm=SCALE_ERROR_MM if error_mm is None else error_mm,
            history=history,
            work_since=self._work(self._text("work_since")),
            duty_kind=COUNTER if self._text("duty_kind") == COUNTER else PER_DAY,
            duty_now=counter,
            stops_ahead=ahead,
            code_days=None if days is None else int(days),
        )

    def _refuse(self, field: str, words: str) -> None:
        self._troubles.append(Trouble(field, words))

    def _text(self, name: str) -> str:
        return _clean(self._fields.get(name))

    def _row_texts(self, name: str, width: int, most: int) -> list[tuple[int, list[str]]]:
        """Return the rows of a group as (index, texts), each `width` long; at most `most`."""
        rows = self._rows.get(name)
        found = []
        for index, row in enumerate(rows[:most] if isinstance(rows, list) else []):
            texts = [_clean(cell) for cell in row[:width]] if isinstance(row, list) else []
            found.append((index, texts + [""] * (width - len(texts))))
        return found

    def _number(self, field: str, label: str, text: str, span: Span) -> float | None:
        plain = text.replace(",", ".").replace("−", "-")
        if not text:
            self._refuse(field, f"{label}: {span.wanted}, and nothing is there.")
        elif not _NUMBER.fullmatch(plain) or not re.search(r"\d", plain):
            self._refuse(field, f"{label}: {span.wanted}, got “{text[:30]}”.")
        elif not span.low <= float(plain) <= span.high:
            self._refuse(field, f"{label}: {span.wanted}, got {text[:30]}.")
        else:
            return float(plain)
        return None

    def _optional(self, field: str, label: str, span: Span) -> float | None:
        text = self._text(field)
        return self._number(field, label, text, span) if text else None

    def _date(self, field: str, label: str, text: str, latest: dt.date) -> dt.date | None:
        wanted = f"expected a date from 1970-01-01 to {latest.isoformat()}, as year-month-day"
        found = _day_of(text)
        if found is None:
            got = f"got “{text[:20]}”" if text else "and nothing is there"
            self._refuse(field, f"{label}: {wanted}, {got}.")
            return None
        if not dt.date(1970, 1, 1) <= found <= latest:
            self._refuse(field, f"{label}: {wanted}, got {text}.")
            return None
        return found

    def _size(self, sheet: LimitsSheet) -> BrakeSize | None:
        name = self._text("size")
        for size in sheet.sizes:
            if size.name == name:
                return size
        wanted = "expected one of the limits sheet. Read the plate, and choose"
        self._refuse("size", f"Size of brake: {wanted}.")
        return None

    def _places(self, group: str, label: str, *, needed: bool) -> tuple[Place, ...]:
        places = [
            self._place(f"{group}.{index}", f"{label} {index + 1}", texts)
            for index, texts in self._row_texts(group, 4, MOST_PLACES)
            if texts[1] or texts[2]
        ]
        good = tuple(place for place in places if place)
        if len(good) == len(places) and (needed or good) and _different(good) < FEWEST_PLACES:
            self._refuse(
                f"{group}.0.1",
                f"{label}s: expected {FEWEST_PLACES} to {MOST_PLACES} different places round the "
                f"rim, got {_different(good)}. Three fix a plane; eight show a warp.",
            )
        return good

    def _place(self, at: str, label: str, texts: list[str]) -> Place | None:
        angle, go, no_go, leaves = texts
        angle_deg = self._number(f"{at}.0", f"{label}, angle", angle, _ANGLE)
        go_mm = self._number(f"{at}.1", f"{label}, go", go, _GO)
        no_go_mm = self._number(f"{at}.2", f"{label}, no-go", no_go, _NO_GO)
        count = int(leaves) if leaves in {"1", "2", "3"} else 1
        if angle_deg is None or go_mm is None or no_go_mm is None:
            return None
        # A thousandth of a micrometre for numbers that binary cannot hold.
        if not go_mm < no_go_mm <= go_mm + COARSEST_MM + 1e-9:
            self._refuse(
                f"{at}.2",
                f"{label}, no-go: expected more than go ({go_mm:g} mm), by {COARSEST_MM:g} mm at "
                f"most, got {no_go_mm:g} mm. The gap lies between the two.",
            )
            return None
        return Place(angle_deg % 360.0, GapReading(go_mm, no_go_mm, count))

    def _discs(self) -> tuple[DiscPlace, ...]:
        places, tried = [], 0
        for index, (angle, value) in self._row_texts("disc", 2, MOST_PLACES):
            if not value:
                continue
            tried += 1
            label = f"Disc reading {index + 1}"
            angle_deg = self._number(f"disc.{index}.0", f"{label}, angle", angle, _ANGLE)
            value_mm = self._number(f"disc.{index}.1", label, value, _DISC)
            if angle_deg is not None and value_mm is not None:
                places.append(DiscPlace(angle_deg % 360.0, value_mm))
        if not tried:
            self._refuse(
                "disc.0.1",
                f"Disc readings: expected 1 to {MOST_PLACES} places, and nothing is there. A gap "
                "alone does not say whether the disc is finished.",
            )
        return tuple(places)

    def _history(self, latest: dt.date) -> tuple[PastVisit, ...]:
        visits = []
        for index, row in self._row_texts("history", 5, MOST_HISTORY):
            if any(row[:3]) or row[4]:
                visits.append(self._visit(index, row, latest))
        return tuple(sorted((visit for visit in visits if visit), key=lambda visit: visit.on))

    def _visit(self, index: int, row: list[str], latest: dt.date) -> PastVisit | None:
        at, label = f"history.{index}", f"History row {index + 1}"
        on = self._date(f"{at}.0", f"{label}, date", row[0], latest)
        gap_mm = self._number(f"{at}.1", f"{label}, gap", row[1], _OLD_GAP)
        disc_mm = self._number(f"{at}.2", f"{label}, disc", row[2], _DISC) if row[2] else None
        work, duty_label = self._work(row[3]), f"{label}, stops or counter"
        duty = self._number(f"{at}.4", duty_label, row[4], _COUNT) if row[4] else None
        if on is None or gap_mm is None:
            return None
        return PastVisit(on, gap_mm, disc_mm, work, duty)

    @staticmethod
    def _work(text: str) -> str:
        return text if text in WORKS else NO_WORK


def _day_of(text: str) -> dt.date | None:
    if not re.fullmatch(r"\d{4}-\d\d-\d\d", text):
        return None
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        return None


def _different(places: tuple[Place, ...]) -> int:
    return len({round(place.angle_deg, 6) for place in places})


def _clean(value: object) -> str:
    """Return a text without what cannot be typed; an empty one for anything that is no text."""
    if not isinstance(value, str):
        return ""
    printable = "".join(sign for sign in value if sign == "\n" or sign.isprintable())
    return printable.encode("utf-8", "ignore").decode().strip()

"""Reads what a technician typed on the job sheet, or refuses it field by field in sentences."""

import datetime as dt
from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel, ValidationError

from widgets.brake.sizes.readable import Fault, faults_of
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.caliper import SCALE_ERROR_MM
from widgets.instruments.feeler.gap_reading import GapReading

from .entry import (
    LONGEST_TEXT,
    MOST_HISTORY,
    MOST_PLACES,
    DiscPlace,
    EntryError,
    JobEntry,
    PastVisit,
    Place,
    Trouble,
)
from .own_limits import OWN, own_size
from .typed import ROWS, GapRow, TypedSheet, date_of

_LONGEST_SHOWN = 30


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
    fields = _mapping(content.get("fields"))
    table = _table(fields, _mapping(content.get("rows")))
    own, wrong = _own(fields) if table["size"] == OWN else (None, ())
    if own is not None:
        sheet = LimitsSheet(sheet.title, sheet.invented, (own,))
        table["size"] = own.name
    context = {
        "sizes": [OWN] if wrong else [size.name for size in sheet.sizes],
        "today": today,
        "on": date_of(table["on"], today) or today,
    }
    try:
        typed = TypedSheet.model_validate(table, context=context)
    except ValidationError as error:
        more = tuple(_trouble(fault, table) for fault in faults_of(error))
        raise EntryError((*wrong, *more)) from None
    if wrong:
        raise EntryError(wrong)
    texts = {name: _clean(fields.get(name))[:most] for name, most in LONGEST_TEXT.items()}
    return _entry(typed, sheet, texts, limits_typed=own is not None)


def _own(fields: Mapping[str, object]) -> tuple[BrakeSize | None, tuple[Trouble, ...]]:
    """Return the size whose limits were typed, or what is wrong with them."""
    try:
        return own_size({name: _clean(value) for name, value in fields.items()}), ()
    except EntryError as error:
        return None, error.troubles


def _entry(
    typed: TypedSheet, sheet: LimitsSheet, texts: Mapping[str, str], *, limits_typed: bool
) -> JobEntry:
    visits = (
        PastVisit(row.visited_on, row.gap_mm, row.disc_mm, row.work, row.duty)
        for row in typed.history.values()
    )
    error_mm, days = typed.caliper_error, typed.code_days
    return JobEntry(
        size=sheet.size(typed.size),
        on=typed.on,
        texts=texts,
        first=_places(typed.gap),
        turned=_places(typed.turned),
        discs=tuple(DiscPlace(row.angle_deg % 360, row.value_mm) for row in typed.disc.values()),
        caliper_error_mm=SCALE_ERROR_MM if error_mm is None else error_mm,
        history=tuple(sorted(visits, key=lambda visit: visit.on)),
        work_since=typed.work_since,
        duty_kind=typed.duty_kind,
        duty_now=typed.duty_now,
        stops_ahead=typed.stops_ahead,
        code_days=None if days is None else int(days),
        limits_typed=limits_typed,
    )


def _places(rows: Mapping[str, GapRow]) -> tuple[Place, ...]:
    return tuple(
        Place(row.angle_deg % 360, GapReading(row.go_mm, row.no_go_mm, row.leaves))
        for row in rows.values()
    )


# ---- what the page sent, as a table ----


def _table(fields: Mapping[str, object], rows: Mapping[str, object]) -> dict[str, Any]:
    """Return fields and rows by name; what may be left out and is empty is left out."""
    groups = {name: _rows(rows.get(name), name) for name in ROWS}
    texts = {name: _clean(fields.get(name)) for name in TypedSheet.model_fields}
    return _filled(texts, TypedSheet) | groups


def _rows(given: object, group: str) -> dict[str, dict[str, str]]:
    """Return the rows in which something was read, by their number."""
    model = ROWS[group]
    names = list(model.model_fields)
    most = MOST_HISTORY if group == "history" else MOST_PLACES
    found = {}
    for number, row in enumerate(given[:most] if isinstance(given, list) else []):
        cells = [_clean(cell) for cell in row] if isinstance(row, list) else []
        texts = dict.fromkeys(names, "") | dict(zip(names, cells, strict=False))
        # The page writes an angle, leaves and no work into every row before anything is read.
        if any(texts[name] for name in names if name not in {"angle_deg", "leaves", "work"}):
            found[str(number)] = _filled(texts, model)
    return found


def _filled(texts: Mapping[str, str], model: type[BaseModel]) -> dict[str, str]:
    needed = {name for name, field in model.model_fields.items() if field.is_required()}
    return {name: text for name, text in texts.items() if text or name in needed}


def _mapping(value: object) -> Mapping[str, object]:
    return value if isinstance(value, Mapping) else {}


def _clean(value: object) -> str:
    """Return a text without what cannot be typed; an empty one for anything that is not text."""
    if not isinstance(value, str):
        return ""
    printable = "".join(sign for sign in value if sign == "\n" or sign.isprintable())
    return printable.encode("utf-8", "ignore").decode().strip()


# ---- what is wrong, in sentences ----


def _trouble(fault: Fault, table: Mapping[str, Any]) -> Trouble:
    """Return the page's own name of a field, and the sentence about it."""
    name, *inside = map(str, fault.place)
    label = TypedSheet.model_fields[name].title
    if name not in ROWS:
        return Trouble(name, f"{label}: expected {fault.expected}, {_got(table[name])}.")
    if not inside:  # too few rows: said at the first reading
        plural = f"{label}s" if name != "turned" else "Gap readings after half a turn"
        return Trouble(f"{name}.0.1", f"{plural}: expected {fault.expected}.")
    number, column = inside
    columns = ROWS[name].model_fields
    where = f"{label} {int(number) + 1}, {columns[column].title}"
    got = _got(table[name][number][column])
    field = f"{name}.{number}.{list(columns).index(column)}"
    return Trouble(field, f"{where}: expected {fault.expected}, {got}.")


def _got(text: str) -> str:
    return f"got “{text[:_LONGEST_SHOWN]}”" if text else "and nothing is there"

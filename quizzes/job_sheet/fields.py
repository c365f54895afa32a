"""What the job sheet asks for: fields and rows with their labels, for the page to draw."""

import datetime as dt
from typing import Any

from widgets.brake.sizes.labels import LABELS
from widgets.brake.sizes.table import CAUTIONS, SheetInForce

from .entry import (
    ADJUSTED,
    COUNTER,
    LONGEST_TEXT,
    MOST_HISTORY,
    MOST_PLACES,
    NEW_DISC,
    NO_WORK,
    PER_DAY,
)
from .own_limits import DESIGNS, MAY_BE, NEEDED, OWN, PREFIX

NOT_KEPT = (
    "Nothing you type is kept on the server. It stays in this tab of your browser until you clear "
    "it or close the tab. Save what you want to keep as a PDF."
)
_WORKS = [[NO_WORK, "nothing"], [ADJUSTED, "adjusted"], [NEW_DISC, "new disc"]]
_LEAVES = [["1", "1"], ["2", "2"], ["3", "3"]]
_PLACES_SHOWN, _DISCS_SHOWN, _HISTORY_SHOWN = 8, 4, 2


def form(in_force: SheetInForce, today: dt.date) -> dict[str, Any]:
    """Return the empty form: notices and sections, each with fields or with rows."""
    return {
        "not_kept": NOT_KEPT,
        "cautions": list(CAUTIONS),
        "sections": [
            _job(in_force, today),
            _limits(),
            _gap(),
            _disc(),
            _turned(),
            _history(),
            _remarks(),
        ],
    }


def _field(name: str, label: str, kind: str = "text", **more: Any) -> dict[str, Any]:  # noqa: ANN401 (options of a field)
    most = {"most": LONGEST_TEXT[name]} if name in LONGEST_TEXT else {}
    return {"name": name, "label": label, "kind": kind, **most, **more}


def _job(in_force: SheetInForce, today: dt.date) -> dict[str, Any]:
    sizes = [["", "choose"], *([size.name, size.name] for size in in_force.sheet.sizes),
             [OWN, "not on the sheet: its limits are typed below"]]  # fmt: skip
    return {
        "title": "The job",
        "words": f"Limits sheet: {in_force.sheet.title}. {in_force.origin}",
        "fields": [
            _field("size", "Size of brake, from its nameplate", "choice", options=sizes),
            _field("hoist", "Hoist"),
            _field("name", "Your name"),
            _field("on", "Date of the readings", "date", value=today.isoformat()),
            _field(
                "code_days",
                "Longest time between inspections by your code, days",
                "number",
                help=(
                    "From the law, standard or company rule that holds for this hoist. No date "
                    "below is later."
                ),
            ),
        ],
    }


def _limits() -> dict[str, Any]:
    needed = [_own(name, "number" if name != "name" else "text") for name in NEEDED]
    needed[0]["label"] = "Size, as its nameplate says"
    optional = [_own(name, "number", ", if the maker says") for name in MAY_BE]
    return {
        "title": "Limits of a brake that is on no sheet",
        "words": (
            "Only for a size that is not on the limits sheet: copy the maker’s numbers. What you "
            "leave empty is estimated, and marked so."
        ),
        "folded": True,
        "fields": [*needed, _design(), *optional],
    }


def _design() -> dict[str, Any]:
    options = [list(one) for one in DESIGNS]
    return _own("design", "choice") | {"options": options, "value": options[0][0]}


def _own(name: str, kind: str, more: str = "") -> dict[str, Any]:
    label = LABELS[name]
    return _field(PREFIX + name, f"{label[:1].upper()}{label[1:]}{more}", kind)


def _gap() -> dict[str, Any]:
    return {
        "title": "Air gap",
        "words": (
            "Brake closed, current off. Angles clockwise seen from the fan end, 0° at screw 1. Go "
            "is the thickest stack of leaves that goes in, no-go the thinnest that does not. Three "
            f"to {MOST_PLACES} places; leave a row empty that you did not read."
        ),
        "fields": [_field("gap_instrument", "Feeler gauge, its number")],
        "rows": _places("gap", "Place", _PLACES_SHOWN, 360 // _PLACES_SHOWN),
    }


def _turned() -> dict[str, Any]:
    return {
        "title": "Air gap again, rotor turned by half",
        "words": (
            "Only if the gap is uneven: release by hand, turn the shaft by 180°, let the "
            "brake close, and read at the same places. That distinguishes a tilted "
            "magnet body from a tapered disc."
        ),
        "folded": True,
        "rows": _places("turned", "Place", _PLACES_SHOWN, 360 // _PLACES_SHOWN),
    }


def _places(group: str, row: str, shown: int, step_deg: int) -> dict[str, Any]:
    return {
        "name": group,
        "row": row,
        "most": MOST_PLACES,
        "start": [[str(step_deg * index), "", "", "1"] for index in range(shown)],
        "columns": [
            {"label": "Angle, °", "kind": "number"},
            {"label": "Go, mm", "kind": "number"},
            {"label": "No-go, mm", "kind": "number"},
            {"label": "Leaves", "kind": "choice", "options": _LEAVES},
        ],
    }


def _disc() -> dict[str, Any]:
    return {
        "title": "Disc over both linings",
        "words": (
            "First check the caliper’s zero with clean jaws closed. Jaws square to the disc."
        ),
        "fields": [
            _field("disc_instrument", "Caliper, its number"),
            _field(
                "caliper_error",
                "Declared error of the caliper, ± mm",
                "number",
                help="From its certificate. If left empty, 0.03 mm is used.",
            ),
        ],
        "rows": {
            "name": "disc",
            "row": "Place",
            "most": MOST_PLACES,
            "start": [[str(90 * index), ""] for index in range(_DISCS_SHOWN)],
            "columns": [
                {"label": "Angle, °", "kind": "number"},
                {"label": "Thickness, mm", "kind": "number"},
            ],
        },
    }


def _history() -> dict[str, Any]:
    counts = [[PER_DAY, "stops per day"], [COUNTER, "a counter of starts"]]
    return {
        "title": "Earlier visits",
        "words": (
            "From the record of this hoist, for the wear trend: the widest gap at each visit, "
            "and what was done to the brake between the visit before and this one."
        ),
        "folded": True,
        "fields": [
            _field(
                "work_since",
                "Since the last of these visits the brake was",
                "choice",
                options=_WORKS,
            ),
            _field("duty_kind", "The last column holds", "choice", options=counts),
            _field("duty_now", "Counter of starts today, if there is one", "number"),
            _field("stops_ahead", "Stops per day from now on, if it will differ", "number"),
        ],
        "rows": {
            "name": "history",
            "row": "Visit",
            "most": MOST_HISTORY,
            "start": [["", "", "", NO_WORK, ""] for _ in range(_HISTORY_SHOWN)],
            "columns": [
                {"label": "Date", "kind": "date"},
                {"label": "Gap, mm", "kind": "number"},
                {"label": "Disc, mm", "kind": "number"},
                {"label": "Before it", "kind": "choice", "options": _WORKS},
                {"label": "Stops or counter", "kind": "number"},
            ],
        },
    }


def _remarks() -> dict[str, Any]:
    return {
        "title": "Remarks",
        "words": "",
        "fields": [_field("remarks", "What else was seen: oil, dust, cracks, noise", "long")],
    }

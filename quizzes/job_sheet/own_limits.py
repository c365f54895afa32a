"""Limits that are typed on the job sheet itself, for a brake whose size is on no limits sheet."""

import re
from collections.abc import Mapping

from pydantic import ValidationError

from widgets.brake.sizes.design import DESIGN_WORDS
from widgets.brake.sizes.estimate import complete
from widgets.brake.sizes.labels import LABELS
from widgets.brake.sizes.readable import faults_of
from widgets.brake.sizes.sheet import SizeRow
from widgets.brake.sizes.size import BrakeSize

from .entry import EntryError, Trouble

OWN = "own"  # chosen in place of a size
PREFIX = "own_"
NEEDED = ("name", "gap_setting_mm", "gap_max_mm", "disc_min_mm")
STEPS = ("screw_pitch_mm", "shim_step_mm", "ring_notch_mm")
MAY_BE = ("gap_min_mm", "gap_evenness_mm", "disc_new_mm", *STEPS)
DESIGNS = tuple((one.value, words) for one, words in DESIGN_WORDS.items())
LONGEST_NAME, LONGEST_SHOWN = 40, 30
TYPED_WORDS = (
    "The limits were typed in on this page. Check them against the maker’s own sheet "
    "before you rely on this."
)
_NUMBER = re.compile(r"\d{1,4}([.,]\d{1,4})?")


def own_size(fields: Mapping[str, str]) -> BrakeSize:
    """Return the size whose limits were typed; what was left empty is estimated, and marked so.

    Parameters
    ----------
    fields : mapping
        What was typed, by field; the limits stand under their names with `PREFIX`.

    Raises
    ------
    EntryError
        If they cannot be the limits of a brake: one sentence a field.
    """
    typed = {name: fields.get(PREFIX + name, "") for name in (*NEEDED, *MAY_BE)}
    row: dict[str, object] = {"name": typed.pop("name")[:LONGEST_NAME]}
    if fields.get(PREFIX + "design"):
        row["design"] = fields[PREFIX + "design"]
    troubles = []
    for name, text in typed.items():
        if _NUMBER.fullmatch(text):
            row[name] = float(text.replace(",", "."))
        elif text or name in NEEDED:
            troubles.append(_trouble(name, "a number of millimetres", text))
    if not row["name"]:
        troubles.insert(0, _trouble("name", "what the nameplate of the brake says", ""))
    if troubles:
        raise EntryError(tuple(troubles))
    try:
        return complete(SizeRow.model_validate(row).model_dump(exclude_none=True))
    except ValidationError as error:
        told = [_named(str(one.place[-1]), one.expected, fields) for one in faults_of(error)]
        raise EntryError(tuple(told)) from None
    except ValueError as error:
        raise EntryError((Trouble(PREFIX + "gap_max_mm", f"These limits: {error}."),)) from None


def _named(name: str, expected: str, fields: Mapping[str, str]) -> Trouble:
    known = name if name in {*NEEDED, *MAY_BE, "design"} else "gap_max_mm"
    return _trouble(known, expected, fields.get(PREFIX + known, ""))


def _trouble(name: str, expected: str, text: str) -> Trouble:
    label = LABELS[name].partition(",")[0]
    got = f"got “{text[:LONGEST_SHOWN]}”" if text else "and nothing is there"
    words = re.sub(r" \(\w+\)", "", expected)  # the key of a file is not a word of this page
    return Trouble(PREFIX + name, f"{label.capitalize()}: expected {words}, {got}.")

"""All that a sitting needs from its beginning on, as it is kept: its format, and its reading.

The JSON Schema beside this module is made from `KeptSitting`; a test holds the two together.
"""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from quizzes.cases.case import Case
from quizzes.forms.blueprint import Blueprint
from quizzes.grading.cut import Cut
from quizzes.questions.posing import Posed
from quizzes.records.errors import LOG, RecordsError
from widgets.brake.sizes.sheet import LimitsSheet

FORMAT: Literal[1] = 1  # of what is kept; a change that an earlier reader cannot read raises it
SCHEMA_FILE = Path(__file__).parent / "kept_sitting_1.schema.json"

_Label = Annotated[str, Field(min_length=1, max_length=80)]


class KeptSitting(BaseModel):
    """What one sitting needs to be gone on with, shown, graded and replayed years later.

    Attributes
    ----------
    format : int
        Of this record.
    software, grading_edition, case_edition : str
        What drew the cases, and by which rules they are graded.
    sheet : LimitsSheet
        The limits sheet, its numbers whole.
    blueprint : Blueprint
        What the form had to hold, its title and break among it.
    cases : tuple of Case
        Each drawn case whole: size, condition, dice, work order, set-up, what lies on it.
    questions : tuple of Posed
        Each question as posed: options in their order, numbers, key, reasons.
    break_after : int
        Number of cases after which the break falls; 0 for none.
    minutes : float
        Expected time of a careful person, without the break.
    avoided : tuple of str
        Fingerprints of cases that were left out because the person had had them.
    cut : Cut or None
        Share of the questions' points that is asked for, and by whom it was set.
    """

    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        strict=True,
        ser_json_bytes="hex",
        val_json_bytes="hex",
        allow_inf_nan=False,
    )

    format: Literal[1] = FORMAT
    software: _Label
    grading_edition: _Label
    case_edition: _Label
    sheet: LimitsSheet
    blueprint: Blueprint
    cases: tuple[Case, ...]
    questions: tuple[Posed, ...] = ()
    break_after: Annotated[int, Field(ge=0)] = 0
    minutes: Annotated[float, Field(ge=0)] = 0.0
    avoided: tuple[str, ...] = ()
    cut: Cut | None = None

    def to_json(self) -> dict[str, Any]:
        """Return the record as plain JSON, as it is kept."""
        return self.model_dump(mode="json")


class UnreadableSitting(RecordsError):  # noqa: N818 - it names a state, as its siblings do
    """A kept sitting that cannot be read: which, where in it, why."""


def read_kept(sitting_id: str, kept: Mapping[str, Any]) -> KeptSitting:
    """Return what was kept of a sitting.

    Raises
    ------
    UnreadableSitting
        If its format is newer, or it does not match the schema; the sentence names the sitting,
        the place and the reason.
    """
    found = kept.get("format")
    if isinstance(found, int) and found > FORMAT:
        raise _unreadable(
            sitting_id,
            "format",
            f"it is kept in format {found}, and this software reads formats up to {FORMAT}",
        )
    try:
        return KeptSitting.model_validate_json(json.dumps(kept))
    except ValidationError as error:
        first = error.errors(include_url=False, include_context=False, include_input=False)[0]
        place = ".".join(str(part) for part in first["loc"]) or "the whole"
        reason = first["msg"][:1].lower() + first["msg"][1:]
        raise _unreadable(sitting_id, place, reason) from None


def _unreadable(sitting_id: str, place: str, reason: str) -> UnreadableSitting:
    message = (
        f"Sitting {sitting_id} cannot be read, at {place}: {reason}. "
        "Every other sitting can be used."
    )
    LOG.error("%s", message)
    return UnreadableSitting(message)


def schema() -> dict[str, Any]:
    """Return the JSON Schema of what is kept."""
    made = KeptSitting.model_json_schema(mode="serialization")
    dialect = "https://json-schema.org/draft/2020-12/schema"
    bare = _without_prose(made)
    assert isinstance(bare, dict)
    return {"$schema": dialect, **bare, "title": f"A kept sitting, format {FORMAT}"}


def _without_prose(part: object) -> object:
    """Return a part of the schema without docstrings: rewording one is not another format."""
    if isinstance(part, dict):
        return {
            key: _without_prose(value)
            for key, value in part.items()
            if key != "description" or not isinstance(value, str)
        }
    return [_without_prose(one) for one in part] if isinstance(part, list) else part


def write_schema() -> None:
    """Write the schema beside this module, after a change of the format."""
    text = json.dumps(schema(), indent=1, sort_keys=True)
    SCHEMA_FILE.write_text(text + "\n", encoding="utf-8")

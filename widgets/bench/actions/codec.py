"""Actions as JSON from outside and back: strict, bounded, one sentence for what is wrong."""

import json
from typing import Annotated, Any

from pydantic import Field, TypeAdapter, ValidationError

from . import Action

LARGEST_ACTION_CHARS = 4_000

_ADAPTER: TypeAdapter[Action] = TypeAdapter(Annotated[Action, Field(discriminator="kind")])


class BadActionError(ValueError):
    """A message that is no action; its text says in one sentence what was wrong."""


def to_json(wish: Action) -> dict[str, Any]:
    """Return the JSON form of an action: its kind and its fields."""
    form: dict[str, Any] = _ADAPTER.dump_python(wish, mode="json")
    return form


def from_json(form: object) -> Action:
    """Return the action that a JSON object from outside stands for.

    Raises
    ------
    BadActionError
        If it is not an object, too long, of an unknown kind, or a field is
        missing, of the wrong type, not finite or out of range.
    """
    if not isinstance(form, dict) or not all(isinstance(key, str) for key in form):
        raise BadActionError("An action must be an object with a kind.")
    text = _bounded_text(form)
    try:
        return _ADAPTER.validate_json(text)
    except ValidationError as error:
        raise BadActionError(_sentence(error)) from None


def _bounded_text(form: dict[str, Any]) -> str:
    if len(form) > 8:
        raise BadActionError("An action has at most 8 fields.")
    # Look before encoding: ten megabytes of text must not be copied to be refused.
    if any(isinstance(value, str) and len(value) > LARGEST_ACTION_CHARS for value in form.values()):
        raise BadActionError(f"A text may have at most {LARGEST_ACTION_CHARS} characters.")
    if any(isinstance(value, (list, tuple, dict)) and len(value) > 12 for value in form.values()):
        raise BadActionError("A list may have at most 12 entries.")
    try:
        text = json.dumps(form, allow_nan=False)
    except (ValueError, TypeError, RecursionError):
        raise BadActionError("An action must be plain JSON with finite numbers.") from None
    if len(text) > 2 * LARGEST_ACTION_CHARS:
        raise BadActionError(f"An action may have at most {2 * LARGEST_ACTION_CHARS} characters.")
    return text


def _sentence(error: ValidationError) -> str:
    fault = error.errors(include_url=False, include_input=False)[0]
    field = ".".join(str(part) for part in fault["loc"][1:]) or "kind"
    message = str(fault["msg"]).removeprefix("Input should be ")
    if fault["type"] in {"union_tag_invalid", "union_tag_not_found"}:
        return "There is no such action."
    return f"{field}: expected {message[:160]}."

"""Actions as JSON from outside and back: strict, bounded, one sentence for what is wrong."""

import json
from typing import Annotated, Any

from pydantic import Field, TypeAdapter, ValidationError

from . import Action

LARGEST_ACTION_CHARS = 4_000
_OUR_WORDS = {
    "unexpected_keyword_argument": "left out: this action has no such detail",
    "missing_argument": "given",
    "missing": "given",
}

_ADAPTER: TypeAdapter[Action] = TypeAdapter(Annotated[Action, Field(discriminator="kind")])


class BadActionError(ValueError):
    """A message that is not an action.

    Attributes
    ----------
    code : str
        What was wrong; `bench.words` has its sentence.
    facts : dict
        The field and what was expected there, or how much is the most.
    """

    def __init__(self, code: str, **facts: Any) -> None:  # noqa: ANN401 (plain JSON values)
        super().__init__(code, facts)
        self.code, self.facts = code, facts


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
        raise BadActionError("wish.no-object")
    text = _bounded_text(form)
    try:
        return _ADAPTER.validate_json(text)
    except ValidationError as error:
        raise _bad_field(error) from None


def _bounded_text(form: dict[str, Any]) -> str:
    if len(form) > 8:
        raise BadActionError("wish.too-many-fields", most=8)
    # Look before encoding: ten megabytes of text must not be copied to be refused.
    if any(isinstance(value, str) and len(value) > LARGEST_ACTION_CHARS for value in form.values()):
        raise BadActionError("wish.text-too-long", most=LARGEST_ACTION_CHARS)
    if any(isinstance(value, (list, tuple, dict)) and len(value) > 12 for value in form.values()):
        raise BadActionError("wish.list-too-long", most=12)
    try:
        text = json.dumps(form, allow_nan=False)
    except (ValueError, TypeError, RecursionError):
        raise BadActionError("wish.not-json") from None
    if len(text) > 2 * LARGEST_ACTION_CHARS:
        raise BadActionError("wish.too-long", most=2 * LARGEST_ACTION_CHARS)
    return text


def _bad_field(error: ValidationError) -> BadActionError:
    fault = error.errors(include_url=False, include_input=False)[0]
    field = ".".join(str(part) for part in fault["loc"][1:]) or "kind"
    message = str(fault["msg"]).removeprefix("Input should be ")
    message = _OUR_WORDS.get(fault["type"], message)
    if fault["type"] in {"union_tag_invalid", "union_tag_not_found"}:
        return BadActionError("wish.no-such-action")
    return BadActionError("wish.bad-field", field=field, expected=message[:160])

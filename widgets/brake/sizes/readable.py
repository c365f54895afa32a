"""What a pydantic model refuses, in words: where it stands, what was expected, what is there."""

import re
from collections.abc import Callable, Collection
from dataclasses import dataclass

from pydantic import GetCoreSchemaHandler, ValidationError
from pydantic_core import CoreSchema, ErrorDetails, PydanticCustomError, core_schema

_WORDED = "worded"  # the type of an error that brings its own words
_MOST_CHARACTERS = 60
_WORDS = {
    "missing": "a value",
    "model_type": "a table",
    "float_type": "a number",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "string_type": "a text",
    "bool_type": "true or false",
    "bool_parsing": "true or false",
    "string_pattern_mismatch": "a plain name without < > & or control characters",
}
_LENGTHS = {
    "string_too_short": "a text of {min_length} or more characters",
    "string_too_long": "a text of at most {max_length} characters",
}

Place = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that a model refuses.

    Attributes
    ----------
    place : tuple
        Keys, and positions from 0, from the top of the table down.
    expected, got : str
        In words; `got` is cut to a length that a page can show.
    """

    place: Place
    expected: str
    got: str

    @property
    def name(self) -> str:
        """The place in words: `count`, or `cases 2, count`, or `draw.gap_share`."""
        words, before = "", ""
        for step in self.place:
            if isinstance(step, str):
                words += before + _short(step)
                before = "."
            else:
                words += f" {step + 1}"
                before = ", "
        return words.strip()


@dataclass(frozen=True, slots=True)
class Expected:
    """Annotation: whatever is wrong with the value, these words say what was expected."""

    words: str

    def __get_pydantic_core_schema__(
        self, source: object, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return _worded(handler(source), self.words)


@dataclass(frozen=True, slots=True)
class Among:
    """Annotation: the value is one of these names."""

    names: Collection[str]
    or_empty: bool = False

    def __get_pydantic_core_schema__(self, _: object, __: GetCoreSchemaHandler) -> CoreSchema:
        names = [*self.names, ""] if self.or_empty else list(self.names)
        words = f"one of {', '.join(self.names)}"
        return _worded(core_schema.literal_schema(names), words)


@dataclass(frozen=True, slots=True)
class Text:
    """Annotation: a text of 1 to so many characters."""

    most: int

    def __get_pydantic_core_schema__(self, _: object, __: GetCoreSchemaHandler) -> CoreSchema:
        text = core_schema.str_schema(min_length=1, max_length=self.most, strict=True)
        return _worded(text, f"a text of 1 to {self.most} characters")


@dataclass(frozen=True, slots=True)
class Whole:
    """Annotation: a whole number from `low` to `high`."""

    low: int
    high: int

    def __get_pydantic_core_schema__(self, _: object, __: GetCoreSchemaHandler) -> CoreSchema:
        whole = core_schema.int_schema(ge=self.low, le=self.high, strict=True)
        return _worded(whole, f"a whole number from {self.low} to {self.high}")


@dataclass(frozen=True, slots=True)
class Number:
    """Annotation: a finite number from `low` to `high`, whole or not."""

    low: float
    high: float

    def __get_pydantic_core_schema__(self, _: object, __: GetCoreSchemaHandler) -> CoreSchema:
        number = core_schema.float_schema(
            ge=self.low, le=self.high, allow_inf_nan=False, strict=True
        )
        return _worded(number, f"a number from {self.low:g} to {self.high:g}")


@dataclass(frozen=True, slots=True)
class Listed:
    """Annotation: a list of so many members; what is wrong with a member is the member's fault."""

    least: int
    most: int
    words: str

    def __get_pydantic_core_schema__(
        self, source: object, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        whole = core_schema.list_schema(min_length=self.least, max_length=self.most, strict=True)
        return core_schema.chain_schema([_worded(whole, self.words), handler(source)])


def refusal(expected: str, field: str = "", got: str = "") -> PydanticCustomError:
    """Return the error that a validator raises.

    Parameters
    ----------
    expected, field : str
        What was expected, of which field of its model.
    got : str
        What to show in place of the whole value, if only a part of it is wrong.
    """
    return PydanticCustomError(_WORDED, "expected {expected}", _context(expected, field, got))


def faults_of(
    error: ValidationError, unknown: Callable[[Place], str] = lambda _: "no such field"
) -> tuple[Fault, ...]:
    """Return what a model refuses, in the model's order.

    Parameters
    ----------
    error : pydantic.ValidationError
        Of a model that read a table.
    unknown : callable
        What was expected in place of a field that the model does not know, from its place.
    """
    return tuple(_fault(one, unknown) for one in error.errors(include_url=False))


def line_of(text: str, place: Place) -> int:
    r"""Return the line of a TOML text on which a place stands, from 1.

    It is the line of the key; where there is none, the `[[head]]` of its table; else 0.

    Examples
    --------
    >>> line_of("[[size]]\nname = 'A'\n[[size]]\nname = 'B'", ("size", 1, "name"))
    4
    >>> line_of("[[size]]\nname = 'A'", ("size", 0, "torque_nm"))
    1
    """
    in_table = len(place) > 1 and isinstance(place[1], int)
    table, key = (place[:2], place[2:3]) if in_table else ((), place[:1])
    line = _line_in(text, table, str(key[0]) if key else "")
    return line or (_line_in(text, (), str(place[0])) if in_table else 0)


def _line_in(text: str, table: Place, key: str) -> int:
    """Return the line of a key in a table, else of the table's head; 0 if there is neither."""
    head = re.compile(rf"\s*\[\[\s*{re.escape(str(table[0]))}\s*\]\]") if table else None
    own = re.compile(rf"""\s*["']?{re.escape(key)}["']?\s*=""")
    seen, header, here = -1, 0, head is None
    for number, line in enumerate(text.splitlines(), start=1):
        if line.lstrip().startswith("["):
            seen += bool(head and head.match(line))
            here = bool(head and head.match(line)) and seen == table[1]
            header = number if here else header
        elif here and key and own.match(line):
            return number
    return header


def _worded(schema: CoreSchema, words: str) -> CoreSchema:
    return core_schema.custom_error_schema(
        schema,
        custom_error_type=_WORDED,
        custom_error_message="expected {expected}",
        custom_error_context=_context(words),
    )


def _context(expected: str, field: str = "", got: str = "") -> dict[str, str | int | float]:
    return {"expected": expected, "field": field, "got": got}


def _fault(one: ErrorDetails, unknown: Callable[[Place], str]) -> Fault:
    place, kind, given = one["loc"], one["type"], one["input"]
    context = one.get("ctx", {})
    nothing = kind == "missing"
    if kind == _WORDED and context["field"]:
        field = context["field"]
        place = (*place, field)
        given = context["got"] or (given.get(field) if isinstance(given, dict) else None)
        nothing = given is None
    got = "nothing" if nothing else shown(given)
    return Fault(place, _expected(one, unknown), got)


def _short(key: str) -> str:
    """Return a key without signs that cannot be shown, cut to what a page can show."""
    return "".join(sign if sign.isprintable() else " " for sign in key[:_MOST_CHARACTERS])


def shown(given: object) -> str:
    """Return what is somewhere as Python writes it, cut to what a page can show."""
    try:
        return f"{given!r:.{_MOST_CHARACTERS}}"
    except (ValueError, RecursionError):  # Python writes out no number of 4300 digits
        return "what is too long to show"


def _expected(one: ErrorDetails, unknown: Callable[[Place], str]) -> str:
    kind, context = one["type"], one.get("ctx", {})
    if kind == _WORDED:
        return str(context["expected"])
    if kind == "extra_forbidden":
        return unknown(one["loc"])
    if kind in _LENGTHS:
        return _LENGTHS[kind].format(**context)
    return _WORDS.get(kind) or one["msg"].removeprefix("Input should be ")

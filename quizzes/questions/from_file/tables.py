"""The tables of a question in the bank's files: which keys each has, and what may stand there."""

from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, PlainValidator

from quizzes.questions.items import KINDS
from quizzes.questions.models import MODELS
from quizzes.questions.pictures import DRAWINGS
from quizzes.questions.scales import INSTRUMENTS
from quizzes.questions.scheme import ELEMENTS, LESSONS
from widgets.bench.orders.catalogue import ORDERS
from widgets.brake.sizes.design import Design
from widgets.brake.sizes.readable import Among, Expected, Listed, Number, Whole, refusal

MOST_CHARACTERS = 2000
MOST_ENTRIES = 24
# A value left out is refused in the words of its field.
NEEDED: Any = Field(default=None, validate_default=True)
_NONE: Any = Field(default={}, validate_default=True)  # a table left out, so are all its values


def _one_line(value: str) -> str:
    """Return a text without line ends of its own; it has to hold something."""
    if not value.strip():
        raise refusal("a text")
    return " ".join(value.split())


Prose = Annotated[
    str,
    Field(strict=True, max_length=MOST_CHARACTERS),
    AfterValidator(_one_line),
    Expected(f"a text of 1 to {MOST_CHARACTERS} characters"),
]
_Name = Annotated[str, Field(strict=True, pattern=r"^[A-Za-z_][A-Za-z0-9_]*$")]
_Finite = Annotated[float, Field(strict=True, allow_inf_nan=False)]
Value = Annotated[
    _Name | _Finite, Expected("a number, or the name of a value that the model gives")
]
Flag = Annotated[bool, Field(strict=True), Expected("true or false")]
_Id = Annotated[
    str,
    Field(strict=True, pattern=r"^[a-z][a-z0-9-]{2,59}$"),
    Expected("3 to 60 small letters, digits and hyphens, a letter first"),
]


def _texts(least: int) -> Listed:
    return Listed(least, MOST_ENTRIES, f"a list of {least} to {MOST_ENTRIES} texts")


def _tables(least: int, name: str) -> Listed:
    words = f"{least} to {MOST_ENTRIES} tables [[question.{name}]]"
    return Listed(least, MOST_ENTRIES, words)


class Table(BaseModel):
    """A table of the file: it has these keys and no other."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class RangeTable(Table):
    """A number drawn in even steps."""

    low: Annotated[float, Number(-1e6, 1e6)] = Field(alias="from")
    high: Annotated[float, Number(-1e6, 1e6)] = Field(alias="to")
    step: Annotated[float, Number(1e-6, 1e6)] = NEEDED


def _parameter(given: object) -> RangeTable | tuple[str | float, ...]:
    """Return what a name is drawn from; the faults of a range are named one by one."""
    if isinstance(given, dict):
        return RangeTable.model_validate(given)
    plain = isinstance(given, list) and all(type(one) in {str, int, float} for one in given)
    if not plain or not given or not isinstance(given, list):
        raise refusal("{ from = , to = , step = } or a list of values")
    return tuple(given)


Draw = dict[str, Annotated[RangeTable | tuple[str | float, ...], PlainValidator(_parameter)]]


class OptionTable(Table):
    """One thing to choose."""

    text: Prose = NEEDED
    right: Flag = False
    catches: Prose = ""


class OpenOptionTable(Table):
    """One thing to choose, right or wrong as the situation has it."""

    text: Prose = NEEDED
    catches: Prose = NEEDED


class WrongTable(Table):
    """A number that a known mistake leads to."""

    value: Value = NEEDED
    catches: Prose = NEEDED


class SlipTable(Table):
    """Two steps that somebody turns round, counted from 1."""

    earlier: Annotated[int, Whole(1, MOST_ENTRIES)] = NEEDED
    later: Annotated[int, Whole(1, MOST_ENTRIES)] = NEEDED
    catches: Prose = NEEDED


class WorkSlipTable(Table):
    """Two steps of an order of work that somebody turns round, by their names."""

    earlier: Prose = NEEDED
    later: Prose = NEEDED
    catches: Prose = NEEDED


class PlaceTable(Table):
    """What wrong places of a drawing show."""

    ids: Annotated[list[Prose], _texts(1)] = NEEDED
    catches: Prose = NEEDED


class SituationTable(Table):
    """One of the situations that a question draws."""

    text: Prose = ""
    right: Annotated[list[Any], Listed(0, MOST_ENTRIES, "a list")] = []
    places: Annotated[list[Prose], _texts(1)] | None = None
    when: Prose = ""
    why: Prose = ""
    draw: Draw = {}
    catches: dict[str, Prose] = {}


class ItemTable(Table):
    """What a question of any kind has."""

    id: _Id = NEEDED
    kind: Annotated[str, Among(tuple(KINDS))] = NEEDED
    element: Annotated[str, Among(tuple(ELEMENTS))] = NEEDED
    lessons: Annotated[
        list[Annotated[int, Whole(LESSONS.start, LESSONS.stop - 1)]],
        Listed(0, MOST_ENTRIES, "a list of lesson numbers"),
    ] = []
    designs: Annotated[
        list[Annotated[Design, Among(tuple(Design))]],
        Listed(1, len(Design), f"a list of {', '.join(Design)}"),
    ] = list(Design)
    difficulty: Annotated[float, Number(0, 1)] = NEEDED
    text: Prose = NEEDED
    why: Prose = NEEDED
    source: Prose = NEEDED
    confidence: Flag = False
    model: Annotated[str, Among(tuple(MODELS))] | None = None
    draw: Draw = {}
    situation: Annotated[list[SituationTable], _tables(2, "situation")] | None = None


class ChoiceTable(ItemTable):
    """Choose one or several, each right or wrong for good."""

    option: Annotated[list[OptionTable], _tables(2, "option")] = NEEDED


class OpenChoiceTable(ItemTable):
    """Choose one or several; the situation says what is right."""

    option: Annotated[list[OpenOptionTable], _tables(2, "option")] = NEEDED


class NumericTable(ItemTable):
    """Type a number."""

    answer: Value = NEEDED
    unit: Prose = NEEDED
    tolerance: Annotated[float, Number(0, 1e6)] = 0.0
    tolerance_share: Annotated[float, Number(0, 0.5)] = 0.0
    decimals: Annotated[int, Whole(0, 6)] = NEEDED
    wrong: Annotated[list[WrongTable], _tables(1, "wrong")] = NEEDED


class OrderTable(ItemTable):
    """Put steps in order that are the question's own."""

    steps: Annotated[list[Prose], _texts(3)] = NEEDED
    slip: Annotated[list[SlipTable], _tables(1, "slip")] = NEEDED
    free: Annotated[list[Any], Listed(0, MOST_ENTRIES, "a list")] = []
    catches: Prose = NEEDED


class WorkOrderTable(ItemTable):
    """Put steps of one of the orders of work in order."""

    work: Annotated[str, Among(tuple(ORDERS))] = NEEDED
    steps: Annotated[list[Prose], _texts(3)] = NEEDED
    slip: Annotated[list[WorkSlipTable], _tables(1, "slip")] = NEEDED
    catches: Prose = NEEDED


class MarkTable(ItemTable):
    """Choose a place on a drawing."""

    drawing: Annotated[str, Among(tuple(DRAWINGS))] = NEEDED
    targets: Annotated[list[Prose], _texts(1)] = NEEDED
    right: Annotated[list[Prose], _texts(1)] = NEEDED
    place: Annotated[list[PlaceTable], _tables(0, "place")] = []
    catches: Prose = NEEDED
    readings: Flag = False


class ScaleTable(ItemTable):
    """Read an instrument."""

    instrument: Annotated[str, Among(tuple(INSTRUMENTS))] = NEEDED
    answer: Value = NEEDED
    tolerance: Annotated[float, Number(0.001, 10)] = NEEDED
    wrong: Annotated[list[WrongTable], _tables(0, "wrong")] = []


class OutcomesTable(Table):
    """What each wrong decision shows."""

    fit: Prose = NEEDED
    adjust: Prose = NEEDED
    replace: Prose = NEEDED
    refer: Prose = NEEDED


class DecideTable(ItemTable):
    """Decide from readings."""

    catches: OutcomesTable = _NONE


class UnknownKindTable(ItemTable):
    """A question of no kind: what is special to it cannot be judged."""

    model_config = ConfigDict(extra="ignore")


TABLES: dict[str, type[ItemTable]] = {
    "single": ChoiceTable,
    "multiple": ChoiceTable,
    "numeric": NumericTable,
    "order": OrderTable,
    "mark": MarkTable,
    "scale": ScaleTable,
    "decide": DecideTable,
}


# A question of the kind that has this key is read by another table.
_VARIANTS: dict[type[ItemTable], tuple[str, type[ItemTable]]] = {
    ChoiceTable: ("situation", OpenChoiceTable),
    OrderTable: ("work", WorkOrderTable),
}


def table_for(row: dict[str, Any]) -> type[ItemTable]:
    """Return the table that reads a row."""
    kind = row.get("kind")
    found = TABLES.get(kind, UnknownKindTable) if isinstance(kind, str) else UnknownKindTable
    key, variant = _VARIANTS.get(found, ("", found))
    return variant if key in row else found

"""Load the bank: every TOML file of the folder, or one sentence on what is wrong with it."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, partial
from pathlib import Path

from pydantic import ValidationError

from widgets.brake.sizes.design import Design
from widgets.brake.sizes.readable import Fault, Place, faults_of
from widgets.brake.sizes.toml_text import TomlTextError, read_table

from .from_file.bodies import body_of
from .from_file.situations import complete, parameters, situations_of
from .from_file.tables import ItemTable, table_for
from .from_file.unfit import NO_QUESTION, BankError, UnfitError, value_at
from .items import SITUATION, Item, Situation

BANK = Path(__file__).parent / "bank"
LARGEST_FILE_BYTES = 1_000_000


@dataclass(frozen=True, slots=True)
class Bank:
    """The questions by id, in the order of the files."""

    items: Mapping[str, Item]

    def __iter__(self) -> Iterator[Item]:
        return iter(self.items.values())

    def __len__(self) -> int:
        return len(self.items)

    def item(self, name: str) -> Item:
        """Return the question with an id.

        Raises
        ------
        ValueError
            If there is none.
        """
        if name not in self.items:
            raise ValueError(f"no question {name!r:.80} in the bank of {len(self)} questions")
        return self.items[name]

    def of_lesson(
        self, lesson: int, designs: Collection[Design] = tuple(Design)
    ) -> tuple[Item, ...]:
        """Return the questions of a lesson's self-check on these designs, in the bank's order."""
        ours = set(designs)
        return tuple(item for item in self if lesson in item.lessons and ours & set(item.designs))

    def of_element(self, element: str) -> tuple[Item, ...]:
        """Return the questions that are evidence of an element."""
        return tuple(item for item in self if item.element == element)


@cache
def the_bank() -> Bank:
    """Return the suite's own bank; read once."""
    return load_bank(BANK)


def load_bank(folder: Path) -> Bank:
    """Return the questions of every `*.toml` of a folder.

    Raises
    ------
    BankError
        With file, question, field and what was expected.
    """
    items: dict[str, Item] = {}
    for path in sorted(folder.glob("*.toml")):
        for item in load_file(path):
            if item.id in items:
                other = items[item.id].place
                raise BankError(path.name, item.id, "id", item.id, f"a new id ({other} has it)")
            items[item.id] = item
    if not items:
        raise BankError(
            folder.name, NO_QUESTION, "file", "none", "a folder with *.toml files of questions"
        )
    return Bank(items)


def load_file(path: Path) -> tuple[Item, ...]:
    """Return the questions of one file; errors as for `load_bank`."""
    return tuple(item_of(path.name, at, row) for at, row in enumerate(rows_of(path), start=1))


def rows_of(path: Path) -> list[object]:
    """Return the rows of one file, none of them looked at; errors as for `load_bank`."""
    name = path.name
    try:
        _, table = read_table(path, LARGEST_FILE_BYTES)
    except TomlTextError as error:
        raise BankError(name, NO_QUESTION, error.place, error.got, error.expected) from None
    questions = table.get("question")
    if set(table) != {"question"} or not isinstance(questions, list):
        raise BankError(
            name, NO_QUESTION, "question", sorted(table), "[[question]] tables and nothing else"
        )
    return questions


def item_of(file: str, at: int, row: object) -> Item:
    """Return the question that a row of a file states, the `at`-th; errors as for `load_bank`."""
    if not isinstance(row, dict):
        raise BankError(file, f"number {at}", "question", row, "a table [[question]]")
    kind = table_for(row)
    try:
        return _made(kind.model_validate(row), f"{file}, question {at}")
    except ValidationError as error:
        fault = _first(error, kind)
    except UnfitError as error:
        fault = Fault(error.place, error.expected, "")
    own = row.get("id")
    item = own if isinstance(own, str) else f"number {at}"
    raise BankError(file, item, fault.name, value_at(row, fault.place), fault.expected)


def _first(error: ValidationError, kind: type[ItemTable]) -> Fault:
    """Return the fault to name: a misspelt field, which explains one that is missing, or any."""
    misspelt = {one["loc"] for one in error.errors() if one["type"] == "extra_forbidden"}
    return min(faults_of(error, partial(_known, kind)), key=lambda one: one.place not in misspelt)


def _known(kind: type[ItemTable], place: Place) -> str:
    """Return in words which keys a question has in which an unknown one stands."""
    known = f", only {', '.join(sorted(kind.model_fields))}" if len(place) == 1 else ""
    return f"no such field here{known}"


def _made(table: ItemTable, place: str) -> Item:
    model = table.model or ""
    draw = parameters(table.draw, ("draw",), model)
    body = body_of(table)
    situations = situations_of(table, body)
    for one in situations or (Situation(),):
        complete({**draw, **(one.draw or {})}, model)
    if any(one.text for one in situations) is not (SITUATION in table.text):
        expected = f"{SITUATION} where the text of the situation is to stand"
        raise UnfitError(("text",), expected)
    return Item(
        id=table.id,
        kind=table.kind,
        element=table.element,
        lessons=tuple(table.lessons),
        designs=tuple(Design(one) for one in table.designs),
        difficulty=table.difficulty,
        text=table.text,
        why=table.why,
        source=table.source,
        confidence=table.confidence,
        model=model,
        draw=draw,
        body=body,
        situations=situations,
        place=place,
    )

"""Load the bank: every TOML file of the folder, or one sentence on what is wrong with it."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from widgets.brake.sizes.toml_text import TomlTextError, table_of

from .bodies import body_of
from .fields import NO_QUESTION, BankError, Fields
from .items import KINDS, SITUATION, Item, Situation
from .models import MODELS
from .scheme import ELEMENTS, LESSONS
from .situations import complete, parameters, situations_of

BANK = Path(__file__).parent / "bank"
LARGEST_FILE_BYTES = 1_000_000
_ID = re.compile(r"[a-z][a-z0-9-]{2,59}")


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

    def of_lesson(self, lesson: int) -> tuple[Item, ...]:
        """Return the questions of a lesson's self-check, in the order of the bank."""
        return tuple(item for item in self if lesson in item.lessons)

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
    name = path.name
    try:
        raw = path.read_bytes()
        if len(raw) > LARGEST_FILE_BYTES:
            raise BankError(
                name, NO_QUESTION, "file", len(raw), f"at most {LARGEST_FILE_BYTES} bytes"
            )
        table = table_of(raw.decode("utf-8"))
    except OSError as error:
        raise BankError(
            name, NO_QUESTION, "file", error.strerror, "a file that can be read"
        ) from error
    except UnicodeDecodeError as error:
        raise BankError(name, NO_QUESTION, "file", "other bytes", "TOML text in UTF-8") from error
    except TomlTextError as error:
        place = f"line {error.line}, column {error.column}" if error.line else "the end"
        raise BankError(name, NO_QUESTION, place, error.got, error.expected) from None
    questions = table.get("question")
    if set(table) != {"question"} or not isinstance(questions, list):
        raise BankError(
            name, NO_QUESTION, "question", sorted(table), "[[question]] tables and nothing else"
        )
    return tuple(_item(name, at, row) for at, row in enumerate(questions, start=1))


def _item(file: str, at: int, row: object) -> Item:
    if not isinstance(row, dict):
        raise BankError(file, f"number {at}", "question", row, "a table [[question]]")
    own = row.get("id")
    fields = Fields(file, own if isinstance(own, str) else f"number {at}", row)
    name = fields.text("id")
    if not _ID.fullmatch(name):
        raise fields.refuse("id", "3 to 60 small letters, digits and hyphens, a letter first")
    kind = fields.one_of("kind", KINDS)
    model = fields.one_of("model", MODELS) if "model" in row else ""
    draw = parameters(fields, model)
    body = body_of(kind, fields, parametric=bool(model), situated="situation" in row)
    situations = situations_of(fields, body, model)
    for one in situations or (Situation(),):
        complete(fields, model, {**draw, **(one.draw or {})})
    item = Item(
        id=name,
        kind=kind,
        element=fields.one_of("element", ELEMENTS),
        lessons=_lessons(fields),
        difficulty=fields.number("difficulty", 0, 1),
        text=fields.text("text"),
        why=fields.text("why"),
        source=fields.text("source"),
        confidence=fields.flag("confidence"),
        model=model,
        draw=draw,
        body=body,
        situations=situations,
        place=f"{file}, question {at}",
    )
    told = any(one.text for one in situations)
    if told is not (SITUATION in item.text):
        raise fields.refuse("text", f"{SITUATION} where the text of the situation is to stand")
    fields.done()
    return item


def _lessons(fields: Fields) -> tuple[int, ...]:
    lessons = fields.sequence("lessons")
    if any(type(one) is not int or one not in LESSONS for one in lessons):
        raise fields.refuse("lessons", "a list of lesson numbers from 1 to 8")
    return tuple(lessons)

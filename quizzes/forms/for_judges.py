"""What a panel of judges is given: the questions that a form may ask, in a file to be filled in."""

import json
import re
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from quizzes.questions.choosing import TRIAL_KEYS, askable, fitting
from quizzes.questions.items import Item
from quizzes.questions.own import bank_in_force
from quizzes.questions.posing import draw_question
from widgets.brake.sizes.sheet import LimitsSheet

from .blueprint import Blueprint

JUDGES = 3  # places in an empty form; more are added by copying one
_WIDTH = 100  # characters of a line
_LONGEST_TITLE = 80  # characters; what a panel's file may bear
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_HOW = """\
For the judges. Think of somebody who is only just competent. Of a hundred such people, how many
would answer this question correctly? Write 0.7 for seventy of a hundred, in place of the quotes.
Answer each question yourself before you judge it; the right answers are not in this file.
First round: each judge alone. Then see what the others wrote, talk about the questions on which
you differ, and write the second round. The second round counts; the first shows who moved.
Give every question a number, in both rounds. For a fourth judge copy a block from [[judge]] on.
Write trainer = true for a judge who teaches those who are assessed; have two or more who do not.
Numbers and situations in a question are an example: each candidate is given other ones.\
"""


def may_ask(blueprint: Blueprint, sheet: LimitsSheet) -> tuple[Item, ...]:
    """Return every question that a sitting of a form may be given on a sheet, each once."""
    bank = bank_in_force(sheet)
    found = {
        item.id: item
        for line in blueprint.questions
        for element in line.elements
        for item in fitting(bank, element, line.difficulty)
    }
    named = [name for line in blueprint.questions for name in line.always if name in bank.items]
    found |= {name: bank.items[name] for name in named}
    return tuple(item for item in found.values() if askable(item, sheet))


def empty_form(blueprint: Blueprint, sheet: LimitsSheet) -> str:
    """Return a panel's file without estimates, with the questions of a form written out in it.

    Parameters
    ----------
    blueprint : Blueprint
        Of the form that the judges are to judge.
    sheet : LimitsSheet
        Which the numbers of the questions are drawn from.

    Returns
    -------
    str
        TOML; it is refused with a sentence until every estimate is filled in.

    Raises
    ------
    ValueError
        If the form asks no question.
    """
    items = may_ask(blueprint, sheet)
    if not items:
        raise ValueError(f"The form “{blueprint.title}” asks no questions: nothing is to judge.")
    lines = [*_noted(_HOW.splitlines()), ""]
    lines += [f"title = {_quoted(f'Panel on {blueprint.title}'[:_LONGEST_TITLE])}"]
    lines += ["invented = false  # true where people and numbers are made up", ""]
    for number, item in enumerate(items, start=1):
        lines += [*_noted(_told(number, item, sheet)), "#"]
    for _ in range(JUDGES):
        lines += ["", "[[judge]]", 'name = ""', "trainer = false"]
        for which in ("first", "second"):
            lines += [f"[judge.{which}]", *(f'{_key(item.id)} = ""' for item in items)]
    return "\n".join(lines) + "\n"


def _told(number: int, item: Item, sheet: LimitsSheet) -> Iterator[str]:
    """Yield a question as a candidate might read it, drawn from dice that no sitting has."""
    shown = draw_question(item, TRIAL_KEYS[0], sheet).shown
    yield f"{number}. {item.id}, on element {item.element}"
    yield from _wrapped(str(shown["text"]))
    for one in shown.get("tables", ()):
        yield from _wrapped(f"{one['caption']}: {_row(one['columns'], one['rows'])}")
    if "figure" in shown:
        yield from _wrapped(_drawn(shown["figure"]))
    for one in (*shown.get("options", ()), *shown.get("steps", ())):
        yield from _wrapped(f"- {one['text']}")
    if shown.get("unit"):
        yield from _wrapped(f"Unit of the answer: {shown['unit']}.")


def _row(columns: Sequence[str], cells: Sequence[str]) -> str:
    return "; ".join(f"{column} {cell}" for column, cell in zip(columns, cells, strict=False))


def _drawn(figure: Mapping[str, Any]) -> str:
    places = [f"{one['label']}: {one['name']}" for one in figure.get("places", ())]
    choose = f" Places to choose from: {'; '.join(places)}." if places else ""
    return f"With a drawing. {figure.get('title', '')}{choose}"


def _wrapped(text: str) -> list[str]:
    plain = "".join(sign if sign.isprintable() else " " for sign in text)
    return textwrap.wrap(plain, _WIDTH - 5, initial_indent="   ", subsequent_indent="   ")


def _noted(lines: Sequence[str] | Iterator[str]) -> list[str]:
    return [f"# {line}" for line in lines]


def _key(name: str) -> str:
    return name if _BARE.fullmatch(name) else _quoted(name)


def _quoted(text: str) -> str:
    """Return a text as TOML writes it; its basic strings escape what those of JSON do."""
    return json.dumps("".join(sign for sign in text if sign.isprintable()), ensure_ascii=False)

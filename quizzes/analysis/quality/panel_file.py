"""The file of a panel of judges: read with a sentence for whatever is wrong with it.

The file is TOML::

    title = "Spring panel"
    invented = true          # whether the people and numbers are made up, for a demonstration

    [[judge]]
    name = "Ada Example"
    trainer = false          # whether this person teaches those who are assessed
    first = { gap-grows = 0.7, load-down = 0.9 }
    second = { gap-grows = 0.65, load-down = 0.9 }

Each number is the chance that somebody who is just competent gets the question right. In the
second round each judge has seen the others' first; it is the one that counts.
"""

import unicodedata
from collections.abc import Collection, Mapping, Sequence
from pathlib import Path
from typing import Any

from widgets.brake.sizes.toml_text import TomlTextError, read_table, table_of

from .judgements import Judgements
from .panel import FEWEST_JUDGES, MOST_JUDGES, Panel

LARGEST_FILE_BYTES = 1_000_000
LONGEST_NAME = 80  # characters, of a judge and of the panel
_KEYS, _JUDGE_KEYS = {"title", "invented", "judge"}, {"name", "trainer", "first", "second"}
_ROUNDS = ("first", "second")
_Estimates = Mapping[str, float]
_Judge = tuple[str, _Estimates, _Estimates]


class PanelError(ValueError):
    """A panel's file that cannot be used; the sentence names file, place and what was expected."""


def load_panel(path: Path, questions: Collection[str]) -> Panel:
    """Return the panel in a file.

    Parameters
    ----------
    path : Path
        A TOML file, as the module says.
    questions : collection of str
        Ids of the bank.

    Raises
    ------
    PanelError
        If it cannot be read, or is refused by `panel_of`.
    """
    try:
        _, table = read_table(path, LARGEST_FILE_BYTES)
    except TomlTextError as error:
        raise PanelError(f"{path.name}, {error.place}: {error}.") from None
    return panel_of(path.name, table, questions)


def read_panel(file: str, content: bytes, questions: Collection[str]) -> Panel:
    """Return the panel in a file that somebody handed in.

    Parameters
    ----------
    file : str
        What it is called, for the sentence.
    content : bytes
        What is in it.
    questions : collection of str
        Ids of the bank.

    Raises
    ------
    PanelError
        As `load_panel`.
    """
    if len(content) > LARGEST_FILE_BYTES:
        raise PanelError(f"{file}: expected a file of at most {LARGEST_FILE_BYTES:,} bytes.")
    try:
        return panel_of(file, table_of(content.decode("utf-8")), questions)
    except UnicodeDecodeError:
        raise PanelError(f"{file}: expected text in UTF-8, got other bytes.") from None
    except TomlTextError as error:
        raise PanelError(f"{file}, {error.place}: {error}.") from None


def panel_of(file: str, table: Mapping[str, Any], questions: Collection[str]) -> Panel:
    """Return the panel in a table.

    Raises
    ------
    PanelError
        If it has fewer than three judges or too many, an estimate outside 0 to 1, a question
        that does not exist, or judges who have not all judged the same questions twice.
    """
    unknown = sorted(set(table) - _KEYS)
    if unknown:
        raise PanelError(f"{file}, {unknown[0]!r:.60}: expected one of {', '.join(sorted(_KEYS))}.")
    title = _name(f"{file}, title", table.get("title", Path(file).stem))
    invented = _yes_or_no(f"{file}, invented", table.get("invented", False))
    judges = _judges(file, table.get("judge"))
    checked = [_judge(file, at, judge, questions) for at, judge in enumerate(judges, start=1)]
    names = tuple(name for name, _, _ in checked)
    _all_different(file, names)
    items = tuple(sorted(checked[0][1]))
    rounds = [[(name, one) for name, one, _ in checked], [(name, two) for name, _, two in checked]]
    first, second = (
        Judgements(names, items, tuple(_row(file, name, given, items) for name, given in each))
        for each in rounds
    )
    trainers = tuple(
        name for name, judge in zip(names, judges, strict=True) if judge.get("trainer", False)
    )
    return Panel(title, invented, trainers, first, second)


def _judges(file: str, judges: object) -> Sequence[Mapping[str, Any]]:
    count = len(judges) if isinstance(judges, list) else 0
    if not isinstance(judges, list) or count < FEWEST_JUDGES:
        raise PanelError(
            f"{file}, judge: expected {FEWEST_JUDGES} judges or more, got {count}: with "
            "fewer nobody can say how much their cut depends on who they are."
        )
    if count > MOST_JUDGES:
        raise PanelError(f"{file}, judge: expected at most {MOST_JUDGES} judges, got {count}.")
    return judges


def _judge(file: str, number: int, judge: object, questions: Collection[str]) -> _Judge:
    where = f"{file}, judge {number}"
    if not isinstance(judge, dict) or set(judge) - _JUDGE_KEYS:
        raise PanelError(f"{where}: expected the keys {', '.join(sorted(_JUDGE_KEYS))}.")
    name = _name(f"{where}, name", judge.get("name"))
    _yes_or_no(f"{where} ({name}), trainer", judge.get("trainer", False))
    first, second = (
        _round(f"{where} ({name}), {which}", judge.get(which), questions) for which in _ROUNDS
    )
    return name, first, second


def _round(where: str, given: object, questions: Collection[str]) -> _Estimates:
    if not isinstance(given, dict) or not given:
        raise PanelError(f"{where}: expected an estimate for each question.")
    for item, chance in given.items():
        _check(where, item, chance, questions)
    return {item: float(chance) for item, chance in given.items()}


def _check(where: str, item: str, chance: object, questions: Collection[str]) -> None:
    if item not in questions:
        raise PanelError(
            f"{where}: no question of the bank is called {item!r:.60}; take its estimate out."
        )
    if chance == "":
        raise PanelError(
            f"{where}, {item}: no estimate yet; put a chance from 0 to 1 in place of the quotes."
        )
    if isinstance(chance, bool) or not isinstance(chance, int | float) or not 0 <= chance <= 1:
        raise PanelError(f"{where}, {item}: expected a chance from 0 to 1, got {chance!r:.40}.")


def _name(where: str, name: object) -> str:
    """Return a name or title as it is kept: one line of signs that print."""
    plain = unicodedata.normalize("NFC", name).strip() if isinstance(name, str) else ""
    if not 0 < len(plain) <= LONGEST_NAME or not plain.isprintable():
        raise PanelError(
            f"{where}: expected 1 to {LONGEST_NAME} characters that print, got {name!r:.40}."
        )
    return plain


def _yes_or_no(where: str, value: object) -> bool:
    if not isinstance(value, bool):
        raise PanelError(f"{where}: expected true or false, got {value!r:.40}.")
    return value


def _all_different(file: str, names: Sequence[str]) -> None:
    """Refuse two judges whose names would be kept as those of one person."""
    alike = [" ".join(name.split()).casefold() for name in names]
    for at, name in enumerate(alike):
        if name in alike[:at]:
            raise PanelError(
                f"{file}, judge {at + 1}: expected another name than that of judge "
                f"{alike.index(name) + 1}, got {names[at]!r}; tell the two apart."
            )


def _row(file: str, name: str, given: _Estimates, items: Sequence[str]) -> tuple[float, ...]:
    odd = sorted(set(given) ^ set(items))
    if odd:
        raise PanelError(
            f"{file}, {name}: expected an estimate of the same questions from every judge in "
            f"both rounds; {odd[0]!r:.60} is not among all of them."
        )
    return tuple(given[item] for item in items)

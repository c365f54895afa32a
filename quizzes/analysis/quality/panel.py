"""A panel of judges: who they are, what each said of each question in two rounds, and the cut.

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

import tomllib
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from .cut_score import STANDARD_ERRORS_ADDED, angoff
from .judgements import Judgements

FEWEST_JUDGES = 3
LARGEST_FILE_BYTES = 1_000_000
_KEYS, _JUDGE_KEYS = {"title", "invented", "judge"}, {"name", "trainer", "first", "second"}


class PanelError(ValueError):
    """A panel's file that cannot be used; the sentence names file, place and what was expected."""


@dataclass(frozen=True, slots=True)
class Panel:
    """What three judges or more have said in two rounds; whether people and numbers are invented.

    `trainers` are the judges who teach those who are assessed.
    """

    title: str
    invented: bool
    trainers: tuple[str, ...]
    first: Judgements
    second: Judgements

    def spread(self, judgements: Judgements) -> float:
        """Return the standard deviation between judges, mean over questions, as a chance."""
        return float(judgements.table.std(axis=0, ddof=1).mean())

    @property
    def moved(self) -> float:
        """Mean change of an estimate from the first round to the second, as a chance."""
        return float(np.abs(self.second.table - self.first.table).mean())


@dataclass(frozen=True, slots=True)
class PanelCut:
    """The share that somebody just competent earns, its error, and over how many questions."""

    share: float
    error: float
    judged: int

    @property
    def in_use(self) -> float:
        """The share asked for: the judged one and one standard error on the safe side, 0 to 1."""
        return min(1.0, self.share + STANDARD_ERRORS_ADDED * self.error)


def cut_of(panel: Panel, items: Sequence[str]) -> PanelCut | None:
    """Return the cut of a set of questions; None if the panel has judged none of them.

    Notes
    -----
    Angoff's: the mean estimate of the second round; the error is that of other judges of the
    same kind coming, the questions being these.
    """
    places = [panel.second.items.index(one) for one in items if one in panel.second.items]
    if not places:
        return None
    names = tuple(dict.fromkeys(panel.second.items[at] for at in places))
    chances = tuple(
        tuple(row[panel.second.items.index(name)] for name in names) for row in panel.second.chances
    )
    found = angoff(Judgements(panel.second.judges, names, chances))
    return PanelCut(found.cut / found.items, found.se_items_fixed / found.items, found.items)


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
        If it cannot be read, has fewer than three judges, an estimate outside 0 to 1, a question
        that does not exist, or judges who have not all judged the same questions twice.
    """
    table = _table(path)
    judges = table.get("judge")
    if not isinstance(judges, list) or len(judges) < FEWEST_JUDGES:
        count = len(judges) if isinstance(judges, list) else 0
        raise PanelError(
            f"{path.name}, judge: expected {FEWEST_JUDGES} judges or more, got {count}: with "
            "fewer nobody can say how much their cut depends on who they are."
        )
    checked = [_judge(path, at, judge, questions) for at, judge in enumerate(judges, start=1)]
    names = tuple(name for name, _, _ in checked)
    items = tuple(sorted(checked[0][1]))
    try:
        first, second = (
            Judgements(names, items, tuple(_row(path, one[0], given, items) for one, given in each))
            for each in (
                [(one, one[1]) for one in checked],
                [(one, one[2]) for one in checked],
            )
        )
    except ValueError as error:
        raise PanelError(f"{path.name}: {error}.") from None
    trainers = tuple(str(judge["name"]) for judge in judges if judge.get("trainer"))
    invented = bool(table.get("invented", False))
    return Panel(str(table.get("title", path.stem)), invented, trainers, first, second)


def _table(path: Path) -> dict[str, Any]:
    try:
        if path.stat().st_size > LARGEST_FILE_BYTES:
            raise PanelError(f"{path.name}: larger than {LARGEST_FILE_BYTES} bytes.")
        table = tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise PanelError(f"{path.name}: cannot be read: {error.strerror}.") from None
    except UnicodeDecodeError:
        raise PanelError(f"{path.name}: not a text in UTF-8.") from None
    except tomllib.TOMLDecodeError as error:
        raise PanelError(f"{path.name}: not good TOML: {error}.") from None
    unknown = sorted(set(table) - _KEYS)
    if unknown:
        raise PanelError(f"{path.name}, {unknown[0]}: expected one of {', '.join(sorted(_KEYS))}.")
    return table


def _judge(
    path: Path, number: int, judge: object, questions: Collection[str]
) -> tuple[str, Mapping[str, float], Mapping[str, float]]:
    where = f"{path.name}, judge {number}"
    if not isinstance(judge, dict) or set(judge) - _JUDGE_KEYS:
        raise PanelError(f"{where}: expected the keys {', '.join(sorted(_JUDGE_KEYS))}.")
    name = judge.get("name")
    if not isinstance(name, str) or not 0 < len(name.strip()) <= 80:
        raise PanelError(f"{where}, name: expected a name of up to 80 characters.")
    rounds = []
    for which in ("first", "second"):
        given = judge.get(which)
        if not isinstance(given, dict) or not given:
            raise PanelError(f"{where} ({name}), {which}: expected an estimate for each question.")
        for item, chance in given.items():
            _check(f"{where} ({name}), {which}", item, chance, questions)
        rounds.append({item: float(chance) for item, chance in given.items()})
    return name.strip(), rounds[0], rounds[1]


def _check(where: str, item: str, chance: object, questions: Collection[str]) -> None:
    if item not in questions:
        raise PanelError(
            f"{where}: no question of the bank is called {item!r:.60}; take its estimate out."
        )
    if isinstance(chance, bool) or not isinstance(chance, int | float) or not 0 <= chance <= 1:
        raise PanelError(f"{where}, {item}: expected a chance from 0 to 1, got {chance!r:.40}.")


def _row(
    path: Path, name: str, given: Mapping[str, float], items: Sequence[str]
) -> tuple[float, ...]:
    odd = sorted(set(given) ^ set(items))
    if odd:
        raise PanelError(
            f"{path.name}, {name}: expected an estimate of the same questions from every judge in "
            f"both rounds; {odd[0]!r:.60} is not among all of them."
        )
    return tuple(given[item] for item in items)

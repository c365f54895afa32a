"""The trainer's own questions: a folder of files like the bank's, looked at like the bank's.

Whatever is wrong with a question is said with file, question and what was expected; that question
is left out, and the rest is used.
"""

import logging
import os
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import platformdirs

from widgets.brake.sizes.sheet import LimitsSheet

from .bank import Bank, item_of, rows_of, the_bank
from .from_file.unfit import BankError
from .items import Item
from .lint import lint

OWN = "GAL_QUESTIONS"
MOST_FILES, MOST_QUESTIONS = 50, 500
DRAWS = 10  # of a parametric question on each size, when it is loaded; `lint` draws more
_LOG = logging.getLogger("gap_and_lining")


@dataclass(frozen=True, slots=True)
class Own:
    """Questions of one's own that can be asked, and a sentence for each that cannot."""

    items: tuple[Item, ...] = ()
    bad: tuple[str, ...] = ()


def own_folder() -> Path:
    """Return the folder of the trainer's own questions: `GAL_QUESTIONS`, or this user's own."""
    named = os.environ.get(OWN)
    if named:
        return Path(named)
    return platformdirs.user_config_path("gap-and-lining", appauthor=False) / "questions"


def bank_in_force(sheet: LimitsSheet) -> Bank:
    """Return the suite's questions and the trainer's own, which come after them."""
    own = own_questions(sheet).items
    if not own:
        return the_bank()
    return Bank({**the_bank().items, **{item.id: item for item in own}})


def own_questions(sheet: LimitsSheet, folder: Path | None = None, draws: int = DRAWS) -> Own:
    """Return the trainer's own questions.

    Parameters
    ----------
    sheet : LimitsSheet
        On which each must be drawn.
    folder : Path, optional
        Where they lie; that of `own_folder`, if left out.
    draws : int
        How often each parametric one is drawn on each size.
    """
    asked = folder or own_folder()
    try:
        there = asked.is_dir()
        paths = sorted(asked.glob("*.toml")) if there else []
        dated = tuple((path, path.stat().st_mtime_ns, path.stat().st_size) for path in paths)
    except OSError as error:
        return Own(bad=(f"{asked}: the folder of questions cannot be read: {error.strerror}.",))
    if not there and (folder or os.environ.get(OWN)):
        return Own(bad=(f"{asked}: expected a folder of questions, there is none.",))
    return _looked_at(dated, sheet, draws)


@lru_cache(maxsize=8)
def _looked_at(dated: tuple[tuple[Path, int, int], ...], sheet: LimitsSheet, draws: int) -> Own:
    items: dict[str, Item] = {}
    bad: list[str] = []
    if len(dated) > MOST_FILES:
        bad.append(f"{len(dated)} files of questions: expected at most {MOST_FILES}; rest unread.")
    for path, _, _ in dated[:MOST_FILES]:
        for found in _questions(path, sheet, draws):
            if isinstance(found, str):
                bad.append(found)
            elif found.id in items or found.id in the_bank().items:
                taken = items[found.id].place if found.id in items else "the suite’s own bank"
                error = BankError(path.name, found.id, "id", found.id, f"a new id ({taken} has it)")
                bad.append(f"{error}.")
            elif len(items) >= MOST_QUESTIONS:
                bad.append(f"{path.name}: expected at most {MOST_QUESTIONS} questions in all.")
                break
            else:
                items[found.id] = found
    for sentence in bad:
        _LOG.warning("own questions: %s", sentence)
    return Own(tuple(items.values()), tuple(bad))


def _questions(path: Path, sheet: LimitsSheet, draws: int) -> Iterator[Item | str]:
    """Yield each good question of a file, and a sentence for each that is not."""
    try:
        rows = rows_of(path)
    except BankError as error:
        yield f"{error}."
        return
    for at, row in enumerate(rows, start=1):
        try:
            item = item_of(path.name, at, row)
            faults = lint([item], sheet, draws)
        except BankError as error:
            yield f"{error}."
        except (ValueError, ArithmeticError, LookupError, TypeError) as error:
            yield f"{path.name}, question {at}: it cannot be drawn: {error}."
        else:
            yield f"{faults[0]}." if faults else item

"""Which question of the bank a place of a form gets: by element, difficulty and dice."""

from collections.abc import Iterable
from collections.abc import Set as AbstractSet
from functools import lru_cache

from widgets.brake.draws import Draws
from widgets.brake.sizes.sheet import LimitsSheet

from .bank import Bank
from .items import Item
from .posing import QuestionError, draw_question

_TRIAL_KEYS = tuple(bytes([number]) * 16 for number in range(3))


class NoQuestionError(ValueError):
    """The bank has no question left for a place of a form."""


def choose(
    bank: Bank,
    element: str,
    difficulty: tuple[float, float],
    key: bytes,
    had: AbstractSet[str] = frozenset(),
) -> Item:
    """Return the question that the dice choose for a place of a form.

    Parameters
    ----------
    bank : Bank
        The questions.
    element : str
        Element of competency that it shall be evidence of.
    difficulty : (float, float)
        Least and greatest share of just competent people who get it right, 0 to 1.
    key : bytes
        The place's own dice, 16 to 64 bytes.
    had : set of str
        Ids of questions that the form has already, or the person had lately.

    Raises
    ------
    NoQuestionError
        If none is left; the sentence says what was looked for.
    """
    low, high = difficulty
    fitting = [
        item
        for item in bank.of_element(element)
        if low <= item.difficulty <= high and item.id not in had
    ]
    if not fitting:
        raise NoQuestionError(
            f"the bank has no question left on {element} of difficulty {low:g} to {high:g}: "
            f"expected one that this form has not got yet, {len(bank.of_element(element))} are on "
            "that element in all"
        )
    return Draws(key).choice(fitting, "question")


def choose_all(
    bank: Bank,
    places: Iterable[tuple[str, tuple[float, float], bytes]],
    sheet: LimitsSheet | None = None,
) -> tuple[tuple[Item, bytes], ...]:
    """Return a question, with its dice, for each place of a form; none comes twice.

    Parameters
    ----------
    bank : Bank
        The questions.
    places : iterable of (element, difficulty, key)
        The places of the form, in order.
    sheet : LimitsSheet, optional
        What they will be drawn on: a question that cannot be is passed over for the next.

    Raises
    ------
    NoQuestionError
        If the bank is too small for the form.
    """
    known = {} if sheet is None else _known(sheet)
    chosen: list[tuple[Item, bytes]] = []
    had: set[str] = set()
    for element, difficulty, key in places:
        item = choose(bank, element, difficulty, key, had)
        while sheet is not None and not _askable(item, sheet, known):
            had.add(item.id)
            item = choose(bank, element, difficulty, key, had)
        had.add(item.id)
        chosen.append((item, key))
    return tuple(chosen)


@lru_cache(maxsize=64)
def _known(_: LimitsSheet) -> dict[str, bool]:
    """Return what is known by now of which questions can be asked on a sheet, by their ids."""
    return {}


def _askable(item: Item, sheet: LimitsSheet, known: dict[str, bool]) -> bool:
    """Return whether a question can be drawn on a sheet: some ask for two sizes, or a weak coil."""
    if item.id not in known:
        known[item.id] = all(_can_be_drawn(item, key, sheet) for key in _TRIAL_KEYS)
    return known[item.id]


def _can_be_drawn(item: Item, key: bytes, sheet: LimitsSheet) -> bool:
    try:
        draw_question(item, key, sheet)
    except QuestionError:
        return False
    return True

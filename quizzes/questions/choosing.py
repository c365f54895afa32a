"""Which question of the bank a place of a form gets: by element, difficulty and dice."""

from collections.abc import Iterable
from collections.abc import Set as AbstractSet
from functools import lru_cache
from typing import Protocol

from widgets.brake.draws import Draws
from widgets.brake.sizes.sheet import LimitsSheet

from .bank import Bank
from .items import Item
from .posing import QuestionError, draw_question

TRIAL_KEYS = tuple(bytes([number]) * 16 for number in range(3))


class Place(Protocol):
    """A place of a form: what its question is on, or which it is."""

    @property
    def element(self) -> str:
        """Element of competency that it shall be evidence of."""

    @property
    def difficulty(self) -> tuple[float, float]:
        """Least and largest share of just competent people who get it right."""

    @property
    def key(self) -> bytes:
        """The place's own dice."""

    @property
    def item(self) -> str:
        """Id of the very question, whatever its element; empty for one that is drawn."""


class NoQuestionError(ValueError):
    """The bank has no question left for a place of a form."""


def fitting(bank: Bank, element: str, difficulty: tuple[float, float]) -> tuple[Item, ...]:
    """Return the questions on an element whose difficulty lies from low to high, in their order."""
    low, high = difficulty
    return tuple(item for item in bank.of_element(element) if low <= item.difficulty <= high)


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
        Element of competency that it is to be evidence of.
    difficulty : (float, float)
        Least and largest share of just competent people who get it right, 0 to 1.
    key : bytes
        The place's own dice, 16 to 64 bytes.
    had : set of str
        Ids of questions that the form has already, or the person had lately.

    Raises
    ------
    NoQuestionError
        If none is left; the sentence says what was looked for.
    """
    left = [item for item in fitting(bank, element, difficulty) if item.id not in had]
    if not left:
        low, high = difficulty
        raise NoQuestionError(
            f"the bank has no question left on {element} of difficulty {low:g} to {high:g}: "
            f"expected one that this form has not got yet, {len(bank.of_element(element))} are on "
            "that element in all"
        )
    return Draws(key).choice(left, "question")


def choose_all(
    bank: Bank,
    places: Iterable[Place],
    sheet: LimitsSheet | None = None,
) -> tuple[tuple[Item, bytes], ...]:
    """Return a question, with its dice, for each place of a form; none comes twice.

    Parameters
    ----------
    bank : Bank
        The questions.
    places : iterable of Place
        The places of the form, in order.
    sheet : LimitsSheet, optional
        What they will be drawn on: a question that cannot be is passed over for the next.

    Raises
    ------
    NoQuestionError
        If the bank is too small for the form, or has not got a question that is named.
    """
    places = tuple(places)
    chosen: list[tuple[Item, bytes]] = []
    had = {place.item for place in places if place.item}
    for place in places:
        element, difficulty, key = place.element, place.difficulty, place.key
        if place.item:
            chosen.append((_named(bank, place.item, sheet), key))
            continue
        item = choose(bank, element, difficulty, key, had)
        while sheet is not None and not askable(item, sheet):
            had.add(item.id)
            item = choose(bank, element, difficulty, key, had)
        had.add(item.id)
        chosen.append((item, key))
    return tuple(chosen)


def _named(bank: Bank, name: str, sheet: LimitsSheet | None) -> Item:
    item = bank.items.get(name)
    if item is None:
        raise NoQuestionError(
            f"there is no question {name!r:.60} in the bank or the folder of your own; python -m "
            "quizzes lint says what is wrong with a question that was left out"
        )
    if sheet is not None and not askable(item, sheet):
        raise NoQuestionError(f"the question {name!r:.60} cannot be drawn on this limits sheet")
    return item


@lru_cache(maxsize=64)
def _known(_: LimitsSheet) -> dict[str, bool]:
    """Return what is known by now of which questions can be asked on a sheet, by their ids."""
    return {}


def askable(item: Item, sheet: LimitsSheet) -> bool:
    """Return whether a question can be drawn on a sheet: some ask for two sizes, or a weak coil."""
    known = _known(sheet)
    if item.id not in known:
        known[item.id] = all(_can_be_drawn(item, key, sheet) for key in TRIAL_KEYS)
    return known[item.id]


def _can_be_drawn(item: Item, key: bytes, sheet: LimitsSheet) -> bool:
    try:
        draw_question(item, key, sheet)
    except QuestionError:
        return False
    return True

"""A class list, however it was typed: names and numbers, with one sentence for what is wrong."""

import csv
from collections import Counter
from collections.abc import Iterable, Sequence

from quizzes.records.checks import person_name, plain_text
from quizzes.records.rows import NUMBER_LENGTH

MOST_PEOPLE = 200  # of one class; more is a list of something else
HEADINGS = {"name", "names", "number", "no", "no.", "nr", "staff number", "id"}
People = tuple[tuple[str, str], ...]


class ClassListError(ValueError):
    """The list cannot be used; the message names line, what is there, what was expected."""


def read_class_list(text: str) -> People:
    r"""Return the people of a list.

    Parameters
    ----------
    text : str
        A line a person: a name, and behind a comma, semicolon or tab their number. A first line
        of headings is passed over. Without any numbers they are counted from 1.

    Returns
    -------
    tuple of (str, str)
        Name and number of each.

    Raises
    ------
    ClassListError
        If it is empty or too long, a name is missing, or two people have one number.

    Examples
    --------
    >>> read_class_list("Name;Number\nTorvane, Ilka;17\nBram Quillet;18")
    (('Torvane, Ilka', '17'), ('Bram Quillet', '18'))
    >>> read_class_list("Ilka Torvane\nBram Quillet")
    (('Ilka Torvane', '1'), ('Bram Quillet', '2'))
    """
    lines = [
        (number, line)
        for number, line in enumerate(text.removeprefix("\ufeff").splitlines(), start=1)
        if line.replace(";", "").replace(",", "").strip()
    ]
    rows = _rows(lines) if lines else []
    if rows and {cell.casefold() for cell in rows[0][1] if cell} <= HEADINGS:
        rows = rows[1:]
    if not rows:
        raise ClassListError("The list is empty. Expected a line for each person: name, number.")
    if len(rows) > MOST_PEOPLE:
        raise ClassListError(
            f"The list has {len(rows):,} people. A class has at most {MOST_PEOPLE}: make several."
        )
    return _checked([_person(line, cells) for line, cells in rows])


def _rows(lines: Sequence[tuple[int, str]]) -> list[tuple[int, list[str]]]:
    texts = [line for _, line in lines]
    between = next((sign for sign in "\t;" if any(sign in text for text in texts)), ",")
    try:
        cells = list(csv.reader(texts, delimiter=between, skipinitialspace=True, strict=True))
    except csv.Error:
        raise ClassListError(
            "The list has a quotation mark that is not closed. Expected a line for each person."
        ) from None
    if len(cells) != len(lines):
        raise ClassListError(
            "A quotation mark in the list runs over several lines. Expected a line for each person."
        )
    return [
        (number, [cell.strip() for cell in row])
        for (number, _), row in zip(lines, cells, strict=True)
    ]


def _person(line: int, cells: Sequence[str]) -> tuple[int, str, str]:
    name, number, *more = [*cells, ""]
    if any(more):
        raise ClassListError(
            f"Line {line} has more than a name and a number. Put a name with a comma in it in "
            "quotation marks, or a semicolon between name and number."
        )
    if not name:
        raise ClassListError(f"Line {line} has no name. Expected: name, number.")
    if number and not any(sign.isdigit() for sign in number):
        raise ClassListError(
            f"Line {line}: {number!r:.40} has no digit in it, so it is not a number. Put a name "
            "with a comma in it in quotation marks, or a semicolon between name and number."
        )
    try:
        number = plain_text("the number", number, NUMBER_LENGTH) if number else ""
        return line, person_name(name), number
    except ValueError as error:
        raise ClassListError(f"Line {line}: {error}.") from None


def _checked(found: Sequence[tuple[int, str, str]]) -> People:
    without = [line for line, _, number in found if not number]
    if len(without) == len(found):
        found = [(line, name, str(at)) for at, (line, name, _) in enumerate(found, start=1)]
    elif without:
        raise ClassListError(
            f"Line {without[0]} has no number, and others have one. Give everybody a number, or "
            "nobody."
        )
    twice = _twice(number.casefold() for _, _, number in found)
    if twice:
        raise ClassListError(
            f"Two people have the number {twice}. Each needs one of their own: it tells two "
            "people of one name apart."
        )
    return tuple((name, number) for _, name, number in found)


def _twice(words: Iterable[str]) -> str:
    """Return the first word that appears twice; empty if none does."""
    return next((word for word, times in Counter(words).items() if times > 1), "")

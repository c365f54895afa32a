"""What is chosen before a brake stands before the class: the form, and the result."""

import hashlib
from collections.abc import Mapping
from typing import Any

from quizzes.candidates.worker import HABITS
from quizzes.desks.apprentice.practice import CAUTION
from quizzes.grading.words import called
from widgets.bench.setup import Start
from widgets.brake.draws import Draws
from widgets.brake.faults import FAULTS
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.page.prompt_panel import choice_field, text_of

from .staging import CAREFUL, LONGEST_WORD, Staging

NONE, BY_WORD = "none", "drawn"
_TASK = (
    "Set out one brake for the whole class, before the class looks. A word of your choice draws "
    "it: the same word, size and faults give the same brake again, here and in every other room."
)
_STARTS = (
    (Start.WORK_ORDER, "with the whole work order"),
    (Start.OPEN, "safe and open, ready to measure"),
    (Start.BODY_OFF, "with the magnet body off, for a new disc"),
)


def form(sheet: LimitsSheet, said: str = "") -> dict[str, Any]:
    """Return the form on which a brake is chosen."""
    faults = [(row.id, row.title) for row in FAULTS]
    sizes = [(size.name, size.name) for size in sheet.sizes]
    runs = [(name, called(name)) for name in HABITS if name != CAREFUL]
    by_word = (BY_WORD, "let the word draw it")
    return {
        "title": "Set out a brake for the class",
        "words": [_TASK],
        "danger": CAUTION,
        "fields": [
            choice_field("size", "Size", sizes),
            choice_field("fault", "What is wrong", [(NONE, "nothing"), by_word, *faults], BY_WORD),
            choice_field("second", "A second fault", [(NONE, "nothing else"), *faults]),
            choice_field("start", "Begin", [(start.value, words) for start, words in _STARTS]),
            choice_field(
                "run",
                "Step through",
                [(NONE, "nothing: it is worked by hand"), (CAREFUL, "careful work"), *runs],
            ),
            {
                "name": "word",
                "kind": "text",
                "label": "Word that draws it; empty for a new one",
                "most": LONGEST_WORD,
            },
        ],
        "buttons": [("set out", "Set it out")],
        "said": said,
    }


def chosen(content: Mapping[str, Any], sheet: LimitsSheet, new_word: str) -> Staging:
    """Return the choice that a page sent.

    Parameters
    ----------
    content : mapping
        What the page sent.
    sheet : LimitsSheet
        The sheet in force.
    new_word : str
        What draws the brake where no word was typed.

    Raises
    ------
    ValueError
        If the size is none of the sheet.
    """
    size_name = text_of(content, "size")
    if size_name not in {size.name for size in sheet.sizes}:
        raise ValueError("Choose a size from the list.")
    word = text_of(content, "word").strip()[:LONGEST_WORD] or new_word
    first = text_of(content, "fault")
    known = {row.id for row in FAULTS}
    if first == BY_WORD:
        dice = Draws(hashlib.sha256(word.encode()).digest())
        first = dice.choice((NONE, *(row.id for row in FAULTS)), "fault")
    both = dict.fromkeys(one for one in (first, text_of(content, "second")) if one in known)
    starts = {start.value: start for start, _ in _STARTS}
    start = starts.get(text_of(content, "start"), Start.WORK_ORDER)
    return Staging(size_name, tuple(both), word, start)

"""The questions of a sitting: posed once, when it begins, and marked from what was kept."""

import hashlib
import logging
from collections.abc import Iterable, Mapping
from dataclasses import asdict
from typing import Any

from quizzes.grading.question_rule import QUESTIONS_PASS, Questions
from quizzes.questions.items import Item
from quizzes.questions.marking import mark
from quizzes.questions.posing import Posed, QuestionError, draw_question
from quizzes.records.kept_sitting import KeptSitting
from widgets.brake.sizes.sheet import LimitsSheet

from .cut import cut_of_sitting

_LOG = logging.getLogger("gap_and_lining")


def posed_once(items: Iterable[Item], key: bytes, sheet: LimitsSheet) -> tuple[Posed, ...]:
    """Return the questions of a sitting as they are put to the person.

    Parameters
    ----------
    items : iterable of Item
        From the bank; one that cannot be drawn on this sheet is left out.
    key : bytes
        The dice of the sitting's questions.
    sheet : LimitsSheet
        Where sizes come from.
    """
    own = hashlib.blake2b(b"0", key=key, digest_size=32).digest()
    posed = []
    for item in items:
        try:
            posed.append(draw_question(item, own, sheet))
        except QuestionError as error:
            _LOG.warning("question left out: %s", error)
    return tuple(posed)


def marks_of(kept: KeptSitting, answers: Mapping[int, Mapping[str, Any]]) -> dict[str, Any]:
    """Return how the questions went, as it is kept: points, safety, each answer's mark, the cut.

    Parameters
    ----------
    kept : KeptSitting
        The sitting's questions and cut, as they were when it began.
    answers : mapping of int to mapping
        The last answer to each, by its place from 0; what is not an answer does not count as one.
    """
    posed = kept.questions
    marked = {
        at: found
        for at, one in enumerate(posed)
        if at in answers and (found := mark(one.hidden, answers[at])).taken
    }
    return {
        "questions": [
            {
                "item": posed[at].hidden.item.id,
                "element": posed[at].hidden.item.element,
                "text": str(posed[at].shown["text"]),
                "share": round(one.share, 4),
                "answer": one.answer,
                "why": one.words,
                "caught": list(one.caught),
                "confidence": one.confidence,
            }
            for at, one in marked.items()
        ],
        "asked": len(posed),
        "points": round(sum(one.share for one in marked.values()), 4),
        "safety_asked": sum(one.hidden.item.element.startswith("S") for one in posed),
        # One that was left without an answer is missed as well.
        "safety_missed": sum(
            one.hidden.item.element.startswith("S") and not (at in marked and marked[at].right)
            for at, one in enumerate(posed)
        ),
        "cut": asdict(cut_of_sitting(kept)),
    }


def questions_of(grade: Mapping[str, Any]) -> Questions:
    """Return how the questions of a sitting went, from what was kept of it.

    Raises
    ------
    KeyError, ValueError
        If it is no such thing.
    """
    cut = grade.get("cut", {}).get("share", QUESTIONS_PASS)
    return Questions(
        grade["asked"], grade["points"], grade["safety_missed"], grade.get("safety_asked", 0), cut
    )


def differing_marks(kept: Mapping[str, Any], again: Mapping[str, Any]) -> tuple[str, ...]:
    """Return a phrase for each number in which two markings of one sitting differ."""
    sums = [
        f"{words} {kept.get(name)!r:.20} kept, {again[name]!r} marked again"
        for name, words in _SUMS.items()
        if kept.get(name) != again[name]
    ]
    if kept.get("cut") != again.get("cut"):
        sums.append("the cut")
    old, new = ({one["item"]: one for one in side["questions"]} for side in (kept, again))
    marks = [
        f"the mark of {item}"
        for item in dict.fromkeys([*old, *new])
        if item not in old or item not in new or old[item]["share"] != new[item]["share"]
    ]
    return (*sums, *marks)


_SUMS = {"asked": "asked", "points": "points", "safety_missed": "safety questions missed"}

"""The questions of a sitting: asked without feedback, each answer kept before it is shown."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from quizzes.questions.items import Item
from quizzes.questions.posing import Posed
from quizzes.sittings.run import SittingRun
from widgets.brake.sizes.sheet import LimitsSheet

from .question_panel import Answered, QuestionPanel

_WORDS = (
    "One answer each; you can go back and change it until you hand in. What is right you see "
    "afterwards."
)


class QuestionRound(QuestionPanel):
    """The questions of a sitting; tells the kernel what was put on the page, in its order."""

    @property
    def posed(self) -> tuple[Posed, ...]:
        """The questions as drawn; one that cannot be drawn on the sheet is not among them."""
        return tuple(asked.posed for asked in self._asked)


def question_round(run: SittingRun, sheet: LimitsSheet, done: Callable[[], None]) -> QuestionRound:
    """Return the questions of a sitting as a page, taken up where they were left.

    Parameters
    ----------
    run : SittingRun
        The sitting.
    sheet : LimitsSheet
        Its sheet.
    done : callable
        Called once the answers are handed in and kept.
    """

    def keep(at: int, answered: Answered) -> None:
        run.keep_answer(at, answered.item, answered.answer)

    def finish(_: Sequence[Answered]) -> None:
        run.read_again()
        # Another window may have kept a later answer, or handed in: what the store holds counts.
        if run.questions_grade is None:
            panel.restore(run.answers())
            run.hand_in_questions(grade_of(panel.answers, panel.posed))
        run.close()
        done()

    panel = QuestionRound(
        run.items,
        sheet,
        run.question_key,
        feedback=False,
        title=f"{len(run.items)} questions",
        words=_WORDS,
        on_answer=keep,
        on_finish=finish,
    )
    panel.restore(run.answers())
    return panel


def marks_again(
    items: Sequence[Item], answers: Mapping[int, Mapping[str, Any]], sheet: LimitsSheet, key: bytes
) -> dict[str, Any]:
    """Return how the questions of a sitting went, marked anew from what was answered.

    Parameters
    ----------
    items : sequence of Item
        The questions, in their order.
    answers : mapping of int to mapping
        The last answer to each, by its place from 0.
    sheet : LimitsSheet
        The sheet of the sitting.
    key : bytes
        Its dice of the questions.
    """
    panel = QuestionRound(items, sheet, key, feedback=False)
    try:
        panel.restore(answers)
        return grade_of(panel.answers, panel.posed)
    finally:
        panel.close()


def grade_of(answers: Sequence[Answered], posed: Sequence[Posed]) -> dict[str, Any]:
    """Return how the questions went, as it is kept: points, safety, and each answer's mark."""
    texts = {one.hidden.item.id: str(one.shown["text"]) for one in posed}
    right = {one.item for one in answers if one.marked.right}
    return {
        "questions": [
            {
                "item": one.item,
                "element": one.element,
                "text": texts[one.item],
                "share": round(one.marked.share, 4),
                "answer": one.marked.answer,
                "why": one.marked.words,
                "caught": list(one.marked.caught),
                "confidence": one.marked.confidence,
            }
            for one in answers
        ],
        "asked": len(posed),
        "points": round(sum(one.marked.share for one in answers), 4),
        # One that was left without an answer is missed as well.
        "safety_missed": sum(
            one.hidden.item.element.startswith("S") and one.hidden.item.id not in right
            for one in posed
        ),
    }

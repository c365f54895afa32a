"""The questions of a sitting: asked without feedback, each answer kept before it is shown."""

from collections.abc import Callable, Sequence
from typing import Any

from quizzes.questions.items import Item
from widgets.brake.sheet import LimitsSheet

from .question_panel import Answered, QuestionPanel
from .run import SittingRun

_WORDS = (
    "One answer each; you can go back and change it until you hand in. What is right you see "
    "afterwards."
)


def question_round(run: SittingRun, sheet: LimitsSheet, done: Callable[[], None]) -> QuestionPanel:
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
            run.hand_in_questions(grade_of(panel.answers, run.items))
        run.close()
        done()

    panel = QuestionPanel(
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


def grade_of(answers: Sequence[Answered], items: Sequence[Item]) -> dict[str, Any]:
    """Return how the questions went, as it is kept: points, safety, and each answer's mark."""
    right = {one.item for one in answers if one.marked.right}
    return {
        "questions": [
            {
                "item": one.item,
                "element": one.element,
                "share": round(one.marked.share, 4),
                "answer": one.marked.answer,
                "why": one.marked.words,
                "caught": list(one.marked.caught),
                "confidence": one.marked.confidence,
            }
            for one in answers
        ],
        "asked": len(items),
        "points": round(sum(one.marked.share for one in answers), 4),
        # One that was left without an answer is missed as well.
        "safety_missed": sum(
            item.element.startswith("S") and item.id not in right for item in items
        ),
    }

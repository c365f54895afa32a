"""The questions of a sitting: asked without feedback, each answer kept before it is shown."""

from collections.abc import Callable, Sequence

from quizzes.questions.items import Item
from quizzes.questions.posing import Posed
from quizzes.sittings.run import SittingRun
from widgets.brake.sizes.sheet import LimitsSheet

from .question_panel import Answered, Asked, QuestionPanel

_WORDS = (
    "One answer each; you can go back and change it until you hand in. You see "
    "afterwards what was right."
)


class QuestionRound(QuestionPanel):
    """The questions of a sitting, put to the person as they were kept at its beginning."""

    def __init__(
        self,
        posed: Sequence[Posed],
        sheet: LimitsSheet,
        on_answer: Callable[[int, Answered], None],
        on_finish: Callable[[tuple[Answered, ...]], None],
    ) -> None:
        self.posed = {one.hidden.item.id: one for one in posed}
        super().__init__(
            [one.hidden.item for one in posed],
            sheet,
            bytes(32),  # nothing is drawn here
            feedback=False,
            title=f"{len(posed)} questions",
            words=_WORDS,
            on_answer=on_answer,
            on_finish=on_finish,
        )

    def _drawn(self, item: Item, number: int) -> Asked | None:
        return Asked(item, number, self.posed[item.id])


def question_round(run: SittingRun, done: Callable[[], None]) -> QuestionRound:
    """Return the questions of a sitting as a page, taken up where they were left.

    Parameters
    ----------
    run : SittingRun
        The sitting.
    done : callable
        Called once the answers are handed in and kept.
    """

    def keep(at: int, answered: Answered) -> None:
        run.keep_answer(at, answered.item, answered.answer)

    def finish(_: Sequence[Answered]) -> None:
        run.read_again()
        # Another window may have kept a later answer, or handed in: what the store holds counts.
        if run.questions_grade is None:
            run.hand_in_questions()
        run.close()
        done()

    panel = QuestionRound(run.questions, run.kept.sheet, keep, finish)
    panel.restore(run.answers())
    return panel

"""Questions on a page: self-checks with feedback in the lessons, without it in assessments."""

import hashlib
import logging
import secrets
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from quizzes.questions.bank import the_bank
from quizzes.questions.items import Item
from quizzes.questions.marking import FIELDS, Marked, mark
from quizzes.questions.posing import Posed, QuestionError, draw_question
from quizzes.sittings.in_force import NotNowError, sheet_in_force
from widgets.brake.draws import Draws
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.page.joining import joined_file
from widgets.page.panel import Panel
from widgets.page.style import joined_style

_LOG = logging.getLogger("gap_and_lining")
_HERE = Path(__file__).parent
MOST_IN_A_CHECK = 6
NOT_KEPT = "Your answer could not be kept. Press again; if that does not help, tell your trainer."


@dataclass(frozen=True, slots=True)
class Answered:
    """One answer: question, which draw of it, what was sent, and its mark."""

    item: str
    drawn: int
    answer: Mapping[str, Any]
    marked: Marked
    element: str = ""


@dataclass(slots=True)
class Asked:
    """One question on the page: item, draw, and the last answer to it."""

    item: Item
    drawn: int
    posed: Posed
    answered: Answered | None = None


class QuestionPanel(Panel):
    """A list of questions; answers, key and right answers stay in the kernel.

    The page sends `{"ask": "questions"}`, `{"at": 0, "answer": {...}}`,
    `{"another": 0}` and `{"hand_in": true, "sure": true}`.

    Parameters
    ----------
    items : sequence of Item
        What is asked, in this order; an item that cannot be drawn on the
        sheet is left out.
    sheet : LimitsSheet
        Where sizes come from.
    key : bytes
        16 to 64 bytes; decides every draw.
    feedback : bool
        Whether a mark is shown at once (lesson) or never (assessment).
    one : bool
        One at a time, in place of one below another.
    title, words : str
        What is above.
    on_answer : callable, optional
        Told of each answer before the page is; if it raises, the answer was not kept.
    on_finish : callable, optional
        Told of all answers at the hand-in, in the order of the questions.
    """

    _esm = joined_file(_HERE / "question_panel.js")
    _css = joined_style(_HERE / "question_panel.css")

    def __init__(
        self,
        items: Sequence[Item],
        sheet: LimitsSheet,
        key: bytes,
        *,
        feedback: bool = True,
        one: bool = False,
        title: str = "",
        words: str = "",
        on_answer: Callable[[int, Answered], None] | None = None,
        on_finish: Callable[[tuple[Answered, ...]], None] | None = None,
    ) -> None:
        self._sheet, self._key = sheet, key
        self._feedback, self._head = feedback, {"one": one, "title": title, "words": words}
        self._on_answer, self._on_finish = on_answer, on_finish
        self._finished = False
        self._asked = [asked for item in items if (asked := self._drawn(item, 0)) is not None]
        super().__init__()

    @property
    def answers(self) -> tuple[Answered, ...]:
        """The answers given so far, in the order of the questions."""
        return tuple(asked.answered for asked in self._asked if asked.answered is not None)

    def restore(self, answers: Mapping[int, Mapping[str, Any]]) -> None:
        """Take up answers that were kept earlier, by position: a page that was lost goes on."""
        for at, answer in answers.items():
            if 0 <= at < len(self._asked):
                asked = self._asked[at]
                marked = mark(asked.posed.hidden, answer)
                if marked.taken:
                    asked.answered = Answered(
                        asked.item.id, asked.drawn, dict(answer), marked, asked.item.element
                    )

    def heard(self, content: Mapping[str, Any]) -> None:
        """Answer a page that was just opened, an answer, a wish for another draw, a hand-in."""
        if content.get("ask") == "questions":
            self._show()
        elif self._finished:
            self._close()
        elif "answer" in content:
            self._take(content.get("at"), content["answer"])
        elif "another" in content:
            self._draw_again(content["another"])
        elif content.get("hand_in") is True and not self._feedback:
            self._hand_in(sure=content.get("sure") is True)

    def _drawn(self, item: Item, number: int) -> Asked | None:
        key = hashlib.blake2b(b"%d" % number, key=self._key, digest_size=32).digest()
        try:
            return Asked(item, number, draw_question(item, key, self._sheet))
        except QuestionError as error:
            _LOG.warning("question left out: %s", error)
            return None

    def _show(self) -> None:
        if self._finished:
            self._close()
            return
        questions = [self._question(asked) for asked in self._asked]
        words = self._head["words"]
        if not questions:
            words = "There is no question here for this limits sheet yet."
        self.send(
            {**self._head, "questions": questions, "words": words, "feedback": self._feedback}
        )

    def _question(self, asked: Asked) -> dict[str, Any]:
        shown = dict(asked.posed.shown)
        if asked.answered is not None:
            shown["given"] = dict(asked.answered.answer)
            shown |= {"marked": self._told(asked.answered)} if self._feedback else {"kept": True}
        return shown

    def _told(self, answered: Answered) -> dict[str, Any]:
        return {**answered.marked.to_json(), "source": the_source(self._asked, answered.item)}

    def _at(self, number: object) -> Asked | None:
        if type(number) is not int or not 0 <= number < len(self._asked):
            return None
        return self._asked[number]

    def _take(self, number: object, answer: object) -> None:
        asked = self._at(number)
        if asked is None or type(number) is not int:
            self.send({"reply": {"words": "There is no such question here."}})
            return
        marked = mark(asked.posed.hidden, answer)
        if not marked.taken or not isinstance(answer, Mapping):
            self.send({"at": number, "refused": marked.words})
            return
        answered = Answered(
            asked.item.id, asked.drawn, _plain(asked.item, answer), marked, asked.item.element
        )
        if words := self._not_kept(number, answered):
            self.send({"at": number, "refused": words})
            return
        asked.answered = answered
        if self._feedback:
            self.send({"at": number, "marked": self._told(answered)})
        else:
            self.send({"at": number, "kept": True})

    def _not_kept(self, number: int, answered: Answered) -> str:
        """Return why an answer is not kept; empty if it is."""
        try:
            if self._on_answer is not None:
                self._on_answer(number, answered)
        except NotNowError as error:
            return str(error)
        except Exception:  # noqa: BLE001 (whatever hinders a store, the page says so)
            _LOG.exception("an answer could not be kept")
            return NOT_KEPT
        return ""

    def _draw_again(self, number: object) -> None:
        asked = self._at(number)
        again = None
        # In an assessment nobody draws until an easy one comes.
        if asked is not None and self._feedback and asked.item.varies:
            again = self._drawn(asked.item, asked.drawn + 1)
        if again is None or type(number) is not int:
            self.send({"reply": {"words": "There is no other version of this question."}})
            return
        self._asked[number] = again
        self.send({"at": number, "question": self._question(again)})

    def _hand_in(self, *, sure: bool) -> None:
        left = len(self._asked) - len(self.answers)
        if left and not sure:
            what = "One question is" if left == 1 else f"{left} questions are"
            self.send({"open": f"{what} unanswered. Hand in as it is, or carry on."})
            return
        if self._on_finish is not None:
            try:
                self._on_finish(self.answers)
            except NotNowError as error:
                self.send({"reply": {"words": str(error)}})
                return
            except Exception:  # noqa: BLE001 (as above)
                _LOG.exception("a hand-in could not be kept")
                self.send({"reply": {"words": NOT_KEPT}})
                return
        self._finished = True
        self._close()

    def _close(self) -> None:
        self.send({"finished": "Handed in. Your answers are kept."})


def the_source(asked: Sequence[Asked], name: str) -> str:
    """Return who says so, of a question on the page."""
    return next((one.item.source for one in asked if one.item.id == name), "")


def _plain(item: Item, answer: Mapping[str, Any]) -> dict[str, Any]:
    """Return of an answer that was marked what its kind of question uses, and nothing else."""
    return {name: answer[name] for name in (FIELDS[item.kind], "confidence") if name in answer}


def lesson_check(lesson: int, key: bytes | None = None) -> QuestionPanel:
    """Return the self-check of a lesson: up to six of its questions, of several kinds.

    Of questions on a design those are asked whose design the limits sheet in force has.

    Parameters
    ----------
    lesson : int
        1 to 12.
    key : bytes, optional
        16 to 64 bytes for the draws; fresh ones if left out.
    """
    own = secrets.token_bytes(32) if key is None else key
    sheet = sheet_in_force().sheet
    designs = {size.design for size in sheet.sizes}
    items = chosen_for_check(the_bank().of_lesson(lesson, designs), own)
    return QuestionPanel(items, sheet, own)


def chosen_for_check(items: Sequence[Item], key: bytes) -> list[Item]:
    """Return up to six questions, each kind once before any comes twice, in the bank's order."""
    draws = Draws(key)
    left = sorted(items, key=lambda item: draws.uniform("check", item.id))
    chosen: list[Item] = []
    while left and len(chosen) < MOST_IN_A_CHECK:
        used = [item.kind for item in chosen]
        best = min(left, key=lambda item: used.count(item.kind))  # the first of the rarest kind
        chosen.append(best)
        left.remove(best)
    return [item for item in items if item in chosen]

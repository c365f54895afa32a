"""The coach beside the practice bench: each press tells one step more of one hint."""

from collections.abc import Mapping
from typing import Any

from quizzes.cases.case import Case
from quizzes.grading.coach.steps import Hint, Work, next_hint
from widgets.bench.actions.codec import from_json
from widgets.bench.observed import Observation
from widgets.bench.session import Session
from widgets.bench.state import State
from widgets.page.prompt_panel import FormPanel

_STEPS = ("Ask the coach", "Where should I look?", "Why?")
_NO_MORE = "Ask again"


class CoachPanel:
    """A form that grows by one sentence each time the person asks about the same thing."""

    def __init__(self, case: Case, session: Session) -> None:
        self._case, self._session = case, session
        self._hint: Hint | None = None
        self._level = 0
        self.form = FormPanel(self._answer)
        session.listen(self._moved_on)
        self._show()

    def _answer(self, content: Mapping[str, Any]) -> None:
        if content.get("send") != "hint":
            return
        hint = next_hint(self._work())
        # Something else is open now: the next hint begins with its question again.
        self._level = self._level + 1 if hint == self._hint else 1
        self._hint = hint
        self._show()

    def _work(self) -> Work:
        done = [e for e in self._session.events if e.observation["done"]]
        did = [from_json(dict(event.action)) for event in done]
        return Work(self._case.size, self._case.order, self._session.state, did)

    def _moved_on(self, session: Session, _: Observation) -> None:
        state: State = session.state
        if state.handed_over or self._hint is None:
            return
        if next_hint(self._work()) != self._hint:
            self._hint, self._level = None, 0
            self._show()

    def _show(self) -> None:
        words = list(self._hint.up_to(self._level)) if self._hint else []
        asks = _STEPS[self._level] if self._level < len(_STEPS) else _NO_MORE
        self.form.show(title="Coach", words=words, buttons=[("hint", asks)])

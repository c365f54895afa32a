"""A sitting played on the bench step by step, from its log."""

from collections.abc import Mapping, Sequence
from typing import Any

from ipywidgets import VBox

from quizzes.cases.case import Case
from quizzes.desks.assessor.acts_in_words import acts_in_words
from quizzes.records import Records
from quizzes.sittings.run import SittingRun
from widgets.bench.session import Event, Session
from widgets.bench.view.bench_panel import Table
from widgets.bench.view.page import bench_page
from widgets.page.prompt_panel import FormPanel, text_of
from widgets.page.swapping import show_only

_STEPS = {"next": 1, "ten": 10, "back": -1}


class Playback:
    """One case at a time: what was done, on the brake as it stood then.

    Parameters
    ----------
    store : Records
        Where the sitting is kept.
    sitting_id : str
        A finished one.

    Raises
    ------
    RecordsError
        If it cannot be read.
    ValueError
        If no case of it was begun.
    """

    def __init__(self, store: Records, sitting_id: str) -> None:
        run = SittingRun(store, store.sitting(sitting_id))
        done = len(run.grades)
        if not done:
            raise ValueError("No case of this sitting was begun, so there is nothing to play.")
        self._sheet = run.kept.sheet
        self._cases: Sequence[Case] = run.cases[:done]
        self._events = [run.events(slot) for slot in range(done)]
        self._times = [
            [f"{event.at:%H:%M:%S}" for event in store.events(sitting_id, slot)]
            for slot in range(done)
        ]
        self._case, self._step = 0, 0
        self.board = FormPanel(self._answer).add_class("gal-board")
        self._bench = VBox([])
        self.page = VBox([self.board, self._bench]).add_class("gal-page-stack")
        self._set_out()

    def _answer(self, content: Mapping[str, Any]) -> None:
        wished = content.get("send")
        if wished == "case":
            number = text_of(content, "case")
            if number.isascii() and number.isdigit() and 1 <= int(number) <= len(self._cases):
                self._case, self._step = int(number) - 1, 0
                self._set_out()
        elif wished == "start":
            self._step = 0
            self._set_out()
        elif isinstance(wished, str) and wished in _STEPS:
            last = len(self._events[self._case])
            self._step = max(0, min(last, self._step + _STEPS[wished]))
            self._set_out()

    def _set_out(self) -> None:
        case, events = self._cases[self._case], self._events[self._case][: self._step]
        # The session replays what is in the log; what it says is not kept anywhere.
        session = Session(case.setup(), events=events)
        show_only(self._bench, bench_page(Table(session, self._sheet, case.work_order)))
        self._show_board(events)

    def _show_board(self, events: Sequence[Event]) -> None:
        whole = len(self._events[self._case])
        words = [f"Case {self._case + 1}, step {self._step} of {whole}."]
        if events:
            times = self._times[self._case][self._step - 1 : self._step]
            last = acts_in_words(events[-1:], times)[0]
            words.append(f"{last.at} UTC: {last.words}")
        numbers = [str(number) for number in range(1, len(self._cases) + 1)]
        self.board.show(
            title="Played from the log",
            words=words,
            fields=[
                {
                    "name": "case",
                    "kind": "choice",
                    "label": "Case",
                    "options": [(number, number) for number in numbers],
                    "value": str(self._case + 1),
                }
            ],
            buttons=[
                ("next", "Next step"),
                ("ten", "Ten steps"),
                ("back", "Step back"),
                ("start", "From the start"),
                ("case", "Show this case"),
            ],
            top=True,
        )

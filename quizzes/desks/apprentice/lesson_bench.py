"""A bench in a lesson: one staged brake, a short task, the coach beside it, nothing recorded."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from ipywidgets import VBox, Widget

from quizzes.cases.case import Case
from quizzes.sittings.in_force import sheet_in_force
from widgets.bench.observed import Observation
from widgets.bench.session import Session
from widgets.bench.setup import Start
from widgets.bench.view.bench_panel import Table
from widgets.bench.view.page import bench_page
from widgets.brake.sizes.design import Design
from widgets.brake.sizes.sheet import LimitsSheetError
from widgets.page.prompt_panel import FormPanel
from widgets.page.swapping import show_only

USUAL_SIZE = "Cedar-47"  # of the invented sheet; the first size of any other


@dataclass(frozen=True, slots=True)
class Task:
    """What a lesson sets out: faults, where the job begins, what to do, what the order says."""

    fault_ids: tuple[str, ...]
    start: Start
    words: str
    order: str


TASKS: Mapping[str, Task] = {
    "closing": Task(
        (),
        Start.OPEN,
        "Give the coil its voltage from your test supply, turn the shaft, and take the voltage "
        "away again. What closes the brake?",
        "This brake is sound. Find out for yourself what opens it and what closes it.",
    ),
    "late stop": Task(
        ("switched-on-ac-side",),
        Start.WORK_ORDER,
        "Look at the hoist running, and say what makes its stop so long. You can leave it shut.",
        "It stops later than the others, says the operator. What does the brake need?",
    ),
    "which limit": Task(
        ("gap-too-large",),
        Start.OPEN,
        "Gauge the gap, choose the row of this size, and say which of its limits is exceeded.",
        "It hums in the afternoon, says the operator. What does the brake need?",
    ),
    "the faces": Task(
        ("oiled",),
        Start.OPEN,
        "Look round the disc, under the shaft and at the seal before you wipe anything. Decide.",
        "The load slipped a little yesterday, says the operator. What does the brake need?",
    ),
    "near the limit": Task(
        ("gap-at-limit",),
        Start.OPEN,
        "Gauge three places, first with single leaves, then with stacks. May it carry on?",
        "Read how large the gap is, and say how sure you are.",
    ),
    "all round": Task(
        ("warped",),
        Start.OPEN,
        "Gauge all round, at as many places as you need. Level it, or refer it?",
        "It rubs at two places, says the operator. What does the brake need?",
    ),
    "the record": Task(
        ("gap-too-large",),
        Start.OPEN,
        "Set the gap, and end with a record that you would sign: readings, decision, tests, date.",
        "Inspect the brake of this hoist, and leave a record behind.",
    ),
    "making safe": Task(
        ("measured-live",),
        Start.WORK_ORDER,
        "Make this hoist safe and open its brake as far as the gap. Watch what the tester shows.",
        "Inspect the brake of this hoist. The last shift had an electrician at it.",
    ),
    "levelling": Task(
        ("gap-tilted",),
        Start.OPEN,
        "Gauge all round, decide, level the gap at its setting, lock, and measure again.",
        "It drags on one side, says the operator. What does the brake need?",
    ),
    "new disc": Task(
        ("disc-spent-gap-set",),
        Start.BODY_OFF,
        "The magnet body is off. Fit the new disc and put the brake together.",
        "The disc is worn out; a new one is in the store. Fit it and hand the hoist over.",
    ),
    "proving": Task(
        ("gap-too-large",),
        Start.OPEN,
        "Set the gap, close the brake, prove it, and write the record with its next date.",
        "It stops later than it used to, says the operator. What does the brake need?",
    ),
}


class LessonBench:
    """A task on a form; pressed, the bench with its coach; handed over, what it was."""

    def __init__(self, name: str) -> None:
        self._task, self._name, self._tries = TASKS[name], name, 0
        self._sheet = sheet_in_force().sheet
        self._form = FormPanel(self._answer)
        self.page = VBox([self._form]).add_class("gal-page-stack")
        self._form.show(
            words=[self._task.words],
            buttons=[("set out", "Set out the brake")],
        )

    def _answer(self, content: Mapping[str, Any]) -> None:
        if content.get("send") == "set out":
            self._set_out()

    def _set_out(self) -> None:
        from .coach_panel import CoachPanel  # noqa: PLC0415 (late: slow to import)

        case = self._case()
        self._tries += 1
        session = Session(case.setup())
        session.listen(lambda at, _: self._after(case, at, _))
        table = Table(session, self._sheet, case.work_order)
        coach = CoachPanel(case, session)
        show_only(self.page, self._form, bench_page(table, coach.form))
        self._form.show(
            words=[self._task.words],
            buttons=[("set out", "Begin again with another brake")],
        )

    def _case(self) -> Case:
        from quizzes.desks.trainer.staging import Staging  # noqa: PLC0415 (late: slow to import)

        sizes = self._sheet.sizes
        screws = [size.name for size in sizes if size.design is Design.HOLLOW_SCREWS]
        name = next((one for one in screws if one == USUAL_SIZE), [*screws, sizes[0].name][0])
        word = hashlib.sha256(f"{self._name} {self._tries}".encode()).hexdigest()[:8]
        case = Staging(name, self._task.fault_ids, word, self._task.start).case(self._sheet)
        return replace(case, work_order=self._task.order)

    def _after(self, case: Case, session: Session, _: Observation) -> None:
        if session.state.handed_over:
            from quizzes.desks.sheets.result_sheets import shown  # noqa: PLC0415 (late: slow to import)

            from .practice import explanation_html  # noqa: PLC0415 (late: slow to import)

            explained = shown(explanation_html(case, session))
            show_only(self.page, *self.page.children[:2], explained)


def lesson_bench(name: str) -> Widget:
    """Return the bench of a lesson, or a sentence if the limits sheet cannot be used.

    Parameters
    ----------
    name : str
        A name in `TASKS`.

    Raises
    ------
    ValueError
        If no lesson sets out such a bench.
    """
    if name not in TASKS:
        raise ValueError(f"name must be one of {', '.join(TASKS)}, got {name!r:.40}")
    try:
        return LessonBench(name).page
    except LimitsSheetError as error:
        from quizzes.desks.sheets.result_sheets import sheet_html, shown  # noqa: PLC0415 (late: slow to import)

        return shown(
            sheet_html("trouble", title="The limits sheet cannot be used", words=str(error))
        )

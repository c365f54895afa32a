"""The trainer's stage: any brake before the class, truth shown or hidden, a run step by step."""

import hashlib
import logging
import secrets
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ipywidgets import VBox, Widget

from quizzes.access.table import Thing
from quizzes.candidates.worker import HABITS, work
from quizzes.cases.case import Case
from quizzes.cases.sound_brakes import draw_sound
from quizzes.desks.apprentice.practice import CAUTION
from quizzes.desks.opening import opened
from quizzes.desks.sheets.result_sheets import sheet_html, shown
from quizzes.sittings.run import the_sheet
from widgets.bench.actions import Action
from widgets.bench.actions.codec import from_json
from widgets.bench.session import Session
from widgets.bench.setup import Order, Start
from widgets.bench.standing import gap_now
from widgets.bench.view.bench_panel import Table
from widgets.bench.view.page import bench_page
from widgets.brake.draws import Draws
from widgets.brake.faults import FAULTS, apply, fault
from widgets.brake.sizes.sheet import LimitsSheet, LimitsSheetError
from widgets.page.prompt_panel import FormPanel, text_of
from widgets.page.swapping import show_only

_LOG = logging.getLogger("gap_and_lining")
NONE, BY_WORD = "none", "drawn"
LONGEST_WORD = 60
_TASK = (
    "Set out one brake for the whole class. A word of your choice draws it: the same word, size "
    "and faults give the same brake again, here and in every other room."
)


@dataclass(frozen=True, slots=True)
class Staging:
    """What the trainer chose: size, faults, the word that draws the rest, where the job begins."""

    size_name: str
    fault_ids: tuple[str, ...]
    word: str
    start: Start

    def case(self, sheet: LimitsSheet) -> Case:
        """Return the brake of this choice.

        Raises
        ------
        ValueError
            If the size cannot carry the faults together.
        """
        seed = hashlib.sha256(f"stage\n{self.word}\n{self.size_name}".encode()).digest()
        draws = Draws(seed)
        size = sheet.size(self.size_name)
        if "wear-plate-missing" in self.fault_ids and size.wear_plate_mm == 0:
            raise ValueError(f"{size.name} has no wear plate that could be missing.")
        condition = draw_sound(draws.child("condition"), size)
        for fault_id in self.fault_ids:
            condition = apply(fault(fault_id), size, condition, draws.child("dose"))
        return Case(
            "stage",
            size,
            condition,
            seed,
            "A hoist on the stage. What does its brake need?",
            order=Order(start=self.start),
            faults=self.fault_ids,
        )


class Stage:
    """The page: choose, show, hide, step."""

    def __init__(self) -> None:
        self._sheet = the_sheet()
        self._staging: Staging | None = None
        self._case: Case | None = None
        self._session: Session | None = None
        self._script: tuple[Action, ...] = ()
        self._script_name = ""
        self._truth_shown = False
        self._form = FormPanel(self._answer)
        self._board = FormPanel(self._answer).add_class("gal-board")
        self._truth = VBox([])
        self.page = VBox([self._form]).add_class("gal-page-stack")
        self._ask()

    # ---- choosing ----

    def _ask(self, said: str = "") -> None:
        faults = [(row.id, row.title) for row in FAULTS]
        self._form.show(
            title="Set out a brake for the class",
            words=[_TASK],
            danger=CAUTION,
            fields=[
                _choice("size", "Size", [(size.name, size.name) for size in self._sheet.sizes]),
                _choice(
                    "fault", "What is wrong", [(NONE, "nothing"), (BY_WORD, "let the word draw it"),
                                               *faults], BY_WORD,
                ),
                _choice("second", "And besides", [(NONE, "nothing else"), *faults]),
                _choice("start", "Begin", [(start.value, words) for start, words in _STARTS]),
                {
                    "name": "word",
                    "kind": "text",
                    "label": "Word that draws it; empty for a new one",
                    "most": LONGEST_WORD,
                },
            ],
            buttons=[("set out", "Set it out")],
            said=said,
        )  # fmt: skip

    def _chosen(self, content: Mapping[str, Any]) -> Staging:
        names = {size.name for size in self._sheet.sizes}
        size_name = text_of(content, "size")
        if size_name not in names:
            raise ValueError("Choose a size from the list.")
        word = text_of(content, "word").strip()[:LONGEST_WORD] or secrets.token_hex(4)
        first = text_of(content, "fault")
        if first == BY_WORD:
            first = Draws(hashlib.sha256(word.encode()).digest()).choice(
                (NONE, *(row.id for row in FAULTS)), "fault"
            )
        known = {row.id for row in FAULTS}
        chosen = dict.fromkeys(one for one in (first, text_of(content, "second")) if one in known)
        starts = {start.value: start for start, _ in _STARTS}
        start = starts.get(text_of(content, "start"), Start.WORK_ORDER)
        return Staging(size_name, tuple(chosen), word, start)

    # ---- what the page sends ----

    def _answer(self, content: Mapping[str, Any]) -> None:
        wished = content.get("send")
        try:
            act = self._wishes().get(wished) if isinstance(wished, str) else None
            if act is not None:
                act(content)
        except ValueError as error:
            self._form.say(str(error))

    def _wishes(self) -> Mapping[str, Callable[[Mapping[str, Any]], None]]:
        always: dict[str, Callable[[Mapping[str, Any]], None]] = {"set out": self._set_out}
        if self._case is None:
            return always
        return always | {
            "truth": self._turn_truth,
            "run": self._choose_run,
            "next": lambda _: self._step(1),
            "ten": lambda _: self._step(10),
            "back": lambda _: self._step(-1),
            "again": lambda _: self._restart(),
            "other": lambda _: self._leave(),
        }

    def _set_out(self, content: Mapping[str, Any]) -> None:
        staging = self._chosen(content)
        self._case, self._staging = staging.case(self._sheet), staging
        self._script, self._script_name, self._truth_shown = (), "", False
        self._restart()

    def _restart(self, events: Sequence[Action] = ()) -> None:
        if self._case is None:
            return
        self._session = Session(self._case.setup())
        for action in events:
            self._session.act(action)
        self._session.listen(lambda *_: self._show_truth())
        table = Table(self._session, self._sheet, self._case.work_order)
        bench = bench_page(table)
        show_only(self.page, self._board, self._truth, bench, keep=(self._form,))
        self._show_board()
        self._show_truth()

    def _leave(self) -> None:
        self._case = self._session = None
        show_only(self.page, self._form, keep=(self._board, self._truth))
        self._ask()

    # ---- truth ----

    def _turn_truth(self, _: Mapping[str, Any]) -> None:
        self._truth_shown = not self._truth_shown
        self._show_board()
        self._show_truth()

    def _show_truth(self) -> None:
        if not self._truth_shown or self._case is None or self._session is None:
            show_only(self._truth)
            return
        show_only(self._truth, shown(truth_html(self._case, self._session)))

    # ---- a recorded run ----

    def _choose_run(self, content: Mapping[str, Any]) -> None:
        name = text_of(content, "hand")
        if self._case is None or name not in HABITS:
            raise ValueError("Choose whose run to step through.")
        self._script, self._script_name = recorded(self._case, self._sheet, name), name
        self._restart()

    def _step(self, by: int) -> None:
        if self._session is None or not self._script:
            return
        at = len(self._session.events)
        target = max(0, min(len(self._script), at + by))
        if target < at:
            self._restart(self._script[:target])
            return
        for action in self._script[at:target]:
            self._session.act(action)
        self._show_board()

    def _show_board(self) -> None:
        staging, session = self._staging, self._session
        if staging is None or session is None:
            return
        words = [f"Word “{staging.word}”, size {staging.size_name}."]
        buttons = [("truth", "Hide the truth" if self._truth_shown else "Show the truth")]
        if self._script:
            at = len(session.events)
            words.append(
                f"Run of the candidate “{self._script_name}”: step {at} of {len(self._script)}."
            )
            buttons += [("next", "Next step"), ("ten", "Ten steps"), ("back", "Step back")]
        buttons += [
            ("again", "From the start"),
            ("other", "Another brake"),
            ("full screen", "Full screen"),
        ]
        self._board.show(
            title="On the stage",
            words=words,
            fields=[_choice("hand", "Step through a run of", [(name, name) for name in HABITS])],
            buttons=[*buttons, ("run", "Load this run")],
            top=True,
        )


_STARTS = (
    (Start.WORK_ORDER, "with the whole work order"),
    (Start.OPEN, "safe and open, ready to measure"),
    (Start.BODY_OFF, "with the magnet body off, for a new disc"),
)


def _choice(
    name: str, label: str, options: Sequence[tuple[str, str]], value: str | None = None
) -> dict[str, Any]:
    return {
        "name": name,
        "kind": "choice",
        "label": label,
        "options": list(options),
        "value": value or options[0][0],
    }


def recorded(case: Case, sheet: LimitsSheet, habit: str) -> tuple[Action, ...]:
    """Return what a virtual candidate with a habit does on a brake, action by action."""
    session = Session(case.setup())
    work(session.act, sheet, HABITS[habit], case.order)
    return tuple(from_json(dict(event.action)) for event in session.events)


def truth_html(case: Case, session: Session) -> str:
    """Return what the brake really is as it stands now, for the class to see."""
    from widgets.charts.gap_round import gap_round  # noqa: PLC0415 (late: slow to import)

    setup, state = session.setup, session.state
    rows = [fault(fault_id) for fault_id in case.faults]
    gap = gap_now(setup, state)
    return sheet_html(
        "truth",
        faults=[{"title": row.title, "seen": row.seen, "do": row.do} for row in rows],
        disc_mm=f"{state.brake.disc.thinnest_mm:.2f}",
        least_mm=f"{case.size.disc.min_mm:g}",
        picture=gap_round(gap, [], case.size.gap, "The gap as it stands"),
    )


def stage_page() -> Widget:
    """Return the trainer's stage, or a sentence if it cannot be shown."""
    title = "The stage cannot be shown"
    return opened(Thing.TEACH, lambda: Stage().page, title, LimitsSheetError)

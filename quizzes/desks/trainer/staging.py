"""Which brake stands before the class: drawn by a word, or kept from somebody's finished sitting.

An address says it too, so that a guide, a results page or a bookmark opens the stage with that
very brake: `stage.ipynb?size=Cedar-47&faults=gap-tilted&word=trolley&start=open&run=careful`, or
`stage.ipynb?sitting=...&case=2` with what that person did as its run.
"""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import parse_qs, urlencode

from quizzes.candidates.worker import HABITS, work
from quizzes.cases.case import Case
from quizzes.cases.sound_brakes import draw_sound
from quizzes.records import Records
from quizzes.sittings.run import SittingRun
from widgets.bench.actions import Action
from widgets.bench.actions.codec import from_json
from widgets.bench.session import Session
from widgets.bench.setup import Order, Start
from widgets.brake.draws import Draws
from widgets.brake.faults import apply, fault
from widgets.brake.sizes.sheet import LimitsSheet

PAGE = "stage.ipynb"
CAREFUL = "careful"
LONGEST_WORD = 60
LONGEST_ADDRESS = 600
MOST_FAULTS = 2


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

    def address(self, run: str = "") -> str:
        """Return the address, from one page to the next, that opens the stage with this brake.

        Parameters
        ----------
        run : str
            Name of the run to step through, in `HABITS`; empty for none.
        """
        said = {"size": self.size_name, "faults": ",".join(self.fault_ids), "word": self.word,
                "start": self.start.value, "run": run}  # fmt: skip
        return f"{PAGE}?{urlencode({name: text for name, text in said.items() if text})}"


@dataclass(frozen=True, slots=True)
class Staged:
    """A brake before the class.

    Attributes
    ----------
    case : Case
        The brake.
    sheet : LimitsSheet
        The sheet that it belongs to.
    called : str
        What the board says of it, which gives nothing away.
    run : tuple of Action
        What somebody did on it, to be stepped through; empty where it is worked by hand.
    run_called : str
        Whose run that is: shown only when it is revealed.
    careful : tuple of Action
        What careful work on it would be, where there is a run to compare.
    """

    case: Case
    sheet: LimitsSheet
    called: str
    run: tuple[Action, ...] = ()
    run_called: str = ""
    careful: tuple[Action, ...] = ()


def staged(sheet: LimitsSheet, staging: Staging, run: str = "") -> Staged:
    """Return the brake of a choice, with the run of a virtual candidate if one is named.

    Raises
    ------
    ValueError
        If the size cannot carry the faults.
    """
    case = staging.case(sheet)
    called = f"Word “{staging.word}”, size {staging.size_name}."
    if run not in HABITS:
        return Staged(case, sheet, called)
    careful = recorded(case, sheet, CAREFUL)
    script = careful if run == CAREFUL else recorded(case, sheet, run)
    return Staged(case, sheet, called, script, run, careful)


def recorded(case: Case, sheet: LimitsSheet, habit: str) -> tuple[Action, ...]:
    """Return what a virtual candidate with a habit does on a brake, action by action."""
    session = Session(case.setup())
    work(session.act, sheet, HABITS[habit], case.order)
    return tuple(from_json(dict(event.action)) for event in session.events)


def sitting_address(sitting_id: str, case: int) -> str:
    """Return the address that opens the stage with a case of a finished sitting, counted from 1."""
    return f"{PAGE}?{urlencode({'sitting': sitting_id, 'case': case})}"


def from_sitting(store: Records, sitting_id: str, number: int) -> Staged:
    """Return a case of a finished sitting, with what that person did as its run.

    Raises
    ------
    RecordsError
        If there is no such sitting, or it cannot be read.
    ValueError
        If it is not finished, or has no such case.
    """
    run = SittingRun(store, store.sitting(sitting_id))
    if not run.finished:
        raise ValueError("That sitting is not finished: its brakes are shown once it is.")
    if not 1 <= number <= len(run.cases):
        raise ValueError(f"That sitting has cases 1 to {len(run.cases)}.")
    case = run.cases[number - 1]
    script = tuple(from_json(dict(event.action)) for event in run.events(number - 1))
    called = f"Case {number} of a finished sitting, size {case.size.name}."
    careful = recorded(case, run.kept.sheet, CAREFUL)
    whose = run.sitting.name or "no name"
    return Staged(case, run.kept.sheet, called, script, whose, careful)


def from_address(query: str, sheet: LimitsSheet, store: Records | None) -> Staged | None:
    """Return the brake that an address names, or None if it names none.

    Parameters
    ----------
    query : str
        What is after the question mark; it comes from outside.
    sheet : LimitsSheet
        The sheet in force.
    store : Records or None
        Where sittings are kept; None if nothing can be read.

    Raises
    ------
    RecordsError
        If the sitting cannot be read.
    ValueError
        If the address names a brake that there is not; one sentence says what is wrong.
    """
    said = _said(query)
    if said.get("sitting"):
        if store is None:
            raise ValueError("The records cannot be read here.")
        number = said.get("case", "1")
        return from_sitting(store, said["sitting"], int(number) if number.isdecimal() else 0)
    if not said.get("size"):
        return None
    return staged(sheet, staging_of(said, sheet), said.get("run", ""))


def staging_of(said: Mapping[str, str], sheet: LimitsSheet) -> Staging:
    """Return the choice that an address spells.

    Raises
    ------
    ValueError
        If size, faults or start are none of those there are.
    """
    if said["size"] not in {size.name for size in sheet.sizes}:
        raise ValueError("The address names a size that is not on the limits sheet.")
    names = [name for name in said.get("faults", "").split(",") if name]
    if len(names) > MOST_FAULTS or not all(_is_fault(name) for name in names):
        raise ValueError("The address names a fault that does not exist.")
    starts = {start.value: start for start in Start if start is not Start.NOTES}
    if said.get("start", Start.OPEN.value) not in starts:
        raise ValueError("The address names a beginning that does not exist.")
    start = starts[said.get("start", Start.OPEN.value)]
    word = said.get("word", "")[:LONGEST_WORD] or "stage"
    return Staging(said["size"], tuple(dict.fromkeys(names)), word, start)


def _is_fault(name: str) -> bool:
    try:
        fault(name)
    except (KeyError, ValueError):
        return False
    return True


def _said(query: str) -> dict[str, str]:
    try:
        parsed = parse_qs(query[:LONGEST_ADDRESS], max_num_fields=20)
    except ValueError:
        return {}
    return {name: values[0] for name, values in parsed.items()}

"""Two rings of a finished job: the gap as found and as left, one's own readings on the truth."""

import logging
from typing import Any

from quizzes.cases.case import Depth
from quizzes.grading.evidence.gathering import Evidence, JudgedGap, gather
from quizzes.records import RecordsError
from quizzes.sittings.run import SittingRun
from widgets.bench.actions.adjusting import SETS_THE_GAP
from widgets.bench.standing import gap_now
from widgets.bench.starts import at_start
from widgets.bench.state import State

_LOG = logging.getLogger("gap_and_lining")
FOUND, LEFT = "The gap as you found it", "The gap as you left it"


def found_ring(evidence: Evidence, title: str = FOUND) -> Any:  # noqa: ANN401 (late import)
    """Return the picture of the gap as it was found."""
    return _ring(evidence, at_start(evidence.setup), evidence.gaps_as_found, title)


def left_ring(evidence: Evidence, title: str = LEFT) -> Any | None:  # noqa: ANN401 (late import)
    """Return the picture of the gap as it was left, or nothing where no screw was turned."""
    turned = evidence.did(*SETS_THE_GAP)
    return _ring(evidence, evidence.end, evidence.gaps_as_left, title) if turned else None


def rings(evidence: Evidence) -> tuple[Any, ...]:
    """Return both pictures, as far as there are two; only for a job that is handed over."""
    return tuple(one for one in (found_ring(evidence), left_ring(evidence)) if one is not None)


def _ring(evidence: Evidence, state: State, judged: tuple[JudgedGap, ...], title: str) -> Any:  # noqa: ANN401 (late import)
    from widgets.charts.gap_round import gap_round  # noqa: PLC0415 (late: slow to import)

    readings = [one.reading for one in judged]
    return gap_round(gap_now(evidence.setup, state), readings, evidence.case.size.gap, title)


def rings_of_jobs(run: SittingRun) -> list[tuple[int, tuple[Any, ...]]]:
    """Return number and rings of each whole job; only a finished sitting shows them."""
    if not run.finished:
        return []
    made = []
    for slot, case in enumerate(run.cases[: len(run.grades)]):
        if case.depth is not Depth.WORK_ORDER:
            continue
        try:
            made.append((slot + 1, rings(gather(case, run.events(slot)))))
        except (RecordsError, ValueError) as error:
            _LOG.error("no rings for case %d: %s", slot + 1, error)
    return made

"""Two rings of a finished job: the gap as found and as left, one's own readings on the truth."""

from typing import Any

from quizzes.grading.evidence.gathering import Evidence
from widgets.bench.standing import gap_now
from widgets.bench.starts import at_start
from widgets.bench.state import State
from widgets.brake.judgement.rules import Reading


def found_ring(evidence: Evidence) -> Any:  # noqa: ANN401 (late import)
    """Return the picture of the gap as it was found."""
    return _ring(evidence, at_start(evidence.setup), as_found=True)


def left_ring(evidence: Evidence) -> Any | None:  # noqa: ANN401 (late import)
    """Return the picture of the gap as it was left, or nothing where no screw was turned."""
    return _ring(evidence, evidence.end, as_found=False) if evidence.did("turn_screw") else None


def rings(evidence: Evidence) -> tuple[Any, ...]:
    """Return both pictures, as far as there are two; only for a job that is handed over."""
    return tuple(one for one in (found_ring(evidence), left_ring(evidence)) if one is not None)


def _ring(evidence: Evidence, state: State, *, as_found: bool) -> Any:  # noqa: ANN401 (late import)
    from widgets.charts.gap_round import gap_round  # noqa: PLC0415 (late: slow to import)

    judged = evidence.gaps_as_found if as_found else evidence.gaps_as_left
    readings: list[Reading] = [one.reading for one in judged]
    title = "The gap as you found it" if as_found else "The gap as you left it"
    return gap_round(gap_now(evidence.setup, state), readings, evidence.case.size.gap, title)

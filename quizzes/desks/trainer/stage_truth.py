"""What the stage shows beside the brake: nothing yet, the truth as it stands, the verdict."""

from collections.abc import Sequence

from quizzes.desks.apprentice.rings import found_ring, left_ring
from quizzes.desks.sheets.result_sheets import sheet_html
from quizzes.grading.evidence.gathering import gather
from quizzes.grading.grade import grade_case
from widgets.bench.actions import Action
from widgets.bench.session import Session
from widgets.bench.state import State
from widgets.brake.faults import fault

from .run_words import act_line, parted_at
from .staging import Staged


def beside_html(said: str) -> str:
    """Return what is beside the brake: truth and verdict, or that they are hidden.

    The place is the same either way, so that the brake stays put.
    """
    inside = said or sheet_html("hidden_truth")
    return f'<div class="beside" tabindex="0" role="region" aria-label="The truth">{inside}</div>'


def what_truth_shows(state: State) -> tuple[object, ...]:
    """Return what the picture of the truth follows from: while that stays, so does the picture."""
    return (state.brake, state.stand_off_mm(), state.lock_nm, state.body_on, state.dust_mm,
            state.shaft_deg, state.gap_notes, state.decision)  # fmt: skip


def truth_html(staged: Staged, session: Session) -> str:
    """Return what the brake was as found and is now, one's readings of each on it."""
    evidence = gather(staged.case, session.events)
    rows = [fault(fault_id) for fault_id in staged.case.faults]
    return sheet_html(
        "truth",
        faults=[{"title": row.title, "seen": row.seen, "do": row.do} for row in rows],
        disc_mm=f"{session.state.brake.disc.thinnest_mm:.2f}",
        least_mm=f"{staged.case.size.disc.min_mm:g}",
        found=found_ring(evidence, "The gap as found"),
        left=left_ring(evidence, "The gap as it stands now"),
    )


def verdict_html(staged: Staged, session: Session) -> str:
    """Return how a finished job is judged, and where its run parted from careful work."""
    grade = grade_case(staged.case, session.events).to_json()
    return sheet_html("verdict", grade=grade, parted=parted_words(staged))


def parted_words(staged: Staged) -> str:
    """Return in a sentence where a run parted from the careful one, or that it did not."""
    if not staged.run:
        return ""
    step = parted_at(staged.run, staged.careful)
    if step is None:
        return "It is the careful run, step for step."
    own, other = (_words(script, step) for script in (staged.run, staged.careful))
    return f"It left the careful run at step {step + 1}: {own}. Careful work: {other}."


def _words(script: Sequence[Action], step: int) -> str:
    return act_line(script[step]) if step < len(script) else "nothing more"


def written_words(state: State) -> str:
    """Return how many readings stand on the notes, as found and after the decision told apart."""
    decided = state.decision_step
    gaps = [note for note in state.gap_notes if not note.struck]
    discs = [note for note in state.disc_notes if not note.struck]
    after = [note for note in gaps if decided is not None and note.step >= decided]
    words = f"Written: {len(gaps) - len(after)} of the gap as found, {len(discs)} of the disc"
    return f"{words}; {len(after)} of the gap after the decision." if decided else f"{words}."

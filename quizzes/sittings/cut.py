"""The cut in force: what share of a sitting's questions somebody just competent earns."""

import logging
import os
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from statistics import fmean

from quizzes.analysis.quality.panel import Panel, PanelError, cut_of, load_panel
from quizzes.grading.question_rule import QUESTIONS_PASS
from quizzes.questions.bank import the_bank
from quizzes.questions.items import Item

_LOG = logging.getLogger("gap_and_lining")
PANEL, BANK = "panel", "bank"  # by whom a cut is


@dataclass(frozen=True, slots=True)
class Cut:
    """Share of the points asked for, its standard error where judges gave one, and by whom."""

    share: float
    by: str
    words: str
    error: float | None = None


def panel_in_force() -> Panel | None:
    """Return the panel of `GAL_PANEL`; None if no file is named, or it cannot be used (logged)."""
    named = os.environ.get("GAL_PANEL")
    if not named:
        return None
    path = Path(named)
    changed = path.stat().st_mtime_ns if path.is_file() else 0
    try:
        return _loaded(path, changed)
    except PanelError as error:
        _LOG.warning("panel not used: %s", error)
        return None


@lru_cache(maxsize=4)
def _loaded(path: Path, _changed: int) -> Panel:
    return load_panel(path, the_bank().items)


def cut_for(items: Sequence[Item], panel: Panel | None = None) -> Cut:
    """Return the cut of these questions: the panel's with its error, or the bank's own estimates.

    Parameters
    ----------
    items : sequence of Item
        The questions of a sitting.
    panel : Panel, optional
        Three judges or more.
    """
    found = cut_of(panel, [item.id for item in items]) if panel else None
    if panel and found:
        whose = "an invented panel" if panel.invented else "a panel"
        words = (
            f"{found.in_use:.0%} asked: {whose} of {len(panel.second.judges)} judges says "
            f"{found.share:.0%} (standard error {found.error:.1%}) of {found.judged} of these "
            "questions, and one standard error is added."
        )
        return Cut(round(found.in_use, 4), PANEL, words, round(found.error, 4))
    share = fmean(item.difficulty for item in items) if items else QUESTIONS_PASS
    words = (
        f"{share:.0%} asked: the bank's own estimates of what somebody just competent earns; "
        "no panel of judges has looked at these questions."
    )
    return Cut(round(share, 4), BANK, words)

"""A panel of judges as a sheet: the cut of each form, judges, rounds, agreement, every estimate."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from quizzes.analysis.quality.judge_agreement import agreement_of
from quizzes.analysis.quality.panel import Panel
from quizzes.desks.sheets.result_sheets import sheet_html
from quizzes.forms.for_judges import may_ask
from quizzes.forms.offered import Offer
from quizzes.grading.cut import Cut
from quizzes.sittings.cut import PanelAct, cut_for
from widgets.brake.sizes.sheet import LimitsSheet


@dataclass(frozen=True, slots=True)
class FormCut:
    """The cut of a form over the questions that it may ask, and how many these are."""

    title: str
    questions: int
    cut: Cut


def form_cuts(
    offers: Mapping[str, Offer], sheet: LimitsSheet, panel: Panel | None
) -> tuple[FormCut, ...]:
    """Return the cut of each form that asks questions; the bank's own where no judge looked."""
    found = ((offer.title, may_ask(offer.blueprint, sheet)) for offer in offers.values())
    return tuple(
        FormCut(title, len(items), cut_for(items, panel)) for title, items in found if items
    )


def panel_html(
    heading: str,
    words: str,
    panel: Panel | None,
    forms: Sequence[FormCut] = (),
    acts: Sequence[PanelAct] = (),
) -> str:
    """Return the sheet of a panel, or of there being none.

    Parameters
    ----------
    heading, words : str
        What is over it: which cut it is.
    panel : Panel or None
        Whose judges and estimates are shown.
    forms : sequence of FormCut
        What each form asks.
    acts : sequence of PanelAct
        What was kept and ended before, the last one first.
    """
    facts = _facts(panel) if panel else {"judges": (), "rounds": (), "questions": ()}
    return sheet_html(
        "panel", heading=heading, words=words, panel=panel, forms=forms, acts=acts, **facts
    )


def _facts(panel: Panel) -> dict[str, Any]:
    first, second = panel.first.table, panel.second.table
    moved = np.abs(second - first).mean(axis=1)
    judges = [
        {"name": name, "teaches": name in panel.trainers, "first": a, "second": b, "moved": by}
        for name, a, b, by in zip(
            panel.second.judges, first.mean(axis=1), second.mean(axis=1), moved, strict=True
        )
    ]
    rounds = [
        {"name": name, "agreement": agreement_of(one), "spread": panel.spread(one)}
        for name, one in (("first", panel.first), ("second", panel.second))
    ]
    spreads = second.std(axis=0, ddof=1)
    questions = [
        {
            "id": panel.second.items[at],
            "estimates": list(zip(first[:, at], second[:, at], strict=True)),
            "mean": second[:, at].mean(),
            "spread": spreads[at],
        }
        for at in np.argsort(-spreads, kind="stable")
    ]
    return {"judges": judges, "rounds": rounds, "questions": questions}

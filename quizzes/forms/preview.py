"""What a form would be like: twenty of it drawn, their time, weight, families and elements."""

import secrets
from collections import Counter
from dataclasses import dataclass
from statistics import fmean
from typing import Any

from quizzes.cases.case import Depth
from quizzes.cases.families import FAMILIES
from quizzes.cases.groups import ELEMENTS, elements_shown
from quizzes.forms.blueprint import Blueprint, BlueprintError
from quizzes.forms.difficulty import expected_minutes
from quizzes.forms.drawing import (
    NORMAL_GAP_SHARE,
    SCORE_TOLERANCE,
    TIME_TOLERANCE,
    Form,
    draw_form,
)
from quizzes.questions.choosing import NoQuestionError, choose_all
from quizzes.questions.own import bank_in_force
from widgets.brake.sizes.sheet import LimitsSheet

from .draft import DraftError

DRAWN = 20


@dataclass(frozen=True, slots=True)
class Span:
    """Least, mean and largest of something over the drawn forms."""

    least: float
    mean: float
    most: float

    @classmethod
    def of(cls, values: list[float]) -> "Span":
        """Return the span of one value or more."""
        return cls(min(values), fmean(values), max(values))


@dataclass(frozen=True, slots=True)
class Preview:
    """What twenty forms of a blueprint are like.

    Attributes
    ----------
    minutes : Span
        Expected time of a careful person, without the break.
    score : Span
        Cases that a borderline candidate is expected to get right.
    cases, questions : int
        How many a form has.
    families : dict of str to int
        In how many of the forms a family comes up.
    elements : dict of str to tuple
        Of each element: whether cases are sure to show it, and questions on it in each form.
    """

    minutes: Span
    score: Span
    cases: int
    questions: int
    families: dict[str, int]
    elements: dict[str, tuple[bool, float]]

    def to_json(self) -> dict[str, Any]:
        """Return the preview as tables of texts for the page."""
        rows = [
            ["Minutes, without the break", *_told(self.minutes, 0)],
            [f"Right of {self.cases} cases, borderline candidate", *_told(self.score, 1)],
        ]
        return {
            "spread": {"heads": ["Expected", "Least", "Mean", "Most"], "rows": rows},
            "families": {
                "heads": ["Family", f"In how many of {DRAWN} forms"],
                "rows": [[name, str(many)] for name, many in self.families.items()],
            },
            "elements": {
                "heads": ["Element", "Shown by cases", "Questions in a form, mean"],
                "rows": [
                    [name, "in every form" if sure else "–", f"{asked:.1f}" if asked else "–"]
                    for name, (sure, asked) in self.elements.items()
                ],
            },
        }


def _told(span: Span, decimals: int) -> list[str]:
    return [f"{value:.{decimals}f}" for value in (span.least, span.mean, span.most)]


def check(blueprint: Blueprint, sheet: LimitsSheet) -> Form:
    """Return one form of a blueprint, drawn to see that it can be.

    Raises
    ------
    DraftError
        If none can be drawn from the sheet, or the bank has too few questions; the
        sentence names the row and the reason.
    """
    try:
        form = draw_form(blueprint, sheet, secrets.token_bytes(32))
    except BlueprintError as error:
        reason = _gap_reason(blueprint) or _uneven_reason(blueprint) or str(error)
        raise DraftError([reason]) from None
    _check_questions(blueprint, form, sheet)
    return form


def _gap_reason(blueprint: Blueprint) -> str:
    """Return which rows make the gap give too many faults away; empty if that is not the reason."""
    shares = []
    for number, line in enumerate(blueprint.cases, start=1):
        faulty = [FAMILIES[name] for name in line.families if FAMILIES[name].faults]
        part = len(faulty) / len(line.families)
        seen = sum(not one.gap_normal for one in faulty) / len(faulty) if faulty else 0.0
        shares.append((number, line.count * part, line.count * part * seen))
    all_faulty, all_seen = sum(row[1] for row in shares), sum(row[2] for row in shares)
    if not all_faulty or all_seen <= (1 - NORMAL_GAP_SHARE) * all_faulty:
        return ""
    rows = ", ".join(str(number) for number, _, seen in shares if seen > 0)
    return (
        f"Cases, row {rows}: the gap alone gives away {all_seen:.1f} of {all_faulty:.1f} faulty "
        f"brakes, and at most half is allowed, since somebody who looks at nothing else must not "
        "pass. Add a row of the group 'normal gap', or lower the count there."
    )


def _uneven_reason(blueprint: Blueprint) -> str:
    """Return which row's families take too unlike times for forms to be alike; else empty."""
    spans = []
    for number, line in enumerate(blueprint.cases, start=1):
        times = [expected_minutes(name, line.depth) for name in line.families]
        spans.append((max(times) - min(times), number, min(times), max(times)))
    widest, row, least, most = max(spans)
    if widest <= 0:
        return ""
    return (
        f"Cases, row {row}: forms would not come out alike, within {SCORE_TOLERANCE:g} cases and "
        f"{100 * TIME_TOLERANCE:.0f} % of the time. A case of this row takes {least:.1f} to "
        f"{most:.1f} minutes, depending on its family: tick families that are nearer to each "
        "other, or ask for more cases of it."
    )


def _check_questions(blueprint: Blueprint, form: Form, sheet: LimitsSheet) -> None:
    """Refuse a blueprint whose questions the bank cannot give, naming the row."""
    end = 0
    for number, line in enumerate(blueprint.questions, start=1):
        end += line.count
        try:
            choose_all(bank_in_force(sheet), form.questions[:end], sheet)
        except NoQuestionError as error:
            raise DraftError([f"Questions, row {number}: {error}."]) from None


def preview(blueprint: Blueprint, sheet: LimitsSheet) -> Preview:
    """Return what twenty forms of a blueprint are like.

    Raises
    ------
    DraftError
        As `check`.
    """
    forms = [check(blueprint, sheet) for _ in range(DRAWN)]
    families = Counter(name for form in forms for name in {case.family for case in form.cases})
    bank = bank_in_force(sheet)
    asked = Counter(
        bank.items[slot.item].element if slot.item else slot.element
        for form in forms
        for slot in form.questions
    )
    sure: set[str] = set()
    for line in blueprint.cases:
        sure |= elements_shown(Depth(line.depth), line.families)
    return Preview(
        Span.of([form.minutes for form in forms]),
        Span.of([form.expected_score for form in forms]),
        blueprint.case_count(),
        blueprint.question_count,
        dict(sorted(families.items(), key=lambda one: (-one[1], one[0]))),
        {
            name: (name in sure, asked[name] / DRAWN)
            for name in ELEMENTS
            if name in sure or asked[name]
        },
    )

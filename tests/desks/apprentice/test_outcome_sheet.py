"""The sheet that a candidate reads at the end: one true statement of each thing, in words."""

import re

import pytest

from quizzes.desks.assessor.evidence_sheet import channel_shares
from quizzes.desks.sheets.result_sheets import sheet_html
from quizzes.grading.outcome import judge_sitting
from quizzes.grading.words import TITLES
from quizzes.sittings.strengths import strengths
from quizzes.sittings.what_now import WhatNow

CODE = re.compile(r"\b[SKMDARTW][1-5]\b")


def graded(standing, *scores):
    """Return a kept grade of a bench case, by the share reached of each element named."""
    elements = [
        {"id": name, "channel": "M" if name == "M2" else "D", "score": score, "reached": score >= 0.6, "lines": []}
        for name, score in scores
    ]  # fmt: skip
    return {
        "edition": "1", "depth": "bench", "standing": standing, "decided": "fit", "marks": 80,
        "own_readings_support": "fit", "elements": elements, "critical": [], "left_wrong": [],
        "faults": [], "misconceptions": [],
    }  # fmt: skip


def sheet(grades, *, self_check=False, promised=()):
    """Return the outcome of such cases and some questions as the page shows it."""
    outcome = judge_sitting(grades, len(grades), enough=lambda *_: True, promised=promised)
    well, cost = strengths(grades)
    asked = [
        {
            "element": "K2",
            "share": 1.0,
            "answer": "It grows.",
            "why": "",
            "caught": [],
            "confidence": "",
        }
    ]
    return sheet_html(
        "outcome", self_check=self_check, jobs=[], well=well, cost=cost, name="Ada Quern",
        form_title="Exercise", questions={"points": 1.0, "asked": 1, "questions": asked},
        now=WhatNow((), (), None, at_once=False), outcome=outcome,
        channels=channel_shares(outcome), calibration="", grades=grades,
    )  # fmt: skip


def test_a_passed_exercise_says_nothing_that_its_own_counts_deny():
    """Complete in 1 of 3 cases and enough on average: both are said, and not that all was shown."""
    grades = [graded("right", ("M2", 1.0)), *[graded("right", ("M2", 0.8))] * 2]
    said = sheet(grades)

    assert f"<b>{TITLES['M2']}</b>: complete in 1 of 3 cases" in said
    assert "Every case right, no critical error, and enough of the job shown on average." in said
    assert "every element" not in said.lower()


@pytest.mark.parametrize("self_check", [True, False])
def test_a_candidate_reads_words_and_no_codes_of_elements(self_check):
    """Elements missed, never shown, and asked by a question."""
    said = sheet([graded("right", ("M2", 0.2))] * 4, self_check=self_check, promised=("R3",))

    assert not CODE.search(said)
    assert "What wear does to gap, force, torque and release" in said
    assert self_check or f"{TITLES['R3']}: this form asks for it" in said


@pytest.mark.parametrize("self_check", [True, False])
def test_a_self_check_says_practise_this_where_a_sitting_that_counts_says_not_yet(self_check):
    """Head of the sheet, line of the case, and the case itself."""
    said = sheet([graded("right", ("D1", 1.0)), graded("not yet", ("D1", 0.0))], self_check=self_check)  # fmt: skip

    assert ("Not yet" in said) is not self_check
    assert ("Case 2, bench: Practise this" in said) is self_check

"""What no case shows by itself: readings picked, names left out, instruments never looked over.

What is asked here is common practice, no source, where none is named.
"""

import pytest
from scipy.stats import binomtest, norm

from quizzes.candidates.people.everybody import HONEST
from quizzes.cases.case import Depth
from quizzes.grading.again import MOST_UNNAMED, NO_CHANCE, chance_of_thickest
from quizzes.grading.critical import GROSS_Z
from quizzes.grading.evidence.chosen import chosen_of_several
from quizzes.grading.evidence.readings import JudgedDisc
from quizzes.grading.evidence.shown import Shown, discs_in_evidence
from quizzes.grading.grade import Standing
from quizzes.grading.outcome import judge_sitting
from quizzes.grading.words import sentences
from tests.grading.jobs import element
from tests.grading.test_got_past import worked
from widgets.brake.judgement.remark import remark
from widgets.instruments.written import disc_reading


def shown(angle_deg: float, mm: float, step: int, shaft_deg: float = 0.0) -> Shown:
    return Shown(disc_reading(angle_deg, mm), step, shaft_deg)


def test_a_thin_side_that_was_turned_away_counts_all_the_same():
    """8.85 mm at 90 degrees, then the rotor turned by 60 and 9.10 written over it there."""
    first = [shown(0.0, 9.12, 1), shown(90.0, 8.85, 2), shown(180.0, 9.11, 3)]
    later = [shown(angle, 9.10, 4 + n, 60.0) for n, angle in enumerate((0.0, 90.0, 180.0))]
    written = [JudgedDisc(9, disc_reading(angle, 9.10), "caliper") for angle in (0.0, 90.0, 180.0)]

    counts = discs_in_evidence(written, [*first, *later])
    turned_once_round = discs_in_evidence(
        written, [*first, *(one._replace(shaft_deg=360.0) for one in later)]
    )

    assert min(one.value_mm for one in counts) == 8.85
    assert min(one.value_mm for one in turned_once_round) == 9.10


@pytest.mark.parametrize(("thickest", "thinnest"), [(0, 0), (9, 0), (30, 14), (7, 21), (52, 0)])
def test_the_chance_of_so_many_is_that_of_the_sign_test(thickest, thinnest):
    """Against scipy's exact binomial test, one-sided."""
    if thickest + thinnest:
        exact = binomtest(thickest, thickest + thinnest, alternative="greater").pvalue
        assert chance_of_thickest(thickest, thinnest) == pytest.approx(exact, rel=1e-12)
    else:
        assert chance_of_thickest(0, 0) == 1.0


@pytest.mark.parametrize(
    ("written_mm", "chosen"),
    [(9.06, (1, 0)), (8.93, (0, 1)), (9.00, (0, 0)), (8.98, (0, 0))],
)
def test_of_several_readings_the_thickest_the_thinnest_or_neither_was_written(written_mm, chosen):
    """Shown 8.93, 8.98 and 9.06 before it was written; a reading taken afterwards says nothing."""
    told = [shown(0.0, mm, step) for step, mm in enumerate((8.93, 9.06, 8.98))]
    note = JudgedDisc(5, disc_reading(0.0, written_mm), "caliper")

    assert chosen_of_several([note], [*told, shown(0.0, 9.30, 7)]) == chosen
    assert chosen_of_several([note], told[:1]) == (0, 0)


def test_each_instrument_may_be_looked_over_as_it_is_taken_up():
    """The caliper after the leaves, before the disc: as good as both of them first."""
    for name in ("each instrument in its turn", "each instrument in its turn, disc first"):
        grade = worked("in limits", HONEST[name], Depth.BENCH)
        assert grade.standing is Standing.RIGHT
        assert element(grade, "M1").score == 1.0


def with_line(code: str, **facts: object) -> dict:
    lines = [remark(code, **facts).to_json()]
    return {
        "standing": "right", "marks": 100, "critical": [], "misconceptions": [],
        "depth": "bench",
        "elements": [{"id": "M1", "channel": "M", "score": 1.0, "lines": lines}],
    }  # fmt: skip


def unheeded(finding: str) -> dict:
    what = remark("fault.unheeded", findings=[finding]).to_json()
    return {**with_line("row.right", size="Cedar-47"), "faults": [{"what": what}]}


KEPT = with_line("row.right", size="Cedar-47")
UNSEEN = with_line("tool.looked-over", tool="caliper", kept=False)
PICKED = with_line("disc.of-several", thickest=4, thinnest=0)


@pytest.mark.parametrize(
    ("grades", "reason"),
    [
        ([UNSEEN, KEPT], ""),
        ([UNSEEN, UNSEEN], "sitting.tools-unseen"),
        ([with_line("findings.not-named", any_of=["oil"])] * MOST_UNNAMED, ""),
        (
            [with_line("findings.not-named", any_of=["oil"])] * (MOST_UNNAMED + 1),
            "sitting.not-named",
        ),
        ([PICKED, PICKED], ""),
        ([PICKED, PICKED, PICKED], "sitting.thickest"),
        ([PICKED, with_line("disc.of-several", thickest=8, thinnest=6)], ""),
        ([unheeded("rectifier"), unheeded("oil")], ""),
        ([unheeded("rectifier"), unheeded("rectifier")], "sitting.unheeded"),
        ([with_line("findings.kept-unseen", places=["voltage"])] * 2, "sitting.never-looked"),
    ],
)
def test_once_is_a_slip_and_again_and_again_is_a_habit(grades, reason):
    """Each by itself, with a sentence for whoever reads it."""
    found = judge_sitting(grades, len(grades))

    assert [one["code"] for one in found["reasons"]] == [reason or "sitting.all-right"]
    assert all(one.endswith(".") for one in sentences(found["reasons"]))
    assert NO_CHANCE <= 0.005  # somebody who picks nothing may be told this no more often


def test_a_careful_hand_is_seldom_told_that_it_measured_wrongly():
    """A normal error (JCGM 100): of a sitting's 150 readings one is gross in under 2 of 100."""
    readings = 150  # eight gaps, four discs, at fourteen brakes; less where something is referred
    by_chance = 1 - (1 - 2 * norm.sf(GROSS_Z)) ** readings

    assert by_chance < 0.02
    assert 1 - (1 - 2 * norm.sf(3.0)) ** readings > 0.3  # three, as ISO 13528 has it, would not do

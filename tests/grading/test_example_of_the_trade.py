"""The example of the trade: 0.4 to 1.0 mm, least 10 mm, 15 mm measured, gap beyond its largest."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from quizzes.cases.case import Case
from quizzes.cases.example_of_the_trade import example_concluded, example_size
from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.grade import grade_evidence
from quizzes.job_sheet.doubts import doubts
from widgets.bench.actions import codec as form
from widgets.brake.condition import Disc, sound_condition
from widgets.brake.gap.profile import Plane
from widgets.brake.judgement.rules import Reading
from widgets.brake.sizes.asked import asked_of
from widgets.brake.sizes.estimate import complete
from widgets.instruments.written import DISC_U_MM

GOLDEN = Path(__file__).parent / "golden_jobs" / "example_of_the_trade.json"


def example_case() -> Case:
    """Return the example as a whole job: an even gap of 1.15 mm over a disc of 15 mm."""
    brake = sound_condition(example_size(), gap=Plane(1.15), disc=Disc(15.0))
    return Case("made", example_size(), replace(brake, dust_mm=0.05), bytes(range(32)), "Inspect.")


@pytest.mark.parametrize(
    ("gap_mm", "disc_mm", "needs"),
    [(1.15, 15.0, "adjust"), (1.15, 10.0, "replace"), (0.70, 15.0, "fit")],
)
def test_the_example_comes_out_as_the_trade_has_it(gap_mm, disc_mm, needs):
    """A disc far over its least is good, and its gap is set; common practice, no source."""
    assert example_concluded(gap_mm, disc_mm).outcome == needs


def test_the_golden_job_of_the_example_earns_what_its_reader_wrote():
    """A whole job in a log that a person has read: adjusted, tested, back in use."""
    kept = json.loads(GOLDEN.read_text(encoding="utf-8"))
    recorder = Recorder(example_case())
    for action in kept["actions"]:
        recorder.act(form.from_json(action))
    grade, expected = grade_evidence(recorder.evidence()), kept["expected"]

    assert (grade.standing, grade.decided) == (expected["standing"], expected["decided"])
    assert {error.code for error in grade.critical} == set(expected["critical"])
    assert recorder.state.disc_part == "old"
    assert len(kept["why"]) > 40


def test_a_measured_disc_over_an_estimated_new_one_is_asked_about():
    """15 mm measured, 12.7 mm estimated: nobody is told that the reading cannot be."""
    discs = [Reading(angle, 15.0, DISC_U_MM) for angle in (0.0, 90.0, 180.0, 270.0)]
    (asked,) = doubts(example_size(), [Reading(0.0, 1.15, 0.01)], discs)

    assert "How thick is a new one?" in asked
    assert "disc_new_mm" in asked


def test_a_sheet_with_only_a_least_gap_is_told_which_setting_was_taken():
    """Not in silence: the number that was taken, why, and where to write the maker's own."""
    size = complete({"name": "Short-1", "gap_min_mm": 0.4, "gap_max_mm": 1.0, "disc_min_mm": 10.0})
    asked = [words for words in asked_of(size) if "gap_setting_mm" in words]

    assert len(asked) == 1
    assert f"{size.gap.setting_mm:g} mm is taken" in asked[0]
    assert "0.4 mm" in asked[0]


def test_a_sheet_that_gives_both_is_asked_nothing():
    """Whoever has told all that decides is left in peace."""
    given = {"name": "Whole-1", "gap_setting_mm": 0.4, "gap_max_mm": 1.0, "disc_min_mm": 10.0}
    assert asked_of(complete(given | {"disc_new_mm": 16.0})) == ()

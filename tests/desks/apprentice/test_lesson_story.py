"""The whole job as a story: every chapter is there, and it tells what the bench said."""

import pytest

from quizzes.desks.apprentice.lesson_story import CHAPTERS, whole_job
from quizzes.desks.explorers.brake_explorers import lesson_size
from quizzes.desks.explorers.worked import Lines, worked

CEDAR = lesson_size("Cedar-47")


def test_the_job_goes_from_load_to_record_in_the_order_of_the_trade():
    """Load before supply, supply before cover, gauged again after the last screw. Common practice."""
    told = "\n".join(str(whole_job(CEDAR).chapter(name)) for name in CHAPTERS)
    order = ["The load is down", "Your lock and your tag", "motor dead, brake dead", "Cover off",
             "Gauged at 8 places", "Written: disc at", "adjust the gap", "breaks loose",
             "Hollow screw 1", "Gauged at 8 places", "Test load", "You sign the record"]  # fmt: skip
    at = 0
    for words in order:
        at = told.find(words, at) + len(words)
        assert at >= len(words), words


def test_the_gap_is_too_large_as_found_and_right_as_left():
    """Readings are those of the bench: beyond the largest, then at the setting and even."""
    job = whole_job(CEDAR)
    found, left = ([one.value_mm for one in rounds] for rounds in (job.found, job.left))

    assert len(found) == len(left) == 8
    assert min(found) > CEDAR.gap.max_mm
    assert max(left) - min(left) <= CEDAR.gap.evenness_mm
    assert sum(left) / 8 == pytest.approx(CEDAR.gap.setting_mm, abs=0.03)


def test_a_chapter_that_is_not_there_is_refused_by_name():
    """The sentence names what there is."""
    with pytest.raises(ValueError, match=r"making safe.*got 'epilogue'"):
        whole_job(CEDAR).chapter("epilogue")


def test_a_worked_solution_is_folded_and_holds_no_markup():
    """What stands in a line is text, whatever it is."""
    shown = worked("1 < 2 & <b>")._repr_html_()

    assert "<details" in shown
    assert "1 &lt; 2 &amp; &lt;b&gt;" in shown
    with pytest.raises(ValueError, match="at least one sentence"):
        Lines(())

"""The whole job as a story: every chapter is there, and it tells what the bench said."""

import pytest

from quizzes.desks.apprentice.lesson_story import CHAPTERS, whole_job
from quizzes.desks.explorers.brake_explorers import lesson_size
from quizzes.desks.explorers.numbers import numbers
from quizzes.desks.explorers.story import Log, told
from quizzes.desks.explorers.worked import Lines, Prose, worked
from quizzes.sittings.in_force import sheet_in_force

CEDAR = lesson_size("Cedar-47")


@pytest.mark.parametrize("size", sheet_in_force().sheet.sizes, ids=lambda size: size.name)
def test_the_job_goes_from_load_to_record_in_the_order_of_the_trade(size):
    """Load before supply, supply before cover, gauged again after the last screw. Common practice."""
    told = "\n".join(str(whole_job(size).chapter(name)) for name in CHAPTERS)
    order = ["the load lowered", "It is slack", "her own lock", "Dead.", "takes off the cover",
             "vacuum", "retaining screws", "the leaves, at 8 places", "thinnest", "adjust.",
             "hollow screws in", "then all three to", "8 places once more", "cover on",
             "rated load", "signs the record"]  # fmt: skip
    at = 0
    for words in order:
        at = told.find(words, at) + len(words)
        assert at >= len(words), words


def test_every_number_of_the_story_was_read_at_the_bench():
    """The chapter on measuring names the readings of the log and the tries that they took."""
    job = whole_job(CEDAR)
    told = str(job.chapter("measuring"))
    written = [event.action for event in Log(job.events).of("write_disc")]

    assert all(f"{note['value_mm']:.2f}" in told for note in written)
    assert f"{min(note['value_mm'] for note in written):.2f} mm." in told
    assert f"{job.disc_mm:.2f}" in str(job.record())


def test_what_was_not_done_is_not_told():
    """A chapter without its events says nothing of locks, leaves or a test load."""
    told_of_nothing = " ".join(told("proving", [], CEDAR))

    assert "rated load" not in told_of_nothing
    assert "signs" not in told_of_nothing


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
    """What is in a line is text, whatever it is."""
    shown = worked("1 < 2 & <b>")._repr_html_()

    assert "<details" in shown
    assert "1 &lt; 2 &amp; &lt;b&gt;" in shown
    with pytest.raises(ValueError, match="at least one sentence"):
        Lines((), "Worked solution")


def test_a_table_of_numbers_holds_no_markup_and_no_ragged_row():
    """Words and values are text; a row has a value for each head."""
    shown = numbers(("", "gap, mm"), ("a < b", "0.30"))._repr_html_()

    assert '<th scope="row">a &lt; b</th><td>0.30</td>' in shown
    assert "&lt;b&gt;" in Prose(("<b>",))._repr_html_()
    with pytest.raises(ValueError, match="must have 2 values"):
        numbers(("", "gap, mm"), ("one",))
    with pytest.raises(ValueError, match="at least one row"):
        numbers(("gap, mm",))

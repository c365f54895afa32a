"""Where each part of a lesson stands on a wide page."""

import json

import pytest

from quizzes.server.navigation import LESSONS, PAGES, add_navigation
from quizzes.server.pages.places import ACROSS, BESIDE, COLUMNS, TEXT, places, places_of

LONG, SHORT = "word " * 60, "For the wall."
TAUGHT = [page for page in PAGES if page.path[:2].isdigit()]


def cell(kind, source):
    return {"cell_type": kind, "source": source}


def test_a_figure_stands_beside_the_text_before_it():
    """Text, figure: a pair. Text alone, or a short line over a figure: across."""
    cells = [
        cell("markdown", LONG),
        cell("markdown", LONG),
        cell("code", "figure(x)"),
        cell("markdown", SHORT),
        cell("code", "figure(y)"),
        cell("code", "figure(z)"),
    ]

    assert places(cells) == (ACROSS, TEXT, BESIDE, ACROSS, ACROSS, ACROSS)


def test_a_short_line_and_its_figure_fill_the_half_beside_a_long_text():
    """Numbers beside the text, and under them the figure for the wall, once."""
    wall = [cell("markdown", SHORT), cell("code", "figure(y)")]
    cells = [cell("markdown", 3 * LONG), cell("code", "numbers(x)"), *wall, *wall]

    assert places(cells) == (TEXT, BESIDE, BESIDE, BESIDE, ACROSS, ACROSS)


def test_a_story_is_text_and_its_picture_stands_beside_it():
    """Heading and what a cell tells: left. What it shows: right. So is a worked solution."""
    story = [cell("markdown", "### 2. Open it"), cell("code", 'job.chapter("opening")')]
    solved = [cell("markdown", "## Your turn"), cell("code", "worked(x)")]

    assert places([*story, cell("code", "figure(x)")]) == (TEXT, TEXT, BESIDE)
    assert places(solved) == (TEXT, BESIDE)


def test_long_text_with_nothing_beside_it_has_two_columns():
    """No line as long as the page is wide, and no empty half."""
    assert places([cell("markdown", 3 * LONG), cell("markdown", SHORT)]) == (COLUMNS, ACROSS)


def test_questions_and_benches_have_the_whole_width():
    """What needs room does not stand in half a page."""
    for code in ("lesson_check(1)", 'lesson_bench("levelling")', 'own_hand("Cedar-47")'):
        assert places([cell("markdown", LONG), cell("code", code)]) == (ACROSS, ACROSS)


@pytest.mark.parametrize("page", TAUGHT, ids=lambda page: page.key)
def test_a_lesson_knows_its_number_and_the_place_of_each_cell(page):
    """A place for each cell; text and what is beside it come in pairs."""
    suite = add_navigation({"mathjaxConfig": None}, notebook_path=page.path)["suite"]
    cells = json.loads((LESSONS / page.path).read_text(encoding="utf-8"))["cells"]

    assert (suite["lesson"], suite["lessons"]) == (int(page.path[:2]), len(TAUGHT))
    assert len(suite["places"]) == len(cells)
    sides = [place for place in suite["places"] if place in {TEXT, BESIDE}]
    assert sides[0] == TEXT
    assert sides[-1] == BESIDE  # whatever is opened is closed


@pytest.mark.parametrize("path", ["bench.ipynb", "../conftest.py", "", "no_such.ipynb"])
def test_a_page_that_is_no_lesson_has_no_places(path):
    """Nor does a path that leads elsewhere."""
    suite = add_navigation({"mathjaxConfig": None}, notebook_path=path)["suite"]

    assert (suite["lesson"], suite["places"]) == (0, ())


def test_a_broken_notebook_has_no_places(tmp_path):
    """The page is then set out in one column, and says its own trouble."""
    broken = tmp_path / "01_broken.ipynb"
    broken.write_text("{", encoding="utf-8")

    assert places_of(broken) == ()
    assert places_of(tmp_path / "missing.ipynb") == ()

"""What every page in `lessons/` has in common: short cells, one idea at a time, the same rhythm."""

import re
from itertools import pairwise
from pathlib import Path
from urllib.parse import unquote

import nbformat
import pytest

LESSONS = Path(__file__).parents[2] / "lessons"
PAGES = sorted(LESSONS.glob("*.ipynb"))
NUMBERED = [page for page in PAGES if re.match(r"\d\d_", page.name)]
MOST_LINES = 12  # of a code cell, about a screen at arm's length
MOST_CODE_RUN = 3  # code cells without a word between them
RHYTHM = ("Try it", "What happened, and why", "Check yourself", "At the brake, remember")
LINK = re.compile(r"(?<!!)\[[^\]]*\]\(([^)\s]+)\)")

each_page = pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
each_lesson = pytest.mark.parametrize("page", NUMBERED, ids=lambda page: page.stem)


def opened(page: Path) -> nbformat.NotebookNode:
    return nbformat.read(page, as_version=4)


def cells(page: Path, kind: str) -> list[nbformat.NotebookNode]:
    return [cell for cell in opened(page).cells if cell.cell_type == kind]


def headings(page: Path) -> list[tuple[int, str]]:
    """Return the headings of a page in order, as depth and words; fenced text has none."""
    text = "\n".join(cell.source for cell in cells(page, "markdown"))
    text = re.sub(r"^```.*?^```", "", text, flags=re.MULTILINE | re.DOTALL)
    return [
        (len(signs), words) for signs, words in re.findall(r"^(#+) +(.+?)\s*$", text, re.MULTILINE)
    ]


def test_there_are_pages_and_a_lesson_among_them():
    """The checks below have something to look at."""
    assert len(PAGES) >= 4
    assert NUMBERED


@each_page
def test_a_page_is_a_notebook_by_the_published_schema(page):
    """Outside check: nbformat's own JSON schema, version 4.5, where cells have ids."""
    notebook = opened(page)
    nbformat.validate(notebook)

    assert (notebook.nbformat, notebook.nbformat_minor) == (4, 5)


@each_page
def test_a_page_has_a_title_for_the_header(page):
    """Tab and header show it while the kernel is still starting."""
    title = opened(page).metadata.get("title", "")

    assert title.strip()
    assert len(title) <= 60


@each_page
def test_a_page_has_one_main_heading_and_it_comes_first(page):
    """A screen reader finds one h1, and no level is left out below it."""
    depths = [depth for depth, _ in headings(page)]

    assert depths.count(1) == 1
    assert depths[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(depths))


@each_page
def test_every_cell_has_an_id_of_its_own(page):
    """Without stored ids every opening would make new ones, and a diff of nothing."""
    raw = nbformat.reads(page.read_text(encoding="utf-8"), as_version=nbformat.NO_CONVERT)
    ids = [cell.get("id") for cell in raw.cells]

    assert all(ids)
    assert len(ids) == len(set(ids))


@each_page
def test_a_code_cell_fits_on_a_screen(page):
    """What is longer has a name in a package."""
    longest = max((len(cell.source.splitlines()) for cell in cells(page, "code")), default=0)

    assert longest <= MOST_LINES


@each_page
def test_a_page_never_goes_long_without_a_word(page):
    """No more than a few code cells in a row without text between them."""
    run = longest = 0
    for cell in opened(page).cells:
        run = run + 1 if cell.cell_type == "code" else 0
        longest = max(longest, run)

    assert longest <= MOST_CODE_RUN


@each_page
def test_a_cell_imports_and_arranges_and_does_nothing_else(page):
    """No star, class, function, try, markup or file in a cell."""
    code = "\n".join(cell.source for cell in cells(page, "code"))
    banned = r"import \*|^\s*(?:class|def|try|with) ?\b|\bopen\(|HTML\(|display\(|^\s*[%!]"

    assert not re.findall(banned, code, re.MULTILINE)


@each_lesson
def test_a_lesson_asks_before_it_tells(page):
    """The first cell puts a question, before any code, and asks for an answer in writing."""
    first = opened(page).cells[0]

    assert first.cell_type == "markdown"
    assert "?" in first.source
    assert re.search(r"\bwrite\b", first.source, re.IGNORECASE)


@each_lesson
def test_a_lesson_keeps_the_rhythm(page):
    """Try it, what happened and why, check yourself, remember: all there, in this order."""
    found = [words for depth, words in headings(page) if depth == 2 and words in RHYTHM]

    assert tuple(found) == RHYTHM


@each_lesson
def test_a_lesson_has_something_to_try_between_question_and_why(page):
    """Between the two headings stands at least one code cell."""
    order = [
        "try" if "## Try it" in cell.source else "why" if "## What happened" in cell.source
        else cell.cell_type
        for cell in opened(page).cells
    ]  # fmt: skip

    assert "code" in order[order.index("try") : order.index("why")]


@each_page
def test_a_link_leads_to_a_page_that_exists(page):
    """Lessons point to each other by file name, and to nothing outside."""
    text = "\n".join(cell.source for cell in cells(page, "markdown"))
    targets = [unquote(target.split("#")[0]) for target in LINK.findall(text)]
    missing = [target for target in targets if target and not (LESSONS / target).is_file()]

    assert not missing


def test_every_page_of_the_header_exists():
    """The way between the pages leads to notebooks that are there, and leaves none out."""
    from quizzes.desks.serving import navigation

    listed = {page.path for page in navigation.PAGES if page.path}
    assert {page.name for page in PAGES if page not in NUMBERED} <= listed
    assert listed <= {page.name for page in PAGES}


def test_lessons_are_numbered_in_teaching_order_without_a_hole():
    """01, 02, 03 and so on: the front door lists them by name."""
    numbers = [int(page.name[:2]) for page in NUMBERED]

    assert numbers == list(range(1, len(numbers) + 1))

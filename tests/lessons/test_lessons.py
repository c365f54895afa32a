"""What every page in `lessons/` has in common: short cells, one idea at a time, the same rhythm."""

import json
import re
import shutil
import subprocess
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
TYPED_RESULT = re.compile(
    r"[=≈]\s*-?\d+(?:[.,]\d+)?\s*(?:mm|µm|N·m|kN|N|V|ms|kJ|J|kg|Ω|A|MPa|°C|%)(?![\w²³/·])"
)
TERMS_SCRIPT = LESSONS / "page" / "voila" / "templates" / "suite" / "static" / "terms.js"
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


def prose(page: Path) -> str:
    """Return the running text of a page: no heading, no formula, no code, no tag."""
    text = "\n\n".join(cell.source for cell in cells(page, "markdown"))
    text = re.sub(r"^```.*?^```", "", text, flags=re.MULTILINE | re.DOTALL)
    text = re.sub(
        r"\$\$.*?\$\$|\$[^$\n]*\$|`[^`\n]*`|<[^>]*>|\]\([^)]*\)", " ", text, flags=re.DOTALL
    )
    return re.sub(r"^#+ .*$|[*_\[]", "", text, flags=re.MULTILINE)


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
    """No star, class, function, try, markup, bare print or file in a cell."""
    code = "\n".join(cell.source for cell in cells(page, "code"))
    banned = (
        r"import \*|\bprint\(|^\s*(?:class|def|try|with) ?\b|\bopen\(|HTML\(|display\(|^\s*[%!]"
    )

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


@each_lesson
def test_a_lesson_teaches_with_a_formula_a_worked_number_and_a_figure(page):
    """The formula is set as one; the numbers are the model's, in a table that nbval compares."""
    text = "\n".join(cell.source for cell in cells(page, "markdown"))
    code = [cell.source for cell in cells(page, "code")]
    worked = [
        source for source in code if "# NBVAL_CHECK_OUTPUT" in source and "numbers(" in source
    ]

    assert re.search(r"\$\$.+?\$\$", text, re.DOTALL)
    assert worked
    assert any(re.search(r"\bfigure\(", source) for source in code)


@each_lesson
def test_a_formula_on_a_line_of_its_own_is_folded(page):
    """It is for those who want the sum; whoever reads on meets none of them."""
    text = "\n".join(cell.source for cell in cells(page, "markdown"))
    open_text = re.sub(r'<details class="sum">.*?</details>', "", text, flags=re.DOTALL)

    assert "$$" in text
    assert "$$" not in open_text


@each_lesson
def test_no_result_is_typed_into_the_text(page):
    """An equals sign with a number and a unit behind it is the model's to print."""
    assert not TYPED_RESULT.findall(prose(page))


def test_the_search_for_typed_results_finds_some():
    """The pattern above sees numbers with units behind an equals sign, and no equation."""
    assert TYPED_RESULT.search("so the torque is = 47 N·m today")
    assert TYPED_RESULT.search("≈ 0.30 mm")
    assert not TYPED_RESULT.search("a gap of 0.05 mm, and n = 8 springs, k = 34 N/mm")


@each_lesson
def test_a_lesson_puts_its_caution_where_the_risk_is_met(page):
    """At least one stands in a box between the question and what to remember."""
    boxed = [
        place for place, cell in enumerate(opened(page).cells)
        if cell.cell_type == "markdown" and 'class="caution"' in cell.source
    ]  # fmt: skip

    assert boxed
    assert boxed[0] < len(opened(page).cells) - 1


@each_lesson
def test_a_lesson_asks_its_own_questions(page):
    """The check of lesson n is that of lesson n."""
    code = "\n".join(cell.source for cell in cells(page, "code"))

    assert re.findall(r"lesson_check\((\d+)\)", code) == [str(int(page.name[:2]))]


@each_lesson
def test_a_lesson_says_whose_numbers_count(page):
    """Each lesson sends its reader to the maker; the foot of every page adds law and licence."""
    assert re.search(r"\bmakers?\b", prose(page), re.IGNORECASE)


@each_page
def test_every_picture_has_words(page):
    """An image in the text has an alternative worth reading; a figure of a cell brings its own."""
    text = "\n".join(cell.source for cell in cells(page, "markdown"))
    code = "\n".join(cell.source for cell in cells(page, "code"))
    pictures = re.findall(r"!\[([^\]]*)\]", text)
    tags = re.findall(r"<(?:img|svg)\b[^>]*>", text)

    assert all(len(alt.split()) >= 4 for alt in pictures)
    assert all(re.search(r"""(?:alt|aria-label)=["'][^"']{15,}["']""", tag) for tag in tags)
    # `figure()` shows a Picture, which cannot be made without its words (tests of the charts).
    assert not re.findall(r"\b(?:plt|pyplot|matplotlib|Image|SVG)\b", code)


@each_page
def test_a_page_needs_no_address_outside(page):
    """No link, image or import leads off the machine."""
    text = "\n".join(cell.source for cell in opened(page).cells)

    assert not re.findall(r"(?:https?|ftp|wss?):|//\w+\.\w+/|\bwww\.", text)


@pytest.mark.skipif(shutil.which("node") is None, reason="node is not installed")
@each_lesson
def test_every_word_of_the_trade_is_explained_where_it_is_first_used(page, tmp_path):
    """Whatever the glossary knows and the lesson uses, the page's script makes a key of, once.

    The words are searched independently here, sharing no code with the script.
    """
    from quizzes.desks.glossary.terms import glossary

    terms = [term for term in glossary() if not term.common]
    text = re.sub(r"\s+", " ", prose(page)).replace("’", "'")
    used = {
        name.lower(): term.anchor
        for term in terms
        for name in (term.term, *term.also)
        if re.search(rf"(?<![\w-]){re.escape(name)}(?:e?s)?(?![\w-])", text, re.IGNORECASE)
    }
    module = tmp_path / "terms.mjs"
    module.write_text(TERMS_SCRIPT.read_text(encoding="utf-8"), encoding="utf-8")
    script = (
        f"import {{ firstUses, lexicon }} from {json.dumps(module.as_uri())};"
        f"const words = lexicon({json.dumps([term.brief() for term in terms])});"
        f"const found = firstUses({json.dumps(text)}, words, new Set());"
        "console.log(JSON.stringify(found.map(({ term }) => term.anchor)));"
    )
    asked = ["node", "--input-type=module", "-e", script]
    marked = json.loads(subprocess.run(asked, capture_output=True, text=True, check=True).stdout)
    # A short name that only stands inside a longer one is explained with the longer one.
    inside = {
        anchor for name, anchor in used.items()
        if any(name != other and name in other for other in used)
    }  # fmt: skip

    assert used
    assert len(marked) == len(set(marked))
    assert set(marked) <= set(used.values())
    assert set(used.values()) - inside <= set(marked)


@each_page
def test_a_link_into_the_glossary_names_a_word_that_is_there(page):
    """`glossary.ipynb#air-gap` opens at a word."""
    from quizzes.desks.glossary.terms import glossary

    text = "\n".join(cell.source for cell in cells(page, "markdown"))
    asked = re.findall(r"glossary\.ipynb#([\w-]+)", text)

    assert set(asked) <= {term.anchor for term in glossary()}


@each_page
def test_a_link_that_names_a_lesson_leads_to_it(page):
    """`[Lesson 7](07_...)`: the number in the words is that of the page."""
    text = "\n".join(cell.source for cell in cells(page, "markdown"))
    named = re.findall(r"\[(?:<b>)?lesson (\d+)[^\]]*\]\((\d+)_", text, re.IGNORECASE)
    named += re.findall(r"""href=["'](\d+)_[^>]*>lesson (\d+)<""", text, re.IGNORECASE)

    assert [pair for pair in named if int(pair[0]) != int(pair[1])] == []


@each_page
def test_a_link_leads_to_a_page_that_exists(page):
    """Lessons point to each other by file name, and to nothing outside."""
    text = "\n".join(cell.source for cell in cells(page, "markdown"))
    targets = [unquote(target.split("#")[0]) for target in LINK.findall(text)]
    missing = [target for target in targets if target and not (LESSONS / target).is_file()]

    assert not missing


def test_every_page_of_the_header_exists():
    """The way between the pages leads to notebooks that are there, and leaves none out."""
    from quizzes.server import navigation

    listed = {page.path for page in navigation.PAGES if page.path}
    assert {page.name for page in PAGES if page not in NUMBERED} <= listed
    assert listed <= {page.name for page in PAGES}


def test_lessons_are_numbered_in_teaching_order_without_a_hole():
    """01, 02, 03 and so on: the front door lists them by name."""
    numbers = [int(page.name[:2]) for page in NUMBERED]

    assert numbers == list(range(1, len(numbers) + 1))

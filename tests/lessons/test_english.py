"""English that whoever works can read: no turn of another century, one word for one thing, age 14."""

import re
from pathlib import Path

import nbformat
import pytest

LESSONS = Path(__file__).parents[2] / "lessons"
NUMBERED = sorted(LESSONS.glob("[0-9][0-9]_*.ipynb"))
WRITTEN = [
    *sorted(LESSONS.glob("*.ipynb")),
    LESSONS.parent / "README.md",
    LESSONS.parent / "DEVELOPERS.md",
    LESSONS.parent / "quizzes" / "desks" / "glossary" / "glossary.toml",
    *sorted((LESSONS.parent / "quizzes" / "questions" / "bank").glob("*.toml")),
]
# Automated readability index: 7 is the seventh year of an American school, age 12 to 13; pages
# for whoever works should not ask for more than 14.
# Outside: Senter & Smith, *Automated Readability Index*, AMRL-TR-66-220 (1967), from memory.
MOST_GRADE = 7.0
ARCHAIC = (
    r"way of the load", r"\breckon(?:s|ed|ing)?\b", r"\bgoes by the\b", r"\bwhat it hangs on\b",
    r"\bmind the (?:difference|gap|order)\b", r"\bdirect side\b", r"\bbe it\b", r"\bthereof\b",
    r"\bwhereupon\b", r"\bnought\b", r"\bwont to\b", r"\bhas (?:one|he|she) to\b", r"\bthus\b",
    r"\bso long as one\b", r"\bhow many degrees \w+ has\b", r"\bfor it knows\b", r"\bis to be had\b",
    r"\banew\b", r"\brightly\b", r"\bfor ever\b", r"\bthose who may\b", r"\bneed not\b",
    r"\bthat very\b", r"\bwhat came of\b", r"\bso many of so many\b",
)  # fmt: skip
# The one word of this suite, and the others for the same thing.
ONE_WORD = {
    "largest": r"\bgreatest\b",
    "evenness": r"\bunevenness limit\b",
    "setting": r"\bnominal gap\b(?!\")",  # but for the glossary's list of other names
    "slipping clutch": r"\bslip clutch\b",
    "worn out": r"\bfinished disc\b|\bdisc is finished\b",  # a finished disc is one ready to fit
    "pulled in": r"\b(?:plate|brake) is (?:not )?drawn in\b|\bdr(?:aws?|ew) (?:it|the plate) in\b",
    "pulled": r"\bdraws? the hand release\b",
    "non-contact tester": r"(?i)\bcontactless tester",
    "set again": r"\bgap (?:is|can be|be) set back\b",
    "person responsible": r"\bperson in charge\b",
}
# The same in the programs, where pages and commands take their sentences from. Plain words, in
# small letters: a search by pattern through two million characters takes seconds.
STRUCK_OUT = (
    "greatest", "nought", "reckon", "thereof", "whereupon", "that very", "what came of",
    "slip clutch", "person in charge", "finished disc", "disc is finished", "plate is drawn in",
    "draws the plate in", "a contactless", "the contactless", "set back at its largest",
)  # fmt: skip
ROOT = LESSONS.parent
each_lesson = pytest.mark.parametrize("page", NUMBERED, ids=lambda page: page.stem)
each_text = pytest.mark.parametrize("page", WRITTEN, ids=lambda page: page.stem)


def readability_index(text: str) -> float:
    """Return the automated readability index of a text, a school year.

    By hand: "Gauge the gap. Then lock it." has 21 letters, 6 words and 2 sentences, so
    4.71 * 21 / 6 + 0.5 * 6 / 2 - 21.43, which is -3.4. The usual library is not asked: it
    installs a package named `tests` beside its own, which hides this folder.
    """
    words = re.findall(r"[^\W_][\w'’-]*", text)
    letters = sum(len(re.sub(r"\W", "", word)) for word in words)
    sentences = max(1, len(re.findall(r"[.?!:](?=\s|$)", text)))
    return 4.71 * letters / len(words) + 0.5 * len(words) / sentences - 21.43


def words_of(page: Path) -> str:
    """Return what a person reads of a page: of a notebook its text cells, of a file all of it."""
    if page.suffix != ".ipynb":
        return page.read_text(encoding="utf-8")
    cells = nbformat.read(page, as_version=4).cells
    return "\n\n".join(cell.source for cell in cells if cell.cell_type == "markdown")


def running_text(page: Path) -> str:
    """Return the sentences of a lesson: no folded sum, no table, no formula, no heading, no tag."""
    text = re.sub(r'<details class="sum">.*?</details>', " ", words_of(page), flags=re.DOTALL)
    text = re.sub(r"^[|#].*$", "", text, flags=re.MULTILINE)
    text = re.sub(
        r"\$\$.*?\$\$|\$[^$\n]*\$|`[^`\n]*`|<[^>]*>|\]\([^)]*\)", " ", text, flags=re.DOTALL
    )
    text = re.sub(r"^\s*(?:\d+\.|[*-]) ", "", text, flags=re.MULTILINE)
    text = re.sub(r"[*_\[]", "", text)
    return re.sub(r"([^.?!:\s])\s*\n+", r"\1.\n", text)  # an item of a list is a sentence


@each_lesson
def test_a_lesson_can_be_read_at_fourteen(page):
    """Outside the folded sums; the index counts letters, words and sentences."""
    assert readability_index(running_text(page)) <= MOST_GRADE


def test_the_index_tells_plain_from_heavy():
    """A sentence of a contract is far above the bound, and one of a fitter below it."""
    heavy = (
        "Notwithstanding the aforementioned stipulations, responsibility for interdepartmental "
        "communication regarding electromechanical deterioration remains undifferentiated."
    )

    assert readability_index(heavy) > 2 * MOST_GRADE
    assert readability_index("Gauge the gap. Then lock it.") == pytest.approx(-3.445)


@each_text
def test_no_text_has_a_turn_of_another_century(page):
    """Turns that a native technical editor struck out of these pages once, and words like them."""
    text = words_of(page)

    assert [found for one in ARCHAIC for found in re.findall(one, text, re.IGNORECASE)] == []


@each_text
def test_one_thing_has_one_word(page):
    """Largest gap, evenness, setting: nothing else for them."""
    text = words_of(page)

    assert [word for word, other in ONE_WORD.items() if re.search(other, text)] == []


@pytest.mark.parametrize("part", ["widgets", "quizzes"])
def test_no_program_says_what_was_struck_out_of_the_pages(part):
    """Sentences of pages and commands, docstrings and comments alike."""
    found = [
        (str(path.relative_to(ROOT)), word)
        for path in sorted((ROOT / part).rglob("*.[pj][ys]"))
        for text in [path.read_text(encoding="utf-8").lower()]
        for word in STRUCK_OUT
        if word in text
    ]

    assert found == []


def test_the_search_for_old_turns_finds_some():
    """The patterns see what they are for, and leave plain sentences alone."""
    found = [one for one in ARCHAIC if re.search(one, "It reckons with the way of the load, thus.")]

    assert len(found) == 3
    assert not any(re.search(one, "The load drops while the brake slips.") for one in ARCHAIC)

"""The glossary: complete, unambiguous, and reachable from every lesson and header."""

import json
import re
from pathlib import Path

import pytest

from quizzes.desks.glossary.page import GlossaryPanel, glossary_page
from quizzes.desks.glossary.terms import Term, glossary, read_glossary
from quizzes.server.navigation import PAGES, add_navigation, pages_in

ROOT = Path(__file__).parents[3]
# The words that the design fixes (DESIGN.md, section 5), each by one of its names.
DESIGNED = (
    *("air gap", "pressure plate", "friction disc", "lining", "adjusting screw", "retaining screw"),
    *("wear plate", "limits sheet", "feel", "reading", "notes", "case", "form", "sitting"),
    *("element", "competent", "not yet competent", "desk"),
)


# What the bench says that everyday English does not, or says otherwise; a person read it through.
AT_THE_BENCH = (
    *(
        "retaining screw",
        "hollow screw",
        "hand release",
        "wear plate",
        "seal",
        "fan",
        "ring",
        "key",
    ),
    *("disc", "hub", "spline", "collar", "leaf", "caliper", "steel rule", "bracket", "drags"),
    *("insulation", "resistance", "rectifier", "stored charge", "terminal box", "tester", "tag"),
    *("test supply", "second feed", "main switch", "emergency stop", "test load", "rated voltage"),
    *("rated load", "magnet body", "motor end", "pressure plate", "clack", "fretting", "play"),
    *("sling", "slipping clutch", "spacer", "vernier", "person responsible"),
    *("slack", "torque wrench", "torque", "work order", "limits sheet", "setting", "hook", "block"),
)
BENCH = ROOT / "widgets" / "bench"


def names() -> set[str]:
    return {name.lower() for term in glossary() for name in (term.term, *term.also)}


@pytest.mark.parametrize("word", DESIGNED)
def test_every_word_of_the_design_is_explained(word):
    """What the design calls a thing stands in the glossary under that name."""
    assert word in names()


@pytest.mark.parametrize("word", AT_THE_BENCH)
def test_every_word_of_the_trade_that_the_bench_says_is_explained(word):
    """It is said there, in a sentence or on a key, and the glossary has it."""
    files = [*BENCH.glob("words/*.py"), *BENCH.glob("orders/*.py"), *BENCH.glob("view/*/*.js")]
    said = " ".join(file.read_text(encoding="utf-8") for file in files).lower()

    assert word in said
    assert names() & {word, f"hook {word}", f"{word} block"}


def test_no_word_is_explained_by_itself_alone():
    """An explanation is a sentence with an end, and is more than the word again."""
    for term in glossary():
        assert term.means.endswith("."), term.term
        assert len(term.means.split()) >= 6, term.term


def test_the_list_runs_by_the_alphabet_and_every_anchor_is_its_own():
    """Two words never share an address."""
    terms = glossary()
    anchors = [term.anchor for term in terms]

    assert [term.term.lower() for term in terms] == sorted(term.term.lower() for term in terms)
    assert len(set(anchors)) == len(anchors)
    assert all(re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", anchor) for anchor in anchors)


GOOD = '[[term]]\nterm = "air gap"\nmeans = "The clear way."\nalso = ["gap"]\n'


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("term = [", "expected TOML"),
        ("", "at least one"),
        ('[[term]]\nterm = "a"\n', "means: expected words, got None"),
        ('[[term]]\nterm = " "\nmeans = "x."\n', "term: expected words"),
        (GOOD + 'colour = "red"\n', "expected the fields"),
        (GOOD.replace('["gap"]', '"gap"'), "also: expected a list"),
        (GOOD.replace('["gap"]', "[3]"), "also: expected a list"),
        (GOOD + "common = 1\n", "common: expected true or false"),
        (GOOD + '[[term]]\nterm = "Gap"\nmeans = "x."\n', "'Gap' belongs to 'air gap'"),
    ],
)
def test_a_bad_glossary_is_refused_with_its_place(tmp_path, text, said):
    """The sentence names the file, the term and what was expected."""
    file = tmp_path / "own.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(ValueError, match=r"own\.toml") as refused:
        read_glossary(file)

    assert said in str(refused.value)


def test_a_good_glossary_is_read_as_it_stands(tmp_path):
    """Word, meaning and other names come out as they were written."""
    file = tmp_path / "own.toml"
    file.write_text(GOOD, encoding="utf-8")

    assert read_glossary(file) == (Term("air gap", "The clear way.", ("gap",)),)


def test_the_page_sends_every_word_once_asked(monkeypatch):
    """One message holds all terms; anything else gets no answer."""
    panel, sent = glossary_page(), []
    monkeypatch.setattr(panel, "send", lambda content, buffers=None: sent.append(content))
    panel._hear({"ask": "terms"})
    panel._hear({"ask": "truth"})

    assert isinstance(panel, GlossaryPanel)
    assert [term["term"] for term in sent[0]["terms"]] == [term.term for term in glossary()]
    assert len(sent) == 1


# ---- the way between the pages ----


def test_a_lesson_brings_its_words_along_and_a_desk_does_not():
    """Only lessons explain words where they are used; common words of English are left alone."""
    lesson = next(page for page in PAGES if page.key == "lesson")
    brought = add_navigation({}, notebook_path=lesson.path)["suite"]["terms"]

    assert {"term", "means", "also", "anchor"} == set(brought[0])
    assert "air gap" in {term["term"] for term in brought}
    assert "case" not in {term["term"] for term in brought}
    assert add_navigation({}, notebook_path="bench.ipynb")["suite"]["terms"] == []


def notebook(folder: Path, name: str, title: str | None) -> None:
    said = {"metadata": {"title": title}} if title else {}
    (folder / name).write_text(json.dumps(said), encoding="utf-8")


def test_the_header_lists_what_is_there_and_nothing_else(tmp_path):
    """Lessons by number, then the desks, then the sheets; a page that is missing is left out."""
    for name, title in (
        ("02_second.ipynb", "Two"),
        ("01_first.ipynb", None),
        ("bench.ipynb", "Bench"),
        ("glossary.ipynb", "Glossary"),
        ("own_page.ipynb", "Ours"),
    ):
        notebook(tmp_path, name, title)
    (tmp_path / "notes.txt").write_text("no page", encoding="utf-8")
    found = [(page.key, page.title, page.group) for page in pages_in(tmp_path)]

    assert found == [
        ("front", "Front door", ""),
        ("lesson", "1. First", "Lessons"),
        ("lesson_2", "2. Two", "Lessons"),
        ("bench", "Bench", ""),
        ("glossary", "Glossary", "Sheets"),
        ("own_page", "Ours", "Sheets"),
    ]


def test_each_lesson_knows_the_one_before_and_the_one_after():
    """The first has none before it, the last none after it, and a desk has neither."""
    lessons = [page.path for page in PAGES if page.key.startswith("lesson")]
    shown = [add_navigation({}, notebook_path=path)["suite"] for path in lessons]

    assert [plate["before"] and plate["before"]["path"] for plate in shown] == [None, *lessons[:-1]]
    assert [plate["after"] and plate["after"]["path"] for plate in shown] == [*lessons[1:], None]
    assert add_navigation({}, notebook_path="bench.ipynb")["suite"]["after"] is None

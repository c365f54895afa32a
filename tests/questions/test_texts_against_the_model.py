"""Sentences of lessons, glossary and bank that say something of the model, held against it."""

import json
import tomllib
from pathlib import Path

from quizzes.questions.bank import the_bank
from tests import strategies as any_

ROOT = Path(__file__).parents[2]


def lesson(number: int) -> str:
    (page,) = (ROOT / "lessons").glob(f"{number:02}_*.ipynb")
    cells = json.loads(page.read_text(encoding="utf-8"))["cells"]
    return "\n".join("".join(cell["source"]) for cell in cells)


def test_springs_are_some_millimetres_short_of_their_free_length():
    """Their force over their rate at the setting: two to four on every size, and not many.

    Outside check: the table of sizes gives force and rate of each spring; length is force by rate.
    """
    short_mm = [size.springs.force_each_n / size.springs.rate_each_n_per_mm
                for size in any_.SHEET.sizes]  # fmt: skip

    assert all(1.5 < mm < 4.5 for mm in short_mm)
    assert "only some millimetres short of their free length" in lesson(1)


def test_the_rule_on_controllers_is_not_quoted_for_landing_a_load():
    """29 CFR 1910.179(l)(2), from memory: location, controllers off, main switch locked, signs."""
    source = the_bank().item("load-before-cover").source

    assert source.startswith("common practice, no source")


def test_the_glossary_says_of_a_missing_wear_plate_what_the_gap_shows():
    """Too wide by its thickness while nothing is turned; once set away it cannot be seen."""
    path = ROOT / "quizzes" / "desks" / "glossary" / "glossary.toml"
    terms = tomllib.loads(path.read_text(encoding="utf-8"))["term"]
    means = next(one["means"] for one in terms if one["term"] == "wear plate")

    assert "while the screws stay as they were" in means
    assert "nothing in the gap tells" in means

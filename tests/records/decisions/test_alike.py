"""Two spellings of one name, as somebody writes who wants to be taken for two people."""

import pytest

from quizzes.records.decisions.alike import as_read

SAME = [
    "ADA LOFT", " ada   loft ", "Loft, Ada", "Àda Löft", "Ada\u200b Lo\u200dft", "\u0410d\u0430 Loft",
    "Ada L\u03bfft", "Ａｄａ Ｌｏｆｔ", "Ada\u00a0Loft", "Ada L0ft", "Ada\u202e Loft", "A\u00adda Loft",
    "Ada_Loft", "𝐀𝐝𝐚 Loft",
]  # fmt: skip
# Code points after Unicode Technical Standard 39, confusables (from memory).


@pytest.mark.parametrize("name", SAME)
def test_a_name_in_another_spelling_is_the_same_name(name):
    """Whoever reads it on a page sees one person."""
    assert as_read(name) == as_read("Ada Loft")


@pytest.mark.parametrize("name", ["Ada Lofts", "Adam Loft", "Ada", "Loft", "", "李", "🙂"])
def test_another_name_stays_another(name):
    """Nobody is kept from deciding on somebody else."""
    assert as_read(name) != as_read("Ada Loft")
    assert as_read("Ilka") == as_read("llka")

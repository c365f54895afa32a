"""The list of deliberate breakages: each still applies, and the tests that must notice it exist."""

import pytest

from .break_it import ROOT, breakages

LIST = breakages()
by_sentence = pytest.mark.parametrize("one", LIST, ids=lambda one: one.what)


@by_sentence
def test_a_breakage_still_applies(one):
    """Its text stands in its file, once, and is really changed."""
    whole = (ROOT / one.file).read_text(encoding="utf-8")

    assert one.broken(whole) != whole


@by_sentence
def test_the_tests_that_must_notice_it_exist(one):
    """A folder or file, and the test in it if one is named."""
    for test in one.tests:
        file, *names = test.split("[")[0].split("::")
        assert (ROOT / file).exists()
        assert not names or names[-1] in (ROOT / file).read_text(encoding="utf-8")


def test_there_are_twenty_and_they_are_spread_over_the_house():
    """Model, bench, grading, records, the server's border, pages, forms, questions, contracts."""
    folders = {"/".join(one.file.split("/")[:2]) for one in LIST}

    assert len(LIST) >= 20
    assert len(folders) >= 9

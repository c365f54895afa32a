"""The assessor's list: who sat, and one sitting laid open, however long it was."""

import pytest

from quizzes.cases.candidates import work
from quizzes.cases.forms import THREE_CASES
from quizzes.desks import demo
from quizzes.desks.results import Results
from quizzes.desks.run import SittingRun, the_sheet
from tests.desks.pages import begun, tell, words_of


def test_the_list_holds_everybody_and_opens_evidence(demo_class, sent):
    """A finished sitting opens with its cases, its log and what grading again gives."""
    page = Results()
    rows = {row["cells"][0]: row["id"] for row in sent[-1]["form"]["list"]["rows"]}
    careful = next(name for name, habit in demo.CLASS if habit == "careful")
    tell(page, {"open": rows[careful]})
    evidence = page._evidence.value

    assert rows.keys() == {demo.UNFINISHED, *dict(demo.CLASS)}
    assert f"{careful}: evidence" in evidence
    assert "the same, line by line" in evidence
    assert evidence.count("<details") == 2 * len(THREE_CASES.families)  # each case, and its log


def test_an_unfinished_sitting_shows_no_cases(store_file, sent, store):
    """What its cases are would help whoever still has to work them."""
    sheet, sitting = the_sheet(), begun(store)
    run = SittingRun(store, sitting, sheet)
    run.rehearse(lambda session: work(session.act, sheet))
    page = Results()
    tell(page, {"open": sitting.id})
    evidence = page._evidence.value

    assert "not finished" in evidence
    assert "<details" not in evidence
    assert not [case.size.name for case in run.cases if case.size.name in evidence]


@pytest.mark.parametrize(
    ("asked", "named"),
    [
        ({"name": "torvane", "outcome": "all"}, {"Ilka Torvane"}),
        ({"name": "", "outcome": "open"}, {demo.UNFINISHED}),
        ({"name": "torvane", "outcome": "not yet competent"}, set()),
    ],
)
def test_the_list_can_be_narrowed(demo_class, sent, asked, named):
    """By part of a name, and by outcome, unfinished attempts among them."""
    page = Results()
    tell(page, {"send": "look", "values": asked})

    assert {row["cells"][0] for row in sent[-1]["form"]["list"]["rows"]} == named


def test_an_unknown_sitting_is_answered_with_a_sentence(store_file, sent):
    """A row that is not there is said, and the list stays."""
    page = Results()
    tell(page, {"open": "no-such-sitting"})

    assert "reply" in sent[-1]
    assert "no-such-sitting" in words_of(sent[-1])

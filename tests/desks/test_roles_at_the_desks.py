"""Each desk's page, opened by a kernel of each role: shown, or a sentence in its place."""

import pytest

from quizzes.access.table import Role, Thing, may
from quizzes.desks import visitor as desk
from quizzes.desks.apprentice.assessment import Assessment, assessment_page
from quizzes.desks.assessor.results import Results, results_page
from quizzes.desks.trainer.form_desk import form_desk_page
from quizzes.desks.trainer.stage import stage_page
from quizzes.desks.visitor import Visitor
from quizzes.server import demo
from tests.desks.pages import tell

DESKS = {
    assessment_page: Thing.SIT,
    results_page: Thing.RESULTS,
    form_desk_page: Thing.TEACH,
    stage_page: Thing.TEACH,
}


@pytest.mark.parametrize("role", list(Role))
def test_a_desk_opens_for_those_it_is_for(store_file, monkeypatch, role):
    """The kernel asks the table itself, whatever the server let through."""
    monkeypatch.setattr(desk, "visitor", lambda: Visitor(role))
    for page, thing in DESKS.items():
        refused = "gal-result" in page()._dom_classes

        assert refused != may(role, thing), page.__name__


@pytest.mark.parametrize("role", ["anyone", "trainer", "assessor"])
def test_a_file_with_the_key_goes_to_an_assessor(demo_class, sent, monkeypatch, role):
    """A trainer reads results and gets no file; nobody who has not signed in reads the answers."""
    monkeypatch.setattr(desk, "visitor", lambda: Visitor(role))
    page = Results()
    rows = {row["cells"][0]: row["id"] for row in sent[-1]["form"]["list"]["rows"]}
    tell(page, {"open": rows[demo.WHOLE_FORM[0]]})
    page._more({"send": "export"})

    assert ("file" in sent[-1]) == may(role, Thing.EXPORT)
    assert ("right answer and reason" in page._evidence.value) == may(role, Thing.ANSWERS)


def test_a_guest_of_the_room_begins_no_sitting(store_file, monkeypatch):
    """The page says what to do first."""
    monkeypatch.setattr(desk, "visitor", lambda: Visitor("guest", place="room"))
    page = assessment_page()

    assert not isinstance(page, Assessment)
    assert "Join it first" in page.value

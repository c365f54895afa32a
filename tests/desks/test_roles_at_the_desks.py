"""Each desk's page, opened by a kernel of each role: shown, or a sentence in its place."""

import pytest

from quizzes.access.table import Role, Thing, may
from quizzes.desks import visitor as desk
from quizzes.desks.apprentice.assessment import Assessment, assessment_page
from quizzes.desks.assessor.due_page import DuePage, due_page
from quizzes.desks.assessor.handing_out import OF_ALL
from quizzes.desks.assessor.panel_page import panel_page
from quizzes.desks.assessor.results import Results, results_page
from quizzes.desks.checking.page import check_page
from quizzes.desks.trainer.class_desk import class_desk_page
from quizzes.desks.trainer.form_desk import form_desk_page
from quizzes.desks.trainer.stage import stage_page
from quizzes.desks.visitor import Visitor
from quizzes.server.demo_class import sittings
from tests.desks.pages import tell

DESKS = {
    assessment_page: Thing.SIT,
    results_page: Thing.RESULTS,
    form_desk_page: Thing.TEACH,
    stage_page: Thing.TEACH,
    class_desk_page: Thing.CLASSES,
    due_page: Thing.RESULTS,
    panel_page: Thing.RESULTS,
    check_page: Thing.LEARN,
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
    tell(page, {"open": rows[sittings.ALONE[0]]})
    page._more({"send": "export"})

    assert ("file" in sent[-1]) == may(role, Thing.EXPORT)
    assert ("right answer and reason" in page._evidence.value) == may(role, Thing.ANSWERS)


@pytest.mark.parametrize("role", ["anyone", "trainer", "administrator", "apprentice"])
def test_who_is_no_assessor_decides_prints_and_takes_away_nothing(
    demo_class, sent, store, monkeypatch, role
):
    """Decision, hand-out, practical and the list of who is due, by every wish that a page can send.

    The page was opened by an assessor; the role is asked for again at every wish.
    """
    monkeypatch.setattr(desk, "visitor", lambda: Visitor("assessor"))
    page, due = Results(), DuePage()
    rows = {row["cells"][0]: row["id"] for row in next(m for m in sent if "list" in m.get("form", {}))["form"]["list"]["rows"]}  # fmt: skip
    tell(page, {"open": rows[sittings.ALONE[0]]})
    before = store.acts_of_all()
    monkeypatch.setattr(desk, "visitor", lambda: Visitor(role))
    sent.clear()
    wishes = [(page._decision._answer, wish) for wish in page._decision._wishes]
    wishes += [(page._practical._answer, wish) for wish in ("observe", "print A4", "print Letter")]
    wishes += [(due._answer, wish) for wish in OF_ALL if not may(role, Thing.EXPORT)]
    for answer, wish in wishes:
        answer({"send": wish, "values": {}})

    assert len(wishes) > 10
    assert len(sent) >= len(wishes) - 1
    assert all("ssessor" in said["reply"]["words"] for said in sent)
    assert store.acts_of_all() == before


def test_a_guest_of_the_room_begins_no_sitting(store_file, monkeypatch):
    """The page says what to do first."""
    monkeypatch.setattr(desk, "visitor", lambda: Visitor("guest", place="room"))
    page = assessment_page()

    assert not isinstance(page, Assessment)
    assert "Join it first" in page.value

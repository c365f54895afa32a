"""Who may what: the table, written out a second time as the house's rules say it in words."""

import pytest

from quizzes.access.table import (
    PAGES,
    STAFF,
    NotAllowedError,
    Role,
    Thing,
    doors_of,
    is_for_the_room,
    may,
    refuse_unless,
    thing_of,
)
from quizzes.desks import visitor as desk
from quizzes.desks.visitor import Visitor, visitor_of

A = "anyone guest apprentice trainer assessor administrator"
# The rules of the house in words: everybody learns; whoever has not joined sits nothing; a
# candidate sees nobody's results; a trainer teaches and signs nothing; the person who decides is
# the assessor, who alone says what the questions ask for; who looks after the machine reads no
# results and decides about nobody.
RULES = {
    "learn": A,
    "sit": "anyone apprentice trainer assessor administrator",
    "teach": "anyone trainer assessor",
    "classes": "anyone trainer",
    "results": "anyone trainer assessor",
    "answers": "trainer assessor",
    "export": "anyone assessor",
    "decide": "assessor",
    "cut": "assessor",
    "people": "anyone administrator",
}


@pytest.mark.parametrize("thing", list(Thing))
def test_each_role_may_what_the_rules_say_and_nothing_else(thing):
    """Every cell of the table; a role that nobody knows may nothing."""
    assert {str(role) for role in Role if may(role, thing)} == set(RULES[thing].split())
    assert not any(may(role, thing) for role in ("", "root", "Assessor", "trainer "))


def test_each_role_is_offered_its_own_cards_at_the_front_door():
    """Who has not said who they are is offered all four; nobody else another person's."""
    learner, one = ("apprentice",), "apprentice"
    assert doors_of("anyone") == (one, "trainer", "assessor", "administrator")
    assert doors_of("guest") == doors_of("apprentice") == learner
    assert [doors_of(role) for role in STAFF] == [(one, str(role)) for role in STAFF]
    assert doors_of("root") == ()


def test_a_refusal_says_whose_it_is():
    """One sentence for the person, a `ValueError` for the page that shows it."""
    for thing in Thing:
        for role in Role:
            if not may(role, thing):
                with pytest.raises(NotAllowedError, match=r"\.$"):
                    refuse_unless(role, thing)


def test_a_page_that_nobody_knows_is_the_trainers():
    """A new page is closed until somebody says for what it is."""
    assert thing_of("something.ipynb") is Thing.TEACH
    assert not is_for_the_room("results.ipynb")
    assert not any(
        may("guest", thing) for page, thing in PAGES.items() if not is_for_the_room(page)
    )


def test_a_visitor_travels_whole_and_is_of_a_known_role():
    """What the server says is what the kernel knows."""
    said = Visitor("apprentice", "p-1", "c-1", "room", "Wren Kestleby")

    assert visitor_of(said.text()) == said
    with pytest.raises(ValueError, match="role must be one of anyone, guest"):
        Visitor("root")


def test_a_page_asks_for_whom_it_stands(monkeypatch):
    """The process's own visitor decides, and an apprentice's kernel exports nothing."""
    monkeypatch.setattr(desk, "visitor", lambda: Visitor("apprentice"))

    assert desk.allowed(Thing.LEARN)
    with pytest.raises(NotAllowedError, match="for assessors"):
        desk.need(Thing.EXPORT)

"""The word that a form may end with: what it takes to say "competent", and what is said before."""

from dataclasses import replace

import pytest

from quizzes.forms.blueprint import READY, load_blueprint
from quizzes.forms.ending import CRITICAL_ELEMENTS, OUTCOMES, Ending
from quizzes.forms.offered import offers, own_blueprints
from quizzes.grading.outcome import judge_sitting
from tests.short_form import PATH, THREE_BRAKES

RIGHT = {"standing": "right", "marks": 90, "critical": [], "elements": [], "misconceptions": [],
         "depth": "work order"}  # fmt: skip
WRONG = RIGHT | {"standing": "not yet", "marks": 20}


@pytest.fixture
def own(tmp_path, monkeypatch):
    """Return a way to put a blueprint of one's own into the folder in force."""
    monkeypatch.setenv("GAL_BLUEPRINTS", str(tmp_path))

    def put(text: str) -> None:
        (tmp_path / "own.toml").write_text(text.replace('id = "', 'id = "my_', 1), encoding="utf-8")

    return put


def text_of(name: str) -> str:
    return {**READY, THREE_BRAKES.id: PATH}[name].read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("ending", "words"),
    [
        (Ending.COMPETENT, ("competent", "not yet competent")),
        (Ending.PASSED, ("passed", "not passed")),
        (Ending.PRACTICE, ("practised", "practised")),
    ],
)
def test_the_same_work_ends_in_the_word_of_its_form(ending, words):
    """What it takes is the same; the word is the form's."""
    found = [judge_sitting([grade], 1, ending=ending) for grade in (RIGHT, WRONG)]

    assert [one["passed"] for one in found] == [True, False]
    assert tuple(one["outcome"] for one in found) == words
    assert set(words) <= set(OUTCOMES)


def test_only_a_form_that_can_carry_it_is_offered_to_end_competent():
    """Whoever chooses may take it at its word, and reads it before they begin."""
    chosen = offers()
    competent = [one for one in chosen.values() if one.blueprint.ends is Ending.COMPETENT]

    assert [one.id for one in competent] == ["full"]
    assert all(one.blueprint.lacks_for_its_word == "" for one in competent)
    assert all(one.words.endswith(one.blueprint.ends.said_before) for one in chosen.values())
    assert next(iter(chosen.values())).blueprint.ends is not Ending.COMPETENT


def test_an_exercise_of_ones_own_ends_passed_if_it_does_not_say(own):
    """Nobody gives "competent" away by leaving a line out."""
    own(text_of("full").replace('ends = "competent"\n', ""))
    (offer,), bad = own_blueprints()

    assert (offer.blueprint.ends, bad) == (Ending.PASSED, ())


@pytest.mark.parametrize(
    ("name", "lack"),
    [("class_exercise", "the critical elements S1"), (THREE_BRAKES.id, "24 cases or more, not 3")],
)
def test_a_form_that_cannot_promise_its_word_is_refused_with_what_it_lacks(own, name, lack):
    """File, key, and what would have to be in it."""
    own(text_of(name).replace('ends = "passed"', 'ends = "competent"'))
    good, (said,) = own_blueprints()

    assert good == ()
    assert said.startswith('own.toml, ends: "competent" needs ')
    assert lack in said


@pytest.mark.parametrize("name", CRITICAL_ELEMENTS)
def test_full_promises_each_critical_element_and_would_be_refused_without(name):
    """One missing is one too many."""
    full = load_blueprint(READY["full"])
    without = replace(full, elements=tuple(one for one in full.elements if one != name))

    assert name in full.elements
    assert without.lacks_for_its_word == f"the critical element {name}"

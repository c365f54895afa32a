"""Editions of the rules: one is in force; a second is laid beside it in these tests only."""

from dataclasses import replace

import pytest

from quizzes.grading import editions
from quizzes.grading.comparison import compare_editions, differing_lines
from quizzes.grading.editions import EDITION, EDITIONS, PASS, rules_of
from quizzes.grading.grade import Standing, grade_case, grade_evidence
from widgets.bench import actions as do
from widgets.bench.session import Event, Session

from .jobs import CEDAR, bench_case, bench_evidence, brake, looks


def events_of(case, actions) -> list[Event]:
    """Return the log of exactly these actions."""
    session = Session(case.setup())
    for action in actions:
        session.act(action)
    return session.events


SPRING_SEEN = bench_evidence(bench_case(brake(springs_intact=7), "spring-broken"), "refer",
                             "springs")  # fmt: skip


@pytest.fixture
def second(monkeypatch) -> str:
    """The name of an edition that asks for more places round the rim, in force beside the first."""
    asks_more = replace(EDITIONS[EDITION], edition="2", places=9, disc_places=9)
    monkeypatch.setattr(editions, "EDITIONS", {**EDITIONS, "2": asks_more})
    return "2"


def test_one_edition_is_in_force():
    """And an edition that nobody knows is refused with the names of those there are."""
    assert list(EDITIONS) == [EDITION] == ["1"]
    with pytest.raises(ValueError, match="one of 1, got '0'"):
        rules_of("0")
    with pytest.raises(ValueError, match="edition"):
        grade_evidence(SPRING_SEEN, "2")


def test_every_edition_hands_out_a_hundred_marks_and_asks_for_a_share():
    """Measuring, deciding, procedure, record; the share that must be reached is between 0 and 1."""
    for rules in EDITIONS.values():
        assert sum(rules.weights.values()) == 100
        assert 0 < rules.pass_share == PASS < 1


def test_two_editions_side_by_side_name_what_differs(second):
    """Eight places are all by the first; by the second they are too few, and the standing falls."""
    evidence = bench_evidence(bench_case(brake(0.95), "gap-too-large"), "adjust", "gap-large")
    log = events_of(evidence.case, [s.action for s in evidence.steps])
    pair = compare_editions(evidence.case, log, EDITION, second)

    assert pair.first.standing is Standing.RIGHT
    assert not pair.same_standing
    assert any(line.startswith("Standing: right; ") for line in pair.lines)
    assert any(line.startswith("M2 ") for line in pair.lines)


def test_the_same_grade_twice_differs_in_no_line():
    """Nothing is said where nothing is to say."""
    grade = grade_evidence(SPRING_SEEN).to_json()

    assert list(differing_lines(grade, grade)) == []


def test_an_edition_is_kept_in_the_grade_and_changes_no_log(second):
    """Grading by one edition and then by another leaves the first as it was."""
    case = bench_case(brake())
    events = events_of(case, [*looks(), do.Decide("fit", CEDAR.name)])
    before = grade_case(case, events).to_json()
    after = grade_case(case, events, second).to_json()

    assert grade_case(case, events).to_json() == before
    assert (before["edition"], after["edition"]) == (EDITION, second)

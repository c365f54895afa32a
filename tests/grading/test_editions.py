"""Editions of the rules: an old one goes by readings only; two are laid side by side."""

import pytest

from quizzes.grading.comparison import compare_editions, differing_lines
from quizzes.grading.editions import EDITION, EDITIONS, PASS, rules_of
from quizzes.grading.grade import Standing, grade_case, grade_evidence
from tests import strategies as any_
from widgets.bench import actions as do
from widgets.bench.session import Event, Session

from .jobs import CEDAR, bench_case, bench_evidence, brake, do_all, looks


def events_of(case, actions) -> list[Event]:
    """Return the log of exactly these actions."""
    session = Session(case.setup())
    for action in actions:
        session.act(action)
    return session.events


SPRING_SEEN = bench_evidence(bench_case(brake(springs_intact=7), "spring-broken"), "refer",
                             "springs")  # fmt: skip


def test_the_newest_edition_is_the_one_that_counts():
    """And an edition that nobody knows is refused with the names of those there are."""
    assert EDITION == "4"
    assert set(EDITIONS) == {"1", "2", "3", "4"}
    with pytest.raises(ValueError, match="1, 2, 3, 4"):
        rules_of("0")
    with pytest.raises(ValueError, match="edition"):
        grade_evidence(SPRING_SEEN, "5")


def test_every_edition_hands_out_a_hundred_marks_and_asks_for_a_share():
    """Measuring, deciding, procedure, record; the share that must be reached is between 0 and 1."""
    for rules in EDITIONS.values():
        assert sum(rules.weights.values()) == 100
        assert 0 < rules.pass_share == PASS < 1


def test_the_first_edition_weighs_readings_only():
    """A broken spring seen and referred: by the readings alone a false alarm."""
    first, second = grade_evidence(SPRING_SEEN, "1"), grade_evidence(SPRING_SEEN, "2")

    assert (first.standing, first.own_readings_support) == (Standing.FALSE_ALARM, "fit")
    assert (second.standing, second.own_readings_support) == (Standing.RIGHT, "refer")
    assert {one.id for one in first.elements} < {one.id for one in second.elements}
    assert (first.edition, second.edition) == ("1", "2")


def test_two_editions_side_by_side_name_what_differs():
    """Standing, what the evidence supports, and the elements that only one of them scores."""
    case = SPRING_SEEN.case
    pair = compare_editions(case, events_of(case, [s.action for s in SPRING_SEEN.steps]), "1")

    assert not pair.same_standing
    assert "Standing: false alarm; right." in pair.lines
    assert "Own readings and findings support: fit; refer." in pair.lines
    assert any("D2 Findings: scored by the second only" in line for line in pair.lines)


def test_where_no_sign_is_there_two_editions_agree_on_the_standing():
    """Readings decide in both."""
    evidence = bench_evidence(bench_case(brake(0.95), "gap-too-large"), "adjust", "gap too large")
    pair = compare_editions(evidence.case,
                            events_of(evidence.case, [s.action for s in evidence.steps]), "1")  # fmt: skip

    assert pair.same_standing
    assert pair.first.standing is Standing.RIGHT


def test_the_same_grade_twice_differs_in_no_line():
    """Nothing is said where nothing is to say."""
    grade = grade_evidence(SPRING_SEEN).to_json()

    assert list(differing_lines(grade, grade)) == []


def test_an_edition_is_kept_in_the_grade_and_changes_no_log():
    """Grading by one edition and then by another leaves the first as it was."""
    case = bench_case(brake())
    events = events_of(case, [*looks(), do.Decide("fit", CEDAR.name)])
    before = grade_case(case, events, "1").to_json()
    grade_case(case, events, "2")

    assert grade_case(case, events, "1").to_json() == before
    assert before["edition"] == "1"
    assert do_all(case, []).end.step == 0
    assert any_.SHEET.size(CEDAR.name) == CEDAR

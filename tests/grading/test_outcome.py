"""The outcome of a sitting: what speaks against it, what is named, and what it shows."""

import json
from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom, binomtest

from quizzes.grading.grade import Standing
from quizzes.grading.outcome import (
    COMPETENT,
    NOT_YET,
    channels,
    decisions_made,
    elements_over,
    judge_sitting,
    named_over,
    standings,
    what_it_shows,
)
from quizzes.grading.question_rule import Questions, most_safety_missed
from quizzes.grading.words import sentence
from widgets.brake.judgement.remark import remark

HARM = remark("harm.done", alarm="load-falls").to_json()


def kept(
    standing: str = "right",
    score: float = 1.0,
    *,
    critical: Sequence[str] = (),
    depth: str = "work order",
    named: Sequence[str] = (),
    channel: str = "M",
) -> dict[str, Any]:
    return {
        "standing": standing,
        "marks": 100,
        "depth": depth,
        "critical": [{"code": code, "what": HARM} for code in critical],
        "elements": [{"id": f"{channel}2", "channel": channel, "score": score}],
        "misconceptions": list(named),
    }


def reading(standing: str = "right", **more) -> dict[str, Any]:
    return kept(standing, depth="reading", **more)


@pytest.mark.parametrize(
    ("grades", "outcome"),
    [
        ([kept()] * 3, COMPETENT),
        ([kept(), kept(), kept("false alarm")], COMPETENT),
        ([kept(), kept("false alarm"), kept("false alarm")], NOT_YET),
        ([kept(), kept(), kept("not yet")], NOT_YET),
        ([kept(), kept(), kept("no verdict")], NOT_YET),
        ([kept(), kept(), kept("not yet", critical=["harm"])], NOT_YET),
        ([kept(), kept()], NOT_YET),
        ([], NOT_YET),
        ([kept(), kept(), kept(score=0.0)], COMPETENT),  # mean 0.67
        ([kept(), kept(score=0.2), kept(score=0.2)], NOT_YET),  # mean 0.47
    ],
)
def test_a_sitting_is_competent_only_when_nothing_speaks_against_it(grades, outcome):
    """The rules of the scheme, one at a time, without a rule for decisions."""
    found = judge_sitting(grades, 3)

    assert found["outcome"] == outcome
    assert found["reasons"]
    json.dumps(found, allow_nan=False)


def most(right: int, made: int) -> bool | None:
    """Enough from 21 of 24 on, too few below; not decided under 24."""
    return None if made < 24 else right >= 21 / 24 * made


@pytest.mark.parametrize(
    ("wrong", "made", "outcome"),
    [(0, 24, COMPETENT), (3, 24, COMPETENT), (4, 24, NOT_YET), (0, 23, NOT_YET)],
)
def test_decisions_are_enough_by_the_rule_that_is_handed_in(wrong, made, outcome):
    """21 right of 24 pass; one fewer does not, nor do 23 of 23 before the rule has decided."""
    grades = [reading("not yet")] * wrong + [reading()] * (made - wrong)
    found = judge_sitting(grades, made, enough=most)

    assert found["outcome"] == outcome
    assert found["decisions"] == {"right": made - wrong, "made": made}
    assert found["decided"] is (None if made < 24 else wrong <= 3)


def test_a_work_order_has_to_be_right_whatever_the_decisions():
    """One work order not right among 30 cases that are."""
    grades = [kept("not yet"), *([reading()] * 30)]

    assert judge_sitting(grades, 31, enough=most)["outcome"] == NOT_YET


@pytest.mark.parametrize(
    ("score", "cases", "outcome"),
    [
        (0.5, 4, NOT_YET),
        (0.6, 4, COMPETENT),
        (0.5, 3, COMPETENT),  # too few to tell a habit from a slip
    ],
)
def test_an_element_missed_over_and_over_is_not_made_up_for_by_its_channel(score, cases, outcome):
    """M2 at 1.0 and M5 at a half make 0.75 of measuring; from four cases on M5 counts alone."""
    grade = kept()
    grade["elements"].append({"id": "M5", "channel": "M", "score": score})
    found = judge_sitting([grade] * cases, cases)

    assert found["outcome"] == outcome
    if outcome == NOT_YET:
        facts = {"element": "M5", "share": 0.5, "asked": 0.6, "cases": 4}
        assert found["reasons"] == [{"code": "sitting.element", "facts": facts}]


def test_a_case_not_right_says_why():
    """The first error that its grade names."""
    what = {"code": "gap.written", "facts": {"places": 3}}
    error = {"faults": [{"kind": "reading", "what": what}], "critical": []}
    told = judge_sitting([kept("not yet") | error], 1)

    assert told["reasons"][0] == {"code": "case.not-right", "facts": {"case": 1, "why": what}}


@given(st.lists(st.sampled_from([kept(), reading(), reading("not yet", critical=["harm"]),
                                 kept("not yet", critical=["load-hanging"])]), max_size=30))  # fmt: skip
def test_no_rule_makes_up_for_a_critical_error(grades):
    """However generous."""
    found = judge_sitting(grades, len(grades), enough=lambda right, made: True)

    if any(grade["critical"] for grade in grades):
        assert found["outcome"] == NOT_YET


@pytest.mark.parametrize("channel", "MDPW")
def test_each_channel_is_reached_by_itself(channel):
    """Measuring does not make up for deciding, nor the record for either: 60 % each."""
    other = "M" if channel != "M" else "D"
    weak = [kept(score=0.59, channel=channel), kept(channel=other)]
    found = judge_sitting(weak, 2)

    assert channels(weak) == {channel: 0.59, other: 1.0}
    assert found["outcome"] == NOT_YET
    assert 0.59 in [one["facts"].get("share") for one in found["reasons"]]


@pytest.mark.parametrize(
    ("questions", "outcome"),
    [
        (Questions(20, 13.2, cut=0.66), COMPETENT),
        (Questions(20, 13.1, cut=0.66), NOT_YET),
        (Questions(20, 15.9), NOT_YET),
        (Questions(0, 0.0), COMPETENT),
        (None, COMPETENT),
    ],
)
def test_questions_ask_for_what_somebody_just_competent_earns(questions, outcome):
    """The cut of these very questions; where nobody has said how hard they are, four fifths."""
    assert judge_sitting([kept()], 1, questions=questions)["outcome"] == outcome


@pytest.mark.parametrize(
    ("missed", "asked", "outcome"),
    [(3, 3, COMPETENT), (6, 10, COMPETENT), (2, 14, COMPETENT), (3, 14, NOT_YET)],
)
def test_so_few_questions_on_safety_as_cannot_tell_carry_no_veto(missed, asked, outcome):
    """Outside check of the chances by scipy: 3 % missed by who knows, 40 % by who does not."""
    questions = Questions(40, 36.0, safety_missed=missed, safety_asked=asked)
    most = most_safety_missed(asked)

    assert judge_sitting([kept()], 1, questions=questions)["outcome"] == outcome
    if most is not None:
        assert binom.sf(most, asked, 0.03) <= 0.02
        assert most == 0 or binom.sf(most - 1, asked, 0.03) > 0.02
        assert binom.cdf(most, asked, 0.4) <= 0.05


def test_a_skill_that_was_promised_and_never_seen_is_not_shown():
    """Whoever refers every new disc is never seen to fit one."""
    reasons = judge_sitting([kept()], 1, promised=("K1", "M2", "R3"))["reasons"]

    assert reasons == [{"code": "sitting.never-shown", "facts": {"element": "R3"}}]


def of_next_date(code: str, score: float) -> dict[str, Any]:
    """Return the grade of a work order whose end earned a score for its date or its tag."""
    line = remark(code).to_json()
    element = {"id": "W2", "channel": "W", "score": score, "lines": [line]}
    return kept() | {"elements": [element]}


@pytest.mark.parametrize(
    ("ends", "reasons"),
    [
        ((("due.date", 1.0), ("due.tagged-out", 1.0)), ["sitting.all-right"]),
        ((("due.date", 0.3), ("due.date", 1.0), ("due.tagged-out", 1.0)), ["sitting.all-right"]),
        ((("due.date", 1.0), ("due.date", 1.0)), ["sitting.all-right"]),  # nothing was to be tagged
        ((("due.date", 0.3), ("due.date", 0.3), *[("due.tagged-out", 1.0)] * 3),
         ["sitting.never-shown"]),
        ((("due.no-date", 0.0), *[("due.tagged-out", 1.0)] * 3), ["sitting.never-shown"]),
        (((("due.date", 1.0),) * 3 + (("due.neither", 0.0),)), ["sitting.never-shown"]),
    ],
)  # fmt: skip
def test_a_tag_on_one_hoist_is_no_good_date_on_another(ends, reasons):
    """Both stand under one element; whoever was asked for either has to show it once."""
    grades = [of_next_date(*end) for end in ends]
    found = judge_sitting(grades, len(grades), promised=("W2",))

    assert [one["code"] for one in found["reasons"]] == reasons


def test_nobody_reads_that_all_is_right_who_had_wrong_ones():
    """21 of 24 are enough, and are called that."""
    grades = [reading("not yet")] * 3 + [reading()] * 21
    (reason,) = judge_sitting(grades, 24, enough=most)["reasons"]

    assert reason["code"] == "sitting.enough-right"
    assert "21 of 24" in sentence(remark(reason["code"], **reason["facts"]))


def test_more_points_than_questions_are_refused():
    """With the allowed range."""
    with pytest.raises(ValueError, match="0 to 20"):
        Questions(20, 21.0)


def test_every_case_is_counted_by_how_it_ended():
    """Right, false alarm, no verdict, not yet; without a verdict a decision does not count."""
    grades = [kept(one.value) for one in Standing]

    assert standings(grades) == {one.value: 1 for one in Standing}
    assert decisions_made(grades) == (1, 3)


def test_a_general_habit_explains_the_special_one():
    """Whoever passes every brake also keeps worn discs: only the habit is named, with its cases."""
    named = (["worn-disc-kept"], ["nothing-is-ever-wrong"], [],
             ["nothing-is-ever-wrong", "leaf-forced"])  # fmt: skip
    grades = [
        reading("not yet" if one else "right", named=one) | {"decided": "fit"} for one in named
    ]
    found = named_over(grades)

    assert [(one["name"], one["cases"]) for one in found] == [
        ("leaf-forced", [4]),
        ("nothing-is-ever-wrong", [2, 4]),
    ]
    assert named_over(grades[:1])[0]["name"] == "worn-disc-kept"


def test_nobody_who_found_something_wrong_is_told_that_nothing_ever_is():
    """A brake passed out of its limits is one thing; never to find anything is another."""
    once = reading("not yet", named=["nothing-is-ever-wrong"]) | {"decided": "fit"}
    others = [reading() | {"decided": outcome} for outcome in ("adjust", "replace", "refer")]

    assert [one["name"] for one in named_over([once])] == ["nothing-is-ever-wrong"]
    assert named_over([once, *others]) == []


def test_the_weakest_element_comes_first():
    """For what to practise next."""
    grades = [kept(score=0.9), kept(score=0.2, channel="D"), kept(score=0.5, channel="P")]

    assert [round(score, 1) for score in elements_over(grades).values()] == [0.2, 0.5, 0.9]


@pytest.mark.parametrize(("cases", "percent"), [(1, 95), (5, 45), (10, 26), (20, 14), (59, 5)])
def test_what_so_many_cases_show_agrees_with_the_exact_binomial_bound(cases, percent):
    """Outside check: Clopper and Pearson (1934) as scipy.stats.binomtest has it, one-sided 95 %.

    The whole percents beside it: zero-failure tables, 59 cases for 5 %, from memory.
    """
    exact = binomtest(0, cases, alternative="less").proportion_ci(0.95, method="exact").high

    assert round(100 * exact) == percent
    assert f"up to {percent} %" in sentence(what_it_shows(cases, 0))


def test_no_case_shows_nothing_and_a_miss_is_no_bound():
    """Neither sentence claims a rate."""
    assert what_it_shows(0, 0).code == "shows.nothing"
    assert what_it_shows(3, 1).code == "shows.wrong"


def test_the_keys_that_the_pages_read_are_there():
    """Outcome, reasons, marks, cases, critical and what it shows, as the sheets print them."""
    found = judge_sitting([kept()], 1)

    assert {"outcome", "reasons", "marks", "cases", "cases_asked", "critical", "shows"} <= set(
        found
    )


def test_a_case_not_right_for_how_it_was_left_says_so():
    """No fault in the work that led there: what was left wrong is the reason."""
    left = {"code": "fitted-badly.seal-lip", "facts": {}}
    told = judge_sitting([kept("not yet") | {"faults": [], "left_wrong": [left]}], 1)

    assert told["reasons"][0] == {"code": "case.not-right", "facts": {"case": 1, "why": left}}

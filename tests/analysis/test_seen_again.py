"""When to be seen again, what to practise next, and what may be said of the evidence."""

import datetime as dt
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.analysis.people.mastery import UNIFORM, Mastery
from quizzes.analysis.people.retention import (
    aged,
    chance_still_above,
    due_date,
    due_months,
    faded_rate,
    kept_share,
)
from quizzes.analysis.people.sequential import SequentialTest, run, standing
from quizzes.analysis.people.spacing import ElementResult, next_practice
from quizzes.analysis.people.statement import (
    at_least,
    at_most,
    error_sentence,
    miss_sentence,
    rate_sentence,
    sequential_sentence,
    statement,
)
from quizzes.analysis.rates import upper_bound

TODAY = dt.date(2026, 11, 25)
MONTHS = st.floats(0, 60)
DAYS = st.dates(dt.date(2024, 1, 1), TODAY)
RESULTS = st.lists(
    st.builds(ElementResult, st.sampled_from(["M2", "D1", "A1"]), DAYS, st.floats(0, 1)),
    max_size=20,
)


def ago(days, score, element="M2", *, critical=False):
    """Return a result of so many days ago."""
    return ElementResult(element, TODAY - dt.timedelta(days=days), score, critical=critical)


@given(st.integers(0, 100), st.integers(0, 100), MONTHS, MONTHS)
def test_ageing_twice_is_ageing_once_for_both_times(rights, wrongs, first, second):
    """Half is gone every six and a half months, in whatever steps it is taken."""
    known = UNIFORM.after(rights, wrongs)
    twice, once = aged(aged(known, first), second), aged(known, first + second)

    assert (twice.rights, twice.wrongs) == pytest.approx((once.rights, once.wrongs), rel=1e-9)
    assert kept_share(first) * kept_share(second) == pytest.approx(kept_share(first + second))


@given(st.integers(0, 100), st.integers(0, 20), st.booleans())
def test_the_chance_holds_until_the_day_that_is_due(rights, wrongs, practised):
    """At every moment before it, and no longer shortly after it, unless the calendar is shorter."""
    known, most = UNIFORM.after(rights, wrongs), 12.0 if practised else 6.0
    due = due_months(known, practised=practised)

    assert 0 <= due <= most
    if due:
        assert all(chance_still_above(known, due * k / 20) >= 0.90 for k in range(21))
    if due < most:
        assert chance_still_above(known, due + 0.01) < 0.90


def test_more_evidence_is_seen_again_later():
    """Twenty, thirty, forty right in a row; without practice half a year at the most."""
    spans = [due_months(UNIFORM.after(right, 0)) for right in (20, 30, 40)]

    assert spans == sorted(spans)
    assert spans[2] == 12.0
    assert due_months(UNIFORM.after(40, 0), practised=False) == 6.0


@given(st.floats(0.5, 0.99), MONTHS, MONTHS)
def test_an_unused_skill_only_fades(rate, months, more):
    """Never better by waiting."""
    assert faded_rate(rate, months + more) <= faded_rate(rate, months) + 1e-12


@given(DAYS, st.floats(0, 240), st.floats(0, 240))
def test_a_longer_time_never_ends_earlier(day, months, more):
    """Calendar months differ in length, yet the order holds."""
    assert day <= due_date(day, months) <= due_date(day, months + more)


@pytest.mark.parametrize(
    ("day", "months", "there"),
    # by the calendar, counted by hand
    [
        ((2024, 1, 31), 1, (2024, 2, 29)),
        ((2026, 11, 25), 12, (2027, 11, 25)),
        ((2026, 11, 25), 0, (2026, 11, 25)),
        ((2026, 12, 1), 0.5, (2026, 12, 16)),
    ],
)
def test_months_are_those_of_the_calendar(day, months, there):
    """The end of a short month stands for a day that it lacks."""
    assert due_date(dt.date(*day), months) == dt.date(*there)


@given(RESULTS)
def test_each_element_is_practised_once_and_never_in_the_past(results):
    """In order of the day; every element that came up is there."""
    found = next_practice(results, TODAY)

    assert sorted(one.element for one in found) == sorted({one.element for one in results})
    assert [one.on for one in found] == sorted(one.on for one in found)
    assert all(one.on >= TODAY and 0 < one.strength < 1 and one.reason for one in found)


@given(RESULTS, st.randoms())
def test_the_order_in_which_results_are_given_does_not_matter(results, random):
    """Only their days do."""
    mixed = list(results)
    random.shuffle(mixed)
    ours, theirs = next_practice(results, TODAY), next_practice(mixed, TODAY)

    assert [(one.element, one.on, one.reason) for one in sorted(ours, key=lambda o: o.element)] == [
        (one.element, one.on, one.reason) for one in sorted(theirs, key=lambda o: o.element)
    ]
    assert [one.strength for one in ours] == pytest.approx([one.strength for one in theirs])


@pytest.mark.parametrize(
    ("good_days", "there"),
    # a day after a bad one; then a week, one month, three, six, counted by hand from 25 November
    [
        (0, dt.date(2026, 11, 26)),
        (1, dt.date(2026, 12, 2)),
        (2, dt.date(2026, 12, 25)),
        (3, dt.date(2027, 2, 25)),
        (4, dt.date(2027, 5, 25)),
        (7, dt.date(2027, 5, 25)),
    ],
)
def test_each_good_day_in_a_row_moves_the_next_one_further_off(good_days, there):
    """A bad day before them no longer counts."""
    results = [ago(100, 0.0), *(ago(days, 1.0) for days in range(good_days))]
    if not good_days:
        results.append(ago(0, 0.1))

    assert next_practice(results, TODAY)[0].on == there


def test_a_bad_day_starts_again():
    """Three good days, then a bad one: tomorrow."""
    found = next_practice([ago(90, 1.0), ago(60, 1.0), ago(30, 1.0), ago(0, 0.2)], TODAY)

    assert found[0].on == TODAY + dt.timedelta(days=1)
    assert "Only 20 % of it was shown" in found[0].reason


def test_cases_of_one_day_are_one_occasion():
    """Ten good cases in one afternoon do not put the next one off by half a year."""
    found = next_practice([ago(0, 1.0) for _ in range(10)], TODAY)

    assert found[0].on == TODAY + dt.timedelta(days=7)


def test_a_critical_error_comes_before_everything_else():
    """Today, before what is overdue, whatever the score was."""
    results = [ago(50, 0.0, "A1"), ago(3, 1.0, "S2", critical=True), ago(0, 0.1, "D1")]
    found = next_practice(results, TODAY)

    assert [one.element for one in found] == ["S2", "A1", "D1"]
    assert "critical error" in found[0].reason
    assert "49 days overdue" in found[1].reason


def test_a_critical_error_of_today_is_put_right_today():
    """Not tomorrow, as a weak element is."""
    assert next_practice([ago(0, 1.0, critical=True)], TODAY)[0].on == TODAY


def test_a_day_with_a_critical_error_is_no_good_day_whatever_the_score():
    """A good day after it is the first of a row: a week, not a month."""
    found = next_practice([ago(30, 1.0, critical=True), ago(0, 1.0)], TODAY)

    assert found[0].on == TODAY + dt.timedelta(days=7)


def test_the_weakest_of_one_day_comes_first():
    """Both are due tomorrow."""
    found = next_practice([ago(0, 0.5, "D1"), ago(0, 0.1, "M2")], TODAY)

    assert [one.element for one in found] == ["M2", "D1"]
    assert found[0].on == found[1].on


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: next_practice([ago(-1, 1.0)], TODAY), "after today"),
        (lambda: ago(0, 1.2), "score of M2 on 2026-11-25 must be >= 0 and <= 1, got 1.2"),
        (lambda: ElementResult(" ", TODAY, 1.0), "element must be named"),
        (lambda: aged(UNIFORM, -1.0), "months must be >= 0 months, got -1"),
        (lambda: aged(UNIFORM, 1.0, UNIFORM.after(3, 0)), "rights beyond the prior must be >= 0"),
        (lambda: due_months(UNIFORM, bar=1.0), "bar must be > 0 and < 1"),
        (lambda: due_date(TODAY, -1), "months must be >= 0"),
        (lambda: due_date(dt.date(9999, 6, 1), 12), "before the year 10000"),
        (lambda: statement(Mastery(1, 1), SequentialTest()), "give both or neither"),
        (lambda: miss_sentence(Mastery(1, 1), 95), "confidence must be > 0 and < 1"),
    ],
)
def test_impossible_times_are_refused_by_name(call, words):
    """One sentence with the name, the rule and the value."""
    with pytest.raises(ValueError, match=words):
        call()


@given(st.floats(0, 1))
def test_percentages_are_rounded_to_the_safe_side(share):
    """An upper bound is never stated too low, nor a lower one too high."""
    assert float(at_most(share).removesuffix(" %")) >= 100 * share - 1e-6
    assert float(at_least(share).removesuffix(" %")) <= 100 * share + 1e-6


@given(st.integers(1, 200), st.data())
def test_the_bound_in_the_sentence_is_the_exact_one_rounded_up(unsafe, data):
    """Clopper-Pearson, to the next whole percent, or tenth below one percent."""
    misses = data.draw(st.integers(0, unsafe))
    said = miss_sentence(Mastery(0, 300, misses, unsafe))
    percent = float(re.search(r"up to ([\d.]+) %", said)[1])
    exact = 100 * upper_bound(misses, unsafe)

    assert exact - 1e-6 <= percent <= exact + 1


@pytest.mark.parametrize(
    ("mastery", "words"),
    [
        # 26 %: the issue's own figure; 49 more to the well-known 59
        (Mastery(10, 10, 0, 10), "up to 26 % of such brakes (95 % bound). 49 more without a miss"),
        (Mastery(60, 60, 0, 59), "up to 5 % of such brakes (95 % bound)."),
        (Mastery(9, 10, 1, 1), "1 of 1 unsafe brake was let through."),
        (Mastery(8, 10, 2, 5), "2 of 5 unsafe brakes were let through."),
        (Mastery(10, 10), "not known at all"),
    ],
)
def test_the_sentence_on_misses_says_what_is_left_open(mastery, words):
    """None, one, some, and no unsafe brake at all."""
    assert words in miss_sentence(mastery)


def test_more_cases_are_asked_for_only_while_undecided():
    """13 and 21 cases with none and one wrong, ASSESS.md 1.5; nothing shows nothing."""
    assert "At least 1 more case, right, is needed." in rate_sentence(Mastery(12, 12))
    assert "needed" not in rate_sentence(Mastery(13, 13))
    assert "At least 13 more cases, all right, are needed." in rate_sentence(Mastery(7, 8))
    assert rate_sentence(Mastery(0, 0)) == "No case was judged: this shows nothing."
    assert "No number of cases" in rate_sentence(Mastery(0, 9000))


@pytest.mark.parametrize(
    ("result", "words"),
    [
        ([True] * 12, "competent. Stopped early: decided after 12 cases, 12 right, of 40 at most."),
        (
            [False] * 3,
            "decisions: not yet competent. Stopped early: decided after 3 cases, 0 right",
        ),
        ([True] * 11, "At least 1 more is needed, right, for competent."),
        ([], "Undecided after 0 cases, 0 right. At least 12 more are needed, all right"),
    ],
)
def test_the_sequential_sentence_says_whether_it_stopped_early(result, words):
    """And how many more are needed at least, if it did not."""
    test = SequentialTest()

    assert words in sequential_sentence(test, run(test, result))


def test_the_cut_and_the_last_case_are_told_apart():
    """Undecided at the cut is said as such; so is an answer that came with the last case."""
    test = SequentialTest()

    assert "still undecided at the cut after 40 cases" in sequential_sentence(
        test, standing(test, 33, 7)
    )
    assert "Decided with the last case" in sequential_sentence(test, standing(test, 35, 5))
    assert "can no longer be reached" in sequential_sentence(test, standing(test, 30, 6))


def test_the_whole_statement_says_what_it_does_not_show():
    """And what came after the decision is named."""
    test = SequentialTest()
    lines = statement(Mastery(15, 15, 0, 6), test, run(test, [True] * 15))

    assert any("3 decisions after that did not count" in line for line in lines)
    assert "It does not replace work under supervision" in lines[-1]
    assert len(statement(Mastery(15, 15, 0, 6))) == 3
    assert "4.3 in 100" in error_sentence(test)  # ASSESS.md 1.5: .0428
    assert "15 in 100" in error_sentence(test)  # ASSESS.md 1.5: 1 - .8505


@given(st.integers(1, 40), st.integers(1, 5))
def test_no_count_of_right_decisions_makes_up_for_a_miss(more, misses):
    """The first line says not yet, even where the sequential test had passed before the miss."""
    test, decisions = SequentialTest(), [True] * (11 + more) + [False] * misses
    mastery = Mastery(11 + more, len(decisions), misses, misses)
    first, second, *_ = statement(mastery, test, run(test, decisions))

    assert first.startswith("Not yet competent, whatever the count says")
    assert "count of right decisions: competent" in second

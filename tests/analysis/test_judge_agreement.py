"""How judges agree: against a published example, another library, and the laws of agreement."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from statsmodels.regression.linear_model import OLS

from quizzes.analysis.quality.judge_agreement import agreement_of, agreement_words
from quizzes.analysis.quality.judgements import Judgements

# Shrout and Fleiss, Psychological Bulletin 86 (1979), table 2: six targets by four judges, on a
# scale of ten. The coefficient does not change with the scale, so tenths of it are chances here.
RATINGS = ((9, 6, 8, 7, 10, 6), (2, 1, 4, 1, 5, 2), (5, 3, 6, 2, 6, 4), (8, 2, 8, 6, 9, 7))


def judged(table) -> Judgements:
    names = tuple(f"judge {at}" for at in range(len(table)))
    items = tuple(f"question {at}" for at in range(len(table[0])))
    return Judgements(names, items, tuple(tuple(float(one) for one in row) for row in table))


def test_the_published_example_comes_out():
    """Outside check: their table 4, ICC(2,1) = .29 and ICC(2,4) = .62, as printed, two decimals.

    The interval of the first, .02 to .76, is what statistics programs print for these data (from
    memory).
    """
    found = agreement_of(judged([[one / 10 for one in row] for row in RATINGS]))

    assert found.judges == 4
    assert (round(found.single, 2), round(found.mean, 2)) == (0.29, 0.62)
    assert (round(found.single_low, 2), round(found.single_high, 2)) == (0.02, 0.76)


def test_it_is_the_ratio_of_components_that_another_library_finds():
    """Outside check by statsmodels: the table fitted with and without each of its two factors.

    McGraw and Wong (1996): ICC(A,1) is the questions' component over the sum of all three.
    """
    draw = np.random.default_rng(15)
    table = (
        draw.uniform(0.2, 0.9, 12) + draw.normal(0, 0.05, (5, 12)) + draw.normal(0, 0.04, (5, 1))
    )
    table = table.clip(0, 1)
    by_judge, by_item = np.eye(5).repeat(12, axis=0), np.tile(np.eye(12), (5, 1))
    left = (
        OLS(table.ravel(), np.hstack([by_judge, by_item[:, 1:]])).fit().ssr
    )  # of both factors together
    rest = left / (4 * 11)
    of_items = ((OLS(table.ravel(), by_judge).fit().ssr - left) / 11 - rest) / 5
    of_judges = ((OLS(table.ravel(), by_item).fit().ssr - left) / 4 - rest) / 12
    found = agreement_of(judged(table))

    assert found.single == pytest.approx(of_items / (of_items + of_judges + rest))
    assert found.mean == pytest.approx(of_items / (of_items + (of_judges + rest) / 5))


def test_judges_who_say_the_same_agree_wholly_and_a_severe_one_does_not():
    """One who is lower by a fifth on every question orders them alike, and still disagrees."""
    same = agreement_of(judged([(0.9, 0.5, 0.7)] * 3))
    severe = agreement_of(judged([(0.9, 0.5, 0.7), (0.9, 0.5, 0.7), (0.7, 0.3, 0.5)]))

    assert (same.single, same.single_low, same.mean) == (1.0, 1.0, 1.0)
    assert severe.single < 0.9


@pytest.mark.parametrize("table", [[(0.5,), (0.7,), (0.6,)], [(0.5, 0.5), (0.7, 0.7), (0.6, 0.6)]])
def test_where_no_question_differs_from_another_nothing_can_be_said(table):
    """One question alone, or judges who give each question the same chance."""
    assert agreement_of(judged(table)) is None
    assert "cannot be said" in agreement_words(None)


@given(
    st.integers(2, 5).flatmap(
        lambda items: st.lists(
            st.tuples(*[st.integers(0, 10).map(lambda one: one / 10)] * items),
            min_size=2, max_size=5,
        )
    )
)  # fmt: skip
@settings(max_examples=40)
def test_it_lies_within_its_interval_and_from_none_to_all(table):
    """Whatever judges say, contrary to each other or alike."""
    found = agreement_of(judged(table))
    if found is not None:
        assert 0 <= found.single_low <= found.single + 1e-9
        assert found.single - 1e-9 <= found.single_high <= 1
        assert found.single - 1e-9 <= found.mean <= 1 + 1e-9

"""Agreement of two observers: share, interval and kappa against other ways to compute them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import beta, norm
from sklearn.metrics import cohen_kappa_score

from quizzes.analysis.quality.observers import Agreement, pooled, pooled_words

COUNTS = st.integers(0, 40)


def test_the_share_has_the_interval_of_clopper_and_pearson():
    """Outside check: quantiles of the beta distribution. Biometrika 26 (1934) 404-413."""
    found = Agreement(both_shown=14, both_not=4, first_only=1, second_only=3)

    assert found.share == pytest.approx(18 / 22)
    assert found.share_interval() == pytest.approx(
        (beta.ppf(0.025, 18, 5), beta.ppf(0.975, 19, 4)), rel=1e-9
    )


@given(COUNTS, COUNTS, COUNTS, COUNTS)
def test_kappa_is_what_another_library_finds_and_its_error_that_of_the_paper(a, b, c, d):
    """scikit-learn for kappa; for its error the formula of Fleiss, Cohen and Everitt (1969)."""
    found = Agreement(a, d, b, c).kappa()
    n, pairs = a + b + c + d, [(1, 1)] * a + [(1, 0)] * b + [(0, 1)] * c + [(0, 0)] * d
    if not all((a + b, c + d, a + c, b + d)):
        assert found is None
        return
    kappa = cohen_kappa_score(*zip(*pairs, strict=True))
    rows, columns = ((a + b) / n, (c + d) / n), ((a + c) / n, (b + d) / n)
    by_chance = rows[0] * columns[0] + rows[1] * columns[1]
    cells = ((a / n, b / n), (c / n, d / n))
    spread = sum(cells[i][i] * (1 - (rows[i] + columns[i]) * (1 - kappa)) ** 2 for i in (0, 1)) + (
        1 - kappa
    ) ** 2 * sum(cells[i][j] * (columns[i] + rows[j]) ** 2 for i, j in ((0, 1), (1, 0)))
    spread -= (kappa - by_chance * (1 - kappa)) ** 2
    half = norm.ppf(0.975) * math.sqrt(max(0, spread) / n) / (1 - by_chance)

    assert found is not None
    assert found[0] == pytest.approx(kappa, abs=1e-9)
    assert found[1] == pytest.approx(max(-1, kappa - half), abs=1e-6)
    assert found[2] == pytest.approx(min(1, kappa + half), abs=1e-6)


def test_who_marks_everything_alike_has_no_kappa():
    """Full agreement on nothing but "shown" proves little, and the sentence says so."""
    assert Agreement(both_shown=20).kappa() is None
    assert "kappa cannot be given" in Agreement(both_shown=20).words


def test_practicals_are_pooled_by_their_counts():
    """Two practicals count as one table; without any the sentence says that there is none."""
    assert pooled([Agreement(1, 2, 3, 4), Agreement(5, 0, 0, 0)]) == Agreement(6, 2, 3, 4)
    assert "2: 8 of 15 marks agree" in pooled_words([Agreement(1, 2, 3, 4), Agreement(5, 0, 0, 0)])
    assert "No practical" in pooled_words([Agreement()])

"""Uncertainty budgets add up and can be read."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from widgets.instruments.budget import Budget, Contribution, Distribution, normal, rectangular

VALUES = st.floats(1e-4, 10.0)


def of(*lines):
    return Budget("gap", "mm", lines)


@given(st.lists(VALUES, min_size=1, max_size=6))
def test_the_whole_is_more_than_its_largest_line_and_less_than_their_sum(values):
    """Independent lines add in quadrature."""
    combined = of(*(normal("x", v, "mm") for v in values)).combined

    assert max(values) * (1 - 1e-12) <= combined <= sum(values) * (1 + 1e-12)


@given(st.lists(st.tuples(VALUES, st.integers(1, 50)), min_size=1, max_size=6))
def test_degrees_of_freedom_lie_between_the_worst_line_and_all_together(lines):
    """Welch and Satterthwaite: no fewer than the poorest line, no more than their sum (GUM G.4.1)."""
    budget = of(*(normal("x", v, "mm", degrees_of_freedom=n) for v, n in lines))

    freedom = budget.effective_degrees_of_freedom
    assert min(n for _, n in lines) * (1 - 1e-9) <= freedom
    assert freedom <= sum(n for _, n in lines) * (1 + 1e-9)


def test_a_sensitivity_scales_its_line_whatever_its_sign():
    """A temperature of 10 K at -0.002 mm/K moves the gap by 0.02 mm."""
    line = normal("temperature", 10.0, "K", sensitivity=-0.002)

    assert of(line).combined == pytest.approx(0.02)


def test_given_lines_alone_have_endless_degrees_of_freedom():
    """Nothing was estimated from few readings, so 95 % is the normal 1.96."""
    budget = of(rectangular("scale", 0.03, "mm"))

    assert budget.effective_degrees_of_freedom == math.inf
    assert budget.coverage_factor(0.95) == pytest.approx(1.96, abs=0.0005)  # any normal table


def test_the_table_prints_each_line_and_the_result():
    """The printed budget names every source, says what is assumed, and ends with U and k."""
    budget = of(rectangular("step", 0.025, "mm"), normal("hand", 0.007, "mm", degrees_of_freedom=9))
    rows = budget.table().splitlines()

    assert rows[0] == "gap"
    assert any(row.startswith("step") and "rectangular" in row for row in rows)
    assert any(row.startswith("hand") and "0.007 mm" in row for row in rows)
    assert "uncorrelated" in rows[-2]
    assert rows[-1] == "expanded uncertainty U = 0.0321 mm (k = 2)"  # 2 x hypot(0.014434, 0.007)
    assert max(map(len, rows)) <= 80


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: normal("hand", -1.0, "mm"), "value of 'hand' must be >= 0 mm"),
        (lambda: rectangular("scale", math.nan, "mm"), "value of 'scale'"),
        (
            lambda: Contribution("x", 1.0, "mm", Distribution.NORMAL, 0.0),
            "divisor of 'x' must be > 0",
        ),
        (lambda: normal("x", 1.0, "mm", sensitivity=math.inf), "sensitivity of 'x'"),
        (
            lambda: normal("x", 1.0, "mm", degrees_of_freedom=0),
            "degrees_of_freedom of 'x' must be > 0",
        ),
        (of, "at least one line"),
        (lambda: of(normal("x", 1.0, "mm")).expanded(0.0), "coverage_factor must be > 0"),
        (
            lambda: of(normal("x", 1.0, "mm")).coverage_factor(1.0),
            "probability must be > 0 and < 1",
        ),
        (
            lambda: of(normal("x", 1.0, "mm", degrees_of_freedom=0.5)).coverage_factor(0.95),
            "effective degrees of freedom must be >= 1",
        ),
    ],
)
def test_impossible_input_is_refused_by_name(call, words):
    """The sentence names the argument and what it may be."""
    with pytest.raises(ValueError, match=words):
        call()

"""Cut scores, consistency, calibration and the spread of forms: laws, and what is refused."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from quizzes.analysis.people.calibration import calibration, quadratic_score, step_mark
from quizzes.analysis.quality.accuracy import effective_length, livingston_lewis
from quizzes.analysis.quality.consistency import beta_binomial, kr21, subkoviak
from quizzes.analysis.quality.cut_score import angoff, cut_in_use, ebel
from quizzes.analysis.quality.judgements import EbelCell, Judgements, read_ebel, read_judgements
from quizzes.analysis.quality.parallel import (
    form_spread,
    spread_from_chances,
    spread_from_sittings,
)

CHANCES = st.floats(0, 1)
HEAD = "relevance,difficulty,n_items,p_borderline\n"


@st.composite
def judgement_tables(draw):
    """Draw a table of two to six judges and one to eight items."""
    judges, items = draw(st.integers(2, 6)), draw(st.integers(1, 8))
    rows = draw(
        st.lists(
            st.lists(CHANCES, min_size=items, max_size=items), min_size=judges, max_size=judges
        )
    )
    names = tuple(f"judge {n}" for n in range(judges)), tuple(f"item {n}" for n in range(items))
    return Judgements(*names, tuple(map(tuple, rows)))


@given(judgement_tables())
def test_the_cut_is_within_what_the_judges_said(judgements):
    """And drawing other items as well never makes the cut surer."""
    found = angoff(judgements)

    assert min(found.judge_cuts) - 1e-9 <= found.cut <= max(found.judge_cuts) + 1e-9
    assert found.se_items_random >= found.se_items_fixed - 1e-12
    assert min(found.judge_variance, found.item_variance, found.residual_variance) >= 0


@given(judgement_tables())
def test_a_table_written_as_csv_is_read_again(judgements):
    """Every name and every number, to the last bit."""
    lines = [",".join(["judge", *judgements.items])]
    for judge, row in zip(judgements.judges, judgements.chances, strict=True):
        lines.append(",".join([judge, *map(repr, row)]))

    assert read_judgements("\r\n".join(lines)) == judgements


@given(st.floats(0, 20), st.floats(0, 2), st.floats(0, 2))
def test_the_cut_in_use_is_never_below_the_judged_one(cut, error, added):
    """Rounding is always up, and it is never a cut that nobody could reach."""
    over = cut + added * error - 20
    assume(not 0 < over < 1e-6)  # a last digit is no item
    if over > 0:
        with pytest.raises(ValueError, match="nobody could pass"):
            cut_in_use(cut, error, 20, added)
        return
    found = cut_in_use(cut, error, 20, added)

    assert cut + added * error <= found + 1e-9
    assert 1 <= found <= 20


def test_judges_of_one_mind_have_no_error():
    """Three judges who agree on every item: no spread between them."""
    row = (0.9, 0.5, 0.7)
    found = angoff(Judgements(("A", "B", "C"), ("x", "y", "z"), (row, row, row)))

    assert found.se_items_fixed == pytest.approx(0, abs=1e-12)
    assert found.item_variance == pytest.approx(np.var(row, ddof=1), rel=1e-9)


GOOD = "judge,gap,disc\nA,0.9,0.7\n"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "needs a head and at least one line"),
        ("judge,gap,disc\n", "needs a head and at least one line"),
        ("name,gap\nA,0.5\n", "Line 1 must be 'judge' and the names of the items, got 'name,gap'"),
        ("judge\nA\n", "Line 1 must be 'judge'"),
        ("judge,gap,gap\nA,0.5,0.6\n", "Line 1, column 3: item 'gap' appears twice"),
        ("judge,gap,\nA,0.5,0.6\n", "Line 1, column 3: the item has no name"),
        (GOOD + "B,0.9\n", "Line 3, column 'disc': the cell is missing"),
        (GOOD + "B,0.9,0.8,0.7\n", "Line 3 has 4 cells under a head of 3; '0.7' is too many"),
        (GOOD + "B,0.9,\n", "Line 3, column 'disc': a chance from 0 to 1 was expected, got ''"),
        (GOOD + "B,0.9,1.2\n", "Line 3, column 'disc': .* got '1.2'"),
        (GOOD + "B,0.9,-0.1\n", "Line 3, column 'disc': .* got '-0.1'"),
        (GOOD + "B,0.9,nan\n", "Line 3, column 'disc': .* got 'nan'"),
        (GOOD + "B,0.9,inf\n", "Line 3, column 'disc': .* got 'inf'"),
        (GOOD + "B,0.9,1e999\n", "Line 3, column 'disc': .* got '1e999'"),
        (GOOD + "B,0.9,80 %\n", "Line 3, column 'disc': .* got '80 %'"),
        (GOOD + 'B,0.9,"0,8"\n', "got '0,8'; write a point, not a comma"),
        (GOOD + "B,0.9,0_8\n", "Line 3, column 'disc': .* got '0_8'"),
        (GOOD + "\n\nB,0.9,x\n", "Line 5, column 'disc'"),
        (GOOD + ",0.9,0.8\n", "Line 3, column 'judge': the judge has no name"),
        (GOOD + "A,0.9,0.8\n", "Judge 'A' appears twice"),
        (GOOD, "The least number of judges is 2, got 1"),
        (GOOD + 'B,0.9,"0.8\n', "is not CSV"),
        ("judge,gap\nA," + "9" * 1_000_001, "1000000 characters at most"),
    ],
)
def test_a_bad_cell_is_named_by_line_and_column(text, words):
    """One sentence, and nothing half read."""
    with pytest.raises(ValueError, match=words):
        read_judgements(text)


@given(st.text(max_size=80))
def test_no_text_at_all_breaks_the_reading(text):
    """It is a table, or a sentence says why not."""
    for read, kind in ((read_judgements, Judgements), (read_ebel, tuple)):
        try:
            found = read(text)
        except ValueError:
            continue
        assert isinstance(found, kind)


def test_a_spreadsheets_mark_and_empty_lines_are_passed_over():
    """The byte order mark before the head, lines of commas only, spaces round a cell."""
    found = read_judgements("\ufeffjudge,gap\r\n\r\nA, 0.9\r\n,\r\nB,.8\r\n")

    assert found.judges == ("A", "B")
    assert found.table.tolist() == [[0.9], [0.8]]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("a,b,c,d\n1,2,3,4\n", "Line 1 must be 'relevance,difficulty,n_items,p_borderline'"),
        (HEAD + "essential,easy,2.5,0.9\n", "Line 2, column 'n_items': a whole number"),
        (HEAD + "essential,easy,-1,0.9\n", "Line 2, column 'n_items': a whole number"),
        (HEAD + "essential,easy,6,9\n", "Line 2, column 'p_borderline': a chance"),
        (HEAD + "essential,easy,6\n", "Line 2, column 'p_borderline': the cell is missing"),
        (HEAD + "essential,easy,6,0.9\n" * 2, "Line 2: 'essential', 'easy' appears more than once"),
    ],
)
def test_a_bad_cell_of_the_other_table_is_named_too(text, words):
    """Ebel's table has its own head and a count."""
    with pytest.raises(ValueError, match=words):
        read_ebel(text)


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        (((0.9, 0.7), (0.8,)), "Judge 'B' has no chance for item 'disc'"),
        (((0.9, 0.7), (0.8, 0.7, 0.6)), "Judge 'B' gives 3 chances for 2 items"),
        (((0.9, 0.7), (0.8, 1.7)), "Judge 'B', item 'disc': the chance must be"),
        (((0.9, math.nan), (0.8, 0.7)), "Judge 'A', item 'disc': the chance must be"),
        (((0.9, 0.7), (None, 0.7)), "Judge 'B', item 'gap': the chance must be"),
        (((0.9, 0.7),), "There are 2 judges and 1 rows"),
    ],
)
def test_a_bad_judgement_names_judge_and_item(rows, words):
    """Ragged, out of range, or no number."""
    with pytest.raises(ValueError, match=words):
        Judgements(("A", "B"), ("gap", "disc"), rows)


@given(st.integers(2, 60), st.floats(0.05, 0.95), st.floats(0.05, 0.95), st.data())
def test_agreement_is_at_least_what_chance_gives(items, share, spread, data):
    """Kappa is 0 to 1 where true rates vary, and the pass rate is a share."""
    mean = share * items
    least = mean * (items - mean) / items
    variance = least + spread * (mean * (items - mean) - least)
    assume(0.001 < kr21(items, mean, variance) < 0.999)
    found = beta_binomial(items, mean, variance, data.draw(st.integers(0, items)))

    assert 0 <= found.pass_rate <= 1 + 1e-9
    assert -1e-6 <= found.kappa <= 1 + 1e-6
    assert 0.5 - 1e-6 <= found.agreement <= 1 + 1e-9


def test_a_longer_form_is_more_consistent():
    """Twice the cases of the same kind: the scheme's remedy for a form below .85."""
    short = livingston_lewis(80.0, 100.0, 0.85, 75.0)
    longer = livingston_lewis(80.0, 92.5, 0.85 / 0.925, 75.0)  # half the error variance

    assert longer.consistency.agreement > short.consistency.agreement
    assert longer.accuracy > short.accuracy
    assert not beta_binomial(20, 16.0, 9.0, 16).enough


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: subkoviak([15, 15, 15], 20, 10), "Everybody has 15"),
        (lambda: subkoviak([15], 20, 10), "two people or more, got 1"),
        (lambda: subkoviak([15, 25], 20, 10), r"scores\[1\] must be"),
        (lambda: subkoviak([15, 14.5], 20, 10), r"scores\[1\] must be a whole number"),
        (lambda: subkoviak([10, 11, 10, 9], 20, 10), "spread no more than chance"),
        (lambda: subkoviak([0, 20], 20, 10), "all or nothing"),
        (lambda: beta_binomial(20, 16.0, 9.0, 21), "pass_at_least must be at most items"),
        (lambda: kr21(1, 0.5, 0.2), "items must be >= 2"),
        (lambda: kr21(20, 20.0, 1.0), "mean must be > 0 and < 20"),
        (lambda: effective_length(80.0, 100.0, 1.0), "reliability must be > 0 and < 1"),
        (lambda: livingston_lewis(80.0, 100.0, 0.85, 100.0), "cut must be > 0 and < 100"),
        (lambda: ebel([]), "No cell holds an item"),
        (lambda: EbelCell("essential", "easy", 2, 1.5), "'essential', 'easy': the chance must be"),
        (lambda: EbelCell("essential", "easy", -2, 0.5), "the number of items must be"),
        (lambda: cut_in_use(7.0, -1.0, 10), "standard_error must be >= 0 items"),
        (lambda: quadratic_score([0.5, 0.6], 0), "chances must add up to 1, got 1.1"),
        (lambda: quadratic_score([0.5, 0.5], 2), "came_true must be at most"),
        (lambda: quadratic_score([1.5, -0.5], 0), r"chances\[0\] must be"),
        (lambda: step_mark("certain", right=True), "must be one of sure, think, guess"),
        (lambda: calibration([("", True)]), "must be one of sure, think, guess"),
        (lambda: form_spread([12.0], 1.0), "two forms or more, got 1"),
        (lambda: form_spread([12.0, math.nan], 1.0), r"expected\[1\] must be a finite number"),
        (lambda: form_spread([12.0, 13.0], 0.0), "sem must be > 0"),
        (lambda: spread_from_chances([0.5, 0.6]), "chances must be of shape"),
        (lambda: spread_from_chances([[1.0, 0.0], [1.0, 1.0]]), "nothing to measure"),
        (lambda: spread_from_chances([[0.5], [0.5, 0.6]]), "chances must be a number or an array"),
        (lambda: spread_from_sittings([[12], [13]]), "two sittings or more of each form"),
        (lambda: spread_from_sittings([[12, 12], [13, 13]]), "never differ"),
    ],
)
def test_impossible_scores_are_refused_by_name(call, words):
    """One sentence with the name, the rule and the value."""
    with pytest.raises(ValueError, match=words):
        call()


@given(st.lists(st.integers(1, 100), min_size=2, max_size=5), st.data())
def test_nobody_gains_by_stating_other_chances_than_they_believe(weights, data):
    """The expected quadratic score is largest for the chances believed in."""
    believed = np.array(weights) / sum(weights)
    other = data.draw(st.lists(st.integers(1, 100), min_size=len(weights), max_size=len(weights)))
    stated = np.array(other) / sum(other)

    def expected(chances):
        return sum(
            p * quadratic_score(list(chances), at) for at, p in enumerate(map(float, believed))
        )

    assert expected(believed) >= expected(stated) - 1e-12


@pytest.mark.parametrize(
    ("answers", "finding"),
    [
        ([("sure", True)] * 8 + [("sure", False)] * 12, "over"),
        ([("sure", True)] * 16 + [("sure", False)] * 4, ""),
        ([("sure", False)], ""),
        ([("guess", True)] * 30, "under"),
        ([("guess", False)] * 30, ""),
        ([("think", True)] * 40, "under"),
        ([("think", False)] * 10, "over"),
    ],
)
def test_only_a_plain_difference_is_called_over_or_under(answers, finding):
    """One wrong answer that one was sure of shows nothing yet."""
    found = calibration(answers)

    assert [step.finding for step in found.steps] == [finding]
    assert ("Over-confident" in found.sentence) == (finding == "over")
    assert ("Too modest" in found.sentence) == (finding == "under")


def test_calibration_of_nothing_says_so():
    """No answer, no step, one sentence."""
    found = calibration([])

    assert found.steps == ()
    assert "nothing can be said" in found.sentence


@given(st.integers(2, 12), st.integers(1, 20), st.data())
def test_equal_forms_have_no_spread(forms, cases, data):
    """The same chances in another order: expected scores are the same."""
    row = data.draw(st.lists(st.floats(0.05, 0.95), min_size=cases, max_size=cases))
    found = spread_from_chances([row[n % cases :] + row[: n % cases] for n in range(forms)])

    assert found.sd == pytest.approx(0, abs=1e-9)
    assert found.equal_enough


def test_the_luck_of_sittings_is_taken_off_the_spread_of_forms():
    """Forms .80 apart, each sat five times with an error of 1.5: both are found again.

    The tolerance is about four standard errors with 400 forms; the raw spread of form means,
    which holds the luck too, would be 1.04.
    """
    rng = np.random.default_rng(11)
    scores = rng.normal(12, 0.80, (400, 1)) + rng.normal(0, 1.5, (400, 5))
    found = spread_from_sittings(scores)

    assert found.sd == pytest.approx(0.80, abs=0.16)
    assert found.sem == pytest.approx(1.5, abs=0.11)
    assert found.sd_low < 0.80 < found.sd_high
    assert found.sd_low <= found.sd <= found.sd_high


def test_the_interval_of_that_spread_fails_on_either_side_no_more_than_it_says():
    """Four hundred sets of thirty forms, each sat five times: 2.5 % a side and four errors."""
    rng = np.random.default_rng(12)
    found = [
        spread_from_sittings(rng.normal(12, 0.80, (30, 1)) + rng.normal(0, 1.5, (30, 5)))
        for _ in range(400)
    ]

    assert sum(one.sd_low > 0.80 for one in found) / 400 <= 0.025 + 4 * 0.0078
    assert sum(one.sd_high < 0.80 for one in found) / 400 <= 0.025 + 4 * 0.0078


def test_forms_far_apart_are_not_equal_enough():
    """Half a standard error is the limit, and the upper end of the interval must keep it."""
    assert form_spread(np.linspace(11.9, 12.1, 30), sem=1.0).equal_enough
    assert not form_spread(np.linspace(11.0, 13.0, 30), sem=1.0).equal_enough
    assert not form_spread([11.9, 12.1], sem=1.0).equal_enough

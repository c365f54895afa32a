"""What the evidence shows and what it does not, in plain sentences."""

import math
from collections.abc import Iterator

from quizzes.analysis.counts import open_rate
from quizzes.analysis.rates import CONFIDENCE, cases_without_miss

from .mastery import BAR, SURE, Mastery
from .performance import performance
from .sequential import SequentialResult, SequentialTest, Verdict

MISS_RATE_WANTED = 0.05  # what a run without a miss should come down to; a choice of this scheme
_ON_A_SCREEN = (
    "This speaks of brakes like those shown, on a screen and not at a hoist. "
    "It does not replace work under supervision, nor what the maker and local rules ask."
)
_EXACT = 1e-9  # a percentage that is whole but for rounding stays


def at_most(share: float) -> str:
    """Return a share as a percentage that is never too low; below 1 % with one decimal.

    Examples
    --------
    >>> at_most(0.2589), at_most(0.0012)
    ('26 %', '0.2 %')
    """
    steps = 1000 if share < 0.01 else 100
    return f"{math.ceil(share * steps - _EXACT) * 100 / steps:g} %"


def at_least(share: float) -> str:
    """Return a share as a percentage that is never too high; above 99 % with one decimal.

    Examples
    --------
    >>> at_least(0.8609), at_least(0.9989)
    ('86 %', '99.8 %')
    """
    steps = 1000 if share > 0.99 else 100
    return f"{math.floor(share * steps + _EXACT) * 100 / steps:g} %"


def miss_sentence(mastery: Mastery, confidence: float = CONFIDENCE) -> str:
    """Return what the unsafe brakes say of letting one through.

    Parameters
    ----------
    mastery : Mastery
        Misses and unsafe cases, of one sitting or many.
    confidence : float
        One-sided, above 0 and below 1.

    Raises
    ------
    ValueError
        If the confidence is not a share.

    Examples
    --------
    >>> print(miss_sentence(Mastery(10, 10, misses=0, unsafe_cases=10)))
    10 unsafe brakes, none let through. That still leaves room for missing up to 26 % of such \
brakes (95 % bound). 49 more without a miss would bring it to 5 %.
    """
    open_rate("confidence", confidence)
    shown, misses = mastery.unsafe_cases, mastery.misses
    if shown == 0:
        return "No unsafe brake was shown: whether one would be let through is not known at all."
    bound = f"up to {at_most(mastery.miss_bound(confidence))} of such brakes"
    bound += f" ({at_least(confidence)} bound)"
    if misses:
        were = "was" if misses == 1 else "were"
        return f"{misses} of {_count(shown, 'unsafe brake')} {were} let through. It may be {bound}."
    more = cases_without_miss(MISS_RATE_WANTED, confidence) - shown
    start = f"{_count(shown, 'unsafe brake')}, none let through. "
    start += f"That still leaves room for missing {bound}."
    if more <= 0:
        return start
    return f"{start} {more} more without a miss would bring it to {at_most(MISS_RATE_WANTED)}."


def rate_sentence(mastery: Mastery, bar: float = BAR, sure: float = SURE) -> str:
    """Return what the decisions say of the rate of right ones, and how many more are needed.

    Parameters
    ----------
    mastery : Mastery
        Right decisions and cases, of one sitting or many.
    bar, sure : float
        Rate asked, and how sure of it we want to be; above 0 and below 1.

    Raises
    ------
    ValueError
        If a share is none.

    Examples
    --------
    >>> print(rate_sentence(Mastery(19, 20)))
    19 of 20 decisions right. It is 94 % sure that more than 80 % of all would be right; \
95 % is required. At least 1 more case, right, is needed.
    """
    open_rate("bar", bar)
    open_rate("sure", sure)
    if mastery.cases == 0:
        return "No case was judged: this shows nothing."
    chance = mastery.right_rate.chance_above(bar)
    start = f"{mastery.rights} of {_count(mastery.cases, 'decision')} right. "
    start += (
        f"It is {at_least(chance)} sure that more than {at_least(bar)} of all would be right; "
        f"{at_least(sure)} is required."
    )
    return start if chance >= sure else f"{start} {_how_many_more(mastery, bar, sure)}"


def sequential_sentence(test: SequentialTest, result: SequentialResult) -> str:
    """Return where the sequential test stands, whether it stopped early, and what is still needed.

    Parameters
    ----------
    test : SequentialTest
        The test as it was set.
    result : SequentialResult
        How it came out, from `run` or `standing`.

    Examples
    --------
    >>> from .sequential import run
    >>> print(sequential_sentence(SequentialTest(), run(SequentialTest(), [True] * 10)))
    Undecided after 10 cases, 10 right. At least 2 more are needed, all right, for competent.
    """
    so_far = f"{_count(result.cases, 'case')}, {result.rights} right"
    if result.verdict is Verdict.GO_ON:
        return f"Undecided after {so_far}. {_what_is_needed(test, result)}"
    if result.cut:
        return (
            f"Not yet competent: still undecided at the cut after {so_far}. "
            "The evidence is not enough either way. Practise, then sit a new form."
        )
    word = f"By the count of right decisions: {result.verdict.value}"
    if result.cases < test.most_cases:
        return f"{word}. Stopped early: decided after {so_far}, of {test.most_cases} at most."
    return f"{word}. Decided with the last case, after {so_far}."


def error_sentence(test: SequentialTest) -> str:
    """Return how often the test itself is wrong, exactly, at the two rates it tells apart.

    Parameters
    ----------
    test : SequentialTest
        The rates and the cut.

    Examples
    --------
    >>> print(error_sentence(SequentialTest()))
    Of people who decide correctly in 70 % of cases this test passes at most 4.3 in 100; of people \
who do so in 90 % it sends at most 15 in 100 away as not yet.
    """
    curve = performance(test, [test.not_yet_rate, test.competent_rate])
    passing, failing = float(curve.competent[0]), float(curve.not_yet[1])
    return (
        f"Of people who decide correctly in {100 * test.not_yet_rate:g} % of cases this test "
        f"passes at most {_in_100(passing)}; of people who do so in "
        f"{100 * test.competent_rate:g} % it sends at most {_in_100(failing)} away as not yet."
    )


def statement(
    mastery: Mastery, test: SequentialTest | None = None, result: SequentialResult | None = None
) -> tuple[str, ...]:
    """Return all that may be said of a person's evidence, a thought a line.

    Parameters
    ----------
    mastery : Mastery
        Counts of one sitting or many.
    test, result : optional
        The sequential test and how it came out, both or neither.

    Raises
    ------
    ValueError
        If only one of `test` and `result` is given.
    """
    if (test is None) is not (result is None):
        raise ValueError("test and result go together: give both or neither")
    return tuple(_lines(mastery, test, result))


def plain_statement(mastery: Mastery) -> tuple[str, ...]:
    """Return what a person is told of their own sitting: counts and words, no bounds.

    Parameters
    ----------
    mastery : Mastery
        Counts of one sitting.

    Examples
    --------
    >>> for line in plain_statement(Mastery(4, 5, misses=1, unsafe_cases=3))[:2]:
    ...     print(line)
    4 of 5 decisions right.
    1 of 3 unsafe brakes was let through: that outweighs every decision that was right.
    """
    lines = [f"{mastery.rights} of {_count(mastery.cases, 'decision')} right."]
    shown, misses = mastery.unsafe_cases, mastery.misses
    if misses:
        were = "was" if misses == 1 else "were"
        lines.append(
            f"{misses} of {_count(shown, 'unsafe brake')} {were} let through: that outweighs "
            "every decision that was right."
        )
    elif shown == 1:
        lines.append("One unsafe brake was among them, and it was not let through.")
    elif shown:
        lines.append(f"{shown} unsafe brakes were among them, and none was let through.")
    return (*lines, _ON_A_SCREEN)


def _lines(
    mastery: Mastery, test: SequentialTest | None, result: SequentialResult | None
) -> Iterator[str]:
    # No count of right decisions makes up for an unsafe brake that was let through.
    if mastery.misses:
        were = "was" if mastery.misses == 1 else "were"
        yield (
            f"Not yet competent, whatever the count says: "
            f"{_count(mastery.misses, 'unsafe brake')} {were} let through."
        )
    if test is not None and result is not None:
        yield sequential_sentence(test, result)
        yield error_sentence(test)
        if result.left_over:
            yield (
                f"{_count(result.left_over, 'decision')} after that did not count in the test: "
                "who may go on until it fits would always pass in the end."
            )
    yield rate_sentence(mastery)
    yield miss_sentence(mastery)
    yield _ON_A_SCREEN


def _what_is_needed(test: SequentialTest, result: SequentialResult) -> str:
    if result.more_to_pass is None:
        return (
            f"With {_count(result.wrongs, 'case')} wrong, competent can no longer be reached "
            f"before the cut at {test.most_cases}: practise, then sit a new form."
        )
    verb, right = ("is", "right") if result.more_to_pass == 1 else ("are", "all right")
    return f"At least {result.more_to_pass} more {verb} needed, {right}, for competent."


def _how_many_more(mastery: Mastery, bar: float, sure: float) -> str:
    try:
        more = mastery.more_cases_at_least(bar, sure)
    except ValueError:  # more cases than the search looks at, and than anybody sits
        return "No number of cases that anybody can sit would still make it so."
    if more == 1:
        return "At least 1 more case, right, is needed."
    return f"At least {more} more cases, all right, are needed."


def _in_100(share: float) -> str:
    return f"{math.ceil(1000 * share - _EXACT) / 10:g} in 100"


def _count(number: int, noun: str) -> str:
    return f"{number} {_plural(number, noun)}"


def _plural(number: int, noun: str) -> str:
    return noun if number == 1 else f"{noun}s"

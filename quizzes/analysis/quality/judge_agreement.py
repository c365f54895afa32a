"""How judges agree on the same questions: the intraclass correlation, with its interval."""

from dataclasses import dataclass

from .judgements import Judgements

CONFIDENCE = 0.95
_ALIKE = 1e-12  # a mean square of chances below this is rounding


@dataclass(frozen=True, slots=True)
class JudgeAgreement:
    """How far the estimates of one judge, and the means of all, would come out again.

    Attributes
    ----------
    single, single_low, single_high : float
        Agreement of judge with judge, dimensionless, with its 95 % interval: 1 where all say the
        same of every question, about 0 where they agree no better than by chance.
    mean, mean_low, mean_high : float
        The same for the mean of so many judges, held against that of as many others.
    judges : int
        How many.
    """

    single: float
    single_low: float
    single_high: float
    mean: float
    mean_low: float
    mean_high: float
    judges: int


def agreement_of(judgements: Judgements) -> JudgeAgreement | None:
    """Return how the judges agree; None where their estimates leave nothing to agree on.

    Parameters
    ----------
    judgements : Judgements
        Of two judges or more.

    Returns
    -------
    JudgeAgreement or None
        None with a single question, or where each judge says the same of every question.

    Notes
    -----
    The two-way table without repetition, questions and judges both drawn from many, absolute
    agreement: a judge who is more severe than another on every question disagrees with them.
    A negative estimate is kept as 0, and the interval, Satterthwaite's through F, within 0 to 1.

    Source: Shrout and Fleiss, Psychological Bulletin 86 (1979) 420-428, ICC(2,1) and ICC(2,k);
    McGraw and Wong, Psychological Methods 1 (1996) 30-46.

    Examples
    --------
    >>> severe = Judgements(("A", "B"), ("gap", "disc"), ((0.9, 0.5), (0.7, 0.3)))
    >>> round(agreement_of(severe).single, 2)
    0.8
    """
    judges, items = len(judgements.judges), len(judgements.items)
    if items < 2:
        return None
    between_items, between_judges, rest = _mean_squares(judgements)
    if max(between_items, rest) < _ALIKE:
        return None
    of_all = between_items + (judges - 1) * rest + judges / items * (between_judges - rest)
    single = (between_items - rest) / of_all if between_items > rest else 0.0
    low, high = _interval(single, between_items, between_judges, rest, (judges, items))
    mean, mean_low, mean_high = (_of_the_mean(one, judges) for one in (single, low, high))
    return JudgeAgreement(single, low, high, mean, mean_low, mean_high, judges)


def _mean_squares(judgements: Judgements) -> tuple[float, float, float]:
    """Return the mean squares of questions, of judges, and of what is left."""
    table = judgements.table
    judges, items = table.shape
    of_judges, of_items = table.mean(axis=1), table.mean(axis=0)
    left = table - of_judges[:, None] - of_items[None, :] + table.mean()
    return (
        judges * float(of_items.var(ddof=1)),
        items * float(of_judges.var(ddof=1)),
        float((left**2).sum()) / ((judges - 1) * (items - 1)),
    )


def _interval(
    single: float, of_items: float, of_judges: float, rest: float, shape: tuple[int, int]
) -> tuple[float, float]:
    from scipy.special import fdtri  # noqa: PLC0415 (a page opens faster without SciPy)

    judges, items = shape
    if max(of_judges, rest) < _ALIKE:  # nobody differs from anybody
        return single, single
    a = judges * single / (items * (1 - single))
    b = 1 + judges * single * (items - 1) / (items * (1 - single))
    free = (a * of_judges + b * rest) ** 2 / (
        (a * of_judges) ** 2 / (judges - 1) + (b * rest) ** 2 / ((items - 1) * (judges - 1))
    )
    upper_tail = 1 - (1 - CONFIDENCE) / 2
    below = float(fdtri(items - 1, free, upper_tail))
    above = float(fdtri(free, items - 1, upper_tail))
    shared = judges * of_judges + (judges * items - judges - items) * rest
    return (
        _share(items * (of_items - below * rest), below * shared + items * of_items, unknown=0.0),
        _share(items * (above * of_items - rest), shared + items * above * of_items, unknown=1.0),
    )


def _share(part: float, whole: float, unknown: float) -> float:
    return min(1.0, max(0.0, part / whole)) if whole > 0 else unknown


def _of_the_mean(single: float, judges: int) -> float:
    """Return what an agreement of single judges is for the mean of so many."""
    return judges * single / (1 + (judges - 1) * single)


def agreement_words(found: JudgeAgreement | None) -> str:
    """Return how judges agree, in words for a line of its own."""
    if found is None:
        return (
            "cannot be said: it takes two questions or more, and estimates that differ between them"
        )
    return (
        f"judge with judge {found.single:.2f} ({found.single_low:.2f} to {found.single_high:.2f}), "
        f"the mean of all {found.judges} {found.mean:.2f} "
        f"({found.mean_low:.2f} to {found.mean_high:.2f})"
    )

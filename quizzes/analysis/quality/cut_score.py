"""How many must be right: a documented judgement, its standard error, and the cut in use."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from quizzes.analysis.counts import whole
from widgets.brake.ranges import in_range

from .judgements import EbelCell, Judgements

STANDARD_ERRORS_ADDED = 1.0  # on the safe side; a choice of this scheme
_ON_THE_MARK = 1e-9  # a cut that is whole but for rounding stays where it is


@dataclass(frozen=True, slots=True)
class AngoffCut:
    """The cut that judges arrive at, in items, and how well they determine it.

    Attributes
    ----------
    items : int
        Length of the form.
    cut : float
        Items that a borderline candidate gets right, mean over judges.
    judge_cuts : tuple of float
        The same for each judge.
    judge_sd : float
        Standard deviation of those, items.
    se_items_fixed : float
        Standard error for just these items: other judges might have come.
    se_items_random : float
        Standard error if other items of the same kind might be drawn too, as
        in a form that is generated: state this one there.
    judge_variance, item_variance, residual_variance : float
        Components of the variance of one judgement, chance squared; a
        negative estimate is kept as 0.
    """

    items: int
    cut: float
    judge_cuts: tuple[float, ...]
    judge_sd: float
    se_items_fixed: float
    se_items_random: float
    judge_variance: float
    item_variance: float
    residual_variance: float


@dataclass(frozen=True, slots=True)
class EbelCut:
    """The cut from items sorted by relevance and difficulty.

    Attributes
    ----------
    items : int
        Length of the form.
    cut : float
        Items that a borderline candidate gets right.
    share : float
        The same as a share of the form, 0 to 1.
    """

    items: int
    cut: float
    share: float


def angoff(judgements: Judgements) -> AngoffCut:
    """Return the cut of a form from the chances that each judge gave to each item.

    Parameters
    ----------
    judgements : Judgements
        Of two or more judges.

    Notes
    -----
    Each judge states, item by item, the chance that somebody who only just
    deserves to pass gets it right. The sum over items is that judge's cut.
    Components come from the two-way table without repetition: mean squares of
    judges, items and the rest. With one item alone, the spread between items
    is not known and counts as zero.

    Source: Angoff in Thorndike (ed.), *Educational Measurement*, 2nd ed.
    (1971); Brennan, *Generalizability Theory* (2001), p x i design (both from
    memory).

    Examples
    --------
    >>> two = Judgements(("A", "B"), ("gap", "disc"), ((0.9, 0.7), (0.8, 0.6)))
    >>> found = angoff(two)
    >>> round(found.cut, 2), round(found.se_items_fixed, 2)
    (1.5, 0.1)
    """
    table = judgements.table
    judges, items = table.shape
    judge_means, item_means, mean = table.mean(axis=1), table.mean(axis=0), table.mean()
    judge_square = items * float(judge_means.var(ddof=1))
    rest = table - judge_means[:, None] - item_means[None, :] + mean
    spare = (judges - 1) * (items - 1)
    residual = float((rest**2).sum()) / spare if spare else 0.0
    item_square = judges * float(item_means.var(ddof=1)) if items > 1 else 0.0
    item_variance = max(0.0, (item_square - residual) / judges)
    fixed = judge_square / (judges * items)  # variance of the mean chance, other judges coming
    cuts = items * judge_means
    return AngoffCut(
        items=items,
        cut=float(items * mean),
        judge_cuts=tuple(float(cut) for cut in cuts),
        judge_sd=float(np.std(cuts, ddof=1)),
        se_items_fixed=items * math.sqrt(fixed),
        se_items_random=items * math.sqrt(fixed + item_variance / items),
        judge_variance=max(0.0, (judge_square - residual) / items),
        item_variance=item_variance,
        residual_variance=residual,
    )


def ebel(cells: Sequence[EbelCell]) -> EbelCut:
    """Return the cut of a form whose items were sorted by relevance and difficulty.

    Parameters
    ----------
    cells : sequence of EbelCell
        At least one with an item in it.

    Raises
    ------
    ValueError
        If there is no item at all.

    Notes
    -----
    Source: Ebel, *Essentials of Educational Measurement* (1972) (from memory).

    Examples
    --------
    >>> round(ebel([EbelCell("essential", "easy", 6, 0.95)]).cut, 2)
    5.7
    """
    items = sum(cell.items for cell in cells)
    if items == 0:
        raise ValueError("No cell holds an item: there is nothing to cut")
    cut = math.fsum(cell.items * cell.chance for cell in cells)
    return EbelCut(items, cut, cut / items)


def cut_in_use(
    cut: float, standard_error: float, items: int, added: float = STANDARD_ERRORS_ADDED
) -> int:
    """Return how many items must be right: the judged cut, made safer and rounded up.

    Parameters
    ----------
    cut, standard_error : float
        As judged, items, 0 or more.
    items : int
        Length of the form, 1 or more.
    added : float
        How many standard errors are put on top, 0 or more.

    Returns
    -------
    int
        1 to `items`: who gets nothing right never passes.

    Raises
    ------
    ValueError
        If a number is impossible, or the cut would be above the length of the
        form and nobody could pass.

    Examples
    --------
    >>> cut_in_use(7.69, standard_error=0.19, items=10)
    8
    """
    items = whole("items", items, low=1)
    in_range("cut", cut, "items", 0, items)
    in_range("standard_error", standard_error, "items", low=0)
    in_range("added", added, "standard errors", low=0)
    safe = max(1, math.ceil(cut + added * standard_error - _ON_THE_MARK))
    if safe > items:
        raise ValueError(
            f"cut {cut:g} with {added:g} standard errors of {standard_error:g} asks for {safe} "
            f"of {items} items, and nobody could pass: ask more judges or make the form longer"
        )
    return safe

"""A panel of judges: what each said of each question in two rounds, and the cut that follows."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .cut_score import STANDARD_ERRORS_ADDED, angoff
from .judgements import Judgements

FEWEST_JUDGES, MOST_JUDGES = 3, 50
FEWEST_FROM_OUTSIDE = 2  # judges who do not teach those who are assessed; our choice


@dataclass(frozen=True, slots=True)
class Panel:
    """What three judges or more have said in two rounds; whether people and numbers are invented.

    `trainers` are the judges who teach those who are assessed.
    """

    title: str
    invented: bool
    trainers: tuple[str, ...]
    first: Judgements
    second: Judgements

    def spread(self, judgements: Judgements) -> float:
        """Return the standard deviation between judges, mean over questions, as a chance."""
        return float(judgements.table.std(axis=0, ddof=1).mean())

    @property
    def too_few_from_outside(self) -> bool:
        """Whether fewer than two of the judges do not teach those who are assessed."""
        return len(self.second.judges) - len(self.trainers) < FEWEST_FROM_OUTSIDE

    @property
    def moved(self) -> float:
        """Mean change of an estimate from the first round to the second, as a chance."""
        return float(np.abs(self.second.table - self.first.table).mean())


@dataclass(frozen=True, slots=True)
class PanelCut:
    """The share that somebody just competent earns, its error, and over how many questions."""

    share: float
    error: float
    judged: int

    @property
    def in_use(self) -> float:
        """The share asked for: the judged one and one standard error on the safe side, 0 to 1."""
        return min(1.0, self.share + STANDARD_ERRORS_ADDED * self.error)


def cut_of(panel: Panel, items: Sequence[str]) -> PanelCut | None:
    """Return the cut of a set of questions; None if the panel has judged none of them.

    Notes
    -----
    Angoff's: the mean estimate of the second round; the error is that of other judges of the
    same kind coming, the questions being these.
    """
    places = [panel.second.items.index(one) for one in items if one in panel.second.items]
    if not places:
        return None
    names = tuple(dict.fromkeys(panel.second.items[at] for at in places))
    chances = tuple(
        tuple(row[panel.second.items.index(name)] for name in names) for row in panel.second.chances
    )
    found = angoff(Judgements(panel.second.judges, names, chances))
    return PanelCut(found.cut / found.items, found.se_items_fixed / found.items, found.items)

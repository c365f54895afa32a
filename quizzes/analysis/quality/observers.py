"""How two observers of the same acts agree: counts, the share with its interval, Cohen's kappa."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

CONFIDENCE = 0.95
_INDEPENDENT = (
    "Marks in one practical are not independent, so the true intervals are wider than these."
)


@dataclass(frozen=True, slots=True)
class Agreement:
    """How two observers agree, in counts of what both of them marked.

    Parameters
    ----------
    both_shown, both_not : int
        Marks on which they agree.
    first_only, second_only : int
        Marks that one saw as shown and the other did not.
    """

    both_shown: int = 0
    both_not: int = 0
    first_only: int = 0
    second_only: int = 0

    def __add__(self, other: "Agreement") -> "Agreement":
        return Agreement(
            self.both_shown + other.both_shown,
            self.both_not + other.both_not,
            self.first_only + other.first_only,
            self.second_only + other.second_only,
        )

    @property
    def marked(self) -> int:
        """How many marks both of them made."""
        return self.both_shown + self.both_not + self.first_only + self.second_only

    @property
    def share(self) -> float:
        """Share of the marks on which they agree, 0 to 1; 1 if there is none."""
        return (self.both_shown + self.both_not) / self.marked if self.marked else 1.0

    def share_interval(self) -> tuple[float, float]:
        """Return the 95 % interval of the share (Clopper and Pearson), 0 to 1."""
        from scipy.stats import binomtest  # noqa: PLC0415 (late: slow to import)

        if not self.marked:
            return 0.0, 1.0
        found = binomtest(self.both_shown + self.both_not, self.marked)
        interval = found.proportion_ci(CONFIDENCE, method="exact")
        return float(interval.low), float(interval.high)

    def kappa(self) -> tuple[float, float, float] | None:
        """Return Cohen's kappa and its 95 % interval; None where chance alone explains all.

        Notes
        -----
        Without a difference in what an observer marks, agreement by chance is as large as any,
        and kappa is not defined.
        Source: Fleiss, Cohen and Everitt, Psychological Bulletin 72 (1969) 323-327.
        """
        from statsmodels.stats.inter_rater import cohens_kappa  # noqa: PLC0415 (late, as above)

        rows = (self.both_shown + self.first_only, self.both_not + self.second_only)
        columns = (self.both_shown + self.second_only, self.both_not + self.first_only)
        if not all(rows) or not all(columns):
            return None
        table = [[self.both_shown, self.first_only], [self.second_only, self.both_not]]
        found = cohens_kappa(table)
        values = (found.kappa, found.kappa_low, found.kappa_upp)
        if not all(math.isfinite(one) for one in values):
            return None
        return values[0], max(-1.0, values[1]), min(1.0, values[2])

    @property
    def words(self) -> str:
        """The agreement in a sentence."""
        if not self.marked:
            return "No element was marked by two observers."
        low, high = self.share_interval()
        agree = self.both_shown + self.both_not
        said = f"{agree} of {self.marked} marks agree, {self.share:.0%} ({low:.0%} to {high:.0%})"
        kappa = self.kappa()
        if kappa is None:
            return f"{said}; kappa cannot be given: an observer marked everything alike."
        return f"{said}; kappa {kappa[0]:.2f} ({kappa[1]:.2f} to {kappa[2]:.2f})."


def pooled(several: Iterable[Agreement]) -> Agreement:
    """Return the counts of several practicals together."""
    return sum(several, Agreement())


def pooled_words(several: Iterable[Agreement]) -> str:
    """Return how observers agree over several practicals, in sentences."""
    each = [one for one in several if one.marked]
    if not each:
        return (
            "No practical has yet been marked by two observers, neither knowing the other’s sheet."
        )
    return (
        f"All practicals marked by two observers blind to each other’s sheet, {len(each)}: "
        f"{pooled(each).words} 95 % intervals. "
        f"{_INDEPENDENT}"
    )

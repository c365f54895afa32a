"""Uncertainty budgets after the GUM: what may be wrong with a reading, line by line."""

import math
from dataclasses import dataclass
from enum import StrEnum

from widgets.brake.ranges import in_range


class Distribution(StrEnum):
    """How the true value may lie about the stated one."""

    NORMAL = "normal"
    RECTANGULAR = "rectangular"
    TRIANGULAR = "triangular"
    ARCSINE = "arcsine"


DIVISORS = {  # half-width over standard uncertainty, dimensionless; JCGM 100:2008, 4.3.7 and 4.3.9
    Distribution.NORMAL: 1.0,  # the value already is a standard uncertainty
    Distribution.RECTANGULAR: math.sqrt(3),
    Distribution.TRIANGULAR: math.sqrt(6),
    Distribution.ARCSINE: math.sqrt(2),
}


@dataclass(frozen=True, slots=True)
class Contribution:
    """One line of a budget.

    Attributes
    ----------
    name : str
        What may be wrong, in words for the printed table.
    value : float
        Half-width (or standard deviation, if normal), in `unit`, zero or more.
    unit : str
        Unit of `value`.
    distribution : Distribution
        Shape, for the table.
    divisor : float
        What turns `value` into a standard uncertainty, dimensionless, above zero.
    sensitivity : float
        Change of the result per change of this input, in units of the budget per `unit`.
    degrees_of_freedom : float
        How well the value is known, dimensionless, above zero; infinite if it is given.
    """

    name: str
    value: float
    unit: str
    distribution: Distribution
    divisor: float
    sensitivity: float = 1.0
    degrees_of_freedom: float = math.inf

    def __post_init__(self) -> None:
        in_range(f"value of '{self.name}'", self.value, self.unit, low=0)
        in_range(f"divisor of '{self.name}'", self.divisor, "", above=0)
        in_range(f"sensitivity of '{self.name}'", self.sensitivity, "")
        if self.degrees_of_freedom != math.inf:
            in_range(f"degrees_of_freedom of '{self.name}'", self.degrees_of_freedom, "", above=0)

    @property
    def standard_uncertainty(self) -> float:
        """Share of this line in the result, in the unit of the budget."""
        return abs(self.sensitivity) * self.value / self.divisor


def rectangular(name: str, half_width: float, unit: str, sensitivity: float = 1.0) -> Contribution:
    """Return a line for an error that is anywhere within ± `half_width`, in `unit`."""
    shape = Distribution.RECTANGULAR
    return Contribution(name, half_width, unit, shape, DIVISORS[shape], sensitivity)


def normal(
    name: str,
    standard_deviation: float,
    unit: str,
    sensitivity: float = 1.0,
    degrees_of_freedom: float = math.inf,
) -> Contribution:
    """Return a line for an error with a known `standard_deviation`, in `unit`."""
    return Contribution(
        name,
        standard_deviation,
        unit,
        Distribution.NORMAL,
        DIVISORS[Distribution.NORMAL],
        sensitivity,
        degrees_of_freedom,
    )


@dataclass(frozen=True, slots=True)
class Budget:
    """All that may be wrong with one reading, its lines taken as independent of each other.

    Attributes
    ----------
    quantity : str
        What is read, for the heading.
    unit : str
        Unit of the result.
    contributions : tuple of Contribution
        The lines; correlation between them is not provided for.

    Notes
    -----
    Standard uncertainties add in quadrature, and the degrees of freedom after
    Welch and Satterthwaite.

    Source: JCGM 100:2008 (GUM), 5.1.2 and annex G.4.
    """

    quantity: str
    unit: str
    contributions: tuple[Contribution, ...]

    def __post_init__(self) -> None:
        if not self.contributions:
            raise ValueError("contributions must hold at least one line, got none")

    @property
    def combined(self) -> float:
        """Combined standard uncertainty, in `unit`."""
        return math.hypot(*(line.standard_uncertainty for line in self.contributions))

    @property
    def effective_degrees_of_freedom(self) -> float:
        """Degrees of freedom of the combined uncertainty, dimensionless; may be infinite."""
        share = sum(
            line.standard_uncertainty**4 / line.degrees_of_freedom for line in self.contributions
        )
        return math.inf if share == 0 else self.combined**4 / share

    def coverage_factor(self, probability: float) -> float:
        """Return the factor that covers `probability` of what may be true, dimensionless.

        Parameters
        ----------
        probability : float
            Coverage wanted, dimensionless, between 0 and 1.

        Returns
        -------
        float
            Student's t for the effective degrees of freedom, rounded down, dimensionless.

        Raises
        ------
        ValueError
            If `probability` is not between 0 and 1, or the degrees of freedom
            are fewer than one, so that nothing can be said.

        Notes
        -----
        Source: JCGM 100:2008, G.3 and G.4.1.
        """
        from scipy.special import stdtrit  # noqa: PLC0415 -- a page opens without SciPy

        in_range("probability", probability, "", above=0, below=1)
        freedom = self.effective_degrees_of_freedom
        in_range("effective degrees of freedom", min(freedom, 1e9), "", low=1)
        whole = 1e12 if freedom == math.inf else math.floor(freedom)
        return float(stdtrit(whole, (1 + probability) / 2))

    def expanded(self, coverage_factor: float = 2.0) -> float:
        """Return the expanded uncertainty, in `unit`, for a factor, dimensionless, above zero."""
        return in_range("coverage_factor", coverage_factor, "", above=0) * self.combined

    def table(self, coverage_factor: float = 2.0) -> str:
        """Return the budget as plain text to print, with the expanded uncertainty at its foot."""
        width = max(len("source"), *(len(line.name) for line in self.contributions))
        rule = "-" * (width + 58)
        heading = f"{'source':<{width}}  {'value':>10}  {'shape':<11}  {'divisor':>7}  {'c':>8}"
        heading += f"  {'u in ' + self.unit:>10}"
        rows = [_row(line, width) for line in self.contributions]
        foot = self._foot(coverage_factor)
        return "\n".join((self.quantity, rule, heading, rule, *rows, rule, *foot))

    def _foot(self, coverage_factor: float) -> tuple[str, str, str]:
        freedom = self.effective_degrees_of_freedom
        told = "infinite" if freedom == math.inf else f"{freedom:.1f}"
        combined = f"combined standard uncertainty u = {self.combined:.4g} {self.unit}"
        free = f"effective degrees of freedom {told}; lines taken as uncorrelated"
        expanded = f"expanded uncertainty U = {self.expanded(coverage_factor):.3g} {self.unit}"
        return combined, free, f"{expanded} (k = {coverage_factor:g})"


def _row(line: Contribution, width: int) -> str:
    value = f"{line.value:.4g} {line.unit}"
    return (
        f"{line.name:<{width}}  {value:>10}  {line.distribution.value:<11}  {line.divisor:>7.3f}"
        f"  {line.sensitivity:>8.3g}  {line.standard_uncertainty:>10.4g}"
    )

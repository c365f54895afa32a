"""What published documents ask of a holding brake, and how sure we are of what they say."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from widgets.brake.ranges import in_range


class Mark(StrEnum):
    """How well a number is known."""

    CONFIRMED = "confirmed"  # read in a public copy
    FROM_MEMORY = "from memory"
    LOW_CONFIDENCE = "low confidence"  # never shown as a fact
    COMMON_PRACTICE = "common practice, no source"
    INVENTED = "invented"


class Basis(StrEnum):
    """What the percentage is a percentage of."""

    LOAD_TORQUE = "full-load hoisting torque where the brake acts"
    RATED_LOAD = "rated load"
    MOTOR_TORQUE = "full-load torque of the motor"


@dataclass(frozen=True, slots=True)
class Requirement:
    """One line of one document: so many percent, of what, when."""

    document: str
    clause: str
    when: str
    percent: float
    basis: Basis
    mark: Mark
    note: str = ""

    def __post_init__(self) -> None:
        in_range("percent", self.percent, "%", above=0, high=400)


_LOAD, _RATED, _MOTOR = Basis.LOAD_TORQUE, Basis.RATED_LOAD, Basis.MOTOR_TORQUE
_OSHA = "29 CFR 1910.179"
_SUBLETTERS = "percentages confirmed (same wording in Cal. Code Regs. tit. 8 §4898(c))"
_NOT_AT_HAND = "the text was not at hand; do not use without it"

REQUIREMENTS: tuple[Requirement, ...] = (
    Requirement(
        _OSHA,
        "(f)(2)(i)",
        "one holding brake with control braking that is not mechanical",
        125,
        _LOAD,
        Mark.CONFIRMED,
        _SUBLETTERS,
    ),
    Requirement(
        _OSHA,
        "(f)(2)(i)",
        "one holding brake with mechanical control braking",
        100,
        _LOAD,
        Mark.CONFIRMED,
        _SUBLETTERS,
    ),
    Requirement(
        _OSHA, "(f)(2)(i)", "each of two holding brakes", 100, _LOAD, Mark.CONFIRMED, _SUBLETTERS
    ),
    Requirement(
        "Cal. Code Regs. tit. 8",
        "§1605.14(b)",
        "construction hoisting machine: stops and holds",
        125,
        _RATED,
        Mark.CONFIRMED,
    ),
    Requirement(
        "WAC 296-155",
        "77135(2)",
        "hoisting engine: brakes for the load",
        150,
        _RATED,
        Mark.CONFIRMED,
    ),
    Requirement("MIL-HDBK-1038", "", "each of two holding brakes", 100, _LOAD, Mark.CONFIRMED),
    Requirement(
        "MIL-HDBK-1038",
        "",
        "one holding brake with a mechanical load brake",
        150,
        _MOTOR,
        Mark.CONFIRMED,
    ),
    Requirement(
        "UFGS 14630A",
        "2.3.7.1, note",
        "one holding brake, loads that are not critical",
        150,
        _MOTOR,
        Mark.CONFIRMED,
    ),
    Requirement(
        "2006/42/EC",
        "Annex I, 4.1.2.3",
        "static test load, lifting by power",
        125,
        _RATED,
        Mark.FROM_MEMORY,
        "repealed from 20 January 2027 by (EU) 2023/1230",
    ),
    Requirement(
        "2006/42/EC",
        "Annex I, 4.1.2.3",
        "dynamic test load",
        110,
        _RATED,
        Mark.FROM_MEMORY,
        "repealed from 20 January 2027 by (EU) 2023/1230",
    ),
    Requirement(
        "ISO 4310:2009",
        "",
        "static test, load 100 to 200 mm up, 10 min",
        125,
        _RATED,
        Mark.FROM_MEMORY,
    ),
    Requirement("ISO 4310:2009", "", "dynamic test", 110, _RATED, Mark.FROM_MEMORY),
    Requirement(
        "ASME B30.16", "", "hoist stops and holds a test load", 125, _RATED, Mark.FROM_MEMORY
    ),
    Requirement(
        "CMAA 70/74",
        "",
        "one holding brake with control braking that is not mechanical",
        125,
        _LOAD,
        Mark.FROM_MEMORY,
    ),
    Requirement(
        "EN 13135:2013",
        "",
        "service brake of a hoist",
        160,
        _LOAD,
        Mark.LOW_CONFIDENCE,
        _NOT_AT_HAND,
    ),
    Requirement(
        "IS 3177:1999", "", "one holding brake", 150, _LOAD, Mark.LOW_CONFIDENCE, _NOT_AT_HAND
    ),
    Requirement(
        "IS 3177:1999", "", "each of two brakes", 125, _LOAD, Mark.LOW_CONFIDENCE, _NOT_AT_HAND
    ),
    Requirement(
        "DIN 15434-1",
        "",
        "safety ratio of a hoist brake",
        200,
        _LOAD,
        Mark.LOW_CONFIDENCE,
        _NOT_AT_HAND,
    ),
)

# Common practice, no source: label torque over load torque, as brakes are chosen.
DESIGN_RATIO_RANGE = (1.8, 2.5)
# 29 CFR 1910.179(k)(2): a rated-load test is at most this, % of rated load. From memory.
LOAD_TEST_MAX_PERCENT = 125.0
# 29 CFR 1910.179(j)(1)(ii), months: a periodic inspection at these intervals. From memory.
PERIODIC_INSPECTION_MONTHS = (1, 12)


@dataclass(frozen=True, slots=True)
class Comparison:
    """A holding ratio beside one requirement."""

    requirement: Requirement
    percent: float
    met: bool

    @property
    def sentence(self) -> str:
        """The comparison in words, with document, clause and how sure we are."""
        asked = self.requirement
        where = f"{asked.document} {asked.clause}".strip()
        verdict = "meets" if self.met else "is below"
        return (
            f"{self.percent:.1f} % {verdict} the {asked.percent:g} % of {asked.basis} "
            f"({where}: {asked.when}; {asked.mark})"
        )


def shown_requirements() -> tuple[Requirement, ...]:
    """Return what may be shown as a fact: all but what is known with low confidence only."""
    return tuple(row for row in REQUIREMENTS if row.mark is not Mark.LOW_CONFIDENCE)


def compare_with_requirements(
    holding_ratio: float,
    *,
    motor_ratio: float | None = None,
    efficiency: float = 1.0,
    requirements: Iterable[Requirement] | None = None,
) -> tuple[Comparison, ...]:
    """Return a holding ratio beside each requirement that it can be compared with.

    Parameters
    ----------
    holding_ratio : float
        Brake torque over the load torque without losses, 0 or more.
    motor_ratio : float, optional
        Brake torque over the full-load torque of the motor. Without it, what
        is asked of the motor torque is left out.
    efficiency : float
        Of the gear, above 0 to 1. "Full-load hoisting torque" taken at the
        motor is greater by its reciprocal, so the same brake shows a lower
        percentage; 1 takes it without losses.
    requirements : iterable of Requirement, optional
        All that may be shown, if not given.

    Returns
    -------
    tuple of Comparison
        In the order of the requirements.

    Raises
    ------
    ValueError
        If a ratio is negative or the efficiency out of its range.

    Examples
    --------
    >>> compare_with_requirements(1.5)[0].sentence[:19]
    '150.0 % meets the 1'
    """
    load_percent = 100 * in_range("holding_ratio", holding_ratio, "", low=0)
    eta = in_range("efficiency", efficiency, "", above=0, high=1)
    percents = {Basis.LOAD_TORQUE: load_percent * eta, Basis.RATED_LOAD: load_percent}
    if motor_ratio is not None:
        percents[Basis.MOTOR_TORQUE] = 100 * in_range("motor_ratio", motor_ratio, "", low=0)
    rows = shown_requirements() if requirements is None else requirements
    return tuple(
        Comparison(row, percents[row.basis], percents[row.basis] >= row.percent)
        for row in rows
        if row.basis in percents
    )

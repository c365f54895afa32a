"""What a row of the fault catalogue holds."""

from dataclasses import dataclass

from widgets.brake.judgement.rules import Outcome
from widgets.brake.judgement.standards import Mark

from .changes import Change


@dataclass(frozen=True, slots=True)
class Amount:
    """How much of a fault there can be: least, usual, most, and the unit of the three."""

    least: float
    typical: float
    most: float
    unit: str = ""


AS_IT_IS = Amount(1.0, 1.0, 1.0)  # there or not


@dataclass(frozen=True, slots=True)
class Fault:
    """One row of the catalogue.

    Attributes
    ----------
    number, id, title
        Its place in the catalogue, the name code uses, the name people use.
    seen : str
        What there is to be seen, heard, felt and measured.
    marks : tuple of str
        The part of it that shows before any instrument is used.
    right : tuple of Outcome
        What is right, the main one first; empty where the reading must be
        repeated before anything is decided.
    do : str
        What that means at the brake.
    wrong : tuple of Outcome
        Decisions often taken in its place.
    consequence : str
        What they lead to.
    critical : frozenset of Outcome
        Decisions that could let a load fall.
    gap_looks_normal : bool
        Whether someone who only reads the gap would find nothing.
    amount : Amount
        Range and usual amount.
    change : callable
        What it does to the inputs.
    mark : Mark
        How well the row is known.
    """

    number: int
    id: str
    title: str
    seen: str
    marks: tuple[str, ...]
    right: tuple[Outcome, ...]
    do: str
    wrong: tuple[Outcome, ...]
    consequence: str
    change: Change
    amount: Amount = AS_IT_IS
    critical: frozenset[Outcome] = frozenset()
    gap_looks_normal: bool = False
    mark: Mark = Mark.COMMON_PRACTICE

"""The fault catalogue: lay any fault, or several at once, on a brake.

A fault changes inputs of a `Condition` and nothing else; what it does to torque, release,
delay and readings follows in `behaviour`. Source of the rows: common practice, no source.
"""

from collections.abc import Iterable
from dataclasses import replace

from widgets.brake.condition import Condition
from widgets.brake.draws import Draws
from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import BrakeSize

from .changes import Dose
from .kind import Amount, Fault
from .rows import FAULTS

__all__ = ["FAULTS", "Amount", "Dose", "Fault", "apply", "apply_all", "dose_of", "fault"]

_BY_ID = {row.id: row for row in FAULTS}


def fault(fault_id: str) -> Fault:
    """Return the row of the catalogue with this id.

    Raises
    ------
    ValueError
        If there is none; the sentence names them all.
    """
    if fault_id not in _BY_ID:
        raise ValueError(f"fault_id must be one of {', '.join(_BY_ID)}, got {fault_id!r:.40}")
    return _BY_ID[fault_id]


def dose_of(row: Fault, draws: Draws) -> Dose:
    """Return how much of a fault, where and at which screw the dice say."""
    amount = row.amount
    share = draws.uniform("amount", row.id)
    return Dose(
        amount.least + share * (amount.most - amount.least),
        360.0 * draws.uniform("place", row.id),
        draws.choice((1, 2, 3), "screw", row.id),
    )


def apply(
    row: Fault, size: BrakeSize, condition: Condition, dose: Dose | Draws | None = None
) -> Condition:
    """Return the condition with one fault more.

    Parameters
    ----------
    row : Fault
        A row of `FAULTS`.
    size : BrakeSize
        The brake.
    condition : Condition
        As it was before; other faults stay.
    dose : Dose or Draws, optional
        How much and where, or the dice that say it; as the catalogue describes
        it, at screw 1, if not given.

    Raises
    ------
    ValueError
        If the amount is not one the fault can have, or the brake cannot carry it.
    """
    if isinstance(dose, Draws):
        dose = dose_of(row, dose)
    elif dose is None:
        dose = Dose(row.amount.typical)
    amount = row.amount
    in_range(f"amount of {row.id}", dose.amount, amount.unit, low=amount.least, high=amount.most)
    changed = row.change(size, condition, dose)
    return replace(changed, marks=changed.marks | set(row.marks))


def apply_all(
    rows: Iterable[Fault], size: BrakeSize, condition: Condition, draws: Draws | None = None
) -> Condition:
    """Return the condition with several faults laid on in turn. Arguments: as for `apply`.

    Faults that set the gap come in the order given: what is done last to the
    screws is what stands.
    """
    for row in rows:
        condition = apply(row, size, condition, draws)
    return condition

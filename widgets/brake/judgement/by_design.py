"""What can be done about a gap on a brake of a design: not every brake can be adjusted.

Common practice, no source, for the designs. That a plane needs three points to be levelled, and
that a gap which nothing sets is what the disc has lost, is geometry.
"""

from dataclasses import dataclass

from widgets.brake.sizes.design import Design

from . import Zone
from .outcome import Outcome
from .remark import Remark, remark

Outcomes = frozenset[Outcome]


@dataclass(frozen=True, slots=True)
class Asked:
    """What of a gap asks for something: too wide now or then, too tight, surely tilted.

    `clamped`: the bolts pull the body out of shape, and are tightened again whatever sets the gap.
    """

    wide: bool
    tight: bool
    uneven: bool
    clamped: bool = False


def in_its_design(
    design: Design, outcome: Outcome, arguable: Outcomes, gap: Asked
) -> tuple[Outcome, Outcomes, tuple[Remark, ...]]:
    """Return outcome, what else is arguable and why, where a rule for three screws said this.

    Parameters
    ----------
    design : Design
        What sets the gap.
    outcome, arguable
        What would be right if three screws set it.
    gap : Asked
        What of the gap asks for something.
    """
    set_anew = gap.clamped or gap.wide or gap.tight if design.adjusts else gap.clamped
    settled = design.levels or outcome in {Outcome.REPLACE, Outcome.REFER}
    if settled or (set_anew and not gap.uneven):
        return outcome, arguable, ()
    if gap.uneven:
        return Outcome.REFER, frozenset(), (remark("gap.not-to-be-levelled", design=design.value),)
    if gap.tight:
        return Outcome.REFER, frozenset(), (remark("gap.not-to-be-opened"),)
    if gap.wide:
        return Outcome.REPLACE, arguable - {Outcome.REPLACE}, (remark("gap.not-to-be-closed"),)
    if design.adjusts:
        return Outcome.FIT, _or_refer(outcome, arguable), ()
    near = {Outcome.REPLACE if one is Outcome.ADJUST else one for one in arguable}
    return Outcome.FIT, _or_refer(outcome, frozenset(near)), ()


def _or_refer(outcome: Outcome, arguable: Outcomes) -> Outcomes:
    """Return what may be argued for where only evenness is near its limit: nobody's danger."""
    more = {Outcome.REFER} if outcome is Outcome.ADJUST else set()
    return frozenset((arguable | more) - {Outcome.FIT})


def unsafe_in_its_design(design: Design, unsafe: Outcomes, widest: Zone) -> Outcomes:
    """Return what could let a load fall: "adjusted", what nothing sets is as wide as before."""
    if design.adjusts or widest is not Zone.BEYOND:
        return unsafe
    return unsafe | {Outcome.ADJUST}

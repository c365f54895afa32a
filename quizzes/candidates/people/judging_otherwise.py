"""Hands of somebody who judges gap and disc by a rule of their own, and is careful otherwise."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from statistics import fmean

from quizzes.cases.case import Case
from quizzes.cases.next_due import growth_until_next_mm
from widgets.bench import actions as do
from widgets.bench.observed import Observation
from widgets.brake.judgement.rules import Reading
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.written import disc_reading, gap_reading

from .stranger import Act, Hands

GUARD = 1.8  # uncertainties that the careful one keeps a reading inside its limit
# From size, readings and growth until the next inspection, mm: whether it is out.
Rule = Callable[[BrakeSize, Sequence[Reading], float], bool]


def wide(factor: float = GUARD, *, heeds_date: bool = True, over_mm: float = 0.0) -> Rule:
    """Return the rule that a gap is too wide: some uncertainties, and mm, beyond its largest."""

    def rule(size: BrakeSize, gaps: Sequence[Reading], growth_mm: float) -> bool:
        widest_mm = max(one.value_mm + factor * one.u_mm for one in gaps)
        return widest_mm + growth_mm * heeds_date > size.gap.max_mm + over_mm

    return rule


def wide_on_the_mean(size: BrakeSize, gaps: Sequence[Reading], growth_mm: float) -> bool:
    """Return whether the mean of the gap, and not its widest place, is too wide."""
    mean_mm = fmean(one.value_mm + GUARD * one.u_mm for one in gaps)
    return mean_mm + growth_mm > size.gap.max_mm


def thin(factor: float = GUARD, *, heeds_date: bool = True) -> Rule:
    """Return the rule that a disc is too thin: some uncertainties under its least."""

    def rule(size: BrakeSize, discs: Sequence[Reading], growth_mm: float) -> bool:
        thinnest_mm = min(one.value_mm - factor * one.u_mm for one in discs)
        return thinnest_mm - growth_mm * heeds_date < size.disc.min_mm

    return rule


def but_the_worst(rule: Rule, *, largest: bool) -> Rule:
    """Return a rule that leaves the worst reading out: the largest, or the least."""

    def without_it(size: BrakeSize, readings: Sequence[Reading], growth_mm: float) -> bool:
        in_order = sorted(readings, key=lambda one: one.value_mm, reverse=not largest)
        return rule(size, in_order[:-1] or in_order, growth_mm)

    return without_it


def judging(gap: Rule | None = None, disc: Rule | None = None) -> Hands:
    """Return hands that judge by these rules where the careful one judges by their own."""
    return lambda act, case: _Judging(act, case, gap or wide(), disc or thin())


@dataclass
class _Judging:
    """What somebody has read of one brake, and their decision by it."""

    act: Act
    case: Case
    gap: Rule
    disc: Rule
    decided: bool = False

    def __post_init__(self) -> None:
        order = self.case.order
        self.gaps = {
            note.angle_deg: gap_reading(note.angle_deg, note.go_mm, note.no_go_mm)
            for note in order.gap_notes
        }
        self.discs = {
            note.angle_deg: disc_reading(note.angle_deg, note.value_mm) for note in order.disc_notes
        }

    def __call__(self, action: do.Action) -> Observation:
        """Keep what is written down, and decide by it."""
        if isinstance(action, do.WriteGap) and not self.decided:
            at = action.angle_deg
            self.gaps[at] = gap_reading(at, action.go_mm, action.no_go_mm)
        if isinstance(action, do.WriteDisc) and not self.decided:
            self.discs[action.angle_deg] = disc_reading(action.angle_deg, action.value_mm)
        if isinstance(action, do.Decide) and not self.decided:
            self.decided = True
            action = self._by_own_rule(action)
        return self.act(action)

    def _by_own_rule(self, careful: do.Decide) -> do.Decide:
        """Return the careful decision without what their rule does not see."""
        size, gaps, discs = self.case.size, [*self.gaps.values()], [*self.discs.values()]
        if not gaps or not discs:
            return careful
        growth_mm = growth_until_next_mm(size, self.case.order)
        sees_wide, is_wide = (rule(size, gaps, growth_mm) for rule in (self.gap, wide()))
        sees_thin, is_thin = (rule(size, discs, growth_mm) for rule in (self.disc, thin()))
        if careful.outcome == "replace" and is_thin and not sees_thin:
            return replace(careful, outcome="adjust" if sees_wide and is_wide else "fit")
        if careful.outcome == "adjust" and is_wide and not sees_wide:
            return replace(careful, outcome="fit")
        return careful

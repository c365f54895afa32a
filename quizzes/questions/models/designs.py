"""Models of questions about brakes whose gap is set in steps, or not at all."""

from widgets.brake.gap.levelling import steps_of
from widgets.brake.sizes.design import DESIGN_WORDS
from widgets.brake.sizes.sheet import LimitsSheet

from .drawn import DrawAgainError, Drawn, Values, apart, collector, worn_gap_mm

MODELS, model = collector()

SURELY_NEAREST = 0.4  # of a step: further off, the next number of steps could be defended too


@model("gap_share")
def even_steps(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return by how many whole steps, and by how much, an even gap is closed to its setting."""
    size, gap_mm = drawn.size, worn_gap_mm(drawn)
    change_mm = round(gap_mm - size.gap.setting_mm, 2)
    steps = steps_of(change_mm, size.step_mm)
    if abs(change_mm / size.step_mm - steps) > SURELY_NEAREST:
        raise DrawAgainError("two numbers of steps come about as near")
    out_mm = round(steps * size.step_mm, 3)
    apart(out_mm, gap_mm, change_mm / 3, least=0.06)
    apart(steps, gap_mm / size.step_mm, change_mm / 3 / size.step_mm, least=1.5)
    return {
        "gap_mm": gap_mm,
        "change_mm": change_mm,
        "step_mm": size.step_mm,
        "steps": steps,
        "out_mm": out_mm,
        "left_mm": round(gap_mm - out_mm, 3),
        "third_mm": change_mm / 3,
        "whole_steps": gap_mm / size.step_mm,
        "third_steps": change_mm / 3 / size.step_mm,
    }


@model("over_share")
def gap_by_design(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return a gap beside its largest, the disc under it, and what its design asks for."""
    size, gap, disc = drawn.size, drawn.size.gap, drawn.size.disc
    gap_mm = round(gap.max_mm + drawn["over_share"] * (gap.max_mm - gap.setting_mm), 2)
    disc_mm = round(disc.new_mm - (gap_mm - gap.setting_mm), 2)
    apart(disc_mm, disc.min_mm, least=0.1)
    wide = gap_mm > gap.max_mm
    return {
        "gap_mm": gap_mm,
        "disc_mm": disc_mm,
        "above_mm": round(disc_mm - disc.min_mm, 2),
        "set_with": DESIGN_WORDS[size.design] if size.design.adjusts else "nothing",
        "verdict": ("adjust" if size.design.adjusts else "replace") if wide else "fit",
    }

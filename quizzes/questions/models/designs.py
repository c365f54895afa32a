"""Models of questions about brakes whose gap is set in steps, or not at all."""

from widgets.brake.gap.levelling import steps_of
from widgets.brake.sizes.sheet import LimitsSheet

from .drawn import Drawn, Values, apart, collector, worn_gap_mm

MODELS, model = collector()


@model("gap_share")
def even_steps(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return by how many whole steps, and by how much, an even gap is closed to its setting."""
    size, gap_mm = drawn.size, worn_gap_mm(drawn)
    change_mm = round(gap_mm - size.gap.setting_mm, 2)
    steps = steps_of(change_mm, size.step_mm)
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
def wide_and_fixed(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return a gap beyond its largest that nothing sets, and the disc under it."""
    gap, disc = drawn.size.gap, drawn.size.disc
    gap_mm = round(gap.max_mm + drawn["over_share"] * (gap.max_mm - gap.setting_mm), 2)
    disc_mm = round(disc.new_mm - (gap_mm - gap.setting_mm), 2)
    apart(disc_mm, disc.min_mm, least=0.1)
    return {
        "gap_mm": gap_mm,
        "disc_mm": disc_mm,
        "lost_mm": round(disc.new_mm - disc_mm, 2),
        "above_mm": round(disc_mm - disc.min_mm, 2),
    }

"""Models of questions on what a caliper or a stack of leaves shows."""

from widgets.brake.sizes.sheet import LimitsSheet

from .drawn import DrawAgainError, Drawn, Values, collector, worn_disc_mm

MODELS, model = collector()


@model("disc_share")
def disc_on_scale(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return a disc thickness between the jaws of a vernier caliper."""
    value_mm = worn_disc_mm(drawn)
    if abs(value_mm - round(value_mm)) < 0.04 or round(value_mm * 10) % 10 in {0, 9}:
        raise DrawAgainError("the vernier would stand at its zero")
    return {"value_mm": value_mm, "half_mm": value_mm / 2}


@model("leaf_mm")
def leaves_on_table(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return the thickness that a stack of leaves makes up."""
    return {"value_mm": round(drawn["leaf_mm"], 2)}


@model("lining_share")
def lining_on_scale(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return one lining between the jaws of a caliper, in tenths of a millimetre."""
    disc = drawn.size.disc
    worn_mm = drawn["lining_share"] * (disc.lining_new_mm - disc.lining_min_mm)
    value_mm = round(disc.lining_new_mm - worn_mm, 1)
    if round(value_mm * 10) % 10 in {0, 1, 9}:
        raise DrawAgainError("the vernier would stand next to its zero")
    return {"value_mm": value_mm, "double_mm": 2 * value_mm}


@model("zero_mm")
def closed_jaws(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return what a caliper shows with its jaws closed."""
    return {"value_mm": drawn["zero_mm"]}


@model("disc_share", "zero_mm")
def zero_error(drawn: Drawn, _: LimitsSheet) -> Values:
    """Return a disc under a caliper that does not show zero with its jaws closed."""
    true_mm, zero_mm = worn_disc_mm(drawn), drawn["zero_mm"]
    return {
        "zero_mm": zero_mm,
        "shown_mm": round(true_mm + zero_mm, 2),
        "true_mm": true_mm,
        "twice_mm": true_mm + 2 * zero_mm,
    }

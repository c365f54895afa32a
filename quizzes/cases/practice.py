"""Cases for practice: any family that can begin so, or a drill with the magnet body off."""

from dataclasses import replace

from widgets.bench.setup import TASKS, Start
from widgets.brake.draws import Draws
from widgets.brake.sizes.sheet import LimitsSheet

from .carrying import carried
from .case import Case, Depth
from .drawing import draw_case
from .families import FAMILIES


def draw_practice(
    sheet: LimitsSheet, seed: bytes, size_name: str | None = None, start: Start = Start.WORK_ORDER
) -> Case:
    """Return a case for practice, on the named size or on any.

    Any family where the whole job is to be done; at a brake that lies open, those that can be
    found so: where a load hangs on the hook, nobody has opened anything.

    Raises
    ------
    KeyError
        If the sheet has no such size.
    """
    draws = Draws(seed).child("practice")
    size = sheet.size(size_name) if size_name else draws.choice(sheet.sizes, "size")
    depth = Depth.BENCH if start is Start.OPEN else Depth.WORK_ORDER
    families = tuple(name for name, family in FAMILIES.items() if depth in family.depths)
    case = draw_case(draws.choice(carried(families, (size,)), "family"), size, seed)
    return replace(case, order=replace(case.order, start=start))


def draw_drill(sheet: LimitsSheet, seed: bytes, size_name: str | None = None) -> Case:
    """Return a replacement drill for practice: the magnet body is off, a new disc is due.

    Raises
    ------
    KeyError
        If the sheet has no such size.
    """
    draws = Draws(seed).child("drill")
    size = sheet.size(size_name) if size_name else draws.choice(sheet.sizes, "size")
    case = draw_case(draws.choice(carried(_DRILLS, (size,)), "family"), size, seed)
    order = replace(case.order, start=Start.BODY_OFF, may=TASKS, ends_with="static")
    return replace(case, order=order, work_order=f"{case.work_order} {_DRILL_WORDS}")


_DRILLS = ("disc worn", "disc-spent-gap-set", "glazed", "wrong-disc")
_DRILL_WORDS = "Its disc is due: the magnet body is off and lies on the bench. Fit a new one."

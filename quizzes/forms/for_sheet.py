"""A blueprint on a sheet: which of its families and sizes go together, and which have no case."""

from collections.abc import Sequence
from dataclasses import replace

from quizzes.cases.carrying import cannot_carry, carried
from quizzes.cases.groups import elements_shown
from widgets.brake.sizes.design import DESIGN_WORDS
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.brake.sizes.size import BrakeSize

from .blueprint import Blueprint, BlueprintError, CaseLine


def sizes_of(blueprint: Blueprint, sheet: LimitsSheet) -> tuple[BrakeSize, ...]:
    """Return the sizes that a blueprint names, or all of the sheet.

    Raises
    ------
    BlueprintError
        If the sheet has no such size.
    """
    try:
        return tuple(sheet.size(name) for name in blueprint.sizes) or sheet.sizes
    except KeyError as error:
        raise BlueprintError(f"blueprint {blueprint.id}, sizes: {error.args[0]}.") from None


def for_sizes(blueprint: Blueprint, sizes: Sequence[BrakeSize]) -> Blueprint:
    """Return the blueprint without the families that none of the sizes can carry.

    Raises
    ------
    BlueprintError
        If that leaves a line without any, or the form without a job in which a gap is set though
        it promises one; the sentence names the line, a size and why.
    """
    lines = []
    for number, line in enumerate(blueprint.cases, start=1):
        families = carried(line.families, sizes) or carried(line.instead, sizes)
        if not families:
            named, size = line.families[0], sizes[0]
            raise BlueprintError(
                f"blueprint {blueprint.id}, cases {number}: expected a family that a size of the "
                f"sheet can carry, got {', '.join(line.families)}; {named!r} on size {size.name}: "
                f"{cannot_carry(named, size)}."
            )
        lines.append(replace(line, families=families))
    made = replace(blueprint, cases=tuple(lines))
    if "A1" in made.elements and not any(_adjusts(line, sizes) for line in lines):
        raise BlueprintError(
            f"blueprint {blueprint.id}, elements: expected a job that shows A1, setting a gap, "
            f"got none on these sizes; {sizes[0].name}: {DESIGN_WORDS[sizes[0].design]}."
        )
    return made


def _adjusts(line: CaseLine, sizes: Sequence[BrakeSize]) -> bool:
    """Return whether each case of a line is a whole job in which a gap is set."""
    able = [size for name in line.families for size in able_sizes(name, sizes)]
    shown = "A1" in elements_shown(line.depth, line.families)
    return shown and all(size.design.adjusts for size in able)


def able_sizes(family: str, sizes: Sequence[BrakeSize]) -> tuple[BrakeSize, ...]:
    """Return the sizes that can carry a family, in order."""
    return tuple(size for size in sizes if not cannot_carry(family, size))


def size_in_turn(family: str, sizes: Sequence[BrakeSize], place: int) -> BrakeSize:
    """Return the size whose turn it is at a place of a form, or the next that can carry it."""
    at = place % len(sizes)
    return able_sizes(family, (*sizes[at:], *sizes[:at]))[0]

"""How long the careful candidate takes at each kind of case: the table that forms are timed by."""

from collections.abc import Iterator, Sequence
from statistics import fmean

from quizzes.cases.carrying import cannot_carry
from quizzes.cases.case import Case, Depth
from quizzes.cases.drawing import draw_case
from quizzes.cases.families import FAMILIES
from widgets.bench.actions import Action
from widgets.bench.machine import take
from widgets.bench.observed import Observation
from widgets.bench.starts import at_start
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.brake.sizes.size import BrakeSize

from .worker import work

# What takes six minutes with a brake in front of one takes about one on the screen. A choice of
# this scheme until sittings have been timed.
BRAKE_OVER_SCREEN = 6.0
_REFERENCE_SEED = bytes(range(32))
_HEAD = (
    "# Minutes on the screen that a careful person takes at a case, by depth and family.\n"
    "# Made, never changed by hand: `python -m quizzes minutes > quizzes/forms/minutes.toml`\n"
)


def careful_minutes(family: str, depth: Depth, sizes: Sequence[BrakeSize]) -> float:
    """Return the mean over the sizes of what the careful candidate takes at one case, minutes.

    Parameters
    ----------
    family : str
        A name of `FAMILIES`.
    depth : Depth
        Bench or work order.
    sizes : sequence of BrakeSize
        Those that cannot carry the family are left out.

    Raises
    ------
    ValueError
        If no size carries the family.
    """
    carried = [size for size in sizes if not cannot_carry(family, size)]
    if not carried:
        raise ValueError(f"no size of the sheet carries a case {family!r}")
    cases = [draw_case(family, size, _REFERENCE_SEED, depth) for size in carried]
    return fmean(_seconds_of(case) for case in cases) / 60.0 / BRAKE_OVER_SCREEN


def table_of_minutes(sizes: Sequence[BrakeSize]) -> str:
    """Return the whole table as TOML, minutes to a tenth."""
    return _HEAD + "".join(_lines(sizes))


def _lines(sizes: Sequence[BrakeSize]) -> Iterator[str]:
    for depth in (Depth.BENCH, Depth.WORK_ORDER):
        yield f'\n["{depth.value}"]\n'
        for name, family in FAMILIES.items():
            if depth in family.depths:
                yield f'"{name}" = {careful_minutes(name, depth, sizes):.1f}\n'


def _seconds_of(case: Case) -> float:
    setup = case.setup()
    state = at_start(setup)

    def act(action: Action) -> Observation:
        nonlocal state
        state, observation = take(setup, state, action)
        return observation

    work(act, LimitsSheet(case.size.name, case.size.invented, (case.size,)), order=case.order)
    return state.elapsed_s

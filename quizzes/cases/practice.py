"""Forms: sets of cases of equal weight, drawn for one sitting from its key."""

from dataclasses import dataclass, replace

from widgets.bench.setup import Start
from widgets.brake.draws import Draws
from widgets.brake.sizes.sheet import LimitsSheet

from .carrying import carried
from .case import EDITION, Case, case_seed
from .drawing import draw_case
from .families import FAMILIES


@dataclass(frozen=True, slots=True)
class Form:
    """What a sitting asks for: one case of each listed family, in an order drawn for the person."""

    id: str
    title: str
    families: tuple[str, ...]

    @property
    def edition(self) -> str:
        """Edition of the form: its families and theirs."""
        return f"{self.id}/{EDITION}"


THREE_CASES = Form(
    "three-cases",
    "Three brakes",
    ("in limits", "gap too large", "disc worn"),
)
FORMS = {form.id: form for form in (THREE_CASES,)}


def draw_form(form: Form, sheet: LimitsSheet, key: bytes) -> tuple[Case, ...]:
    """Return the cases of a form for one sitting.

    Parameters
    ----------
    form : Form
        Which families.
    sheet : LimitsSheet
        The sizes to draw from; they repeat only if there are too few.
    key : bytes
        The sitting's key, 16 bytes or more.
    """
    shuffle = Draws(case_seed(key, form.edition, -1))
    families = shuffle.child("families").shuffled(form.families)
    sizes = shuffle.child("sizes").shuffled(sheet.sizes)
    return tuple(
        draw_case(family, sizes[slot % len(sizes)], case_seed(key, form.edition, slot))
        for slot, family in enumerate(families)
    )


def draw_practice(sheet: LimitsSheet, seed: bytes, size_name: str | None = None) -> Case:
    """Return a case for practice: any family, on the named size or on any."""
    draws = Draws(seed).child("practice")
    size = sheet.size(size_name) if size_name else draws.choice(sheet.sizes, "size")
    return draw_case(draws.choice(carried(tuple(FAMILIES), (size,)), "family"), size, seed)


def draw_drill(sheet: LimitsSheet, seed: bytes, size_name: str | None = None) -> Case:
    """Return a replacement drill for practice: the magnet body is off, a new disc is due.

    Raises
    ------
    KeyError
        If the sheet has no such size.
    """
    draws = Draws(seed).child("drill")
    size = sheet.size(size_name) if size_name else draws.choice(sheet.sizes, "size")
    case = draw_case(draws.choice(_DRILLS, "family"), size, seed)
    order = replace(case.order, start=Start.BODY_OFF)
    return replace(case, order=order, work_order=f"{case.work_order} {_DRILL_WORDS}")


_DRILLS = ("disc worn", "disc-spent-gap-set", "glazed", "wrong-disc")
_DRILL_WORDS = "Its disc is due: the magnet body is off and lies on the bench. Fit a new one."

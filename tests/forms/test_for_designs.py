"""A form on a sheet whose sizes cannot be adjusted: it promises no adjusting that nobody can show."""

from dataclasses import replace

import pytest

from quizzes.cases.carrying import meant_for
from quizzes.cases.families import FAMILIES
from quizzes.forms.blueprint import READY, BlueprintError, load_blueprint
from quizzes.forms.for_sheet import able_sizes, for_sizes
from widgets.brake.judgement.rules import Outcome
from widgets.brake.sizes.sheet import four_designs

HAZEL, MAPLE, ROWAN, WILLOW = four_designs().sizes
FULL = load_blueprint(READY["full"])


@pytest.mark.parametrize("sizes", [(WILLOW,), (ROWAN,), (ROWAN, WILLOW)])
def test_a_form_that_ends_in_competent_is_refused_where_no_size_shows_its_adjusting(sizes):
    """By a sentence with the line, a size and the reason: no tilt can be levelled there."""
    with pytest.raises(BlueprintError, match=r"cases 1: .*gap-tilted.* cannot show it"):
        for_sizes(FULL, sizes)


def test_a_form_that_promises_a_gap_set_needs_a_job_that_shows_it():
    """A line on which every size gets a new disc shows no setting, whatever its families are."""
    line = replace(FULL.cases[0], families=("gap too large",), instead=())
    promises = replace(FULL, cases=(line,))

    assert for_sizes(promises, (HAZEL, MAPLE, ROWAN)).cases
    with pytest.raises(BlueprintError, match=r"A1, setting a gap, got none .*not adjustable"):
        for_sizes(promises, (WILLOW,))
    with pytest.raises(BlueprintError, match="A1"):
        for_sizes(promises, (HAZEL, WILLOW))


def test_on_the_sheet_of_four_designs_the_full_form_can_be_sat():
    """The tilted job goes to a size that levels; the others to any that carries them."""
    fitted = for_sizes(FULL, four_designs().sizes)

    assert set(able_sizes("gap-tilted", four_designs().sizes)) == {HAZEL, MAPLE}
    assert len(fitted.cases) == len(FULL.cases)


def test_what_is_right_for_a_family_follows_the_design():
    """A gap too large is set, or gets a new disc; nothing else changes."""
    wide = FAMILIES["gap too large"]

    assert [meant_for(wide, size) for size in (HAZEL, MAPLE, ROWAN, WILLOW)] == [
        {Outcome.ADJUST}, {Outcome.ADJUST}, {Outcome.ADJUST}, {Outcome.REPLACE},
    ]  # fmt: skip
    assert meant_for(FAMILIES["in limits"], WILLOW) == {Outcome.FIT}

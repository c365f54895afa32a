"""The table that forms are timed by says what the careful candidate takes today."""

import pytest

from quizzes.candidates.minutes import careful_minutes, table_of_minutes
from quizzes.cases.case import Depth
from quizzes.cases.families import FAMILIES
from quizzes.forms.difficulty import MINUTES, expected_minutes
from tests import strategies as any_

DEEP = [
    (name, depth)
    for depth in (Depth.BENCH, Depth.WORK_ORDER)
    for name, family in FAMILIES.items()
    if depth in family.depths
]


def test_the_table_is_the_one_that_the_command_prints():
    """Whoever changes what work takes remakes it: python -m quizzes minutes."""
    assert MINUTES.read_text(encoding="utf-8") == table_of_minutes(any_.SHEET.sizes)


@pytest.mark.parametrize(("family", "depth"), DEEP, ids=[f"{d.value} {n}" for n, d in DEEP])
def test_every_family_that_can_be_asked_has_its_minutes(family, depth):
    """The table leaves out no family at a depth at which a form may ask for it."""
    assert expected_minutes(family, depth) > 1.0


def test_a_size_that_carries_none_is_refused():
    """Nothing is timed on no brake."""
    with pytest.raises(ValueError, match="no size"):
        careful_minutes("glazed", Depth.BENCH, ())

"""Labels of a class: what is on one stays inside it, however long a name may be."""

import pytest
from reportlab.lib.units import mm

from quizzes.desks.printing import labels
from quizzes.desks.printing.paper import width_pt
from quizzes.records.room.rows import Member

LONG = "Maximiliana Aleksandrovna von und zu Quellenberg-Thornwaldstrasse the Younger II"


@pytest.mark.parametrize("name", ["Ann Fen", LONG, "W" * 80, "Wo " * 26, "Æ" * 32, "W" * 33, None])
def test_a_long_name_stays_inside_its_label(name):
    """Eighty characters, the most that a name may have, of the widest letter too."""
    member = Member("c", "p", name, "8" * 40, "7K3MXQ2P", "", 0, "", None, "", None, joined=False)
    wide = width_pt("A4", wide=False) / labels.ACROSS
    label = labels._label(member, "http://192.0.2.7:8866/")
    across_pt, high_pt = label.wrap(wide, 1000)

    assert high_pt <= labels._HIGH_MM * mm - 6
    assert across_pt <= wide - 2 * labels._EDGE_PT + 0.1

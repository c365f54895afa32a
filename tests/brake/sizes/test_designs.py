"""What sets the gap of a size: the sheet says it, and what its design has not is refused."""

import pytest

from quizzes.job_sheet.entry import EntryError
from quizzes.job_sheet.own_limits import own_size
from tests import strategies as any_
from widgets.brake.sizes.design import FIELDS_OF, Design
from widgets.brake.sizes.sheet import LimitsSheetError, SizeRow, four_designs, load_sheet
from widgets.brake.sizes.table import COLUMNS, SheetInForce

HEAD = 'title = "A chart"\n\n[[size]]\nname = "One"\n'  # the name stands on line 4
GOOD = "gap_setting_mm = 0.4\ngap_max_mm = 1.0\ndisc_min_mm = 10.0\n"  # lines 5 to 7


def sheet(tmp_path, more: str):
    path = tmp_path / "chart.toml"
    path.write_text(HEAD + GOOD + more, encoding="utf-8")
    return load_sheet(path)


def test_a_sheet_that_says_nothing_has_hollow_screws(tmp_path):
    """As every sheet had before there was a word for it."""
    (size,) = sheet(tmp_path, "").sizes

    assert size.design is Design.HOLLOW_SCREWS
    assert {one.design for one in any_.SHEET.sizes} == {Design.HOLLOW_SCREWS}


@pytest.mark.parametrize("design", list(Design))
def test_each_design_can_be_named_and_has_no_screws_but_its_own(tmp_path, design):
    """A pitch where there are hollow screws, a step where there are shims or a ring."""
    (size,) = sheet(tmp_path, f'design = "{design.value}"\n').sizes

    assert size.design is design
    assert (size.screws.pitch_mm > 0) is (design is Design.HOLLOW_SCREWS)
    assert (size.step_mm > 0) is (design in {Design.SHIMS, Design.ADJUSTING_RING})
    assert size.estimated.isdisjoint(
        {field for other, named in FIELDS_OF.items() if other is not design for field in named}
    )


@pytest.mark.parametrize("evenness_mm", [0.05, 0.07, 0.1, 0.13, 0.2])
def test_a_shim_that_the_sheet_does_not_give_is_one_that_is_sold(tmp_path, evenness_mm):
    """Foil comes in whole hundredths (common practice, no source); at most half the evenness."""
    (size,) = sheet(tmp_path, f'design = "shims"\ngap_evenness_mm = {evenness_mm}\n').sizes

    assert 0.01 <= size.step_mm <= evenness_mm / 2
    assert round(size.step_mm, 2) == size.step_mm


BAD = [
    ('design = "wedges"', 8, "design", "one of hollow_screws, shims, adjusting_ring, fixed"),
    ("design = 3", 8, "design", "one of hollow_screws"),
    ('design = "fixed"\nscrew_pitch_mm = 1.5', 9, "screw_pitch_mm", "not adjustable (fixed)"),
    ('design = "shims"\nscrew_thread = "M10"', 9, "screw_thread", "belongs to hollow screws"),
    ("shim_step_mm = 0.05", 8, "shim_step_mm", "belongs to shims (shims)"),
    ('design = "shims"\nring_notch_mm = 0.05', 9, "ring_notch_mm", "adjusting ring"),
    ('design = "shims"\nshim_step_mm = 0.1', 9, "shim_step_mm", "at most 0.048 mm"),
    ('design = "shims"\ngap_evenness_mm = 0.1\nshim_step_mm = 0.07', 10, "shim_step_mm", "at most 0.06"),
    ('design = "adjusting_ring"\nring_notch_mm = 0.0', 9, "ring_notch_mm", "greater than 0"),
]  # fmt: skip


@pytest.mark.parametrize(("more", "line", "field", "expected"), BAD)
def test_a_design_that_is_none_or_a_field_that_it_has_not_is_refused(
    tmp_path, more, line, field, expected
):
    """A sentence with line and field."""
    with pytest.raises(LimitsSheetError) as caught:
        sheet(tmp_path, more + "\n")
    (problem,) = caught.value.problems

    assert (problem.line, problem.field) == (line, f"size 1, {field}")
    assert expected in problem.expected


def test_the_sheet_with_a_size_of_each_design_can_be_used():
    """It ships beside the invented one, and says of itself that it is invented."""
    found = four_designs()

    assert found.invented
    assert [size.design for size in found.sizes] == list(Design)


def test_the_table_says_what_sets_the_gap():
    """In words, with turn or step where there is one, and nothing where there is none."""
    rows = {row[0].text: row for row in _shown().rows()}
    at = [column.head for column in COLUMNS].index("what") + 1

    assert [rows[name][at].text for name in rows] == [
        "hollow screws M10", "shims", "adjusting ring", "not adjustable",
    ]  # fmt: skip
    assert [rows[name][at + 1].text for name in rows] == ["1.50", "0.05", "0.04", ""]


def _shown() -> SheetInForce:
    import datetime as dt

    return SheetInForce(four_designs(), "", "x.toml", dt.date(2026, 11, 28))


TYPED = {"own_name": "Z", "own_gap_setting_mm": "0.4", "own_gap_max_mm": "1.0", "own_disc_min_mm": "10"}  # fmt: skip


def test_a_design_can_be_typed_and_what_it_has_not_is_told():
    """On the job sheet's own page, by the words of the same sentences."""
    assert own_size(TYPED | {"own_design": "shims"}).design is Design.SHIMS
    with pytest.raises(EntryError) as caught:
        own_size(TYPED | {"own_design": "fixed", "own_screw_pitch_mm": "1.5"})
    (trouble,) = caught.value.troubles
    with pytest.raises(EntryError) as unknown:
        own_size(TYPED | {"own_design": "<b>"})

    assert trouble.field == "own_screw_pitch_mm"
    assert "not adjustable" in str(trouble)
    assert [one.field for one in unknown.value.troubles] == ["own_design"]


def test_every_field_of_a_design_is_a_field_of_the_sheet():
    """The table of fields and the reader know the same names."""
    assert {field for named in FIELDS_OF.values() for field in named} <= set(SizeRow.model_fields)

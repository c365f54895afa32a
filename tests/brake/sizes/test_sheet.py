"""The limits sheet: a good one becomes brakes, a bad one a list of sentences that help."""

import re
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from widgets.brake.sizes.labels import LABELS
from widgets.brake.sizes.sheet import (
    INVENTED,
    LARGEST_FILE_BYTES,
    LimitsSheetError,
    SizeRow,
    load_sheet,
)

HEAD = 'title = "A chart"\n\n[[size]]\nname = "One"\n'  # the name stands on line 4
GOOD = "gap_setting_mm = 0.4\ngap_max_mm = 1.0\ndisc_min_mm = 10.0\n"  # lines 5 to 7


@pytest.fixture
def refusal(tmp_path):
    """Return the error that a sheet of this text raises."""

    def refuse(text: str | bytes) -> LimitsSheetError:
        path = tmp_path / "chart.toml"
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        with pytest.raises(LimitsSheetError) as caught:
            load_sheet(path)
        return caught.value

    return refuse


def good(tmp_path, text: str):
    path = tmp_path / "chart.toml"
    path.write_text(text, encoding="utf-8")
    return load_sheet(path)


def test_the_smallest_good_sheet_is_three_numbers(tmp_path):
    """Gap to set, largest gap, least disc."""
    sheet = good(tmp_path, HEAD + GOOD)
    (size,) = sheet.sizes

    assert (sheet.title, sheet.invented, size.invented) == ("A chart", False, False)
    assert (size.gap.setting_mm, size.gap.max_mm, size.disc.min_mm) == (0.4, 1.0, 10.0)


def test_what_is_not_on_the_sheet_is_marked_as_estimated(tmp_path):
    """Every field but those given, and a field that is given loses its mark."""
    of_others = {"shim_step_mm", "ring_notch_mm"}  # of designs that this size has not
    fields = set(SizeRow.model_fields) - {"name", "design"} - of_others
    (bare,) = good(tmp_path, HEAD + GOOD).sizes
    (more,) = good(tmp_path, HEAD + GOOD + "torque_nm = 40.0\nspring_count = 6\n").sizes

    assert bare.estimated == fields - {"gap_setting_mm", "gap_max_mm", "disc_min_mm"}
    assert bare.estimated - more.estimated == {"torque_nm", "spring_count"}
    assert (more.torque_nm, more.springs.count) == (40.0, 6)


def test_the_invented_sheet_estimates_nothing():
    """It is whole, says of itself that it is invented, and each number is the file's."""
    sheet = load_sheet()
    rows = tomllib.loads(INVENTED.read_text(encoding="utf-8"))["size"]

    assert sheet.invented
    assert [size.name for size in sheet.sizes] == [row["name"] for row in rows]
    for size, row in zip(sheet.sizes, rows, strict=True):
        assert size.invented
        assert size.estimated == frozenset()
        assert size.gap.max_mm == row["gap_max_mm"]
        assert size.disc.min_mm == row["disc_min_mm"]
        assert size.springs.force_each_n == row["spring_force_each_n"]
        assert size.coil.turns == row["coil_turns"]
        assert size.hoist.load_kg == row["hoist_load_kg"]


def test_a_chart_with_only_a_least_gap_is_set_a_little_over_it(tmp_path):
    """Set to the very least, half of the rim would lie under it. Common practice, no source."""
    (size,) = good(tmp_path, HEAD + "gap_min_mm = 0.3\ngap_max_mm = 1.0\ndisc_min_mm = 9.0\n").sizes

    assert size.gap.min_mm == 0.3
    assert 0.3 < size.gap.setting_mm <= 0.4
    assert "gap_setting_mm" in size.estimated


def row(**changed: str) -> str:
    fields = {"gap_setting_mm": "0.4", "gap_max_mm": "1.0", "disc_min_mm": "10.0", **changed}
    return HEAD + "".join(f"{name} = {value}\n" for name, value in fields.items() if value)


# what is in the file, then: line, field, what was expected, what was got (parts of each)
BAD_ROWS = [
    (row(gap_max_mm=""), 3, "gap_max_mm", "a value", "nothing"),
    (row(disc_min_mm=""), 3, "disc_min_mm", "a value", "nothing"),
    (row(gap_setting_mm=""), 3, "gap_setting_mm", "gap to be set", "nothing"),
    (row(gap_max_mm='"1.0"'), 6, "gap_max_mm", "number", "'1.0'"),
    (row(gap_max_mm="true"), 6, "gap_max_mm", "number", "True"),
    (row(gap_max_mm="[1.0]"), 6, "gap_max_mm", "number", "[1.0]"),
    (row(gap_max_mm="1979-05-27"), 6, "gap_max_mm", "number", "1979"),
    (row(gap_max_mm="nan"), 6, "gap_max_mm", "finite", "nan"),
    (row(gap_max_mm="inf"), 6, "gap_max_mm", "", "inf"),
    (row(gap_max_mm="-1.0"), 6, "gap_max_mm", "greater than 0", "-1.0"),
    (row(gap_max_mm="0"), 6, "gap_max_mm", "greater than 0", "0"),
    (row(gap_max_mm="1e9"), 6, "gap_max_mm", "less than", "1000000000"),
    (row(gap_max_mm="0.3"), 6, "gap_max_mm", "more than the gap to be set, 0.4 mm", "0.3"),
    (row(gap_min_mm="0.5"), 8, "gap_min_mm", "less than 0.4, the gap to be set, mm (gap_setting_mm)", "0.5"),
    (row(disc_new_mm="9.0"), 7, "disc_min_mm", "less than 9, the thickness of a new disc", "10.0"),
    (row(wear_plate_mm="nan"), 8, "wear_plate_mm", "", "nan"),
    (row(friction="inf"), 8, "friction", "", "inf"),
    (row(friction="1.5"), 8, "friction", "less than or equal to 1", "1.5"),
    (row(spring_count="2.5"), 8, "spring_count", "a whole number", "2.5"),
    (row(spring_count="0"), 8, "spring_count", "greater than or equal to 1", "0"),
    (row(gap_maximum_mm="1.0"), 8, "gap_maximum_mm", "one of the fields", "1.0"),
    (row(screw_thread='"M9"'), 8, "screw_thread", "one of M4", "'M9'"),
    (row(gap_max_mm="1.8"), 6, "gap_max_mm", "at most 1.7 mm, what a feeler gauge", "1.8"),
    (row(gap_max_mm="0.5"), 6, "gap_max_mm", "at least 0.52 mm, 0.12 mm over the setting", "0.5"),
    (row(gap_setting_mm="0.08"), 5, "gap_setting_mm", "at least 0.1 mm", "0.08"),
    (row(gap_min_mm="0.4"), 8, "gap_min_mm", "at most 0.37 mm, 0.03 mm under the setting", "0.4"),
    (row(gap_evenness_mm="0.03"), 8, "gap_evenness_mm", "at least 0.04 mm", "0.03"),
    (row(disc_new_mm="10.4"), 8, "disc_new_mm", "at least 0.5 mm more than the least thickness of the disc (disc_min_mm)", "10.4"),
    (row(disc_min_mm="120.0"), 7, "disc_min_mm", "at most 100 mm, what a caliper", "120"),
    (row(retaining_torque_nm="800.0"), 8, "retaining_torque_nm", "at most 300 N·m", "800"),
    (row(coil_voltage_v="6000.0"), 8, "coil_voltage_v", "at most 600 V", "6000"),
    (row(lining_inner_radius_mm="60.0", lining_outer_radius_mm="50.0"), 8, "lining_inner_radius_mm", "less than", "60"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "line", "field", "expected", "got"), BAD_ROWS)
def test_a_bad_row_is_refused_with_line_field_and_what_was_expected(  # noqa: PLR0917 (one a part of the sentence)
    refusal, text, line, field, expected, got
):
    """And with what is there instead; the file's name comes first."""
    error = refusal(text)
    (problem,) = error.problems

    assert problem.line == line
    assert field in problem.field
    assert "size 1" in problem.field
    assert expected in problem.expected
    assert got in problem.got
    assert str(error).startswith(f"chart.toml, line {line}, ")
    assert "Traceback" not in str(error)
    assert "pydantic" not in str(error)


def test_every_fault_is_listed_at_once(refusal):
    """Three faults in two sizes: three problems, each with its own line."""
    text = (
        row(gap_max_mm="-1", disc_min_mm='"x"') + '[[size]]\nname = "Two"\n' + GOOD + "extra = 1\n"
    )
    problems = refusal(text).problems

    assert [(problem.line, problem.field) for problem in problems] == [
        (6, "size 1, gap_max_mm"),
        (7, "size 1, disc_min_mm"),
        (13, "size 2, extra"),
    ]


def test_a_syntax_error_has_its_line_and_column(refusal):
    """Line 5 ends where a value should be."""
    (problem,) = refusal(HEAD + "gap_max_mm =\n").problems

    assert problem.line == 5
    assert "column" in problem.field
    assert problem.expected == "TOML"


def test_a_decimal_comma_is_named_and_so_is_a_byte_order_mark(refusal):
    """Office programs write both; the sentence says what to write instead."""
    comma = str(refusal(HEAD + "gap_setting_mm = 0,4 # mm\n"))
    mark = str(refusal(b"\xef\xbb\xbf" + (HEAD + GOOD).encode()))

    assert "line 5" in comma
    assert "expected a decimal point, 0.4, got 0,4" in comma
    assert "line 1" in mark
    assert "without a byte order mark" in mark


@pytest.mark.parametrize("text", ['title = "A', "[[size]", "\x00", "a = 1\na = 2\n", "= 1"])
def test_text_that_is_no_toml_is_refused(refusal, text):
    """Unended text, brackets, control characters, a key twice."""
    assert "expected TOML" in str(refusal(text))


def test_two_sizes_of_one_name_are_refused(refusal):
    """The second is named, by its line."""
    (problem,) = refusal(row() + '[[size]]\nname = "One"\n' + GOOD).problems

    assert (problem.line, problem.got) == (9, "'One'")
    assert "new name" in problem.expected


@pytest.mark.parametrize(
    "name",
    [
        *("<b>One</b>", "<script>alert(1)</script>", "a & b", "", "x" * 81),
        *("a\\u0007b", "a\\nb", "a\\u202eb", "a\\u200bb", "a\\u2028b"),
    ],
)
def test_a_name_that_could_hurt_a_page_is_refused(refusal, name):
    """No markup, no control characters, none that turn or hide text, neither empty nor endless."""
    in_name = refusal(f'title = "A"\n[[size]]\nname = "{name}"\n{GOOD}')
    in_title = refusal(f'title = "{name}"\n[[size]]\nname = "One"\n{GOOD}')

    assert in_name.problems[0].line == 3
    assert in_title.problems[0].line == 1
    assert in_title.problems[0].field == "title"
    assert "String" not in f"{in_name} {in_title}"  # the library's words


@pytest.mark.parametrize("name", ["old", " One", "One "])
def test_a_name_that_would_be_mistaken_is_refused(refusal, name):
    """The bench calls the disc that came off "old", and a page drops spaces at the ends."""
    (problem,) = refusal(f'title = "A"\n[[size]]\nname = "{name}"\n{GOOD}').problems

    assert (problem.line, problem.field, problem.got) == (3, "size 1, name", repr(name))
    assert "no spaces at its ends, not 'old'" in problem.expected


@pytest.mark.parametrize(
    ("more", "why"),
    [
        ({"torque_nm": 47.0, "hoist_load_kg": 9000.0}, r"holds 0\.4. times its load and not 1.25"),
        ({"coil_turns": 500}, "needs .* of its voltage to lift it, and low mains give 0.9"),
    ],
)
def test_a_brake_that_could_never_work_is_refused(refusal, more, why):
    """It must hold 1.25 times its load (ISO 4310:2009, from memory) and lift hot at low mains.

    Low mains are 0.9 of the voltage (DIN VDE 0580, from memory).
    """
    (problem,) = refusal(row(**{name: str(value) for name, value in more.items()})).problems

    assert problem.line == 4
    assert problem.field == "size One"
    assert re.search(why, problem.expected)


def test_a_file_in_another_encoding_is_refused(refusal):
    """Latin-1 bytes are no UTF-8."""
    assert "UTF-8" in str(refusal('title = "Prüfblatt"'.encode("latin-1")))


def test_a_file_too_large_is_refused_unread(refusal):
    """One byte over a megabyte."""
    error = refusal(b"#" * (LARGEST_FILE_BYTES + 1))
    assert "1,000,000 bytes" in str(error)


def test_a_missing_file_or_a_folder_is_refused(tmp_path):
    """By name, with the reason of the system."""
    for path in (tmp_path / "none.toml", tmp_path):
        with pytest.raises(LimitsSheetError, match="a file that can be read") as caught:
            load_sheet(path)
        assert path.name in str(caught.value)


@pytest.mark.parametrize(
    ("text", "field"),
    [
        ("", "title"),
        ('title = "A"\n', "size"),
        ('title = "A"\nsize = []\n', "size"),
        ('title = "A"\nsize = 3\n', "size"),
        ('title = "A"\nsize = [3]\n', "size 1"),
        ('title = "A"\ncolour = "red"\n[[size]]\nname = "One"\n' + GOOD, "colour"),
        ('title = 3\n[[size]]\nname = "One"\n' + GOOD, "title"),
        ('title = "A"\ninvented = "perhaps"\n[[size]]\nname = "One"\n' + GOOD, "invented"),
    ],
)
def test_a_sheet_without_its_frame_is_refused(refusal, text, field):
    """No title, no sizes, sizes that are none, a field too many."""
    assert any(problem.field.startswith(field) for problem in refusal(text).problems)


def test_numbers_that_cannot_belong_to_one_brake_are_refused(refusal):
    """A lining thicker when worn than the estimate of a new one: the size is named."""
    error = refusal(row(lining_min_mm="400.0"))

    assert "size One" in str(error)
    assert "a brake that can be" in str(error)


def test_an_unknown_size_is_refused_with_those_there_are():
    """The message lists the sheet."""
    with pytest.raises(KeyError, match="Cedar-47"):
        load_sheet().size("Cedar-48")


VALUES = st.one_of(
    st.floats(width=64).map(repr),
    st.integers(-(10**20), 10**20).map(str),
    st.sampled_from(['"x"', "true", "[]", "{}", "1979-05-27", "", "nan", "'<i>'"]),
)


@given(st.dictionaries(st.sampled_from(sorted(SizeRow.model_fields)), VALUES, max_size=6))
def test_any_row_is_either_a_brake_or_a_refusal(tmp_path_factory, fields):
    """Nothing else is ever raised, and a refusal always says something of field and expectation."""
    path = tmp_path_factory.getbasetemp() / "any.toml"
    merged = {
        "name": '"One"', "gap_setting_mm": "0.4", "gap_max_mm": "1.0", "disc_min_mm": "10.0",
        **fields,
    }  # fmt: skip
    lines = "".join(f"{name} = {value}\n" for name, value in merged.items())
    path.write_text('title = "A"\n[[size]]\n' + lines, encoding="utf-8")
    try:
        size, problems = load_sheet(path).sizes[0], ()
    except LimitsSheetError as refused:
        size, problems = None, refused.problems

    assert (size is None) == bool(problems)
    assert all(problem.field and problem.expected for problem in problems)
    assert size is None or size.gap.setting_mm < size.gap.max_mm


def test_a_sheet_of_rows_that_are_no_tables_is_refused_without_words_of_the_library(refusal):
    """Nothing of classes or dictionaries, which mean nothing to a trainer."""
    (problem,) = refusal('title = "A"\nsize = [3]\n').problems

    assert (problem.field, problem.expected, problem.got) == ("size 1", "a table", "3")


def test_every_field_has_a_label_that_a_sentence_shows_before_the_key(refusal):
    """Who reads the page thinks of a braking torque; who corrects the file looks for its key."""
    error = refusal(row(torque_nm="-1.0"))

    assert set(LABELS) == set(SizeRow.model_fields)
    assert str(error) == (
        "chart.toml, line 8, size 1, braking torque, N·m (torque_nm): "
        "expected greater than 0, got -1.0"
    )


@pytest.mark.parametrize(
    "line",
    [
        '"a\\nb" = 1',
        f'"{"k" * 100_000}" = 1',
        f"torque_nm = {'9' * 5_000}",
        f"torque_nm = 0x{'f' * 20_000}",
        f"torque_nm = {'[' * 5_000}{']' * 5_000}",
    ],
    ids=["signs in a key", "long key", "endless number", "endless hex", "deep list"],
)
def test_a_sheet_made_to_hurt_the_reader_is_refused_in_one_short_sentence(refusal, line):
    """Keys of many signs, numbers that Python will not write out, lists in lists."""
    said = str(refusal(row() + line + "\n"))

    assert said.isprintable()
    assert len(said) < 400

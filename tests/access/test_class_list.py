"""A class list as trainers bring it: typed, pasted from a sheet, saved as CSV, and wrong."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quizzes.access.class_list import MOST_PEOPLE, ClassListError, read_class_list

TWO = (("Ilka Torvane", "17"), ("Bram Quillet", "18"))


@pytest.mark.parametrize("text", [
    "Ilka Torvane,17\nBram Quillet,18", "Ilka Torvane\t17\r\nBram Quillet\t18\r\n\r\n",
    "\ufeffName;Number\nIlka Torvane;17\nBram Quillet;18", '"Ilka Torvane", 17\n\n"Bram Quillet", 18\n',
    "name,no.\n  Ilka   Torvane ,17\nBram Quillet , 18",
])  # fmt: skip
def test_the_ways_in_which_a_list_is_kept_are_read(text):
    """Comma, semicolon, tab; headings, empty lines, a byte order mark, quotation marks."""
    assert tuple((" ".join(name.split()), number) for name, number in read_class_list(text)) == TWO


def test_two_people_of_one_name_are_told_apart_by_their_numbers():
    """Both are there."""
    assert read_class_list("Ann Fen,1\nAnn Fen,2") == (("Ann Fen", "1"), ("Ann Fen", "2"))
    assert read_class_list("Ann Fen\nAnn Fen") == (("Ann Fen", "1"), ("Ann Fen", "2"))


@pytest.mark.parametrize(("text", "said"), [
    ("", "list is empty"), (" ,;\n\n", "list is empty"), ("\x1f", "list is empty"),
    ("Name;Number\n", "list is empty"), ('""', "list is empty"), ("Ann Fen,1\n,2", "Line 2 has no name"),
    ("Ann Fen,1\nBo Reed,1", "Two people have the number 1"), ("Ann Fen,1\n\nBo Reed", "Line 3 has no number"),
    ("Fen, Ann\nReed, Bo", "Line 1: 'Ann' has no digit in it"), ("Fen, Ann, 1", "Line 1 has more than"),
    ('"Ann Fen,1', "quotation mark"), ("x" * 81 + ",1", "Line 1: "), ("Ann,A1\nBo,a1", "number a1"),
    ("\n".join(f"Ann {n},{n}" for n in range(5000)), f"5,000 people. A class has at most {MOST_PEOPLE}"),
    ("Ann\u202eneF,1", "Line 1: "),
])  # fmt: skip
def test_what_is_wrong_is_said_with_its_line(text, said):
    """One sentence: where, what is there, what was expected."""
    with pytest.raises(ClassListError) as refused:
        read_class_list(text)

    assert said in str(refused.value)
    assert "\n" not in str(refused.value)


@settings(max_examples=60)
@given(st.text(max_size=60))
def test_whatever_is_pasted_is_a_list_or_a_sentence(text):
    """Nothing else is raised, and no two people of a list have one number."""
    try:
        people = read_class_list(text)
    except ClassListError:
        return

    assert len({number.casefold() for _, number in people}) == len(people) >= 1

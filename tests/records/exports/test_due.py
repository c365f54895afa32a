"""The list of who is due: its order, its table, its calendar read by a reader of our own."""

import csv
import datetime as dt
import io

import pytest

from quizzes.records.exports.due import Due, due_calendar, due_csv, in_order

AT = dt.datetime(2026, 11, 28, 9, 30, 5, 77, tzinfo=dt.UTC)


def due(name, on, person="p-1"):
    """Return somebody who is due."""
    return Due(person, name, "Class 7", "New sitting", "The record ends.", on)


DUES = [
    due("Wren Halloway", dt.date(2027, 3, 1), "p-2"),
    due("Robin Ashdown", dt.date(2027, 2, 1)),
    due('Ash; Sam, \\ "the younger"', dt.date(2027, 3, 1), "p-3"),
]


def unfolded(content):
    """Return a calendar's lines, long ones joined again (RFC 5545, 3.1)."""
    text = content.decode("utf-8")
    assert text.endswith("\r\n")
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))
    return text.replace("\r\n ", "").replace("\r\n\t", "").split("\r\n")[:-1]


def entries(content):
    """Return the events of a calendar, each as name and value, read without the library."""
    found, event = [], None
    for line in unfolded(content):
        if line == "BEGIN:VEVENT":
            event = {}
        elif line == "END:VEVENT":
            found.append(event)
            event = None
        elif event is not None:
            name, value = line.split(":", 1)
            event[name] = value
    return found


def test_the_first_due_comes_first():
    """By day, then class, then name."""
    assert [one.person_id for one in in_order(DUES)] == ["p-1", "p-3", "p-2"]


def test_the_table_says_who_when_what_and_why():
    """One row a person."""
    rows = list(csv.DictReader(io.StringIO(due_csv(DUES).decode("utf-8-sig"), newline="")))

    assert [(row["due"], row["person_id"]) for row in rows] == [
        ("2027-02-01", "p-1"),
        ("2027-03-01", "p-3"),
        ("2027-03-01", "p-2"),
    ]


def test_the_calendar_has_a_whole_day_for_each_person():
    """RFC 5545, 3.6.1: a day's entry ends before the next day; identities differ."""
    found = entries(due_calendar(DUES, AT))

    assert unfolded(due_calendar(DUES, AT))[0] == "BEGIN:VCALENDAR"
    assert "VERSION:2.0" in unfolded(due_calendar(DUES, AT))
    assert [event["DTSTART;VALUE=DATE"] for event in found] == ["20270201", "20270301", "20270301"]
    assert [event["DTEND;VALUE=DATE"] for event in found] == ["20270202", "20270302", "20270302"]
    assert {event["DTSTAMP"] for event in found} == {"20261128T093005Z"}
    assert len({event["UID"] for event in found}) == 3


def test_a_name_breaks_no_line_of_the_calendar():
    """RFC 5545, 3.3.11: semicolon, comma and backslash are escaped; a name cannot add a line."""
    summary = entries(due_calendar(DUES, AT))[1]["SUMMARY"]

    assert summary == r'Ash\; Sam\, \\ "the younger": New sitting'
    with pytest.raises(ValueError, match="control characters"):
        due("Robin\r\nBEGIN:VALARM", dt.date(2027, 2, 1))


def test_a_newer_calendar_moves_the_entry_instead_of_adding_one():
    """The same person and task keep their identity when the day moves."""
    later = [due("Robin Ashdown", dt.date(2027, 5, 1))]

    assert (
        entries(due_calendar(DUES[1:2], AT))[0]["UID"]
        == (entries(due_calendar(later, AT))[0]["UID"])
    )


def test_an_empty_list_is_a_calendar_all_the_same():
    """Nobody is due: no entry, no error."""
    assert entries(due_calendar([], AT)) == []


def test_a_due_day_has_no_hour():
    """A moment in place of a day would move with the time zone."""
    with pytest.raises(ValueError, match="a day without an hour"):
        due("Robin Ashdown", AT)


def test_whoever_is_in_no_class_is_said_to_be_in_none():
    """Not in a class called `no class`."""
    alone = Due("p-1", "Ash", "no class", "A sitting", "It ended.", dt.date(2027, 2, 1))
    (entry,) = entries(due_calendar([alone], AT))

    assert entry["DESCRIPTION"] == "No class. It ended."

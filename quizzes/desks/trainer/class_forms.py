"""What the class desk's forms show: set up, at work, one person, closed."""

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Any

from quizzes.access.class_list import MOST_PEOPLE
from quizzes.forms.offered import Offer
from quizzes.records.room.rows import OPEN, PAUSED, Member, SchoolClass
from quizzes.records.room.store import MOST_EXTRA_MINUTES, WORD_LIMIT
from widgets.brake.days import day_words

Form = dict[str, Any]
LONGEST_LIST = 15_000  # characters; a message may hold 20,000
KEPT = "kept"
TIMES = [
    ("shown", "shown; nobody is stopped"),
    (KEPT, "kept: a sitting is closed when they are up"),
]
STATES = {OPEN: "at work", PAUSED: "paused", "closed": "closed"}
_SET_UP = (
    "Name, day, form and list are enough. Each person joins by the class code and their number, "
    "or by the code on a printed label."
)
_TIME_UP = (
    "Minutes are shown, or kept. If they are kept, a sitting closes when its time is up and is "
    "graded as it stands; nothing is lost."
)


def _forms(offered: Mapping[str, Offer]) -> list[tuple[str, str]]:
    return [(offer.id, offer.title) for offer in offered.values()]


def setting_up(
    offered: Mapping[str, Offer], pages: Mapping[str, str], today: dt.date, said: str = ""
) -> Form:
    """Return the form that makes a class."""
    return {
        "title": "Set up a class",
        "words": [_SET_UP, _TIME_UP],
        "fields": [
            {"name": "name", "kind": "text", "label": "What the class is called"},
            {"name": "day", "kind": "text", "label": "Day", "value": today.isoformat(), "most": 10},
            {"name": "form", "kind": "choice", "label": "Form", "options": _forms(offered)},
            {
                "name": "time",
                "kind": "choice",
                "label": "Minutes that the form allows",
                "options": TIMES,
            },
            {
                "name": "pages",
                "kind": "several",
                "label": "Pages to work through",
                "none": "none in particular",
                "options": list(pages.items()),
                "help": (
                    "They appear on everybody’s first page, and the board shows who has done which."
                ),
            },
            {
                "name": "list",
                "kind": "long",
                "label": "List: a line for each person, name and number",
                "file": "or from a CSV file ",
                "rows": 8,
                "most": LONGEST_LIST,
                "help": f"Without numbers they are numbered from 1. At most {MOST_PEOPLE} people.",
            },
        ],
        "buttons": [("make", "Make the class")],
        "said": said,
    }


def known_classes(offered: Mapping[str, Offer], known: Sequence[SchoolClass]) -> Form:
    """Return the list of the classes that there are, the newest first."""
    return {
        "list": {
            "caption": "Classes, the newest first",
            "columns": ["Class", "Day", "Form", "Now"],
            "rows": [
                {"id": one.id, "cells": _cells(one, offered), "current": False} for one in known
            ],
            "empty": "No class yet.",
            "open": "Open",
        },
    }


def _cells(one: SchoolClass, offered: Mapping[str, Offer]) -> list[str]:
    offer = offered.get(one.form_id)
    title = offer.title if offer else one.form_id
    return [one.name, one.on_day.isoformat(), title, STATES[one.state]]


def at_work(one: SchoolClass, door: str, said: str = "") -> Form:
    """Return the form above the board of a class that is open or paused."""
    paused = one.state == PAUSED
    return {
        "title": one.name,
        "words": [
            f"Join at {door}join with class code {one.code} and a number, or with a label.",
            "The class is paused: nobody’s work goes on." if paused else "",
        ],
        "fields": [
            {
                "name": "word",
                "kind": "text",
                "label": "A message to the whole class",
                "value": one.word,
                "most": WORD_LIMIT,
                "help": "It stays at the top of everybody’s page until you send an empty one.",
            }
        ],
        "buttons": [
            ("say", "Send it to the class"),
            ("go on", "Go on") if paused else ("pause", "Pause for all"),
            ("labels", "Labels to print (PDF)"),
            ("more", "More people"),
            ("free all", "Free all places"),
            ("close", "Close the class"),
            ("other", "Other classes"),
        ],
        "said": said,
    }


def slept_words(times: Sequence[tuple[dt.datetime, dt.datetime | None]]) -> str:
    """Return what the board says of the time in which the machine slept; empty for none."""
    if not times:
        return ""
    since, until = times[-1]
    until = until or since
    return (
        f"This machine was asleep or switched off from {since.astimezone():%H:%M} to "
        f"{until.astimezone():%H:%M}. Nobody’s minutes ran; what had been done is kept."
    )


def more_people(said: str = "") -> Form:
    """Return the form that puts more people on the list of a class at work."""
    return {
        "title": "More people for this class",
        "words": ["Each needs a number of their own. Whoever is on the list already stays there."],
        "fields": [
            {"name": "list", "kind": "long", "label": "List: name, number", "most": LONGEST_LIST}
        ],
        "buttons": [("add", "Put them on the list"), ("back", "Back to the board")],
        "said": said,
    }


def closing(one: SchoolClass, at: int) -> Form:
    """Return the question before a class is closed."""
    work = {0: "Everybody has finished", 1: "One person has not finished"}.get(
        at, f"{at} people have not finished"
    )
    return {
        "title": f"Close {one.name}?",
        "words": [f"{work}. What everybody did is kept; nothing more is added."],
        "buttons": [("back", "Not yet"), ("close for good", "Close it and show the debrief")],
    }


def freeing_all(one: SchoolClass) -> Form:
    """Return the question before every place of a class is freed."""
    return {
        "title": f"Free all places of {one.name}?",
        "words": [
            "Everybody joins again before they go on, on whatever device. Nothing is lost.",
            "For one person who changes devices, press More beside their name.",
        ],
        "buttons": [("back", "Not now"), ("free all now", "Free them all")],
    }


def one_person(member: Member, offered: Mapping[str, Offer], said: str = "") -> Form:
    """Return the form of one person: another form, more time, a place to be freed."""
    same = [("", "the form of the class"), *_forms(offered)]
    return {
        "title": f"{member.name or 'name erased'}, number {member.number}",
        "words": [
            "Another form or more time is written into the record with its reason.",
            f"Given so far: {member.reason}" if member.reason else "",
        ],
        "fields": [
            {"name": "form", "kind": "choice", "label": "Form", "options": same,
             "value": member.form_id, "help": "It counts from the next sitting."},
            {"name": "minutes", "kind": "text", "label": f"Minutes more, 0 to {MOST_EXTRA_MINUTES}",
             "value": str(member.extra_minutes), "most": 3},
            {"name": "reason", "kind": "text", "label": "Reason", "most": 500},
        ],
        "buttons": [
            ("give", "Give it"),
            ("free", "Free the place for another device"),
            ("hand", "Take the hand down"),
            ("back", "Back to the board"),
        ],
        "said": said,
    }  # fmt: skip


def closed(one: SchoolClass, said: str = "") -> Form:
    """Return the form above a debrief."""
    return {
        "title": f"{one.name}: closed",
        "words": [f"{day_words(one.on_day)}. What follows is the debrief."],
        "buttons": [("print", "Debrief to print (PDF)"), ("other", "Other classes")],
        "said": said,
    }

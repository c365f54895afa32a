"""The one place that decides who may see and do what: a table of role and thing.

The server asks it for every page over HTTP; a page's kernel asks it for every list, export and act.
"""

import re
from enum import StrEnum


class Role(StrEnum):
    """In which part somebody looks at a page; the server gives it, never the browser."""

    ANYONE = "anyone"  # the serving machine's only user, where nobody has set a passphrase
    GUEST = "guest"  # another machine of the room that has not joined the class
    APPRENTICE = "apprentice"
    TRAINER = "trainer"
    ASSESSOR = "assessor"
    ADMINISTRATOR = "administrator"


class Thing(StrEnum):
    """What is decided about."""

    LEARN = "learn"  # lessons, practice bench, sheets, glossary
    SIT = "sit"  # a sitting of one's own
    TEACH = "teach"  # stage, guide, forms
    CLASSES = "classes"  # lists, labels, live board, pause, accommodation, debrief
    RESULTS = "results"  # the list of sittings, and the evidence behind each
    ANSWERS = "answers"  # the right answers in that evidence
    EXPORT = "export"  # a sitting as a file, with the key of its cases
    DECIDE = "decide"  # sign, correct or withdraw an outcome
    CUT = "cut"  # a panel of judges brought in or ended; the questions that judges are given
    PEOPLE = "people"  # who signs in, passphrases, erasing a name


STAFF = (Role.TRAINER, Role.ASSESSOR, Role.ADMINISTRATOR)
_ALL = frozenset(Role)
_TABLE: dict[Thing, frozenset[Role]] = {
    Thing.LEARN: _ALL,
    Thing.SIT: _ALL - {Role.GUEST},
    Thing.TEACH: frozenset({Role.ANYONE, Role.TRAINER, Role.ASSESSOR}),
    Thing.CLASSES: frozenset({Role.ANYONE, Role.TRAINER}),
    Thing.RESULTS: frozenset({Role.ANYONE, Role.TRAINER, Role.ASSESSOR}),
    Thing.ANSWERS: frozenset({Role.TRAINER, Role.ASSESSOR}),
    Thing.EXPORT: frozenset({Role.ANYONE, Role.ASSESSOR}),
    Thing.DECIDE: frozenset({Role.ASSESSOR}),
    Thing.CUT: frozenset({Role.ASSESSOR}),
    Thing.PEOPLE: frozenset({Role.ANYONE, Role.ADMINISTRATOR}),
}
_FOR = {
    Thing.SIT: "An assessment is for people who have joined the class. Join it first.",
    Thing.TEACH: "This is for trainers and assessors. Sign in as one of them.",
    Thing.CLASSES: "Classes are the trainer’s. Sign in as a trainer.",
    Thing.RESULTS: "Results are for trainers and assessors. Sign in as one of them.",
    Thing.ANSWERS: "The right answers are shown to a trainer or an assessor who has signed in.",
    Thing.EXPORT: "Files hold names, or the key of cases, and are for assessors. Sign in as one.",
    Thing.DECIDE: "Only an assessor decides. Sign in as an assessor.",
    Thing.CUT: "Only an assessor brings in a panel of judges, or ends it. Sign in as an assessor.",
    Thing.PEOPLE: "Who signs in is for the administrator to say. Sign in as the administrator.",
}
LESSON = re.compile(r"\d\d_\w+\.ipynb")
# For what each page is; a lesson is for learning, a page that is not named here for teaching.
PAGES = {
    "bench.ipynb": Thing.LEARN,
    "job_sheet.ipynb": Thing.LEARN,
    "limits_sheet.ipynb": Thing.LEARN,
    "glossary.ipynb": Thing.LEARN,
    "verify.ipynb": Thing.LEARN,
    "assessment.ipynb": Thing.SIT,
    "stage.ipynb": Thing.TEACH,
    "forms.ipynb": Thing.TEACH,
    "trainers_guide.ipynb": Thing.TEACH,
    "class.ipynb": Thing.CLASSES,
    "results.ipynb": Thing.RESULTS,
    "due.ipynb": Thing.RESULTS,
    "panel.ipynb": Thing.RESULTS,
}

# For what each card of the front door is; a role is offered the cards of what it may.
DOORS = {
    "apprentice": Thing.LEARN,
    "trainer": Thing.CLASSES,
    "assessor": Thing.EXPORT,
    "administrator": Thing.PEOPLE,
}


class NotAllowedError(ValueError):
    """Somebody asked for what is not theirs; the message says whose it is."""


def may(role: str, thing: Thing) -> bool:
    """Return whether a role may see or do a thing.

    Parameters
    ----------
    role : str
        One of `Role`; whatever is none of them may nothing.
    thing : Thing
        What is asked for.

    Examples
    --------
    >>> may("trainer", Thing.RESULTS), may("apprentice", Thing.RESULTS), may("root", Thing.LEARN)
    (True, False, False)
    """
    return role in _TABLE[thing]


def refuse_unless(role: str, thing: Thing) -> None:
    """Pass if a role may see or do a thing.

    Raises
    ------
    NotAllowedError
        If not; the sentence says whose it is.
    """
    if not may(role, thing):
        raise NotAllowedError(_FOR.get(thing, "This is not for you."))


def thing_of(page: str) -> Thing:
    """Return for what a page is.

    Parameters
    ----------
    page : str
        The notebook's name.

    Examples
    --------
    >>> [str(thing_of(page)) for page in ("01_how.ipynb", "results.ipynb", "new.ipynb")]
    ['learn', 'results', 'teach']
    """
    return Thing.LEARN if LESSON.fullmatch(page) else PAGES.get(page, Thing.TEACH)


def closed_to(role: str) -> tuple[str, ...]:
    """Return the pages, lessons aside, that a role may not open.

    Parameters
    ----------
    role : str
        One of `Role`.
    """
    return tuple(page for page, thing in PAGES.items() if not may(role, thing))


def doors_of(role: str) -> tuple[str, ...]:
    """Return the cards that the front door offers a role.

    Parameters
    ----------
    role : str
        One of `Role`.

    Examples
    --------
    >>> doors_of("apprentice"), doors_of("assessor")
    (('apprentice',), ('apprentice', 'assessor'))
    """
    return tuple(door for door, thing in DOORS.items() if may(role, thing))


def is_for_the_room(page: str) -> bool:
    """Return whether a page may travel where others can read it: it shows nobody else's work."""
    return thing_of(page) in (Thing.LEARN, Thing.SIT)

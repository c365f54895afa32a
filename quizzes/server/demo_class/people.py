"""Who is in the demo: an invented class, and one person of each role to look around as."""

import datetime as dt
import secrets

from quizzes.access.passphrases import hashed
from quizzes.records.room.rows import ClassPlan
from quizzes.records.room.store import RoomStore

EXERCISE, FULL = "class_exercise", "full"
# Invented people of an invented school; each works by one habit of the virtual candidates, and
# two of them sat the form that can end in "competent".
CLASS = (
    ("Ilka Torvane", "careful", FULL),
    ("Bram Quillet", "one-place-only", EXERCISE),
    ("Sennet Aldous-Wray", "careful", EXERCISE),
    ("Odile Marchpane", "good-disc-replaced", EXERCISE),
    ("Tobiah Fenwright", "isolation-skipped", FULL),
    ("Wren Kestleby", "not-measured-again", EXERCISE),
    ("Jory Haldane-Moss", "nothing-is-ever-wrong", EXERCISE),
    ("Petra Lindqvale", "wrong-row", EXERCISE),
)
# Nobody knows their passphrase: one looks around as these people without.
STAFF = (
    ("Maren Oakhollow", "administrator"),
    ("Corvin Ashdell", "trainer"),
    ("Linnet Garraway", "assessor"),
)


def numbers() -> dict[str, str]:
    """Return the number of each person on the class's list."""
    return {name: str(number) for number, (name, *_) in enumerate(CLASS, start=1)}


def set_up_room(url: str) -> None:
    """Let one person of each role be there, and a class with its list.

    Raises
    ------
    RecordsError
        If the store cannot be used.
    """
    now = dt.datetime.now(dt.UTC)
    plan = ClassPlan("Demo class", now.astimezone().date(), EXERCISE, (), tuple(numbers().items()))
    words = secrets.token_urlsafe(24)
    kept = hashed(words, words)
    with RoomStore(url) as room:
        for name, role in STAFF:
            room.add_account(name, role, kept, now)
        room.make_class(plan, now)

"""An invented class in a throw-away store: virtual candidates who really worked their brakes."""

import datetime as dt
import hashlib
import secrets
from collections.abc import Mapping

from quizzes.access.passphrases import hashed
from quizzes.candidates.worker import HABITS, work
from quizzes.forms.offered import offers
from quizzes.questions.answers import right_json
from quizzes.records import Records
from quizzes.records.room.rows import ClassPlan
from quizzes.records.room.store import RoomStore, owner_in_class
from quizzes.sittings.run import SittingRun, begin, the_sheet

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
# And one who sat the exercise at a browser of her own, in no class.
ALONE = ("Thessaly Brockvane", "careful", EXERCISE)
UNFINISHED = "Casimir Dunnock"
# Nobody knows these passphrases: one looks around as these people without.
STAFF = (
    ("Maren Oakhollow", "administrator"),
    ("Corvin Ashdell", "trainer"),
    ("Linnet Garraway", "assessor"),
)
A_MOMENT = dt.timedelta(seconds=6)


def fill(url: str) -> None:
    """Fill a store with the results of the invented class.

    Raises
    ------
    RecordsError
        If the store cannot be used.
    """
    numbers = {name: str(number) for number, (name, *_) in enumerate(CLASS, start=1)}
    owners = _set_up_room(url, numbers)
    with Records(url) as store:
        first_day = dt.datetime.now(dt.UTC) - dt.timedelta(days=len(CLASS) + 1)
        for day, (name, habit, form) in enumerate(CLASS):
            who = {"name": name, "number": numbers[name], "owner": owners[name]}
            _answer(_sit(store, who, habit, form, first_day + dt.timedelta(days=day)))
        name, habit, form = ALONE
        lately = dt.datetime.now(dt.UTC) - dt.timedelta(hours=3)
        _answer(_sit(store, _by_themselves(name), habit, form, lately))
        just_now = dt.datetime.now(dt.UTC)
        _sit(store, _by_themselves(UNFINISHED), "careful", EXERCISE, just_now, cases=1)


def _by_themselves(name: str) -> dict[str, str]:
    """Return who sits, at a browser of their own and in no class."""
    return {"name": name, "owner": hashlib.sha256(f"demo {name}".encode()).hexdigest()}


def _set_up_room(url: str, numbers: Mapping[str, str]) -> dict[str, str]:
    """Let one person of each role be there, and a class; return as whose its work is kept."""
    now = dt.datetime.now(dt.UTC)
    plan = ClassPlan("Demo class", now.astimezone().date(), EXERCISE, (), tuple(numbers.items()))
    with RoomStore(url) as room:
        for name, role in STAFF:
            words = secrets.token_urlsafe(24)
            room.add_account(name, role, hashed(words, words), now)
        made = room.make_class(plan, now)
        return {
            one.name or "": owner_in_class(made.id, one.person_id) for one in room.members(made.id)
        }


def _sit(
    store: Records,
    who: Mapping[str, str],
    habit: str,
    form: str,
    began: dt.datetime,
    *,
    cases: int | None = None,
) -> SittingRun:
    sheet = the_sheet()
    start = {**who, "place": "test", "started_at": began}
    clock = _Clock(began)
    run = SittingRun(store, begin(store, offers()[form], sheet, start), clock)
    for _ in run.cases[:cases]:
        run.rehearse(lambda session: work(session.act, sheet, HABITS[habit], session.setup.order))
    return run


def _answer(run: SittingRun) -> None:
    """Answer the questions correctly and hand in; every third of an exercise is left out."""
    leaves_out = run.sitting.form_id == EXERCISE
    for at, posed in enumerate(run.questions):
        if not leaves_out or at % 3 != 2:
            right = right_json(posed.hidden) | {"confidence": "sure"}
            run.keep_answer(at, posed.hidden.item.id, right)
    run.hand_in_questions()


class _Clock:
    """Invented time that goes on by six seconds an action."""

    def __init__(self, at: dt.datetime) -> None:
        self._at = at

    def __call__(self) -> dt.datetime:
        self._at += A_MOMENT
        return self._at

"""An invented class in a throw-away store: virtual candidates who really worked their brakes."""

import datetime as dt
import hashlib
import secrets
from collections.abc import Mapping

from quizzes.access.passphrases import hashed
from quizzes.candidates.worker import HABITS, work
from quizzes.desks.apprentice.question_round import question_round
from quizzes.forms.offered import offers
from quizzes.questions.answers import right_json
from quizzes.records import Records
from quizzes.records.room.rows import ClassPlan
from quizzes.records.room.store import RoomStore, owner_in_class
from quizzes.sittings.run import SittingRun, begin, the_sheet

# Invented people of an invented school; each works by one habit of the virtual candidates.
CLASS = (
    ("Ilka Torvane", "careful"),
    ("Bram Quillet", "one-place-only"),
    ("Sennet Aldous-Wray", "careful"),
    ("Odile Marchpane", "good-disc-replaced"),
    ("Tobiah Fenwright", "isolation-skipped"),
    ("Wren Kestleby", "not-measured-again"),
    ("Jory Haldane-Moss", "nothing-is-ever-wrong"),
    ("Petra Lindqvale", "wrong-row"),
)
# And one who sat a form of short cases and questions, every third question left out.
WHOLE_FORM = ("Thessaly Brockvane", "careful", "class_exercise")
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
    numbers = {name: str(number) for number, (name, _) in enumerate(CLASS, start=1)}
    owners = _set_up_room(url, numbers)
    with Records(url) as store:
        first_day = dt.datetime.now(dt.UTC) - dt.timedelta(days=len(CLASS) + 1)
        for day, (name, habit) in enumerate(CLASS):
            who = {"name": name, "number": numbers[name], "owner": owners[name]}
            _sit(store, who, habit, first_day + dt.timedelta(days=day))
        name, habit, form = WHOLE_FORM
        lately = dt.datetime.now(dt.UTC) - dt.timedelta(hours=3)
        _answer(_sit(store, _alone(name), habit, lately, form=form))
        _sit(store, _alone(UNFINISHED), "careful", dt.datetime.now(dt.UTC), cases=1)


def _alone(name: str) -> dict[str, str]:
    """Return who sits, at a browser of their own and in no class."""
    return {"name": name, "owner": hashlib.sha256(f"demo {name}".encode()).hexdigest()}


def _set_up_room(url: str, numbers: Mapping[str, str]) -> dict[str, str]:
    """Let one person of each role be there, and a class; return as whose its work is kept."""
    now = dt.datetime.now(dt.UTC)
    plan = ClassPlan(
        "Demo class", now.astimezone().date(), "class_exercise", (), tuple(numbers.items())
    )
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
    began: dt.datetime,
    *,
    cases: int | None = None,
    form: str = "three_brakes",
) -> SittingRun:
    sheet = the_sheet()
    start = {**who, "place": "test", "started_at": began}
    clock = _Clock(began)
    run = SittingRun(store, begin(store, offers()[form], sheet, start), clock)
    for _ in run.cases[:cases]:
        run.rehearse(lambda session: work(session.act, sheet, HABITS[habit], session.setup.order))
    return run


def _answer(run: SittingRun) -> None:
    """Answer the questions of a sitting rightly, but for every third, and hand in."""
    panel = question_round(run, lambda: None)
    for at, posed in enumerate(run.questions):
        if at % 3 != 2:
            panel.heard({"at": at, "answer": right_json(posed.hidden) | {"confidence": "sure"}})
    panel.heard({"hand_in": True, "sure": True})


class _Clock:
    """Invented time that goes on by six seconds an action."""

    def __init__(self, at: dt.datetime) -> None:
        self._at = at

    def __call__(self) -> dt.datetime:
        self._at += A_MOMENT
        return self._at

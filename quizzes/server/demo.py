"""An invented class in a throw-away store: virtual candidates who really worked their brakes."""

import datetime as dt
import hashlib

from quizzes.candidates.worker import HABITS, work
from quizzes.desks.apprentice.question_round import question_round
from quizzes.forms.offered import offers
from quizzes.questions.answers import right_json
from quizzes.records import Records
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
A_MOMENT = dt.timedelta(seconds=6)


def fill(url: str) -> None:
    """Fill a store with the results of the invented class.

    Raises
    ------
    RecordsError
        If the store cannot be used.
    """
    with Records(url) as store:
        first_day = dt.datetime.now(dt.UTC) - dt.timedelta(days=len(CLASS) + 1)
        for day, (name, habit) in enumerate(CLASS):
            _sit(store, name, habit, first_day + dt.timedelta(days=day))
        name, habit, form = WHOLE_FORM
        _answer(
            _sit(store, name, habit, dt.datetime.now(dt.UTC) - dt.timedelta(hours=3), form=form)
        )
        _sit(store, UNFINISHED, "careful", dt.datetime.now(dt.UTC), cases=1)


def _sit(
    store: Records,
    name: str,
    habit: str,
    began: dt.datetime,
    *,
    cases: int | None = None,
    form: str = "three_brakes",
) -> SittingRun:
    sheet = the_sheet()
    owner = hashlib.sha256(f"demo {name}".encode()).hexdigest()
    start = {"name": name, "place": "test", "owner": owner, "started_at": began}
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

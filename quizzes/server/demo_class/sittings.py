"""The sittings of the demo's class: virtual candidates who really worked their brakes."""

import datetime as dt
import hashlib
import logging
import os
import signal
from collections.abc import Mapping

from quizzes.candidates.worker import HABITS, work
from quizzes.forms.offered import offers
from quizzes.questions.answers import right_json
from quizzes.records import Records
from quizzes.records.room.store import RoomStore, owner_in_class
from quizzes.server.logfile import start_log
from quizzes.sittings.run import SittingRun, begin, the_sheet

from . import people
from .people import EXERCISE

log = logging.getLogger("gap_and_lining")
# And one who sat the exercise at a browser of her own, in no class.
ALONE = ("Thessaly Brockvane", "careful", EXERCISE)
UNFINISHED = "Casimir Dunnock"
A_MOMENT = dt.timedelta(seconds=6)


def main() -> None:
    """Work the class of the store in force, out of the way of whoever opens pages meanwhile."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is the server's, which then ends this
    if hasattr(os, "nice"):
        os.nice(5)
    start_log()
    try:
        fill(os.environ["GAL_RECORDS"])
    except Exception:  # the pages show as much of the class as there is
        log.exception("the demo’s class did not get through its work")


def fill(url: str) -> None:
    """Fill a store, in which the class has been set up, with its results.

    Raises
    ------
    RecordsError
        If the store cannot be used.
    """
    owners, numbers = _owners(url), people.numbers()
    with Records(url) as store:
        first_day = dt.datetime.now(dt.UTC) - dt.timedelta(days=len(people.CLASS) + 1)
        for day, (name, habit, form) in enumerate(people.CLASS):
            who = {"name": name, "number": numbers[name], "owner": owners[name]}
            _answer(_sit(store, who, habit, form, first_day + dt.timedelta(days=day)))
        name, habit, form = ALONE
        lately = dt.datetime.now(dt.UTC) - dt.timedelta(hours=3)
        _answer(_sit(store, _by_themselves(name), habit, form, lately))
        just_now = dt.datetime.now(dt.UTC)
        _sit(store, _by_themselves(UNFINISHED), "careful", EXERCISE, just_now, cases=1)


def _owners(url: str) -> dict[str, str]:
    """Return as whose the work of each person of the class is kept."""
    with RoomStore(url) as room:
        (made,) = room.classes()
        return {
            one.name or "": owner_in_class(made.id, one.person_id) for one in room.members(made.id)
        }


def _by_themselves(name: str) -> dict[str, str]:
    """Return who sits, at a browser of their own and in no class."""
    return {"name": name, "owner": hashlib.sha256(f"demo {name}".encode()).hexdigest()}


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


if __name__ == "__main__":
    main()

"""What leaves the house of many sittings: records as a table, learning statements, who is due."""

import datetime as dt
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from quizzes.records import Records, RecordsError, ResultRow
from quizzes.records.credentials.record import CompetencyRecord
from quizzes.records.decisions.acts import Decision, Entered, Verdict
from quizzes.records.decisions.state import Stage, State
from quizzes.records.exports.competency_table import competency_csv
from quizzes.records.exports.due import Due
from quizzes.records.exports.learning import Item, SittingDone, statements
from quizzes.sittings.decided.record import SCHEME, NoRecordError, competency_record
from quizzes.sittings.had_lately import PAGE
from quizzes.sittings.run import QUESTIONS_SLOT, SittingRun
from quizzes.sittings.standing import Standings
from quizzes.sittings.what_now import what_now

NO_CLASS = "no class"
RIGHT = ("right", "false alarm")

MOST_LISTED = 200  # characters of what is to be practised, on a line of the due list


def all_rows(store: Records) -> list[ResultRow]:
    """Return every sitting but practice, newest first."""
    found: list[ResultRow] = []
    while page := store.results(limit=PAGE, offset=len(found)):
        found += page
    return found


def records_table(store: Records) -> bytes:
    """Return every competency record that stands as one CSV file, the oldest first."""
    return competency_csv(_records(store))


def _records(store: Records) -> Iterable[CompetencyRecord]:
    standings, acts = Standings(store), store.acts_of_all()
    for row in reversed(all_rows(store)):
        state = standings.state(acts.get(row.sitting_id, ()))
        if state.standing is None or standings.of(row).trouble or not standings.vouches(state):
            continue
        head = state.issued[-1].head if state.issued else standings.audit.head.code
        try:
            yield competency_record(store, row.sitting_id, state, head)
        except (NoRecordError, RecordsError, ValueError):
            continue  # nothing to be said of it; the page says why


def learning_statements(store: Records) -> bytes:
    """Return every sitting as learning statements (xAPI), a JSON list, the oldest first."""
    standings, acts, told = Standings(store), store.acts_of_all(), []
    for row in reversed(all_rows(store)):
        if standings.of(row).trouble:
            continue
        try:
            told += statements(_done(store, row, _vouched(standings, acts, row)))
        except (RecordsError, ValueError):
            continue
    return json.dumps(told, indent=1, ensure_ascii=False).encode()


def _vouched(
    standings: Standings, acts: Mapping[str, tuple[Entered, ...]], row: ResultRow
) -> State:
    """Return where a sitting stands, undecided where no signed head vouches for the decision."""
    state = standings.state(acts.get(row.sitting_id, ()))
    return state if standings.vouches(state) else State()


def _done(store: Records, row: ResultRow, state: State) -> SittingDone:
    grades = store.grades(row.sitting_id)
    handed = [row.started_at, *(one.at for one in grades)]
    seconds = [max(0, int((after - before).total_seconds())) for before, after in pairwise(handed)]
    items = tuple(
        _item(one.slot or 0, one.content, one.at, spent)
        for one, spent in zip(grades, seconds, strict=True)
        if one.slot != QUESTIONS_SLOT
    )
    standing = state.standing and state.standing.act
    decided = isinstance(standing, Decision)
    marks = round(sum(item.marks for item in items) / len(items)) if items else 0
    return SittingDone(
        row.sitting_id,
        row.person_id,
        row.form_id,
        row.form_edition,
        SCHEME,
        row.started_at,
        row.finished_at if decided else None,  # passed or failed is a person's decision
        items,
        marks,
        state.verdict is Verdict.COMPETENT,
        standing.person_id if isinstance(standing, Decision) else "",
    )


def _item(slot: int, grade: dict[str, object], at: dt.datetime, seconds: int) -> Item:
    right = grade.get("standing") in RIGHT
    return Item("case", slot + 1, int(str(grade.get("marks", 0))), right, at, seconds)


def due_list(store: Records, today: dt.date) -> tuple[Due, ...]:
    """Return who must be seen again and when: for each person by their newest sitting.

    Parameters
    ----------
    store : Records
        Where they are kept.
    today : date
        The day on which it is asked.
    """
    standings, acts = Standings(store), store.acts_of_all()
    classes = store.class_names()
    seen: set[str] = set()
    found = []
    for row in all_rows(store):
        if row.person_id in seen or row.name is None:
            continue
        seen.add(row.person_id)
        broken = standings.of(row).trouble
        state = standings.state(acts.get(row.sitting_id, ()))
        if standings.vouches(state):
            due = _due(store, row, state, today, broken=bool(broken))
        else:
            due = _signed_by_nobody(row, today)
        found.append(replace(due, class_name=classes.get(row.person_id, NO_CLASS)))
    return tuple(found)


def _signed_by_nobody(row: ResultRow, today: dt.date) -> Due:
    why = "No signed head vouches for the last decision."
    return Due(row.person_id, row.name or "", NO_CLASS, "an assessor’s decision", why, today)


def _due(store: Records, row: ResultRow, state: State, today: dt.date, *, broken: bool) -> Due:
    def due(what: str, why: str, on: dt.date) -> Due:
        return Due(row.person_id, row.name or "", NO_CLASS, what, why, on)

    if broken:
        return due("a new sitting", "The record of the last one does not hold.", today)
    if row.finished_at is None:
        return due("the rest of a sitting", "The last sitting was not finished.", today)
    if state.standing is None:
        return due("an assessor’s decision", f"The last sitting: {state.stage.value}.", today)
    if state.stage is Stage.APPEALED:
        return due("a ruling on the appeal", "An appeal waits for its ruling.", today)
    if state.verdict is Verdict.COMPETENT:
        try:
            record = competency_record(store, row.sitting_id, state, "-")
            until = record.valid_until.date()
        except (NoRecordError, RecordsError, ValueError):
            until = today
        return due("a new sitting", "The record ends on that day.", until)
    run = SittingRun(store, store.sitting(row.sitting_id))
    practise = what_now(run.cases, run.grades, row.finished_at.date()).practise
    earliest = (row.finished_at + dt.timedelta(hours=run.kept.blueprint.wait_h)).date()
    verdict = str(state.verdict or "undecided").capitalize()
    why = f"{verdict}. To practise first: {_listed(practise)}."
    return due("practice, then a new sitting", why, max(earliest, today))


def _listed(several: Sequence[str]) -> str:
    """Return what is to be practised, as much of it as a line holds, and how much more it is."""
    short: list[str] = []
    for one in several:
        if sum(map(len, short)) + len(one) > MOST_LISTED:
            break
        short.append(one.rstrip("."))
    more = len(several) - len(short)
    if more:
        short.append(f"{more} more")
    return "; ".join(short) or "nothing"

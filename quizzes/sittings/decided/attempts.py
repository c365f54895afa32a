"""Attempts of one person at one form: counted, and kept apart by the form's cooling-off."""

import datetime as dt
from collections.abc import Mapping
from typing import Any

from quizzes.forms.blueprint import Blueprint
from quizzes.records import Records, RecordsError, ResultRow, Sitting
from quizzes.records.auditing.signing import is_signed_for
from quizzes.records.decisions.acts import Act
from quizzes.records.kept_sitting import read_kept
from quizzes.sittings.had_lately import sittings_of
from quizzes.sittings.in_force import COUNTING_PLACES
from widgets.brake.days import day_words

MOST_ATTEMPTS = 3  # from which the person is shown as one to be trained first; our choice


class TooSoonError(ValueError):
    """An attempt before its time: when it may begin, and who can allow it earlier."""


def refuse_too_soon(
    store: Records, person_id: str, form: Blueprint, start: Mapping[str, Any]
) -> None:
    """Refuse to begin a form before its cooling-off is over.

    Parameters
    ----------
    store : Records
        Where earlier attempts are kept.
    person_id : str
        Who would begin.
    form : Blueprint
        Which form, with its rule.
    start : mapping
        `place` and `started_at`; where the candidate commands the kernel nobody has to wait.

    Raises
    ------
    TooSoonError
        If an attempt ended less than the form's cooling-off ago and no assessor has allowed an
        earlier one.
    """
    before = attempts_at(store, person_id, form.id)
    if not before or not form.wait_h or start["place"] not in COUNTING_PLACES:
        return
    last, free = before[0], _free(before[0], form.wait_h)
    if start["started_at"] >= free or _waived(store, last):
        return
    raise TooSoonError(
        f"You have sat this form before, until {_when(_ended(last))}: {_tries(len(before))} so "
        f"far. {form.wait_h} h have to lie between two attempts, so the next can begin on "
        f"{_when(free)}. An assessor can allow it earlier, with a written reason."
    )


def waits(store: Records, sitting: Sitting, at: dt.datetime) -> bool:
    """Return whether a sitting is its person's last at the form and holds up the next one."""
    every = attempts_at(store, sitting.person_id, sitting.form_id)
    if not every or every[0].sitting_id != sitting.id or _waived(store, every[0]):
        return False
    return at < _free(every[0], _wait_h(store, sitting))


def attempts_at(store: Records, person_id: str, form_id: str) -> list[ResultRow]:
    """Return the sittings of a person at a form, newest first, unfinished ones among them."""
    return [one for one in sittings_of(store, person_id) if one.form_id == form_id]


def attempts(store: Records, sitting: Sitting, at: dt.datetime) -> tuple[str, ...]:
    """Return which attempt a sitting is, whether the person waited, and from when the next may be.

    Parameters
    ----------
    store, sitting : Records, Sitting
        Where it is kept, and which.
    at : datetime
        Now: a wait that is over is not worth a word.
    """
    every = attempts_at(store, sitting.person_id, sitting.form_id)
    before = [one for one in every if one.started_at < sitting.started_at]
    wait_h = _wait_h(store, sitting)
    lines = [f"Attempt {len(before) + 1} of this person at this form."]
    if before:
        hours = (sitting.started_at - _ended(before[0])).total_seconds() / 3600
        said = ""
        if hours < wait_h:
            allowed = _waived(store, before[0])
            said = ": an assessor allowed it" if allowed else ": they did not wait"
        lines.append(
            f"{hours:.0f} h after the one before; {wait_h} h are to lie between two attempts{said}."
        )
    if len(before) + 1 > MOST_ATTEMPTS:
        lines.append(
            f"More than {MOST_ATTEMPTS} attempts: evidence of training is to be asked for."
        )
    if every and every[0].sitting_id == sitting.id and at < _free(every[0], wait_h):
        free = f"on {_when(_free(every[0], wait_h))}"
        when = "at any time: an assessor allowed it" if _waived(store, every[0]) else free
        lines.append(f"The next attempt can begin {when}.")
    return tuple(lines)


def _wait_h(store: Records, sitting: Sitting) -> int:
    try:
        return read_kept(sitting.id, store.kept(sitting.id)).blueprint.wait_h
    except RecordsError:  # the evidence says why
        return 0


def _ended(row: ResultRow) -> dt.datetime:
    return row.finished_at or row.started_at


def _free(row: ResultRow, wait_h: int) -> dt.datetime:
    return _ended(row) + dt.timedelta(hours=wait_h)


def _waived(store: Records, row: ResultRow) -> bool:
    acts = store.acts(row.sitting_id)
    return any(one.kind is Act.WAIVER and is_signed_for(store, one.seq, one.at) for one in acts)


def _tries(count: int) -> str:
    return "1 attempt" if count == 1 else f"{count} attempts"


def _when(moment: dt.datetime) -> str:
    return f"{day_words(moment)}, {moment:%H:%M} UTC"

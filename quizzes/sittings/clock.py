"""What the times in a sitting's log say of the clock of the machine that kept it."""

import datetime as dt
from collections.abc import Sequence
from itertools import pairwise

from quizzes.records import Event, Records, Sitting

BACKWARD_S = (
    2.0  # s back from which it is remarked on: less is the clock being set by a time server
)


def clock_remarks(store: Records, sitting: Sitting, slots: Sequence[int]) -> list[str]:
    """Return where the clock went back during a sitting, a sentence each; none if it did not.

    Parameters
    ----------
    store : Records
        Where it is kept.
    sitting : Sitting
        Which.
    slots : sequence of int
        Of its log.

    Notes
    -----
    The order of the ledger is the order of what happened, whatever the clock says.
    """
    events = [event for slot in slots for event in store.events(sitting.id, slot)]
    return went_back(sitting.started_at, sorted(events, key=lambda event: event.position))


def went_back(started_at: dt.datetime, events: Sequence[Event]) -> list[str]:
    """Return where the times of events go back, a sentence each."""
    told = []
    moments = [(0, started_at), *((event.position, event.at) for event in events)]
    for (_, before), (position, after) in pairwise(moments):
        back_s = (before - after).total_seconds()
        if back_s >= BACKWARD_S:
            told.append(
                f"At entry {position} of the ledger the clock of the serving machine went back by "
                f"{_spoken(back_s)}: times before and after it cannot be compared."
            )
    return told


def _spoken(seconds: float) -> str:
    if seconds < 120:
        return f"{seconds:.0f} s"
    return f"{seconds / 60:.0f} min" if seconds < 7200 else f"{seconds / 3600:.0f} h"

"""A clock set back while somebody works is remarked on; the order of the ledger stands."""

import datetime as dt

import pytest

from quizzes.records import Event
from quizzes.sittings.clock import went_back

NOON = dt.datetime(2026, 11, 28, 12, tzinfo=dt.UTC)


def events(*seconds):
    return [
        Event("s", 0, step, step + 5, NOON + dt.timedelta(seconds=after), {}, {}, "")
        for step, after in enumerate(seconds)
    ]


@pytest.mark.parametrize(
    ("seconds", "said"),
    [
        ((1, 2, 3), []),
        ((1, 0.5, 3), []),  # a time server puts the clock right
        ((10, 3600, 20), ["entry 7", "60 min"]),
        ((-30, 5), ["entry 5", "30 s"]),  # before the sitting began
        ((100_000, 5), ["entry 6", "28 h"]),
    ],
)
def test_where_the_clock_went_back_is_said_with_how_far(seconds, said):
    """By place in the ledger; small steps are passed over."""
    told = went_back(NOON, events(*seconds))

    assert len(told) == bool(said)
    assert all(part in told[0] for part in said)

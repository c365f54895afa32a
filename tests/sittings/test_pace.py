"""How long a sitting has taken, in words that a person would use."""

import pytest

from quizzes.sittings.pace import Pace


@pytest.mark.parametrize(
    ("worked", "words"),
    [(0.2, "less than a minute so far"), (1.0, "1 minute so far"), (1.6, "2 minutes so far")],
)
def test_one_minute_is_no_minutes(worked, words):
    """English: one minute, two minutes."""
    assert words in Pace(1, 4, worked, 20.0).words
    assert "1 minutes" not in Pace(1, 4, worked, 1.0).words

"""What is kept: people, sittings, the log of every action, grades."""

from quizzes.records.errors import NoSuchSitting, RecordsError, StaleSitting
from quizzes.records.opening import create, default_url
from quizzes.records.rows import (
    PRACTICE,
    ChainCheck,
    Event,
    Judgement,
    Place,
    ResultRow,
    Sitting,
    Start,
)
from quizzes.records.writing import Records

__all__ = [
    "PRACTICE",
    "ChainCheck",
    "Event",
    "Judgement",
    "NoSuchSitting",
    "Place",
    "Records",
    "RecordsError",
    "ResultRow",
    "Sitting",
    "StaleSitting",
    "Start",
    "create",
    "default_url",
]

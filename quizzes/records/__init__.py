"""What is kept: people, sittings, the log of every action, grades."""

from quizzes.records.database.opening import create, default_url
from quizzes.records.errors import NoSuchSitting, RecordsError, StaleSitting
from quizzes.records.rows import (
    PRACTICE,
    Broken,
    ChainCheck,
    Event,
    Judgement,
    Person,
    Place,
    ResultRow,
    Sitting,
    Start,
    StoreCheck,
)
from quizzes.records.writing import Records

__all__ = [
    "PRACTICE",
    "Broken",
    "ChainCheck",
    "Event",
    "Judgement",
    "NoSuchSitting",
    "Person",
    "Place",
    "Records",
    "RecordsError",
    "ResultRow",
    "Sitting",
    "StaleSitting",
    "Start",
    "StoreCheck",
    "create",
    "default_url",
]

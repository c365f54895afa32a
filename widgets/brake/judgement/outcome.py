"""What a brake can need."""

from enum import StrEnum


class Outcome(StrEnum):
    """What a brake needs."""

    FIT = "fit"
    ADJUST = "adjust"
    REPLACE = "replace"
    REFER = "refer"

"""Which word a form may end with, and what a form needs that may end with "competent"."""

from collections.abc import Collection
from enum import StrEnum

# What a person must show at a brake, or nobody may call them competent: the critical elements.
CRITICAL_ELEMENTS = (
    "S1", "S2", "S3", "S5", "M2", "M3", "M4", "D1", "D2", "A2", "A3", "R2", "T1", "T2",
)  # fmt: skip
LEAST_BY_HAND = 6  # brakes worked by hand; fewer say little of a skill of the hand; our choice
COOLING_OFF_H = 24  # between two attempts at a form that may end so; our choice
LEAST_CASES = 24  # decisions; with fewer, half of them right by luck is not rare enough; our choice


class Ending(StrEnum):
    """How a form ends: in a word on competence, passed or not, or a count such as 4 of 5."""

    COMPETENT = "competent"
    PASSED = "passed"
    PRACTICE = "practice"

    def word(self, *, passed: bool) -> str:
        """Return the word that an outcome is kept and listed with."""
        good, not_good = _WORDS[self]
        return good if passed else not_good

    @property
    def said_before(self) -> str:
        """What is said of it before somebody begins."""
        return _BEFORE[self]


_WORDS = {
    Ending.COMPETENT: ("competent", "not yet competent"),
    Ending.PASSED: ("passed", "not passed"),
    Ending.PRACTICE: ("practised", "practised"),
}
_BEFORE = {
    Ending.COMPETENT: "Ends with “competent” or “not yet competent”, for an assessor to decide.",
    Ending.PASSED: "An exercise: ends with “passed” or “not passed”, never with “competent”.",
    Ending.PRACTICE: "For yourself: ends with a count, such as 4 of 5, and with what to practise.",
}
OUTCOMES = tuple(dict.fromkeys(word for pair in _WORDS.values() for word in pair))


def lacks(promised: Collection[str], by_hand: int, cases: int) -> str:
    """Return what a form lacks that is to end with "competent", in words; nothing if all is there.

    Parameters
    ----------
    promised : collection of str
        Elements that the form promises to show.
    by_hand, cases : int
        Cases worked by hand, and all cases.

    Examples
    --------
    >>> lacks(CRITICAL_ELEMENTS, 8, 32)
    ''
    >>> lacks(CRITICAL_ELEMENTS[1:], 8, 3)
    'the critical element S1; 24 cases or more, not 3'
    """
    missing = [name for name in CRITICAL_ELEMENTS if name not in promised]
    wanted = []
    if missing:
        many = "s" if len(missing) > 1 else ""
        wanted.append(f"the critical element{many} {', '.join(missing)}")
    if by_hand < LEAST_BY_HAND:
        wanted.append(f"{LEAST_BY_HAND} cases by hand or more, not {by_hand}")
    if cases < LEAST_CASES:
        wanted.append(f"{LEAST_CASES} cases or more, not {cases}")
    return "; ".join(wanted)

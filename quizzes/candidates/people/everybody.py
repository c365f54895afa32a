"""Everybody who sits a rehearsal besides the careful one.

Habits were found by going through every rule of grading and asking who would get past it; whether
one can end unsafe was counted by `ends`, from the true brake.
"""

from collections.abc import Mapping

from quizzes.candidates.habits import SLIPS

from .halves import HALVES
from .hands import HANDS
from .honest import HONEST as HONEST_FIRST
from .honest_too import HONEST_TOO
from .latecomers import LATECOMERS
from .mind import MIND, MIXED
from .newcomers import NEWCOMERS
from .outsiders import OUTSIDERS
from .strange_hands import STRANGE_HANDS
from .strange_mind import STRANGE_MIND
from .stranger import Stranger

__all__ = ["ALL_HABITS", "HONEST", "STRANGERS"]

HONEST: Mapping[str, Stranger] = {**HONEST_FIRST, **HONEST_TOO}
STRANGERS: Mapping[str, Stranger] = {
    **MIND, **HANDS, **MIXED, **OUTSIDERS, **STRANGE_MIND, **STRANGE_HANDS,
    **LATECOMERS, **NEWCOMERS, **HALVES,
}  # fmt: skip

_UNSAFE_SLIPS = frozenset(SLIPS) - {
    "equal-turns-on-a-tilted-gap", "step-taken-as-exact", "leaf-forced", "measured-through-dust",
    "good-disc-replaced",
}  # fmt: skip
# Every habit that is not the careful one's: the misunderstandings that grading names, and these.
ALL_HABITS: Mapping[str, Stranger] = {
    **{name: Stranger(changes, unsafe=name in _UNSAFE_SLIPS) for name, changes in SLIPS.items()},
    **STRANGERS,
}

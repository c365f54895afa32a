"""The coach: what to think about next, in three steps that tell more each time they are asked for.

It sees what the person sees: the work so far and their own notes. It does not know what is
wrong with the brake, so it cannot give it away.
"""

from .hints import open_points
from .work import Hint, Work

__all__ = ["Hint", "Work", "next_hint"]

_DONE = Hint(
    "Is there anything that you would not sign for?",
    "Read your notes once more, from the first line to the last.",
    "All steps of the job are done. Hand over when the record says what you did and found.",
)


def next_hint(work: Work) -> Hint:
    """Return the hint for where the job stands: the first thing that is still open."""
    return next(open_points(work), _DONE)

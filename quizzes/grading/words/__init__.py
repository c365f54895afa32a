"""Words of grading: the codes and facts of a grade become English here, when they are shown."""

from collections.abc import Iterable, Mapping
from typing import Any

from widgets.brake.judgement.remark import Kept, Remark, read
from widgets.brake.judgement.words import JUDGED

from .against import AGAINST
from .lines import LINES
from .misconceptions import SAYS
from .names import FAULT_KINDS, STANDINGS, TITLES
from .phrasing import Words
from .work import WORK

__all__ = [
    "FAULT_KINDS", "SAYS", "STANDINGS", "TITLES", "WORDS", "called", "sentence", "sentences",
]  # fmt: skip

WORDS: Mapping[str, Words] = {**JUDGED, **LINES, **WORK, **AGAINST}
_INSIDE = ("sign", "reason", "what", "why")  # facts that are remarks themselves


def sentence(kept: Kept) -> str:
    """Return a remark, or its JSON form, as English.

    Raises
    ------
    KeyError
        If there is no such code, or a fact is missing.
    """
    code, facts = read(kept)
    said: dict[str, Any] = dict(facts)
    for name in _INSIDE:
        if isinstance(said.get(name), (Remark, Mapping)):
            said[name] = sentence(said[name])
    if "lines" in said:
        said["lines"] = " ".join(sentences(said["lines"]))
    words = WORDS[code]
    return words.format(**said) if isinstance(words, str) else words(said)


def sentences(remarks: Iterable[Kept]) -> tuple[str, ...]:
    """Return remarks, or their JSON forms, as English."""
    return tuple(sentence(one) for one in remarks)


def called(name: str) -> str:
    """Return the name of a misunderstanding as it is said."""
    return _CALLED.get(name, name.replace("-", " "))


_CALLED = {"mean-disc-not-least": "mean disc, not least"}

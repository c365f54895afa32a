"""What a judgement says: a code and its facts. Rooms of words turn it into English when shown."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from typing import Any

DIGITS = 6  # of a kept number after the point: two machines differ by less


@dataclass(frozen=True, slots=True)
class Remark:
    """One thing said.

    Attributes
    ----------
    code : str
        What it is, in lower-case, with a dot after the subject.
    facts : tuple of (str, object)
        Numbers with their units in the names, identifiers, further remarks.
    """

    code: str
    facts: tuple[tuple[str, Any], ...] = ()

    def to_json(self) -> dict[str, Any]:
        """Return the remark as plain JSON, as it is kept."""
        return {"code": self.code, "facts": {name: _json(value) for name, value in self.facts}}

    def walk(self) -> Iterator["Remark"]:
        """Yield the remark and those inside it."""
        yield self
        for _, value in self.facts:
            for one in value if isinstance(value, tuple) else (value,):
                if isinstance(one, Remark):
                    yield from one.walk()


_PLAIN_JSON = frozenset({str, float, int, bool, type(None)})
_AS_IT_IS = _PLAIN_JSON - {float} | {Remark}


def remark(code: str, /, **facts: object) -> Remark:
    """Return a remark of a code with its facts; lists become tuples, numbers are rounded."""
    return Remark(code, tuple((name, _plain(value)) for name, value in facts.items()))


def _plain(value: object) -> object:
    if value.__class__ in _AS_IT_IS:
        return value
    if isinstance(value, (list, tuple)):
        return tuple(_plain(one) for one in value)
    if isinstance(value, Enum):
        return value.value
    return round(value, DIGITS) if isinstance(value, float) else value


def _json(value: Any) -> Any:  # noqa: ANN401 (plain JSON)
    if value.__class__ in _PLAIN_JSON:
        return value
    if isinstance(value, tuple):
        return [_json(one) for one in value]
    return value.to_json() if isinstance(value, Remark) else value


Kept = Remark | Mapping[str, Any]


def read(kept: Kept) -> tuple[str, Mapping[str, Any]]:
    """Return code and facts of a remark, or of its JSON form."""
    if isinstance(kept, Remark):
        return kept.code, dict(kept.facts)
    return kept["code"], kept["facts"]

"""Noise that is the same years later, on any machine: each draw is a hash of a key and its labels.

A sitting is replayed from its log long after the libraries have moved on, so
the dice may not move either. NumPy promises no such thing for `Generator`: its
streams may change between versions (NEP 19). A keyed BLAKE2b hash (RFC 7693)
cannot, and a draw needs no state: it depends on its labels alone, so an action
left out of a replay does not shift the draws that follow.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from hashlib import blake2b
from statistics import NormalDist
from typing import TypeVar

LEAST_KEY_BYTES = 16  # 128 bits, so that a key cannot be guessed
MOST_KEY_BYTES = 64  # the longest key of BLAKE2b, RFC 7693 section 2.1

_Option = TypeVar("_Option")
_STANDARD = NormalDist()
_NORMAL_GRID = 1 << 20  # steps per standard deviation, see `Draws.normal`


@dataclass(frozen=True, slots=True)
class Draws:
    """Dice under one key; the key is kept out of `repr`, for it tells every draw.

    Attributes
    ----------
    key : bytes
        16 to 64 bytes, fresh for each sitting.

    Notes
    -----
    Labels are text or whole numbers; `draws.normal("hand", 3)` is always the
    same number, and unrelated to the draw of any other labels or other kind.

    Source: Aumasson & Saarinen, RFC 7693, *The BLAKE2 Cryptographic Hash and
    MAC*, keyed mode; NumPy Enhancement Proposal 19 on stream stability.
    """

    key: bytes = field(repr=False)

    def __post_init__(self) -> None:
        if not isinstance(self.key, bytes):
            raise ValueError(f"key must be bytes, got {type(self.key).__name__}")  # noqa: TRY004 -- the house refuses with ValueError
        if not LEAST_KEY_BYTES <= len(self.key) <= MOST_KEY_BYTES:
            raise ValueError(
                f"key must be {LEAST_KEY_BYTES} to {MOST_KEY_BYTES} bytes, got {len(self.key)}"
            )

    def uniform(self, *labels: str | int) -> float:
        """Return an even draw from 0 to just under 1, dimensionless, on a grid of 2**-53."""
        return (_bits(b"u", self.key, labels) >> 11) * 2.0**-53

    def normal(self, *labels: str | int) -> float:
        """Return a draw with mean 0 and standard deviation 1, dimensionless.

        Notes
        -----
        The inverse distribution function of an odd multiple of 2**-53, which
        is never 0 nor 1. The tails take a logarithm, whose last bit may differ
        between machines, hence the result is rounded to 2**-20: a last bit
        can then change a draw less than once in 10**8.
        """
        return _normal(self.key, *labels)

    def choice(self, options: Sequence[_Option], *labels: str | int) -> _Option:
        """Return one of `options`, each as likely as the others.

        Raises
        ------
        ValueError
            If there is nothing to choose from.
        """
        if len(options) == 0:
            raise ValueError("options must hold at least one to choose from, got none")
        return options[_bits(b"p", self.key, labels) * len(options) >> 64]

    def shuffled(self, items: Sequence[_Option], label: str = "order") -> tuple[_Option, ...]:
        """Return the items in an order that the dice say."""
        order = sorted(range(len(items)), key=lambda place: self.uniform(label, place))
        return tuple(items[place] for place in order)

    def child(self, *labels: str | int) -> "Draws":
        """Return dice of their own for one part of the case, as `draws.child("leaves")`."""
        return Draws(blake2b(_encoded(b"c", *labels), key=self.key, digest_size=32).digest())


def _bits(kind: bytes, key: bytes, labels: tuple[str | int, ...]) -> int:
    """Return 64 bits, as a whole number."""
    keyed = _keyed(key).copy()
    keyed.update(_encoded(kind, *labels))
    return int.from_bytes(keyed.digest(), "big")


# The key is hashed before the labels: once for all draws of the same dice.
@lru_cache(maxsize=256)
def _keyed(key: bytes) -> blake2b:
    return blake2b(key=key, digest_size=8)


# The same hand feels many leaves at one visit, and is asked for its error at each.
@lru_cache(maxsize=1 << 9, typed=True)
def _normal(key: bytes, *labels: str | int) -> float:
    odd = (_bits(b"n", key, labels) >> 12) * 2 + 1
    return round(_STANDARD.inv_cdf(odd * 2.0**-53) * _NORMAL_GRID) / _NORMAL_GRID


_SMALL = tuple(b"i%d;" % number for number in range(256))


@lru_cache(maxsize=256)
def _word(label: str) -> bytes:
    text = label.encode()
    return b"s%d:%b" % (len(text), text)


# Kept by type as well: True must be refused where 1 has been taken.
@lru_cache(maxsize=1 << 11, typed=True)
def _encoded(kind: bytes, *labels: str | int) -> bytes:
    """Return the labels as bytes; each says its type and length, so no two lists look alike."""
    parts = [kind]
    for label in labels:
        if type(label) is int:
            parts.append(_SMALL[label] if 0 <= label < len(_SMALL) else b"i%d;" % label)
        elif type(label) is str:
            parts.append(_word(label))
        else:
            raise ValueError(f"label must be a str or an int, got {label!r:.60}")
    return b"".join(parts)

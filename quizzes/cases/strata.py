"""How near to its limit a case lies: bands of distance, in uncertainties of a competent reading."""

from dataclasses import dataclass, replace
from functools import lru_cache

from widgets.brake.draws import Draws
from widgets.brake.ranges import in_range

BINS = 8  # parts of a band that count as different cases; a choice of this scheme
# A band may be used as often as this before its parts grow too narrow to be told apart.
MOST_PARTS = 8
# Uncertainties that a band must span to be halved: a reading has steps of more than one of them.
LEAST_WIDE = 2.0


@dataclass(frozen=True, slots=True)
class Stratum:
    """A band of d = (limit - value) / u, dimensionless; negative is beyond the limit.

    `share` is how many of 15 near cases lie in it.
    """

    low: float
    high: float
    share: int


# Bands and shares: a choice of the scheme (no source); the two ends are closed by us at 9.
STRATA = (
    Stratum(-9.0, -3.0, 2),
    Stratum(-3.0, -1.0, 3),
    Stratum(-1.0, 1.2, 4),
    Stratum(1.2, 2.2, 3),
    Stratum(2.2, 4.0, 2),
    Stratum(4.0, 9.0, 1),
)


@dataclass(frozen=True, slots=True)
class Part:
    """One of `of` equal parts of a range, counted from 0: where a dose or distance is drawn."""

    number: int = 0
    of: int = 1

    def __post_init__(self) -> None:
        in_range("part of", self.of, "", low=1, high=MOST_PARTS)
        in_range("part number", self.number, "", low=0, below=self.of)

    def share(self, draws: Draws, label: str) -> float:
        """Return an even draw within this part of 0 to 1."""
        return (self.number + draws.uniform(label)) / self.of


WHOLE = Part()


def half_of(band: Stratum, part: Part) -> Stratum:
    """Return the half of a wide band that one of its parts lies in; else the band itself.

    Examples
    --------
    >>> half_of(STRATA[2], Part(3, 4)).low
    0.1
    """
    if part.of == 1 or band.high - band.low < LEAST_WIDE:
        return band
    middle = round((band.low + band.high) / 2, 6)
    upper = 2 * part.number + 1 > part.of
    return replace(band, low=middle) if upper else replace(band, high=middle)


@lru_cache(maxsize=128)
def quotas(count: int) -> tuple[int, ...]:
    """Return how many of `count` near cases lie in each band: by share, largest remainder first."""
    total = sum(one.share for one in STRATA)
    exact = [count * one.share / total for one in STRATA]
    dealt = [int(share) for share in exact]
    by_rest = sorted(range(len(STRATA)), key=lambda at: (dealt[at] - exact[at], abs(at - 2.5)))
    for at in by_rest[: count - sum(dealt)]:
        dealt[at] += 1
    return tuple(dealt)


def bin_of(share: float) -> int:
    """Return which of `BINS` equal bins a share of 0 to 1 falls into, from 0."""
    return min(BINS - 1, int(BINS * share))


def draw_stratum(draws: Draws) -> int:
    """Return a band by its share of 15."""
    places = [number for number, one in enumerate(STRATA) for _ in range(one.share)]
    return draws.choice(places, "stratum")


def stratum_of(distance: float) -> int | None:
    """Return the band that a distance (dimensionless) falls into, or None outside all of them."""
    for number, one in enumerate(STRATA):
        if one.low <= distance < one.high:
            return number
    return None

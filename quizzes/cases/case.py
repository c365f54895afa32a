"""A case: a brake with a hidden condition, a work order, and the seed it was drawn from."""

import hashlib
import hmac
from dataclasses import dataclass, field
from enum import StrEnum

from widgets.bench.setup import Order, Setup
from widgets.brake.condition import Condition
from widgets.brake.sizes.size import BrakeSize

EDITION = "1"  # edition of the case families; a change in what a seed draws raises it

WHOLE_ORDER = Order()


class Depth(StrEnum):
    """How much of the job a case asks for: decide from notes, measure and decide, or all of it."""

    READING = "reading"
    BENCH = "bench"
    WORK_ORDER = "work order"


@dataclass(frozen=True, slots=True)
class Case:
    """One brake to be judged. Everything but `work_order` and `order` is hidden from the candidate.

    Attributes
    ----------
    family, faults
        What kind of case; the faults of the catalogue that lie on the brake.
    stratum : int or None
        Which band of distance to a limit, a place in `strata.STRATA`; None where no limit is near.
    dose_bin : int
        Which part of its family's range was drawn, from 0.
    order : Order
        Where the job begins and what comes with it: duty, a colleague's notes.
    """

    family: str
    size: BrakeSize
    condition: Condition = field(repr=False)
    seed: bytes = field(repr=False)
    work_order: str
    order: Order = WHOLE_ORDER
    depth: Depth = Depth.WORK_ORDER
    faults: tuple[str, ...] = field(default=(), repr=False)
    stratum: int | None = field(default=None, repr=False)
    dose_bin: int = field(default=0, repr=False)

    def setup(self) -> Setup:
        """Return the brake on its bench."""
        return Setup.of(self.size, self.condition, self.seed, self.order)

    @property
    def fingerprint(self) -> str:
        """What makes two cases the same to somebody who has had one: family, size, distance."""
        near = "-" if self.stratum is None else self.stratum
        return f"{self.family}|{self.size.name}|{near}|{self.dose_bin}"


def case_seed(key: bytes, form: str, slot: int) -> bytes:
    """Return the 256-bit seed of one case of one sitting.

    Parameters
    ----------
    key : bytes
        The sitting's own key, 16 bytes or more, never shown.
    form : str
        Identity and edition of the form.
    slot : int
        Place of the case in the form, from 0.

    Raises
    ------
    ValueError
        If the key is shorter than 16 bytes.

    Notes
    -----
    HMAC-SHA-256 (FIPS 198-1): without the key a seed can neither be guessed
    nor told from another sitting's.
    """
    if len(key) < 16:
        raise ValueError(f"key must be 16 bytes or more, got {len(key)}")
    message = f"gap-and-lining case {EDITION}\n{form}\n{slot}".encode()
    return hmac.new(key, message, hashlib.sha256).digest()

"""A case: a brake with a hidden condition, a work order, and the seed it was drawn from."""

import hashlib
import hmac
from dataclasses import dataclass, field

from widgets.bench.setup import Setup
from widgets.brake.condition import Condition
from widgets.brake.size import BrakeSize

EDITION = "1"  # edition of the case families; a change in what a seed draws raises it


@dataclass(frozen=True, slots=True)
class Case:
    """One brake to be judged. Everything but `work_order` is hidden from the candidate."""

    family: str
    size: BrakeSize
    condition: Condition = field(repr=False)
    seed: bytes = field(repr=False)
    work_order: str

    def setup(self) -> Setup:
        """Return the brake on its bench."""
        return Setup.of(self.size, self.condition, self.seed)


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

"""What the instruments of a job are off by: bent leaves, a caliper's zero, a torque wrench."""

from dataclasses import dataclass

from .ranges import in_range

BENT_FROM_MM = 0.2  # mm, thinner leaves spring back when they were bent; invented


@dataclass(frozen=True, slots=True)
class Tools:
    """The instruments as they lie there; in order, unless something is said.

    Attributes
    ----------
    leaf_kink_mm : float
        Room that the bend in each leaf from `BENT_FROM_MM` on takes up, mm: readings are too low.
    caliper_zero_mm : float
        What the caliper shows with its jaws closed, mm: readings are too high by that.
    wrench_share : float
        Torque at which the wrench clicks over the one that it is set to, dimensionless.
    """

    leaf_kink_mm: float = 0.0
    caliper_zero_mm: float = 0.0
    wrench_share: float = 1.0

    def __post_init__(self) -> None:
        in_range("leaf_kink_mm", self.leaf_kink_mm, "mm", low=0, high=0.5)
        in_range("caliper_zero_mm", self.caliper_zero_mm, "mm", low=-1, high=1)
        in_range("wrench_share", self.wrench_share, "", low=0.3, high=1.6)


IN_ORDER = Tools()

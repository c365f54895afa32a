"""Every order of work by its name."""

from collections.abc import Mapping

from .beside import EACH_BRAKE, WET_BRAKE
from .getting_in import MAKING_SAFE, OPENING, TAKING_APART
from .getting_out import (
    CLOSING,
    FITTING,
    FITTING_FIXED,
    FITTING_RING,
    FITTING_SHIMS,
    GIVING_BACK,
    LOAD_TEST,
    PROVING,
    WILL_NOT_RELEASE,
)
from .order_of_work import OrderOfWork
from .setting import (
    ADJUSTING,
    ADJUSTING_RING,
    ADJUSTING_SHIMS,
    COIL,
    LOCKING,
    NOT_ADJUSTABLE,
    ROUND_AGAIN,
    TURNING_THE_SHAFT,
)

ORDERS: Mapping[str, OrderOfWork] = {
    one.name: one
    for one in (
        MAKING_SAFE, OPENING, ADJUSTING, LOCKING, ROUND_AGAIN, TURNING_THE_SHAFT, COIL,
        ADJUSTING_SHIMS, ADJUSTING_RING, NOT_ADJUSTABLE, FITTING_SHIMS, FITTING_RING, FITTING_FIXED,
        TAKING_APART, FITTING, CLOSING, GIVING_BACK, PROVING, LOAD_TEST, WILL_NOT_RELEASE,
        EACH_BRAKE, WET_BRAKE,
    )
}  # fmt: skip

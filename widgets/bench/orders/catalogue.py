"""Every order of work by its name."""

from collections.abc import Mapping

from .getting_in import MAKING_SAFE, OPENING, TAKING_APART
from .getting_out import CLOSING, FITTING, GIVING_BACK, LOAD_TEST, PROVING, WILL_NOT_RELEASE
from .order_of_work import OrderOfWork
from .setting import ADJUSTING, COIL, LOCKING, ROUND_AGAIN, TURNING_THE_SHAFT

ORDERS: Mapping[str, OrderOfWork] = {
    one.name: one
    for one in (
        MAKING_SAFE, OPENING, ADJUSTING, LOCKING, ROUND_AGAIN, TURNING_THE_SHAFT, COIL,
        TAKING_APART, FITTING, CLOSING, GIVING_BACK, PROVING, LOAD_TEST, WILL_NOT_RELEASE,
    )
}  # fmt: skip

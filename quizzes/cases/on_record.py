"""What the last record of a hoist is worth once the plate of its brake has been read."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from widgets.bench.setup import Order


def record_fits(order: Order, plate: Mapping[str, Any]) -> bool:
    """Return whether the record can be of the brake whose plate says so; True without a record.

    `plate` holds what was read: `torque_nm`, and `built` where a year stands on it.
    """
    record = order.record
    return record is None or record.fits(plate["torque_nm"], int(plate.get("built", 0)))


def believed(order: Order, plate: Mapping[str, Any]) -> Order:
    """Return the order as far as its record can be believed: none of another brake's growth."""
    if record_fits(order, plate):
        return order
    return replace(order, grows_mm_per_month=None, recorded=False)

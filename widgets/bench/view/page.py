"""The bench as one page: drawing left, work right, answers at the foot."""

import secrets

from ipywidgets import VBox

from .bench_panel import Table
from .parts import Answer, EndView, Limits, Notes, Part, Report, Tray, WorkOrder

_PARTS: tuple[type[Part], ...] = (WorkOrder, EndView, Tray, Limits, Notes, Report, Answer)


def bench_page(table: Table) -> VBox:
    """Return the whole bench, for a notebook to show.

    Parameters
    ----------
    table : Table
        Session, limits sheet and work order; stays in the kernel.
    """
    key = secrets.token_hex(4)  # tells two benches on one page apart; says nothing of the brake
    order, view, tray, limits, notes, report, answer = (
        kind(table, table_key=key) for kind in _PARTS
    )
    desk = VBox([notes, report]).add_class("gal-desk")
    return VBox([order, view, tray, limits, desk, answer]).add_class("gal-page")

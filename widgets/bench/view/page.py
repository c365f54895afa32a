"""The bench as one page: drawing left, work right, answer below; or notes to decide from."""

import secrets

from ipywidgets import VBox

from widgets.bench.setup import Start

from .bench_panel import Table
from .parts import (
    Answer,
    EndView,
    Limits,
    Notes,
    Part,
    Report,
    Tray,
    WorkOrder,
    part_style,
)

_PARTS: tuple[type[Part], ...] = (WorkOrder, EndView, Tray, Limits, Notes, Report, Answer)


class GivenNotes(Notes):
    """A colleague's notes, to be read and not written in."""

    _css = part_style("panels/notes", "panels/reading")


_READING: tuple[type[Part], ...] = (WorkOrder, GivenNotes, Report, Limits, Answer)


def bench_page(table: Table) -> VBox:
    """Return the whole bench, for a notebook to show.

    A job that begins and ends with a colleague's notes gets those and the
    limits sheet, with the decision beside them: no brake, no tools, no tray.

    Parameters
    ----------
    table : Table
        Session, limits sheet and work order; stays in the kernel.
    """
    key = secrets.token_hex(4)  # tells two benches on one page apart; says nothing of the brake
    if table.session.setup.order.start is Start.NOTES:
        order, given, report, limits, answer = (kind(table, table_key=key) for kind in _READING)
        to_read = VBox([given, limits]).add_class("gal-given")
        desk = VBox([to_read, report]).add_class("gal-desk")
        return VBox([order, desk, answer]).add_class("gal-page").add_class("gal-reading")
    order, view, tray, limits, notes, report, answer = (
        kind(table, table_key=key) for kind in _PARTS
    )
    desk = VBox([notes, report]).add_class("gal-desk")
    return VBox([order, view, tray, limits, desk, answer]).add_class("gal-page")

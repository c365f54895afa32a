"""The bench as one page: drawing left, work right, answer below; or notes to decide from."""

import secrets

from ipywidgets import VBox, Widget

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


def bench_page(table: Table, *beside: Widget) -> VBox:
    """Return the whole bench, for a notebook to show; `beside` stands at the answer line.

    A job that begins and ends with a colleague's notes gets those and the
    limits sheet, with the decision beside them: no brake, no tools, no tray.

    Parameters
    ----------
    table : Table
        Session, limits sheet and work order; stays in the kernel.
    *beside : Widget
        What is beside the answer line, in sight as it is: the coach.
    """
    key = secrets.token_hex(4)  # tells two benches on one page apart; says nothing of the brake
    if table.session.setup.order.start is Start.NOTES:
        order, given, report, limits, answer = (kind(table, table_key=key) for kind in _READING)
        to_read = VBox([given, limits]).add_class("gal-given")
        desk = VBox([to_read, report]).add_class("gal-desk")
        return (
            VBox([order, desk, _dock(answer, *beside)])
            .add_class("gal-page")
            .add_class("gal-reading")
        )
    order, view, tray, limits, notes, report, answer = (
        kind(table, table_key=key) for kind in _PARTS
    )
    desk = VBox([notes, report]).add_class("gal-desk")
    parts = [order, view, tray, limits, desk, _dock(answer, *beside)]
    return VBox(parts).add_class("gal-page")


def stage_parts(table: Table) -> tuple[Widget, Widget, Widget]:
    """Return the bench in three: the brake with what is in the hand, the answer line, the rest."""
    key = secrets.token_hex(4)
    order, view, tray, limits, notes, report, answer = (
        kind(table, table_key=key) for kind in _PARTS
    )
    desk = VBox([notes, report]).add_class("gal-desk")
    return view, answer, VBox([order, tray, limits, desk])


def _dock(*parts: Widget) -> VBox:
    """Return what stays in sight at the foot of the window."""
    return VBox(list(parts)).add_class("gal-dock")

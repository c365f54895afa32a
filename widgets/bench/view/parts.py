"""The parts of the bench on the page, one class a part; what they draw is in their modules."""

from pathlib import Path

from traitlets import Unicode

from widgets.page.joining import joined_file
from widgets.page.style import joined_style

from .bench_panel import BenchPanel

_HERE = Path(__file__).parent
_PANELS = _HERE / "panels"


def _module(name: str) -> str:
    return joined_file(_PANELS / f"{name}.js")


def part_style(*names: str) -> str:
    """Return the shared style and those of parts, named by room and file without `.css`."""
    return joined_style(*(_HERE / f"{name}.css" for name in names))


class Part(BenchPanel):
    """A part that knows to which bench on the page it belongs, and nothing else."""

    table_key = Unicode().tag(sync=True)


class WorkOrder(Part):
    """What was asked, how long the work has taken, what is done."""

    _esm = _module("work_order")
    _css = part_style("panels/work_order")


class EndView(Part):
    """The brake from the side and from the end, with what is in the hand."""

    _esm = _module("end_view")
    _css = part_style(
        "drawing/lines",
        "panels/end_view",
        "drawing/section",
        "tools/jobs",
        "tools/hand",
        "tools/fitting",
        "tools/caliper",
        "tools/meter",
        "sights/look",
        "drawing/sign_pictures",
        "sights/sights",
    )


class Tray(Part):
    """The parts taken off, in order, and the store."""

    _esm = _module("tray")
    _css = part_style("panels/tray", "tools/fitting")


class Notes(Part):
    """The notes sheet."""

    _esm = _module("notes")
    _css = part_style("panels/notes")


class Limits(Part):
    """The limits sheet and the row that the person chose."""

    _esm = _module("limits")
    _css = part_style("panels/limits")


class Report(Part):
    """Decision and hand-over."""

    _esm = _module("report")
    _css = part_style("panels/report")


class Answer(Part):
    """What was last seen, felt or heard."""

    _esm = _module("answer")
    _css = part_style("panels/answer")

"""The parts of the bench on the page, one class a part; what they draw is in their modules."""

from pathlib import Path

from traitlets import Unicode

from .bench_panel import BenchPanel
from .joining import joined_file

_HERE = Path(__file__).parent


def joined_module(name: str) -> str:
    """Return the ES module of a part with what it imports before it, as one text.

    Parameters
    ----------
    name : str
        The module's file beside this one, without `.js`.

    Raises
    ------
    FileNotFoundError
        If there is no such module.
    """
    return joined_file(_HERE / f"{name}.js")


def shared_style() -> str:
    """Return the style that all parts share: tokens with fallbacks, text, keys, fields."""
    return (_HERE / "bench.css").read_text(encoding="utf-8")


def part_style(name: str) -> str:
    """Return the style of one part's own file."""
    return (_HERE / f"{name}.css").read_text(encoding="utf-8")


def joined_style(name: str) -> str:
    """Return a part's style with the style that all parts share before it."""
    return shared_style() + "\n" + part_style(name)


class Part(BenchPanel):
    """A part that knows to which bench on the page it belongs, and nothing else."""

    table_key = Unicode().tag(sync=True)


class WorkOrder(Part):
    """What was asked, how long the work has taken, what is done."""

    _esm = joined_module("work_order")
    _css = joined_style("work_order")


class EndView(Part):
    """The brake from the side and from the end, with what is in the hand."""

    _esm = joined_module("end_view")
    _css = "\n".join(
        [
            joined_style("end_view"),
            *map(part_style, ("section", "jobs", "fitting", "caliper", "meter", "look")),
        ]
    )


class Tray(Part):
    """The parts taken off, in order, and the store."""

    _esm = joined_module("tray")
    _css = joined_style("tray") + "\n" + part_style("fitting")


class Notes(Part):
    """The notes sheet."""

    _esm = joined_module("notes")
    _css = joined_style("notes")


class Limits(Part):
    """The limits sheet and the row that the person chose."""

    _esm = joined_module("limits")
    _css = joined_style("limits")


class Report(Part):
    """Decision and hand-over."""

    _esm = joined_module("report")
    _css = joined_style("report")


class Answer(Part):
    """What was last seen, felt or heard."""

    _esm = joined_module("answer")
    _css = joined_style("answer")

"""What all explorers share: sliders and choices, the facts that follow, and one figure."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from widgets.brake.ranges import in_range
from widgets.charts.picture import Picture
from widgets.page.panel import Panel
from widgets.page.style import joined_style

_HERE = Path(__file__).parent
Chosen = Mapping[str, Any]  # a value for each control by its name


@dataclass(frozen=True, slots=True)
class Slider:
    """A number to move, with its unit; `start` is where it stands when the page opens."""

    name: str
    label: str
    unit: str
    low: float
    high: float
    step: float
    start: float
    decimals: int = 2

    def __post_init__(self) -> None:
        in_range(f"step of '{self.label}'", self.step, self.unit, above=0)
        in_range(f"high of '{self.label}'", self.high, self.unit, above=self.low)
        in_range(f"start of '{self.label}'", self.start, self.unit, low=self.low, high=self.high)

    def taken(self, value: object) -> float | None:
        """Return a value that the page sent, or nothing if it cannot come from this slider."""
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            return None
        # A comparison that NaN fails as well: only a value on the slider counts.
        return float(value) if self.low <= value <= self.high else None

    def drawn(self) -> dict[str, Any]:
        """Return what the page needs to draw it."""
        return {
            "kind": "slider",
            "name": self.name,
            "label": self.label,
            "unit": self.unit,
            "range": [self.low, self.high, self.step],
            "decimals": self.decimals,
        }


@dataclass(frozen=True, slots=True)
class Choice:
    """One of a few words to pick: value and what it says, the first is where it starts."""

    name: str
    label: str
    options: tuple[tuple[str, str], ...]

    def __post_init__(self) -> None:
        if len(self.options) < 2:
            raise ValueError(f"options of '{self.label}' must be two or more")

    @property
    def start(self) -> str:
        """The value it starts with."""
        return self.options[0][0]

    def taken(self, value: object) -> str | None:
        """Return a value that the page sent, or nothing if it is none of the options."""
        known = isinstance(value, str) and value in dict(self.options)
        return str(value) if known else None

    def drawn(self) -> dict[str, Any]:
        """Return what the page needs to draw it."""
        options = [list(option) for option in self.options]
        return {"kind": "choice", "name": self.name, "label": self.label, "options": options}


Control = Slider | Choice


@dataclass(frozen=True, slots=True)
class Fact:
    """One number that follows: its name, the value with its unit, what it means; danger or not."""

    name: str
    value: str
    note: str = ""
    danger: bool = False


class Explorer(Panel):
    """Controls, and two pure functions of their values: the facts, and the figure.

    Parameters
    ----------
    controls : sequence of Slider or Choice
        In the order in which they are drawn.
    facts : callable
        From the chosen values to the facts; asked at every move.
    figure : callable
        From the chosen values to the picture; asked when a slider comes to rest.
    """

    _esm = (_HERE / "explorer.js").read_text(encoding="utf-8")
    _css = joined_style(_HERE / "explorer.css")

    def __init__(
        self,
        controls: Sequence[Control],
        facts: Callable[[Chosen], Sequence[Fact]],
        figure: Callable[[Chosen], Picture],
    ) -> None:
        self._controls, self._facts, self._figure = tuple(controls), facts, figure
        super().__init__()

    def heard(self, content: Mapping[str, Any]) -> None:
        """Answer a move, or a page that was just opened; anything else gets an empty answer.

        A page that was just opened gets no figure yet: its sliders answer first.
        """
        if content.get("ask") == "everything":
            start = {control.name: control.start for control in self._controls}
            drawn = [control.drawn() for control in self._controls]
            self._tell(start, {"controls": drawn}, with_figure=False)
            return
        chosen = self.chosen(content.get("set"))
        if chosen is None:
            self.send({})
            return
        self._tell(chosen, {}, with_figure=content.get("final") is True)

    def chosen(self, sent: object) -> dict[str, Any] | None:
        """Return a value for each control, or nothing if one is missing or cannot be."""
        if not isinstance(sent, Mapping):
            return None
        found = {control.name: control.taken(sent.get(control.name)) for control in self._controls}
        return None if None in found.values() else found

    def _tell(self, chosen: Chosen, more: Mapping[str, Any], *, with_figure: bool) -> None:
        """Send the facts, and then the figure: the first one waits for a library to be loaded."""
        facts = [[fact.name, fact.value, fact.note, fact.danger] for fact in self._facts(chosen)]
        self.send({"values": dict(chosen), "facts": facts, "more": with_figure, **more})
        if with_figure:
            drawn = self._figure(chosen)
            self.send({"figure": {"url": drawn.data_url, "alt": drawn.alt}})


def milliseconds(time_ms: float) -> str:
    """Return a time with its unit, or `never` if it is infinite."""
    return f"{time_ms:.0f} ms" if math.isfinite(time_ms) else "never"

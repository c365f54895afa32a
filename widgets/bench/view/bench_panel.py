"""A panel that belongs to a session: it passes wishes on and is shown every new scene."""

import weakref
from collections.abc import Mapping
from typing import Any

from widgets.bench.observed import Observation
from widgets.bench.scene import fixed_scene, scene
from widgets.bench.session import Session
from widgets.bench.words import reply
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.page.panel import Panel


class Table:
    """What all panels of one bench share: the session, the limits sheet, the work order.

    Not a widget and never synced: the brake is in here.
    """

    def __init__(self, session: Session, sheet: LimitsSheet, work_order: str) -> None:
        self.session = session
        self.sheet = sheet
        self.work_order = work_order
        self.follows = False  # whether the page takes up the tool of each action: on the stage
        self._panels: weakref.WeakSet[BenchPanel] = weakref.WeakSet()
        self._voice: weakref.ref[BenchPanel] | None = None
        session.listen(self._show)

    def seat(self, panel: "BenchPanel") -> None:
        """Show every new scene to a panel, too."""
        self._panels.add(panel)

    def speak_through(self, panel: "BenchPanel") -> None:
        """Tell what is new through a panel that is on a page for certain: it was just heard."""
        self._voice = weakref.ref(panel)

    def everything(self) -> dict[str, Any]:
        """Return what a page that has just opened needs."""
        setup, state = self.session.setup, self.session.state
        last = self.session.events[-1].observation if self.session.events else None
        return {
            "fixed": fixed_scene(setup, self.sheet, self.work_order),
            "scene": scene(setup, state),
            "reply": reply(last) if last else None,
        } | self._act()

    def refuse(self, told: dict[str, Any]) -> None:
        """Tell the page, once, that nothing was done and why: the scene stands as it was."""
        self._tell({"reply": told})

    def _show(self, session: Session, observation: Observation) -> None:
        told = {"scene": scene(session.setup, session.state), "reply": reply(observation)}
        self._tell(told | self._act())

    def _act(self) -> dict[str, Any]:
        """Return what was done last, for a page that follows it with the tool."""
        events = self.session.events
        return {"act": events[-1].action} if self.follows and events else {}

    def _tell(self, message: dict[str, Any]) -> None:
        voice = self._voice() if self._voice else None
        # One message for all parts of the page, which pass it on: each costs a millisecond or two.
        for panel in [voice] if voice else list(self._panels):
            panel.send(message)


class BenchPanel(Panel):
    """One part of the bench on the page.

    The page sends `{"ask": "everything"}` once it is drawn and `{"wish": action}`
    when the person does something. It gets `{"fixed", "scene", "reply"}` for the
    first. The panel that was heard last gets `{"scene", "reply"}` when an action was
    carried out, and one `{"reply"}` when it was refused; on the page it tells the others.
    """

    def __init__(self, table: Table, **kwargs: Any) -> None:  # noqa: ANN401 (traits of any kind)
        self._table = table
        super().__init__(**kwargs)
        table.seat(self)

    def heard(self, content: Mapping[str, Any]) -> None:
        """Answer a question or carry out a wish."""
        self._table.speak_through(self)
        if content.get("ask") == "everything":
            self.send(self._table.everything())
            return
        observation = self._table.session.wish(content.get("wish"))
        if not observation.done:
            self._table.refuse(reply(observation))

    def refuse(self, words: str) -> None:
        """Say on the page that nothing was done."""
        self._table.speak_through(self)
        self._table.refuse({"done": False, "words": words, "seen": {}, "alarm": ""})

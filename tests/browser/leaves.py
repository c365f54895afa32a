"""The part of a virtual candidate's hands that finds controls, and the part that holds feeler leaves."""

import re
from collections.abc import Sequence
from typing import Any

from playwright.sync_api import Locator, Page

from widgets.instruments.feeler.leaves import COMMON_LEAVES_MM, THIN_LEAVES_MM

from .ways import Keys, Way

KEY_DEG = 15  # of the leaf along the rim, one arrow key
LEAF_STEP_MM = 0.05  # from one common leaf to the next, one key
FINE_STEP_MM = 0.02  # from one stack to the next, one key with Shift
_COMMON_UM = [round(1000 * mm) for mm in COMMON_LEAVES_MM]
_THIN_UM = {round(1000 * mm) for mm in THIN_LEAVES_MM}
# Whether the keys of the leaf are heard: the focus is on its mark or in its panel.
_AT_THE_LEAF = """(bench) => {
  const at = document.activeElement;
  if (at.matches("input:not([type=radio]):not([type=checkbox]), select")) return false;
  return at.getAttribute("aria-label") === "Leaf at the rim" || Boolean(at.closest(".tool")?.querySelector(".next"));
}"""


def _common_first(leaves_mm: Sequence[float]) -> Sequence[float]:
    """Return the stack, or one as thick whose first leaf is a common one: thin ones are only added."""
    if round(1000 * leaves_mm[0]) in _COMMON_UM:
        return leaves_mm
    want_um = round(1000 * sum(leaves_mm))
    for first_um in _COMMON_UM:
        if want_um - first_um in _THIN_UM - {first_um}:
            return first_um / 1000, (want_um - first_um) / 1000
    raise AssertionError(f"no common leaf goes into {leaves_mm}")


class Controls:
    """Finds the controls of one bench and works them in one way."""

    def __init__(self, at: Locator, way: Way) -> None:
        self.at, self.way = at, way
        self.tool = self.stage = ""

    def _press(self, within: Page | Locator, name: str | re.Pattern[str]) -> None:
        self.way.press(within.get_by_role("button", name=name, exact=True))

    def _group(self, name: str) -> Locator:
        return self.at.get_by_role("group", name=name, exact=True)

    def _choose(self, group: str, name: str) -> None:
        self.way.choose(self._group(group).get_by_role("radio", name=name, exact=True))

    def _take(self, tool: str) -> None:
        if self.tool != tool:
            self._choose("In your hand", tool)
            self.tool = tool

    def _at_stage(self, stages: str) -> None:
        """Go to a stage, unless it is there; of two that are named, to the first."""
        self._take("Hands")
        if self.stage not in stages.split("|"):
            self.stage = stages.split("|", maxsplit=1)[0]
            self._choose("Stage of the job", self.stage)

    def _type(self, field: Locator, value: float, decimals: int | None = None) -> None:
        """Type a number, unless the field holds it already."""
        text = f"{value:.10g}" if decimals is None else f"{value:.{decimals}f}"
        held = field.input_value()
        if not held or float(held) != float(text):
            self.way.write(field, text)


class LeafHands(Controls):
    """Gauges the gap and writes it down."""

    def __init__(self, at: Locator, way: Way) -> None:
        super().__init__(at, way)
        self.angle_deg, self.leaf, self.added = 0.0, "", set()
        self.lines: dict[str, list[str]] = {"gap": [], "disc": [], "value": []}
        self.owed: Any = None  # a gap that the page has offered to write down

    def _gauge_gap(self, action: Any) -> None:
        self._take("Leaves")
        if self._pushed_at_once(action):
            return
        self._hold_leaf(action)
        if isinstance(self.way, Keys):
            self.way.press(self.at.get_by_role("slider", name="Leaf at the rim"))
        else:
            self._press(self.at, "Push in")

    def _pushed_at_once(self, action: Any) -> bool:
        """Push in by the one key that also takes the leaf next to it, or to the next place; say whether it could."""
        if not self.leaf:
            return False
        here = self.angle_deg == action.angle_deg
        words = f"Push in {sum(action.leaves_mm):.2f} mm"
        found = self.at.locator(".next").get_by_role("button", name=words, exact=True)
        key = found if here else self._on(action)
        if self._is_soft() != (action.hand == "soft") or not key.is_visible():
            return False
        self._strike_or_press(key, self._struck_for(action) if here else "n")
        self._held_at(action.angle_deg)
        return True

    def _struck_for(self, action: Any) -> str:
        """Return the key that pushes in what is wanted from what is held, or nothing."""
        held, wanted = float(self.leaf) + sum(map(float, self.added)), sum(action.leaves_mm)
        by_mm = round(wanted - held, 3)
        if abs(by_mm) == FINE_STEP_MM:
            return "Shift+PageUp" if by_mm > 0 else "Shift+PageDown"
        whole = abs(wanted / LEAF_STEP_MM - round(wanted / LEAF_STEP_MM)) < 1e-6
        near = whole and abs(by_mm) <= LEAF_STEP_MM + 1e-6
        if not near or not by_mm:
            return ""
        return "PageUp" if by_mm > 0 else "PageDown"

    def _strike_or_press(self, control: Locator, key: str) -> None:
        """Strike the key that does the same, where there is one and the leaf has the focus; else press."""
        if key and isinstance(self.way, Keys) and self.at.evaluate(_AT_THE_LEAF):
            self.way.clicks["struck"] += 1
            self.way.strike(key)
            return
        self.way.press(control)

    def _held_at(self, angle_deg: float) -> None:
        """Take over what the page says is in the hand."""
        stack = self.at.locator(".stack")
        parts = stack.locator(".parts").inner_text().removeprefix("= ").split(" + ")
        first, *more = parts if parts != [""] else [stack.locator("output").inner_text()[:4]]
        self.angle_deg, self.leaf, self.added = angle_deg, first, set(more)

    def _on(self, action: Any, before: str = "On") -> Locator:
        """Return the key that goes on to a place with the leaf that went at the last one."""
        words = f"{before} to {action.angle_deg:g}°: push in {sum(action.leaves_mm):.2f}"
        return self.at.get_by_role("button", name=words, exact=True)

    def _pay(self, action: Any) -> str:
        """Press what is still owed: with this action in the same press if the page offers that.

        Returns what the page then says of the action itself, or nothing if that is still to be done.
        """
        if not self.owed:
            return ""
        written, self.owed = self.owed, None
        if action.kind == "gauge_gap" and self._is_soft() == (action.hand == "soft"):
            key = self._on(action, "Write down, on")
            if key.is_visible():
                self._strike_or_press(key, "n")
                self._held_at(action.angle_deg)
                words = self.hear()
                return self.hear() if words.startswith("Written") else words
        self._write_offered(written)
        self.hear()
        return ""

    def _is_soft(self) -> bool:
        group = self._group("How it is pushed")
        return group.get_by_role("radio", name="Lightly", exact=True).is_checked()

    def _hold_leaf(self, action: Any) -> None:
        """Bring the stack to the place, by the means of this hand."""
        first, *more = _common_first(action.leaves_mm)
        self._choose("How it is pushed", "Lightly" if action.hand == "soft" else "With force")
        if self.angle_deg != action.angle_deg and not self._strike_to(action.angle_deg):
            self._type(self.at.get_by_label(re.compile("^Angle")), action.angle_deg)
        self.angle_deg = action.angle_deg
        if self.leaf != f"{first:.2f}" and not self._strike_leaf(first):
            self._choose("Leaf, mm", f"{first:.2f}")
        self.leaf = f"{first:.2f}"
        self._add(more)

    def _strike_to(self, angle_deg: float) -> bool:
        """Take the leaf along the rim by arrow keys, the shorter way; say whether that can be."""
        by_deg = (angle_deg - self.angle_deg + 180) % 360 - 180
        if not isinstance(self.way, Keys) or by_deg % KEY_DEG:
            return False
        self.way.go(self.at.get_by_role("slider", name="Leaf at the rim"))
        self.way.clicks["struck"] += round(abs(by_deg) / KEY_DEG)
        self.way.strike("ArrowRight" if by_deg > 0 else "ArrowLeft", round(abs(by_deg) / KEY_DEG))
        return True

    def _strike_leaf(self, leaf_mm: float) -> bool:
        """Change the leaf by plus and minus; say whether that can be."""
        if not isinstance(self.way, Keys) or not self.leaf:
            return False
        steps = round((leaf_mm - float(self.leaf)) / LEAF_STEP_MM)
        self.way.go(self.at.get_by_role("slider", name="Leaf at the rim"))
        self.way.clicks["struck"] += abs(steps)
        self.way.strike("+" if steps > 0 else "-", abs(steps))
        return True

    def _add(self, more: list[float]) -> None:
        """Add to the first leaf: thin ones by their boxes, another common one by the list."""
        wanted = {f"{mm:.2f}" for mm in more}
        if wanted == self.added:
            return
        thin = self._group("Thin leaves to add")
        for name in sorted(self.added ^ wanted):
            box = thin.get_by_role("checkbox", name=name, exact=True)
            if box.count():
                self.way.tick(box, name in wanted)
        common = [mm for mm in more if not thin.get_by_role("checkbox", name=f"{mm:.2f}").count()]
        listed, value = thin.get_by_label("Another leaf"), f"{common[0]:g}" if common else ""
        if listed.input_value() != value:
            self.way.pick(listed, value)
        self.added = wanted

    def _offered(self, action: Any) -> Locator:
        words = f"Write down: {action.go_mm:.2f} goes, {action.no_go_mm:.2f} will not"
        return self.at.get_by_role("button", name=words, exact=True)

    def _write_offered(self, action: Any) -> None:
        self._strike_or_press(self._offered(action), "w")

    def _write_gap(self, action: Any) -> None:
        self._take("Leaves")
        self.lines["gap"].append(f"gap at {action.angle_deg:g}°")
        if self.angle_deg == action.angle_deg and self._offered(action).is_visible():
            self.owed = action
            return
        form = self._group("Write a gap reading down")
        self._type(form.get_by_label(re.compile("^at")), action.angle_deg)
        self._type(form.get_by_label(re.compile("^goes")), action.go_mm, 2)
        self._type(form.get_by_label(re.compile("^will not")), action.no_go_mm, 2)
        self._press(form, "Write down")

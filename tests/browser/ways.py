"""The ways in which a person works a control: mouse, touch, or nothing but the keyboard."""

from collections import Counter
from typing import Protocol

import pytest
from playwright.sync_api import Locator, Page

MOST_WALKS = 40  # times that the way to a control is looked for again


class Way(Protocol):
    """What a hand can do with a control; `clicks` is how often it did something, by kind.

    A typed number or text is one, with all its figures; a list is two, opened and chosen from.
    By keyboard the walk by Tab and arrows to a control counts apart, as `walked`.
    """

    clicks: Counter[str]

    def press(self, control: Locator) -> None: ...
    def choose(self, radio: Locator) -> None: ...
    def tick(self, box: Locator, on: bool) -> None: ...
    def write(self, field: Locator, text: str) -> None: ...
    def pick(self, listed: Locator, value: str) -> None: ...


class Mouse:
    """A mouse, and a keyboard for what is typed."""

    def __init__(self) -> None:
        self.clicks: Counter[str] = Counter()

    def hit(self, control: Locator) -> None:
        control.click()

    def press(self, control: Locator) -> None:
        self.clicks["pressed"] += 1
        self.hit(control)

    def choose(self, radio: Locator) -> None:
        if not radio.is_checked():
            self.clicks["chosen"] += 1
            self.hit(radio)

    def tick(self, box: Locator, on: bool) -> None:
        if box.is_checked() != on:
            self.clicks["ticked"] += 1
            self.hit(box)

    def write(self, field: Locator, text: str) -> None:
        self.clicks["typed"] += 1
        field.fill(text)
        field.blur()

    def pick(self, listed: Locator, value: str) -> None:
        self.clicks["listed"] += 2
        listed.select_option(value)


class Touch(Mouse):
    """A finger; what is typed comes from the keyboard on the screen, lists from its picker."""

    def hit(self, control: Locator) -> None:
        control.tap()

    def write(self, field: Locator, text: str) -> None:
        self.clicks["typed"] += 1
        field.tap()
        field.press("Control+A")
        field.page.keyboard.type(text)
        field.blur()  # the keyboard on the screen is put away


# How many times Tab (minus: Shift+Tab) from where the focus is to a control; looks, and moves nothing.
# A row of radio buttons is one stop: at the chosen one, else at the one nearest to where one comes from.
_WAY = """(target) => {
  const room = document.querySelector("dialog:modal") ?? document;
  const every = [...room.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex]")]
    .filter((node) => node.tabIndex >= 0 && !node.disabled && node.checkVisibility({ visibilityProperty: true }));
  const isRadio = (node) => node.type === "radio" && node.name;
  const same = (a, b) => a === b || (isRadio(a) && isRadio(b) && a.name === b.name);
  const stops = [];
  for (const node of every) if (!stops.some((other) => same(other, node))) stops.push(node);
  const at = document.activeElement;
  if (same(at, target)) return 0;
  const here = stops.findIndex((node) => same(node, at));
  const there = stops.findIndex((node) => same(node, target));
  if (there < 0) throw new Error("the Tab key does not lead to " + target.outerHTML.slice(0, 200));
  return here < 0 ? 1 : there - here;
}"""
_IN_ROW = """(target) => {
  const row = [...document.querySelectorAll("input[type=radio]")].filter((node) => node.name === target.name);
  const by = row.indexOf(target) - row.indexOf(document.activeElement);
  const most = row.length / 2;
  return [by > most ? by - row.length : by < -most ? by + row.length : by, target.checked];
}"""


class Keys:
    """Tab, arrows, Enter, the space bar and typing; no mouse, and no script moves the focus."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.clicks: Counter[str] = Counter()

    def strike(self, key: str, times: int = 1) -> None:
        """Strike a key some times."""
        for _ in range(times):
            self.page.keyboard.press(key)

    def go(self, control: Locator) -> None:
        """Walk by the Tab key to a control."""
        target = control.element_handle()
        for _ in range(MOST_WALKS):
            stops = self.page.evaluate(_WAY, target)
            if stops == 0:
                return
            self.clicks["walked"] += abs(stops)
            self.strike("Tab" if stops > 0 else "Shift+Tab", abs(stops))
        pytest.fail(f"no way by the Tab key to {control}")

    def press(self, control: Locator) -> None:
        self.go(control)
        self.clicks["pressed"] += 1
        self.strike("Enter")

    def choose(self, radio: Locator) -> None:
        self.go(radio)
        by, chosen = radio.evaluate(_IN_ROW)
        self.clicks["chosen"] += bool(by) or not chosen
        self.clicks["walked"] += max(0, abs(by) - 1)
        self.strike("ArrowRight" if by > 0 else "ArrowLeft", abs(by))
        if by == 0 and not chosen:
            self.strike("Space")

    def tick(self, box: Locator, on: bool) -> None:
        if box.is_checked() != on:
            self.go(box)
            self.clicks["ticked"] += 1
            self.strike("Space")

    def write(self, field: Locator, text: str) -> None:
        self.go(field)
        self.clicks["typed"] += 1
        self.strike("Control+A")
        self.page.keyboard.type(text)
        self.strike("Tab")

    def pick(self, listed: Locator, value: str) -> None:
        self.go(listed)
        self.clicks["listed"] += 1
        by = listed.evaluate(
            "(list, value) => [...list.options].findIndex((o) => o.value === value) - list.selectedIndex",
            value,
        )
        self.strike("ArrowDown" if by > 0 else "ArrowUp", abs(by))

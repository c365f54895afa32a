"""Every control of a page, moved once, as a person does who tries what it does."""

import time
from contextlib import suppress

from playwright.sync_api import ElementHandle, Error, Page

SHOWN = "#rendered_cells:not([hidden])"
STILL_MS, MOST_STILL_S = 300, 15.0
# Everything to press, turn or type in, in the page's own order; of the words that are explained, and of
# the bench, which has tests of its own, only the first.
ANY = "#rendered_cells :is(button, summary, input, select, textarea)"
_CONTROLS = """() => {
  const first = (some) => some.slice(1);
  const main = document.querySelector("#rendered_cells");
  const left = new Set(first([...main.querySelectorAll(".suite-term")]));
  return [...main.querySelectorAll("button, summary, input, select, textarea, [role=slider]")]
    .filter((node) => !left.has(node) && !node.closest(".gal-page") && node.checkVisibility());
}"""
_IS_THERE = """(node) => node.isConnected && node.checkVisibility() && !node.disabled
  && node.ariaDisabled !== 'true' """
_KIND = """(node) => node.getAttribute("role") === "slider" ? "slider"
  : node.tagName === "INPUT" ? node.type : node.tagName.toLowerCase()"""


def move_all(page: Page) -> int:
    """Move each control that the page has as it opens; return how many could be moved."""
    moved = 0
    handles = page.evaluate_handle(_CONTROLS)
    for control in handles.get_properties().values():
        moved += _moved(control.as_element())
    return moved


def _moved(control: ElementHandle) -> bool:
    """Move one control, unless an earlier one has taken it off the page."""
    if not control.evaluate(_IS_THERE):
        return False
    try:
        _move(control)
    except Error:
        if control.evaluate(_IS_THERE):
            raise
        return False
    return True


def _move(control: ElementHandle) -> None:
    kind = control.evaluate(_KIND)
    if kind in {"range", "slider"}:
        control.press("ArrowRight")
    elif kind == "select":
        control.select_option(index=control.evaluate("node => node.options.length - 1"))
    elif kind == "date":
        control.fill("2026-03-02")
    elif kind in {"number", "text", "textarea", "search"}:
        control.fill("1")
        control.press("Tab")
    elif kind == "file":
        control.set_input_files([])
    else:
        control.click()


def wait_until_still(page: Page) -> None:
    """Wait until nothing has come from the kernel for a moment."""
    until = time.monotonic() + MOST_STILL_S
    with suppress(Error):  # nothing came for that long, or the line is closed
        while time.monotonic() < until:
            page.seen.lines[-1].wait_for_event("framereceived", timeout=STILL_MS)

"""A page's line to the machine is cut, as by a sleep or a weak network, and comes back."""

import pytest

pytest.importorskip("playwright.sync_api")
from playwright.sync_api import expect

from widgets.bench.actions import WriteGap

from .bench import PATH
from .conftest import OPENING_MS
from .hands import PageHands

pytestmark = pytest.mark.browser


class Cable:
    """The line between page and machine, in the hands of the test."""

    def __init__(self, page) -> None:
        self.lines, self.swallows, self.is_cut = [], "", False
        page.route_web_socket("**/channels*", self._lay)

    def _lay(self, line) -> None:
        if self.is_cut:
            line.close()
            return
        self.lines.append(line)
        far = line.connect_to_server()
        far.on_message(lambda frame: self._pass(line, frame))

    def _pass(self, line, frame: bytes | str) -> None:
        text = frame if isinstance(frame, str) else frame.decode("utf-8", "replace")
        if self.swallows and self.swallows in text:
            self.swallows = ""
            self.cut()
        elif not self.is_cut:
            line.send(frame)

    def cut(self) -> None:
        """Cut what is there, and whatever is tried until it is repaired."""
        self.is_cut = True
        for line in self.lines:
            line.close()

    def mend(self) -> None:
        """Let lines through again."""
        self.is_cut = False


@pytest.mark.overnight
def test_a_line_that_was_cut_comes_back_with_all_that_was_kept(page, served):
    """One answer was lost with the line: the act counts once, the page says so, work goes on."""
    cable = Cable(page)
    page.goto(served + PATH, timeout=OPENING_MS)
    page.get_by_role("button", name="Set out a brake").click(timeout=OPENING_MS)
    expect(page.locator(".gal-answer [role=status]")).not_to_be_empty(timeout=OPENING_MS)
    lost, lines = page.locator("#suite-lost"), page.locator(".gal-notes button.strike")
    hands = PageHands(page)
    hands(WriteGap(45.0, 0.30, 0.35))
    expect(lines).to_have_count(1)

    cable.swallows = "Written: gap at 90"  # and the line is cut in this very moment
    hands._write_gap(WriteGap(90.0, 0.30, 0.35))
    expect(lost).to_contain_text(
        "The connection to the bench is lost. Whatever had been recorded is kept."
    )
    expect(lines).to_have_count(1)
    cable.mend()

    expect(lost).to_be_hidden(timeout=OPENING_MS)  # the page tries again by itself, ever less often
    expect(lines).to_have_count(2)
    expect(page.locator(".gal-answer [role=status]")).to_contain_text("was lost and is back")
    hands.hear()
    hands(WriteGap(135.0, 0.30, 0.35))
    expect(lines).to_have_count(3)
    assert page.seen.errors == []

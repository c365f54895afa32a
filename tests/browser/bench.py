"""A bench page opened in a window of its own, and the wishes that go out from it."""

import json
import re
from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Page, expect

from .conftest import DESKTOP, OPENING_MS, PATIENCE_MS, PHONE

PATH = "voila/render/bench.ipynb"
PHONE_OPTIONS = {"viewport": PHONE, "has_touch": True, "is_mobile": True}


class Bench:
    """A bench page, and the wishes that went out from it."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.wishes: list[dict] = []
        page.on("websocket", lambda socket: socket.on("framesent", self._sent))

    def _sent(self, payload: bytes | str) -> None:
        text = payload if isinstance(payload, str) else payload.decode("utf-8", "replace")
        for found in re.finditer(r'"wish":\s*', text):
            self.wishes.append(json.JSONDecoder().raw_decode(text, found.end())[0])

    @property
    def kinds(self) -> list[str]:
        """The kinds of what was wished, in order."""
        return [wish["kind"] for wish in self.wishes]

    def says(self, words: str | re.Pattern[str]) -> None:
        """Wait until the announced answer holds these words."""
        expect(self.page.locator(".gal-answer [role=status]")).to_contain_text(words)


@contextmanager
def bench_at(page: Page, served: str, start: str = "work order", **context) -> Iterator[Bench]:
    """Open the bench in a context of its own: width, touch, colours; at one of its beginnings."""
    own = page.context.browser.new_context(**{"reduced_motion": "reduce", "viewport": DESKTOP} | context)  # fmt: skip
    try:
        bench = Bench(own.new_page())
        bench.page.set_default_timeout(PATIENCE_MS)
        bench.page.goto(served + PATH, timeout=OPENING_MS)
        # The smallest size: whatever its state, a leaf of 1.00 mm will not enter.
        bench.page.get_by_label("Size of brake").select_option("Alder-11", timeout=OPENING_MS)
        bench.page.get_by_label("What to practise").select_option(start)
        bench.page.get_by_role("button", name="Set out a brake").click()
        expect(bench.page.locator(".gal-limits tbody tr")).to_have_count(5, timeout=OPENING_MS)
        expect(bench.page.locator(".gal-answer [role=status]")).not_to_be_empty()
        yield bench
        bench.page.goto("about:blank")  # as a person leaves, so that the kernel ends
    finally:
        own.close()

"""The border between browser and kernel: one base for every panel.

What comes over it is untrusted. A panel has no state that the browser may set:
it takes custom messages of a bounded size, and drops everything else.
"""

import logging
from collections.abc import Mapping
from typing import Any

import anywidget

_LOG = logging.getLogger("gap_and_lining")
LONGEST_TEXT = 20_000  # characters in one message from the page
FAILED = (
    "That failed: the fault is the program’s, not yours, and is in the log. "
    "Try again, or load the page again; nothing that was kept is lost."
)
MOST_PARTS = 400  # values in one message from the page


class Panel(anywidget.AnyWidget):
    """An anywidget that only listens to custom messages, and never raises on one."""

    def heard(self, content: Mapping[str, Any]) -> None:
        """Answer one message from the page; panels override this."""

    def refuse(self, words: str) -> None:
        """Say in one sentence that nothing was done; a panel of several tells the others too."""
        self.send({"reply": {"done": False, "words": words, "seen": {}, "alarm": ""}})

    def _handle_msg(self, msg: Mapping[str, Any]) -> None:
        """Take a message off the wire: state may be asked for, never set."""
        try:
            data = msg["content"]["data"]
            method = data.get("method")
            if method == "request_state":
                self.send_state()
            elif method == "custom":
                self._hear(data.get("content"))
            else:
                _LOG.warning("dropped a message: method %.40r is not taken here", method)
        except Exception:  # noqa: BLE001 (hostile input must not raise in the kernel)
            _LOG.exception("dropped a message that could not be read")

    def _hear(self, content: object) -> None:
        if not isinstance(content, dict) or not is_small(content):
            _LOG.warning("dropped a message: not an object, or too large")
            self.refuse("That message was too large or not readable. Nothing has changed.")
            return
        try:
            self.heard(content)
        except Exception:  # noqa: BLE001 (whoever waits at the page is told; silence is no answer)
            _LOG.exception("a message from the page could not be answered")
            self.refuse(FAILED)


def is_small(content: object) -> bool:
    """Return whether a message is bounded in text, parts and depth, without copying it."""
    left_text, left_parts = LONGEST_TEXT, MOST_PARTS
    stack: list[tuple[object, int]] = [(content, 0)]
    while stack:
        part, depth = stack.pop()
        left_parts -= 1
        if isinstance(part, str):
            left_text -= len(part)
        if left_parts < 0 or left_text < 0 or depth > 8:
            return False
        if isinstance(part, dict):
            if len(part) > MOST_PARTS:
                return False
            stack.extend((key, depth + 1) for key in part)
            stack.extend((value, depth + 1) for value in part.values())
        elif isinstance(part, list):
            if len(part) > MOST_PARTS:
                return False
            stack.extend((value, depth + 1) for value in part)
    return True

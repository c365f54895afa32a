"""Waiting for a fact to hold: the one place in the tests where time is let pass.

Only facts of another process that say nothing by themselves are waited for in this way. A process
that is to end, a frame and a page's element each have a wait of their own.
"""

import threading
import time
from collections.abc import Callable

LOOK_EVERY_S = 0.05


def comes_true(fact: Callable[[], object], patience_s: float = 20.0) -> bool:
    """Look at a fact until it holds or patience ends; return whether it came to hold."""
    end = time.monotonic() + patience_s
    between = threading.Event()
    while not fact():
        if time.monotonic() > end:
            return False
        between.wait(LOOK_EVERY_S)
    return True

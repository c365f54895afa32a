"""What goes wrong in a page is written to the log and not sent to the browser.

Without it an exception in a widget's callback travels with the source lines around it.
"""

import logging
import os
from pathlib import Path
from typing import Any

from quizzes.records.errors import keep_the_store_to_oneself

from .logfile import file_handler

SENTENCE = (
    "Something on this page went wrong. A note has been kept for the person who runs the suite."
)

log = logging.getLogger("gap_and_lining.page")


class PageTroubleError(Exception):
    """Stands in for whatever was raised, so that its name does not travel either."""


def log_errors_only(shell: Any) -> None:  # noqa: ANN401 - IPython is untyped here
    """Send a kernel shell's tracebacks to the log from now on, and a plain sentence abroad.

    Parameters
    ----------
    shell : InteractiveShell
        The kernel's shell.
    """
    _log_to_file()
    keep_the_store_to_oneself()
    tell = shell._showtraceback  # noqa: SLF001 - the one place that all tracebacks pass

    def logged(kind: type[BaseException], raised: BaseException, _lines: list[str]) -> None:
        log.error("a page raised", exc_info=(kind, raised, raised.__traceback__))
        tell(PageTroubleError, PageTroubleError(SENTENCE), [SENTENCE])

    shell._showtraceback = logged  # noqa: SLF001


def _log_to_file() -> None:
    """Let all that this process logs go to the server's log; never to stderr, hence abroad."""
    path = os.environ.get("GAL_LOG")
    root = logging.getLogger()
    root.handlers = [file_handler(Path(path)) if path else logging.NullHandler()]
    root.setLevel(logging.WARNING)

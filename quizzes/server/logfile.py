"""One log file for the server and its kernels, in the platform's folder for logs."""

import logging
import re
import tempfile
from pathlib import Path
from typing import Any

import platformdirs

from quizzes.server.border.lines import NoFlood, plain, story

FULL_BYTES = 2_000_000  # a log this long is set aside when the next server starts
FORM = "%(asctime)s %(levelname)s %(name)s: %(message)s"
KERNEL_ID = re.compile(r"\b([0-9a-f]{8})-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}\b")


class ShortIds(logging.Formatter):
    """Writes kernel ids short: whoever knows a whole one can talk to that page's kernel.

    Examples
    --------
    >>> words = "kernel 01234567-89ab-cdef-0123-456789abcdef died"
    >>> ShortIds("%(message)s").format(logging.LogRecord("x", 20, "", 0, words, (), None))
    'kernel 01234567… died'
    """

    def formatMessage(self, record: logging.LogRecord) -> str:  # noqa: N802 - the base's name
        """Return the record as one line."""
        record.message = plain(record.message)
        return super().formatMessage(record)

    def formatException(self, ei: Any) -> str:  # noqa: ANN401, N802 - the base's
        """Return what went wrong, no line of which passes for one of the log."""
        return story(super().formatException(ei))

    def format(self, record: logging.LogRecord) -> str:
        """Return the record's line with each id cut after its first eight figures."""
        record.exc_text = None  # as another handler may have set it
        return KERNEL_ID.sub(r"\1…", super().format(record))


def file_handler(path: Path) -> logging.Handler:
    """Return a handler that adds lines to a log file, ids cut short.

    Parameters
    ----------
    path : Path
        The log file; several processes may add to it.

    Returns
    -------
    logging.Handler
        For the root logger.
    """
    handler = logging.FileHandler(path, encoding="utf-8")
    handler.setFormatter(ShortIds(FORM))
    handler.addFilter(NoFlood())
    return handler


def start_log(folder: Path | None = None) -> Path:
    """Send everything the server's process logs to one file, and nothing to stderr.

    Parameters
    ----------
    folder : Path, optional
        Where to; the platform's folder for logs if left out, a temporary one
        if that cannot be written.

    Returns
    -------
    Path
        The log file.
    """
    path = _writable(folder or platformdirs.user_log_path("gap-and-lining", appauthor=False))
    root = logging.getLogger()
    root.handlers = [file_handler(path)]
    root.setLevel(logging.INFO)
    logging.getLogger("tornado.access").setLevel(logging.WARNING)  # no line for each picture
    logging.captureWarnings(capture=True)
    return path


def _writable(folder: Path) -> Path:
    path = folder / "serve.log"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if path.exists() and path.stat().st_size > FULL_BYTES:
            path.replace(folder / "serve.1.log")
        path.open("a").close()
    except OSError:
        return Path(tempfile.mkdtemp(prefix="gap-and-lining-log-")) / "serve.log"
    return path

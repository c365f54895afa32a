"""The first wall before a browser: a kernel's shell tells a sentence, whatever a page raised."""

import logging

import pytest

from quizzes.server.tracebacks import SENTENCE, PageTroubleError, log_errors_only

KIND, WORDS, LINE = LookupError, "the hidden gap is 0.42 mm", 'File "/srv/secret.py", line 7'


class _Shell:
    """The one method of a kernel's shell that all its tracebacks pass, and what it was told."""

    def __init__(self) -> None:
        self.told: list[tuple] = []

    def _showtraceback(self, kind, raised, lines) -> None:
        self.told.append((kind, raised, lines))


@pytest.fixture
def root(monkeypatch):
    """The root logger; its handlers and level are put back, and what a store says of itself."""
    monkeypatch.setattr("quizzes.records.errors._Discretion.names_the_store", True)
    logger = logging.getLogger()
    handlers, level = logger.handlers, logger.level
    yield logger
    for made in set(logger.handlers) - set(handlers):
        made.close()
    logger.handlers = handlers
    logger.setLevel(level)


def test_the_shell_tells_a_sentence_and_the_log_the_rest(root, tmp_path, monkeypatch):
    """Kind, exception and lines are all replaced; the log has each of them."""
    log = tmp_path / "server.log"
    monkeypatch.setenv("GAL_LOG", str(log))
    shell = _Shell()
    log_errors_only(shell)
    shell._showtraceback(KIND, KIND(WORDS), [LINE])

    (kind, raised, lines), = shell.told  # fmt: skip
    assert kind is PageTroubleError
    assert (type(raised), str(raised), lines) == (PageTroubleError, SENTENCE, [SENTENCE])
    assert WORDS in log.read_text(encoding="utf-8")

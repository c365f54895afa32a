"""The process in which the demo's class works, beside the server that shows it."""

import os
import subprocess
import sys
from pathlib import Path
from types import TracebackType
from typing import Self

import quizzes

PROGRAM = "quizzes.server.demo_class.sittings"
END_S = 10.0  # s it has to end once told


class ClassAtWork:
    """Works the demo's class in the store of `GAL_RECORDS`, until done or told to end."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None

    @property
    def works(self) -> bool:
        """Whether sittings are still being worked."""
        return self._process is not None and self._process.poll() is None

    def __enter__(self) -> Self:
        self._process = subprocess.Popen(  # noqa: S603 (our own Python and module)
            [sys.executable, "-P", "-m", PROGRAM],
            env={**os.environ, "PYTHONPATH": str(Path(quizzes.__file__).parents[1])},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,  # what goes wrong it writes into the log
        )
        return self

    def __exit__(
        self,
        _kind: type[BaseException] | None,
        _raised: BaseException | None,
        _trace: TracebackType | None,
    ) -> None:
        assert self._process is not None
        self._process.kill()  # its store goes with it
        self._process.wait(END_S)

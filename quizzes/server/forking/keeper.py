"""The server's hold on the forking parent: started, asked for kernels, replaced when it dies."""

import asyncio
import ctypes
import logging
import os
import socket
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path

from .order import NOT_FORKED, READY, Order, line

PROGRAM = "quizzes.server.forking.parent"
FIRST_S = 60.0  # s that importing everything may take on a slow machine
ANSWER_S = 20.0  # s a fork may take on a machine with much else to do
LIVED_S = 10.0  # s a parent must live, or it is not tried again
PR_SET_CHILD_SUBREAPER = 36  # Linux, prctl(2)

# Read when their libraries are loaded; a process with threads cannot be forked whole.
ONE_THREAD = dict.fromkeys(
    (
        "OMP_NUM_THREADS",
        "OPENBLAS_NUM_THREADS",
        "MKL_NUM_THREADS",
        "BLIS_NUM_THREADS",
        "VECLIB_MAXIMUM_THREADS",
        "NUMEXPR_NUM_THREADS",
    ),
    "1",
) | {"MALLOC_ARENA_MAX": "1"}  # a kernel's threads share one heap, which is smaller than several

log = logging.getLogger("gap_and_lining.forking")


class NotForkedError(RuntimeError):
    """No kernel was forked; one can still be started the ordinary way."""


def can_fork() -> bool:
    """Return whether kernels can be forked on this platform.

    Returns
    -------
    bool
        True on Linux, whose means this uses; elsewhere warm kernels stand ready.
    """
    return sys.platform == "linux" and hasattr(os, "pidfd_open")


def take_up_orphans() -> None:
    """Become the parent of every descendant whose own parent ends."""
    ctypes.CDLL(None, use_errno=True).prctl(PR_SET_CHILD_SUBREAPER, 1, 0, 0, 0)


class Keeper:
    """Keeps one forking parent.

    Parameters
    ----------
    environment : dict of str to str
        What the parent may know; scrubbed.
    log_path : Path
        Where the parent writes what goes wrong.
    """

    def __init__(self, environment: dict[str, str], log_path: Path) -> None:
        self._environment = environment | ONE_THREAD
        self._log_path = log_path
        self._process: subprocess.Popen[bytes] | None = None
        self._line: socket.socket | None = None
        self._ready: asyncio.Task[bool] | None = None
        self._one_at_a_time = asyncio.Lock()
        self._started = 0.0
        self._given_up = False

    @property
    def pid(self) -> int | None:
        """The parent's process number, None while there is none."""
        return self._process.pid if self._process else None

    def start(self) -> None:
        """Start a parent, if none lives; return at once."""
        if self._given_up or (self._process and self._process.poll() is None):
            return
        take_up_orphans()
        ours, theirs = line()
        ours.setblocking(False)  # noqa: FBT003 (its own signature)
        with theirs, self._log_path.open("ab") as log_file:
            self._process = subprocess.Popen(  # noqa: S603 (our own Python and module)
                [sys.executable, "-P", "-m", PROGRAM, str(theirs.fileno()), str(os.getpid())],
                env=self._environment,
                pass_fds=[theirs.fileno()],
                stdin=subprocess.DEVNULL,
                stdout=log_file,
                stderr=log_file,
            )
        self._line, self._started = ours, time.monotonic()
        self._ready = asyncio.ensure_future(self._becomes_ready(ours))

    async def _becomes_ready(self, ours: socket.socket) -> bool:
        try:
            said = await asyncio.wait_for(self._heard(ours), FIRST_S)
        except (OSError, TimeoutError):
            said = b""
        if said == READY:
            log.info("the parent of all kernels is ready after %.1f s", self._age_s())
        else:
            log.error("the parent of all kernels did not become ready")
            self._given_up = True
        return said == READY

    def _age_s(self) -> float:
        return time.monotonic() - self._started

    @staticmethod
    async def _heard(ours: socket.socket) -> bytes:
        return await asyncio.get_running_loop().sock_recv(ours, 64)

    async def fork(self, order: Order, files: tuple[int, int]) -> int:
        """Return the process number of a new kernel.

        Parameters
        ----------
        order : Order
            What it is to be.
        files : tuple of int
            Descriptors: where it writes what is written below Python, and what
            its first cells show.

        Returns
        -------
        int
            The number of a child of this process.

        Raises
        ------
        NotForkedError
            If there is no parent that forks; another is then on its way.
        """
        for _ in range(2):  # once more, should a parent die over it
            if self._ready is None or not await asyncio.shield(self._ready):
                break
            async with self._one_at_a_time:
                if pid := await self._forked(order, files):
                    return pid
        raise NotForkedError("no parent to fork from")

    async def _forked(self, order: Order, files: tuple[int, int]) -> int:
        """Return a kernel's process number; 0 if the parent has died or may not fork."""
        ours = self._line
        if ours is None:
            return 0
        try:
            socket.send_fds(ours, [order.packet()], list(files))
            said = await asyncio.wait_for(self._heard(ours), ANSWER_S)
        except (OSError, TimeoutError):
            said = b""
        if not said.isdigit() or said == NOT_FORKED:
            self._replace()
            return 0
        return int(said)

    def _replace(self) -> None:
        """Let this parent go and start another; its kernels are the server's own children."""
        log.warning("the parent of all kernels is replaced after %.0f s", self._age_s())
        self._given_up = self._age_s() < LIVED_S
        self._let_go()
        self.start()

    def _let_go(self) -> None:
        if self._line is not None:
            self._line.close()
            self._line = None
        if self._process is not None:
            self._process.kill()
            with suppress(subprocess.TimeoutExpired):
                self._process.wait(timeout=2)
            self._process = None

    def stop(self) -> None:
        """End the parent; kernels go on until they are ended."""
        self._given_up = True
        if self._ready is not None:
            self._ready.cancel()
        self._let_go()

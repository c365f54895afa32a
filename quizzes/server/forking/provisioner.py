"""How jupyter_client comes by a forked kernel: a provisioner, its own point of extension."""

import os
import signal
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from importlib.metadata import EntryPoint
from pathlib import Path
from typing import Any, NamedTuple

from jupyter_client.connect import KernelConnectionInfo
from jupyter_client.provisioning.factory import KernelProvisionerFactory
from jupyter_client.provisioning.local_provisioner import LocalProvisioner

from .keeper import Keeper, NotForkedError
from .order import Order

NAME = "gap-and-lining-fork"


class FirstCells(NamedTuple):
    """Cells that a forked kernel runs first, and the end of a pipe for what they show."""

    cells: tuple[str, ...]
    answers: int


@contextmanager
def _pipe_of(first: FirstCells | None) -> Iterator[int]:
    if first:
        yield first.answers
        return
    with Path(os.devnull).open("wb") as nowhere:
        yield nowhere.fileno()


class Forked:
    """A forked kernel's process, with the part of `subprocess.Popen` that the library uses.

    Parameters
    ----------
    pid : int
        The process number of a child of this process.
    """

    stdin = stdout = stderr = None

    def __init__(self, pid: int) -> None:
        self.pid = pid
        self.returncode: int | None = None

    def poll(self) -> int | None:
        """Return the exit code, or None while the process runs."""
        if self.returncode is None:
            try:
                ended, status = os.waitpid(self.pid, os.WNOHANG)
            except ChildProcessError:  # somebody else has waited for it
                self.returncode = 0
            else:
                if ended:
                    self.returncode = os.waitstatus_to_exitcode(status)
        return self.returncode

    def wait(self) -> int:
        """Return the exit code of a process that has ended or is about to."""
        code = self.poll()
        if code is None:
            _, status = os.waitpid(self.pid, 0)
            code = self.returncode = os.waitstatus_to_exitcode(status)
        return code

    def send_signal(self, number: int) -> None:
        """Send a signal, unless the process has ended."""
        if self.poll() is None:
            os.kill(self.pid, number)

    def terminate(self) -> None:
        """Ask the process to end."""
        self.send_signal(signal.SIGTERM)

    def kill(self) -> None:
        """End the process."""
        self.send_signal(signal.SIGKILL)


class ForkProvisioner(LocalProvisioner):
    """Forks a kernel; starts one the ordinary way where that fails."""

    async def launch_kernel(self, cmd: list[str], **options: Any) -> KernelConnectionInfo:  # noqa: ANN401 - the base's
        """Return how to reach a new kernel.

        Parameters
        ----------
        cmd : list of str
            The command line of an ordinary start.
        **options
            As for `subprocess.Popen`; environment, folder and log count.
        """
        first: FirstCells | None = options.pop("first", None)
        manager: Any = self.parent
        keeper: Keeper | None = manager.parent.keeper
        if keeper is None:
            return await super().launch_kernel(cmd, **options)
        order = Order(
            manager.connection_file,
            dict(options["env"]),
            str(options.get("cwd") or os.curdir),
            first.cells if first else (),
        )
        try:
            with _pipe_of(first) as answers:
                pid = await keeper.fork(order, (options["stderr"].fileno(), answers))
        except NotForkedError as error:
            if first:
                raise
            self.log.warning("a kernel is started the ordinary way: %s", error)
            return await super().launch_kernel(cmd, **options)
        self.process = Forked(pid)  # type: ignore[assignment]  # has the part that is used
        # It becomes the leader of a session of its own at once, and so of a group of its number.
        self.pid = self.pgid = pid
        self.cwd = order.folder
        return self.connection_info

    async def send_signal(self, signum: int) -> None:
        """Send a signal to the kernel, if it still runs: its number may be another's by then."""
        if self.process is not None and self.process.poll() is None:
            with suppress(ProcessLookupError):
                await super().send_signal(signum)


def register() -> None:
    """Make the provisioner known to the library, by the name that our kernel asks for."""
    factory = KernelProvisionerFactory.instance()
    module = f"{__name__}:{ForkProvisioner.__name__}"
    factory.provisioners[NAME] = EntryPoint(NAME, module, factory.GROUP_NAME)

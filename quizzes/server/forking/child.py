"""The fork of the parent that becomes one page's kernel."""

import fcntl
import gc
import os
import random
import resource
import select
import signal
import sys
import threading
import traceback
from typing import Any

import numpy as np
from comm import get_comm_manager
from ipykernel.compiler import XCachingCompiler
from ipykernel.ipkernel import IPythonKernel
from ipykernel.kernelapp import IPKernelApp
from ipykernel.kernelbase import Kernel
from ipykernel.zmqshell import ZMQInteractiveShell
from traitlets import Bool

from quizzes.server.kernel_program import PageKernel, use_no_side_port

from .first_run import answer
from .order import Order

ANSWERS, SERVER, FIRST_FREE = 3, 4, 5  # descriptors after the standard ones
ENDED_WITH_SERVER = 1
SETTINGS = ("--HistoryManager.enabled=False",)  # nobody's work in a history file
BROKEN = 70  # EX_SOFTWARE, sysexits.h


class NoDebugger(IPythonKernel):
    """The library's kernel with the shell that stands already, and without a debugger.

    The library's own beginning looks at every module there is, for its debugger, and so would
    copy a third of what is shared.
    """

    debugger_class = Bool(default_value=False)  # type: ignore[assignment]  # a name is imported

    def __init__(self, **parts: Any) -> None:  # noqa: ANN401 - the library's
        Kernel.__init__(self, **parts)  # type: ignore[no-untyped-call]
        shell: Any = ZMQInteractiveShell.instance()
        self.shell = shell
        shell.kernel = self
        shell.displayhook.topic = self._topic("execute_result")  # type: ignore[no-untyped-call]
        for publisher in (shell.displayhook, shell.display_pub):
            publisher.session, publisher.pub_socket = self.session, self.iopub_socket
        self.comm_manager = get_comm_manager()
        for kind in ("comm_open", "comm_msg", "comm_close"):
            self.shell_handlers[kind] = getattr(self.comm_manager, kind)

    def start(self) -> None:
        """Start to answer."""
        ZMQInteractiveShell.instance().exit_now = False
        Kernel.start(self)  # type: ignore[no-untyped-call]


class ForkedKernel(PageKernel):
    """A page's kernel that is half made before the fork, and ends when the server does."""

    def prepare(self) -> None:
        """Make, once, what needs neither socket nor thread: settings and the shell."""
        super(IPKernelApp, self).initialize(list(SETTINGS))  # type: ignore[no-untyped-call]
        self.init_pdb()  # type: ignore[no-untyped-call]
        self.kernel_class = NoDebugger
        ZMQInteractiveShell.instance(
            parent=self, profile_dir=self.profile_dir, user_ns={}, compiler_class=XCachingCompiler
        )

    def take_up(self, connection_file: str) -> None:
        """Make the rest, in the fork.

        Parameters
        ----------
        connection_file : str
            Where the server has written how it will reach this kernel.
        """
        self.connection_file = connection_file
        for part in (
            self.init_blackhole,
            self.init_connection_file,
            self.init_poller,
            self.init_sockets,
            self.init_heartbeat,
            self.log_connection_info,
            self.init_io,
            self.init_signal,
            self.init_kernel,
            self.init_path,
            self.init_shell,
            self.init_gui_pylab,
        ):
            part()

    def init_poller(self) -> None:
        """Watch the server and not the parent, which may be replaced."""
        watch = threading.Thread(target=end_with, args=(SERVER,), daemon=True)
        watch.start()

    def log_connection_info(self) -> None:
        """Note the ports, and print nothing: how to connect is nobody's business."""
        names = ("shell", "iopub", "stdin", "hb", "control")
        self._ports = {name: getattr(self, f"{name}_port") for name in names}


def end_with(process: int) -> None:
    """End this process as soon as another has ended.

    Parameters
    ----------
    process : int
        A descriptor of that process, as `os.pidfd_open` gives it.
    """
    watch = select.poll()
    watch.register(process, select.POLLIN)
    watch.poll()
    os._exit(ENDED_WITH_SERVER)


def become_kernel(order: Order, files: tuple[int, ...]) -> None:
    """Turn this fork into a kernel, run it, and end the process; never return.

    Parameters
    ----------
    order : Order
        What the server wants.
    files : tuple of int
        Descriptors: of the log, where all goes that is written below Python;
        of the line for what the first cells show; of the server's process.
    """
    status = BROKEN
    try:
        stand_alone(files)
        os.environ.clear()
        os.environ.update(order.environment)
        os.chdir(order.folder)
        throw_own_dice()
        use_no_side_port()
        gc.enable()
        kernel = ForkedKernel.instance()
        kernel.take_up(order.connection_file)
        answer(kernel.kernel, order.cells, ANSWERS)
        kernel.start()  # type: ignore[no-untyped-call]
        status = 0
    except SystemExit as said:
        status = said.code if isinstance(said.code, int) else BROKEN
    except BaseException:  # noqa: BLE001 (nothing may run on in the parent's place)
        traceback.print_exc(file=sys.__stderr__)
    finally:
        # Without the interpreter's own ending, which would touch, and so copy, all it shares.
        os._exit(status)


def stand_alone(files: tuple[int, ...]) -> None:
    """Leave the parent's session, signals and descriptors; keep those that were handed over.

    Parameters
    ----------
    files : tuple of int
        The log becomes standard output and error, the line for answers descriptor 3,
        the server's process descriptor 4.
    """
    os.setsid()
    signal.set_wakeup_fd(-1)
    signal.signal(signal.SIGCHLD, signal.SIG_DFL)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    signal.signal(signal.SIGINT, signal.default_int_handler)
    nothing = os.open(os.devnull, os.O_RDONLY)
    # Out of the way first: one of them may stand where another goes.
    log_to, answers, server = (fcntl.fcntl(file, fcntl.F_DUPFD, FIRST_FREE) for file in files)
    os.dup2(nothing, 0)
    os.dup2(log_to, 1)
    os.dup2(log_to, 2)
    os.dup2(answers, ANSWERS, inheritable=False)
    os.dup2(server, SERVER, inheritable=False)
    os.closerange(FIRST_FREE, resource.getrlimit(resource.RLIMIT_NOFILE)[0])


def throw_own_dice() -> None:
    """Reseed what the parent's memory would have made the same in all its kernels."""
    random.seed()
    np.random.seed()  # noqa: NPY002 (the one that libraries use without asking)

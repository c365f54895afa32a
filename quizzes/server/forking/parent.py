"""The parent of all page kernels: imports everything once, opens nothing, forks when told to.

Started by the server as `python -m quizzes.server.forking.parent LINE SERVER`, with the number of
a socket's descriptor and the server's process number. It has one thread, no event loop and no
socket but that one, so that a copy of it is whole. Each kernel is a grandchild whose own parent
has ended: the server, which takes up such orphans, becomes its parent and outlives this one.
"""

import gc
import importlib
import logging
import os
import signal
import socket
import sys
from pathlib import Path
from types import ModuleType
from typing import NoReturn

from .order import FILES, LONGEST_BYTES, NOT_FORKED, READY, Order

# What a kernel would import late, each for itself: its debugger, completer, back ends, dialect.
KERNEL_MODULES = (
    "ipykernel.kernelapp",
    "ipykernel.ipkernel",
    "ipykernel.zmqshell",
    "ipykernel.pylab.backend_inline",
    "ipykernel.subshell_manager",
    "ipykernel.comm",
    "IPython.core.completer",
    "IPython.core.magics",
    "IPython.extensions.storemagic",
    "matplotlib_inline.backend_inline",
    "zmq.eventloop.zmqstream",
    "tornado.platform.asyncio",
    "encodings.idna",
    "ipywidgets",
    "anywidget",
    "sqlalchemy.dialects.sqlite",
    "jedi",
    "numpy.random",
    "faulthandler",
    "tornado.locks",
    "tornado.queues",
    "IPython.core.logger",
    "encodings.ascii",
    "encodings.latin_1",
)

log = logging.getLogger("gap_and_lining.forking")


def threads() -> int:
    """Return how many threads this process has.

    Returns
    -------
    int
        1 or more, dimensionless; a fork would copy one of them only.
    """
    return sum(1 for _ in Path("/proc/self/task").iterdir())


def leave_debugger_out() -> None:
    """Let no kernel load the library's debugger, which no page may use and which is large."""
    absent = ModuleType("ipykernel.debugger", "Left out.")
    absent._is_debugpy_available = False  # type: ignore[attr-defined]  # noqa: SLF001 (what is asked)
    sys.modules[absent.__name__] = absent


def prepare() -> None:
    """Import what kernels and pages need, and set it aside so that copies go on sharing it."""
    from quizzes.server.kernel_program import warm_up  # noqa: PLC0415 (after the threads are bound)

    gc.disable()
    leave_debugger_out()
    for name in KERNEL_MODULES:
        try:
            importlib.import_module(name)
        except ImportError:
            log.warning("a kernel's part is not there: %s", name)
    warm_up()
    importlib.import_module("quizzes.server.forking.child").ForkedKernel.instance().prepare()
    gc.collect()
    gc.freeze()


def serve(line: socket.socket, server: int) -> None:
    """Fork a kernel for each order until the server hangs up.

    Parameters
    ----------
    line : socket
        Where orders come from, one a packet.
    server : int
        A descriptor of the server's process: a kernel ends when that does.
    """
    line.send(READY)
    while True:
        packet, files, _, _ = socket.recv_fds(line, LONGEST_BYTES, FILES)
        if not packet:
            return
        try:
            _fork(line, Order.of(packet), (*files, server))
        finally:
            for descriptor in files:
                os.close(descriptor)


def _fork(line: socket.socket, order: Order, files: tuple[int, ...]) -> None:
    if threads() != 1:
        log.error("not forked: this process has %d threads", threads())
        line.send(NOT_FORKED)
        return
    heard, said = os.pipe()
    middle = os.fork()
    if middle == 0:
        _leave_an_orphan(said, order, files)
    os.close(said)
    with os.fdopen(heard, "rb") as number:
        kernel = number.read()
    # Said when the one between has ended: only then can the server ask how its child is.
    os.waitpid(middle, 0)
    line.send(kernel or NOT_FORKED)


def _leave_an_orphan(said: int, order: Order, files: tuple[int, ...]) -> NoReturn:
    """Fork once more, say the number and end: the server becomes the kernel's parent."""
    from .child import become_kernel  # noqa: PLC0415 (imported already; the parent needs it not)

    status = 1
    try:
        kernel = os.fork()
        if kernel == 0:
            os.close(said)
            become_kernel(order, files)
        os.write(said, str(kernel).encode())
        status = 0
    finally:
        os._exit(status)


def main() -> None:
    """Prepare, then fork until the server hangs up."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C goes to all; the server ends this one
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    line = socket.socket(fileno=int(sys.argv[1]))
    server = os.pidfd_open(int(sys.argv[2]))
    log_to = os.environ.get("GAL_LOG")
    if log_to:
        from quizzes.server.logfile import file_handler  # noqa: PLC0415

        logging.getLogger().handlers = [file_handler(Path(log_to))]
    prepare()
    serve(line, server)


if __name__ == "__main__":
    main()

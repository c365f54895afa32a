"""The program behind one page: an IPython kernel that is hushed and opens no network port.

Started by the server as `python -m quizzes.desks.serving.kernel -f CONNECTION_FILE`.
"""

from typing import Any

from ipykernel import kernelapp
from ipykernel.iostream import IOPubThread
from ipykernel.kernelapp import IPKernelApp

from quizzes.desks.serving.hush import hush


class NoSidePort(IOPubThread):
    """Publishes without the extra TCP port through which forked children would print."""

    def __init__(self, socket: Any, pipe: bool = False, session: Any = False) -> None:  # noqa: ANN401, ARG002, FBT001, FBT002 - the base's signature
        super().__init__(socket, pipe=False, session=session)  # type: ignore[no-untyped-call]


class PageKernel(IPKernelApp):
    """A kernel whose shell keeps its tracebacks; it does not start if that cannot be had."""

    def init_shell(self) -> None:
        """Make the shell, then hush it."""
        super().init_shell()  # type: ignore[no-untyped-call]
        hush(self.shell)


def main() -> None:
    """Run until the server ends this kernel."""
    kernelapp.IOPubThread = NoSidePort  # type: ignore[attr-defined]
    PageKernel.launch_instance()


if __name__ == "__main__":
    main()

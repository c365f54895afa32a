"""The kernels behind the pages: one a page, closed to the network, with a clean environment."""

import os
import re
import sys
from pathlib import Path
from typing import Any, BinaryIO

from jupyter_client.kernelspec import KernelSpec, KernelSpecManager
from jupyter_client.session import DELIM
from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection
from jupyter_server.services.kernels.kernelmanager import AsyncMappingKernelManager

import quizzes

from .client import PromptClient
from .tracebacks import SENTENCE

# What a kernel may know of the machine: enough to run Python, draw and find its folders.
# Everything else, hub tokens and cloud keys among it, stays with the server.
KNOWN = re.compile(
    r"PATH|PATHEXT|HOME|USER|LOGNAME|LANG|LANGUAGE|LC_\w+|TZ|TMPDIR|TEMP|TMP"
    r"|SYSTEMROOT|SYSTEMDRIVE|WINDIR|COMSPEC|USERPROFILE|APPDATA|LOCALAPPDATA"
    r"|VIRTUAL_ENV|PYTHONHASHSEED|PYTHONUTF8|PYTHONPYCACHEPREFIX|PYTHONDONTWRITEBYTECODE"
    r"|XDG_\w+_(?:HOME|DIR|DIRS)|MPLCONFIGDIR|MPLBACKEND|OMP_NUM_THREADS|OPENBLAS_NUM_THREADS"
    r"|IPYTHONDIR|GAL_\w+"
    r"|SCRIPT_NAME|PATH_INFO|QUERY_STRING|SERVER_(?:SOFTWARE|PROTOCOL|PORT|NAME)|VOILA_\w+",
    re.IGNORECASE if os.name == "nt" else 0,
)

COMMAND = (
    sys.executable,
    "-P",  # the pages' folder holds pages, not modules
    "-m",
    "quizzes.server.kernel_program",
    "-f",
    "{connection_file}",
    "--HistoryManager.enabled=False",  # nobody's work in a history file
)


def scrubbed(environment: dict[str, str]) -> dict[str, str]:
    """Return the part of an environment that a kernel may see.

    Parameters
    ----------
    environment : dict of str to str
        The server's environment with what Voila adds to it.

    Returns
    -------
    dict of str to str
        The entries whose names are on the list; no secret is on it, but the
        record store's address, without which no kernel could write.

    Examples
    --------
    >>> scrubbed({"PATH": "/bin", "API_TOKEN": "s3cret", "GAL_PLACE": "web"})
    {'PATH': '/bin', 'GAL_PLACE': 'web'}
    """
    return {name: value for name, value in environment.items() if KNOWN.fullmatch(name)}


class OwnPython(KernelSpecManager):
    """Offers one kernel, ours, run by the Python that runs the server."""

    def _kernel_dirs_default(self) -> list[str]:
        return []  # whatever else is installed

    def get_kernel_spec(self, kernel_name: str) -> KernelSpec:
        """Return the specification of a page's kernel, by whatever name a notebook asks."""
        spec = super().get_kernel_spec(kernel_name)
        spec.argv = list(COMMAND)
        return spec


class PageKernels(AsyncMappingKernelManager):
    """Starts each page's kernel with a scrubbed environment and its output in the log."""

    async def _async_start_kernel(self, **options: Any) -> str:  # noqa: ANN401 - passed on as they come
        environment = scrubbed(options.get("env") or dict(os.environ))
        # A page runs the code of the server that serves it, wherever else the packages are.
        options["env"] = {**environment, "PYTHONPATH": str(Path(quizzes.__file__).parents[1])}
        with _log_file() as log_file:
            options["stdout"] = options["stderr"] = log_file
            kernel_id: str = await super()._async_start_kernel(**options)
        # Whoever runs the page's cells talks to its kernel by our client.
        self.get_kernel(kernel_id).client_class = f"{PromptClient.__module__}.PromptClient"
        return kernel_id

    start_kernel = _async_start_kernel  # type: ignore[assignment]  # as its base does


def _log_file() -> BinaryIO:
    """Open the server's log for what a kernel's process writes below Python."""
    return Path(os.environ.get("GAL_LOG", os.devnull)).open("ab")


class PromptConnection(ZMQChannelsWebsocketConnection):
    """A page's line to its kernel that answers at once."""

    def connect(self) -> Any:  # noqa: ANN401 - whatever the base returns
        """Connect, with each small message sent as soon as it is there.

        Left alone, TCP holds a small answer back until the last one has been
        acknowledged, which the other end puts off for 40 ms.
        """
        self.websocket_handler.set_nodelay(True)
        return super().connect()


class DiscreetConnection(PromptConnection):
    """One that also keeps to itself what is not for people."""

    def handle_outgoing_message(self, stream: Any, outgoing_msg: list[Any]) -> None:  # noqa: ANN401
        """Pass a kernel's message on: errors without their story, stderr not at all.

        The kernel keeps its tracebacks already; this holds even if a page's
        code got round that.
        """
        identities, parts = self.session.feed_identities(outgoing_msg)
        kind = self.session.unpack(parts[1]).get("msg_type")
        if kind == "stream" and self.session.unpack(parts[4]).get("name") == "stderr":
            return
        if kind == "error":
            if self.subprotocol != "v1.kernel.websocket.jupyter.org":
                return  # the older form is signed and cannot be rewritten on the way
            plain = {"ename": "PageTroubleError", "evalue": SENTENCE, "traceback": []}
            outgoing_msg = [*identities, DELIM, *parts[:4], self.session.pack(plain), *parts[5:]]
        super().handle_outgoing_message(stream, outgoing_msg)

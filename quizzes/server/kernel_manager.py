"""The kernels behind the pages: one a page, closed to the network, with a clean environment."""

import asyncio
import os
import re
import secrets
import sys
from collections.abc import Collection
from functools import cache
from pathlib import Path
from typing import Any, BinaryIO

from jupyter_client.kernelspec import KernelSpec, KernelSpecManager
from jupyter_events import EventLogger
from jupyter_server import DEFAULT_EVENTS_SCHEMA_PATH
from jupyter_server.services.kernels.kernelmanager import (
    AsyncMappingKernelManager,
    ServerKernelManager,
)
from traitlets import Bool, Float, default

import quizzes
from quizzes.desks.visitor import VISITOR, Visitor
from quizzes.server.border.visits import Owners
from quizzes.server.forking.keeper import Keeper, can_fork
from quizzes.server.forking.provisioner import NAME, register
from quizzes.server.pages.asking import ASKING, Asking
from quizzes.server.pages.room import MOST_PAGES, PAGE_SOCKETS

from .client import PromptClient

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

MOST_SOCKETS = (MOST_PAGES + 100) * PAGE_SOCKETS  # with those of pages that are being left

MOST_OF_BROWSER = 20  # pages of one browser of the room at once
MOST_OF_ADDRESS = 120  # of one address: a class of thirty may come from behind one
TOO_MANY = "{} pages are open on this device, and it may have no more. Close some of them first."


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
        spec.metadata = {"kernel_provisioner": {"provisioner_name": NAME}}
        return spec


@cache
def _event_logger() -> EventLogger:
    """Return one for all kernels: each would read what events look like again."""
    logger = EventLogger()
    logger.register_event_schema(DEFAULT_EVENTS_SCHEMA_PATH / "kernel_actions" / "v1.yaml")
    return logger


class OneLogger(ServerKernelManager):
    """The library's manager of one kernel, which shares its logger of events."""

    @default("event_logger")
    def _default_event_logger(self) -> EventLogger:
        return _event_logger()


class PageKernels(AsyncMappingKernelManager):
    """Starts each page's kernel with a scrubbed environment and its output in the log."""

    fork = Bool(default_value=True, help="fork kernels where the platform can").tag(config=True)
    unreached_s = Float(90.0, min=1.0, help="s until a kernel that no browser reached ends").tag(
        config=True
    )

    def __init__(self, **settings: Any) -> None:  # noqa: ANN401 - as its base takes them
        super().__init__(**settings)  # type: ignore[no-untyped-call]
        self.context.max_sockets = MOST_SOCKETS  # the library's own limit: 169 pages
        register()
        self.keeper: Keeper | None = None
        self.owners = Owners()
        self._reached: set[str] = set()
        self._ending: set[asyncio.Future[None]] = set()

    @default("kernel_manager_class")
    def _default_kernel_manager_class(self) -> str:
        return f"{__name__}.OneLogger"

    def begin(self) -> None:
        """Start what later kernels are made from; return at once."""
        if self.fork and can_fork():
            self.keeper = Keeper(_environment(dict(os.environ)), _log_path())
            self.keeper.start()

    def pre_start_kernel(self, kernel_name: str | None, kwargs: Any) -> tuple[Any, str, str]:  # noqa: ANN401 - the base's
        """Return a kernel to be started, its sockets named by chance.

        Its own number opens its page; names of sockets and files can be read by all.
        """
        kernel, name, kernel_id = super().pre_start_kernel(kernel_name, kwargs)
        kernel.connection_file = str(
            Path(self.connection_dir, f"kernel-{secrets.token_hex(8)}.json")
        )
        return kernel, name, kernel_id

    async def _async_start_kernel(self, **options: Any) -> str:  # noqa: ANN401 - passed on as they come
        options["env"] = _environment(options.get("env") or dict(os.environ))
        asking = ASKING.get()
        options["env"]["QUERY_STRING"] = asking.query if asking else ""
        options["env"][VISITOR] = (asking.visitor if asking else Visitor()).text()
        with _log_file() as log_file:
            options["stdout"] = options["stderr"] = log_file
            kernel_id: str = await self._started(options)
        # Whoever runs the page's cells talks to its kernel by our client.
        self.get_kernel(kernel_id).client_class = f"{PromptClient.__module__}.PromptClient"
        if asking:
            self.give(kernel_id, asking)
        return kernel_id

    start_kernel = _async_start_kernel  # type: ignore[assignment]  # as its base does

    async def _started(self, options: dict[str, Any]) -> str:
        kernel_id = options["kernel_id"] = self.new_kernel_id()
        try:
            return str(await super()._async_start_kernel(**options))
        except Exception:
            # The library would go on waiting for it, at the end forever.
            self._pending_kernels.pop(kernel_id, None)
            raise

    def give(self, kernel_id: str, asking: Asking) -> None:
        """Let a kernel be one browser's, and end if that does not come for it.

        Parameters
        ----------
        kernel_id : str
            The kernel.
        asking : Asking
            Whose it is.
        """
        self.owners.note(kernel_id, asking.visit, asking.person, asking.address)
        asyncio.get_running_loop().call_later(self.unreached_s, self._end_unreached, kernel_id)

    def end_of(self, visits: Collection[str]) -> None:
        """End the kernels of visits, of which only the hashes are known; return at once."""
        for kernel_id in self.owners.kernels_of(visits):
            self._end(kernel_id)

    def end_of_person(self, person: str) -> None:
        """End the kernels of a person of a class, who sits elsewhere now; return at once."""
        for kernel_id in self.owners.kernels_of_person(person):
            self._end(kernel_id)

    def objection(self, asking: Asking) -> str:
        """Return why a device of the room may have no further page; empty if it may.

        A browser that has its share of pages loses the oldest that it has left without a word.
        """
        if not asking.address:
            return ""
        if self.owners.count_at(asking.address) >= MOST_OF_ADDRESS:
            return TOO_MANY.format(MOST_OF_ADDRESS)
        mine = self.owners.kernels_of_visit(asking.visit)
        if len(mine) < MOST_OF_BROWSER:
            return ""
        left = [
            one for one in mine if one in self._reached and not self._kernel_connections.get(one)
        ]
        if not left:
            return TOO_MANY.format(MOST_OF_BROWSER)
        self._end(left[0])
        return ""

    def _end_unreached(self, kernel_id: str) -> None:
        if kernel_id in self and kernel_id not in self._reached:
            self.log.info("no browser came for kernel %s", kernel_id)
            self._end(kernel_id)

    def _end(self, kernel_id: str) -> None:
        if kernel_id in self:
            end: Any = self.shutdown_kernel
            ending = asyncio.ensure_future(end(kernel_id))
            self._ending.add(ending)
            ending.add_done_callback(self._ending.discard)

    def notify_connect(self, kernel_id: str) -> None:
        """Note that a browser has come for a kernel."""
        self._reached.add(kernel_id)
        super().notify_connect(kernel_id)  # type: ignore[no-untyped-call]

    def remove_kernel(self, kernel_id: str) -> Any:  # noqa: ANN401 - the base's
        """Forget a kernel that has ended."""
        self._reached.discard(kernel_id)
        self.owners.forget(kernel_id)
        return super().remove_kernel(kernel_id)

    def in_use(self) -> int:
        """Return how many kernels have a page."""
        return len(self._kernels)


def _environment(known: dict[str, str]) -> dict[str, str]:
    """Return what a kernel is told; it runs the code of the server that serves its page."""
    return {**scrubbed(known), "PYTHONPATH": str(Path(quizzes.__file__).parents[1])}


def _log_path() -> Path:
    return Path(os.environ.get("GAL_LOG", os.devnull))


def _log_file() -> BinaryIO:
    """Open the server's log for what a kernel's process writes below Python."""
    return _log_path().open("ab")

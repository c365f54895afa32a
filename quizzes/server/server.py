"""Voila with our manners: its own log, plain refusals, a clean start and a clean stop."""

import asyncio
import datetime as dt
import errno
import logging
import re
import shutil
import signal
import sys
import tempfile
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from types import FrameType
from typing import Any

from jupyter_core.utils import ensure_async
from tornado.httpclient import AsyncHTTPClient
from tornado.httpserver import HTTPServer
from tornado.ioloop import PeriodicCallback
from voila.app import Voila
from voila.utils import get_voila_labextensions_path

from quizzes.records import RecordsError
from quizzes.server.border.frames import MOST_BYTES
from quizzes.server.border.guard import Guard, GuardedApplication
from quizzes.server.border.origins import Announced
from quizzes.server.pages.handler import PAGES_SHARE, PagesShare
from quizzes.server.pages.kept import KeptPages
from quizzes.server.pages.living_door import DOOR, Door, DoorFile
from quizzes.server.pages.room import most_pages, pages_at_a_time, raise_descriptors
from quizzes.server.pages.turns import Turns
from quizzes.server.people.addresses import ADDRESSES
from quizzes.server.people.identities import Identities
from quizzes.server.room.address import Classroom
from quizzes.server.room.certificate import tls
from quizzes.server.room.poster import POSTER

from .demo_class.at_work import ClassAtWork
from .front_end import NONE, FrontEndFile, joined
from .front_end_parts import parts_asked_for
from .navigation import AT_WORK, FRONT_END, LIVING_DOOR, PEOPLE
from .refusals import WITH_REFUSALS, NoSuchPage, Poster, Refused, StaticFiles
from .templates import use_suite_exporter

GRACE_S = 10.0  # s a kernel has to end by itself once asked
FIRST_ANSWER_S = 30.0  # s the front door may take to open on a slow machine
MOST_BODY = 64_000  # bytes; the only requests with a body are the short ones that end a page
AWAKE_S = 20.0  # s between notes that the server runs, for the clocks of classes
GLANCE_S = 0.5  # s between glances at a stop signal, which on Windows wakes no sleeper


# Signing in and out in the library's way: nobody here has its password.
LIBRARY_DOORS = ("/login", "/logout")


class PortBusyError(OSError):
    """The port cannot be had: somebody else listens on it, or it is not ours to take."""


class NotOursError(OSError):
    """The room's address is none of this machine."""


class NotAnsweringError(RuntimeError):
    """The server listens, but its front door does not open."""


class SuiteServer(Voila):  # type: ignore[misc]  # untyped base
    """A server of lessons on the loopback address.

    Parameters
    ----------
    when_open : callable
        Called without arguments once the front door has been seen to open.
    announced : Announced
        Names under which the server may be asked.
    people : Identities
        Who sits at which browser.
    classroom : Classroom, optional
        Where other machines of the room find it; nowhere if left out.
    at_work : ClassAtWork, optional
        The demo's class at its sittings.
    **settings
        As for Voila; `config` holds what matters.
    """

    def __init__(
        self,
        when_open: Callable[[], None],
        announced: Announced,
        people: Identities,
        classroom: Classroom | None = None,
        at_work: ClassAtWork | None = None,
        **settings: Any,  # noqa: ANN401 - Voila's own
    ) -> None:
        super().__init__(**settings)
        self._classroom = classroom
        self._at_work = at_work
        self._people = people
        self._guard = Guard(announced, people, self.base_url)
        self._descriptors = raise_descriptors()
        use_suite_exporter()
        self._when_open = when_open
        self._told_to_stop = asyncio.Event()
        self.log.propagate = True
        self.log.setLevel(logging.INFO)
        self._front_end = NONE

    def _configure_logging(self) -> None:
        """Leave logging as the command arranged it."""

    @property
    def themes_dir(self) -> str:
        """Where the front end's themes are: with the library, not with our template."""
        return str(Path(sys.prefix, "share", "jupyter", "voila", "themes"))

    def init_settings(self) -> dict[str, Any]:
        """Return the library's settings with our refusals for unknown addresses."""
        settings: dict[str, Any] = super().init_settings()
        settings["default_handler_class"] = NoSuchPage
        settings["default_handler_args"] = {}
        settings["jinja2_env"] = settings["voila_jinja2_env"]
        extensions = self.voila_configuration.extra_labextensions_path
        static = [Path(folder) for folder in self.static_paths]
        others = [Path(folder) for folder in get_voila_labextensions_path(extensions)]
        self._front_end = joined(parts_asked_for(static, others), static, others)
        settings[POSTER] = (self._classroom, self.port)
        settings[PAGES_SHARE] = PagesShare(
            self._guard,
            KeptPages(Path(self.root_dir)),
            Turns(pages_at_a_time()),
            most_pages(self._descriptors),
        )
        settings[PEOPLE] = self._people
        settings[AT_WORK] = self._at_work
        settings[LIVING_DOOR] = self._address(DOOR)
        settings[FRONT_END] = self._address(self._front_end.name) if self._front_end.name else ""
        return settings

    def _address(self, name: str) -> str:
        return f"{self.base_url}suite/{name}"

    def init_handlers(self) -> list[tuple[Any, ...]]:
        """Return the library's handlers, each refusing in a sentence, and our own script's."""
        handlers = [
            (pattern, WITH_REFUSALS.get(handler, handler), *rest)
            for pattern, handler, *rest in super().init_handlers()
            if pattern not in LIBRARY_DOORS
        ]
        return [*self._own_handlers(), *handlers]

    def _own_handlers(self) -> list[tuple[Any, ...]]:
        """Return what answers before the library does."""
        # The library looks a template's folders up again for every file of ours.
        static = rf"{re.escape(self.base_url)}voila/templates/suite/static/(.*)"
        own: list[tuple[Any, ...]] = [(static, StaticFiles, {"paths": self.static_paths})]
        own.append((re.escape(self._address(DOOR)), DoorFile, {"door": Door()}))
        if self._front_end.name:
            address = re.escape(self._address(self._front_end.name))
            own.append((address, FrontEndFile, {"front_end": self._front_end}))
        own.append((rf"{re.escape(self.base_url)}classroom", Poster))
        own += [(re.escape(f"{self.base_url}{path}"), page) for path, page in ADDRESSES.items()]
        return own

    def start(self) -> None:
        """Serve until told to stop by Ctrl-C or SIGTERM; end every kernel; return.

        Raises
        ------
        PortBusyError
            If the port is taken.
        NotAnsweringError
            If the front door does not open; the log says why.
        """
        signal.signal(signal.SIGINT, self._handle_signal_stop)
        asyncio.run(self._serve())

    def _handle_signal_stop(self, signal_number: int, _frame: FrameType | None) -> None:
        self.log.info("told to stop by signal %d", signal_number)
        self._told_to_stop.set()

    async def _serve(self) -> None:
        self.connection_dir = tempfile.mkdtemp(prefix="k", dir=self.connection_dir_root)
        self.app = GuardedApplication(self._guard, Refused, **self.init_settings())
        self.app.settings.update(self.tornado_settings)
        self.kernel_manager.owners = self._guard.owners
        self.kernel_manager.begin()
        self.app.add_handlers(".*$", self.init_handlers())
        try:
            await self._listen_until_told()
        finally:
            await self._end_kernels()
            self._people.store.close()
            shutil.rmtree(self.connection_dir, ignore_errors=True)

    async def _listen_until_told(self) -> None:
        try:
            listening = [self._listen(address) for address in self._addresses()]
        except OSError as error:
            if error.errno == errno.EADDRNOTAVAIL:
                raise NotOursError(error.errno, error.strerror) from error
            if error.errno in (errno.EADDRINUSE, errno.EACCES):
                raise PortBusyError(error.errno, error.strerror) from error
            raise
        noting = PeriodicCallback(self._note_awake, AWAKE_S * 1000)
        try:
            await self._see_front_door_open()
            self._note_awake()
            noting.start()
            self._when_open()
            while not self._told_to_stop.is_set():
                with suppress(TimeoutError):
                    await asyncio.wait_for(self._told_to_stop.wait(), GLANCE_S)
        finally:
            noting.stop()
            for each in listening:
                each.stop()
                await each.close_all_connections()

    def _note_awake(self) -> None:
        """Note that this machine is awake: while it sleeps, nobody's minutes run."""
        try:
            self._people.store.note_awake(dt.datetime.now(dt.UTC))
        except RecordsError as error:
            self.log.warning("the clocks of classes were not noted: %s", error)

    def _addresses(self) -> list[str]:
        room = [self._classroom.address] if self._classroom else []
        return [self.ip, *(address for address in room if address != self.ip)]

    def _listen(self, address: str) -> HTTPServer:
        files = self._classroom and (self._classroom.certificate, self._classroom.key)
        certificate, key = files or (None, None)
        server: HTTPServer = self.app.listen(
            self.port,
            address,
            max_body_size=MOST_BODY,
            max_buffer_size=2 * MOST_BYTES,
            ssl_options=tls(certificate, key) if certificate and key else None,
        )
        return server

    async def _see_front_door_open(self) -> None:
        scheme = "https" if self._guard.announced.secure else "http"
        address = f"{scheme}://{self.ip}:{self.port}{self.base_url}"
        try:
            # Its own certificate does not have to convince itself.
            await AsyncHTTPClient().fetch(
                address, request_timeout=FIRST_ANSWER_S, validate_cert=False
            )
        except Exception as error:
            self.log.exception("the front door did not open")
            raise NotAnsweringError(str(error)) from error

    async def _end_kernels(self) -> None:
        kernels = self.kernel_manager
        self.log.info("ending %d kernels", len(kernels.list_kernel_ids()))
        try:
            await asyncio.wait_for(ensure_async(kernels.shutdown_all()), GRACE_S)
        except Exception:  # whatever one of them did, the others end
            self.log.exception("a kernel did not end when asked")
            await ensure_async(kernels.shutdown_all(now=True))

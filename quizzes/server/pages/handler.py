"""The address of a page: a kernel is forked for it, runs its cells, and the page is sent."""

import asyncio
import os
from dataclasses import dataclass
from typing import Self

from tornado.web import authenticated
from voila.tornado.handler import TornadoVoilaHandler

from quizzes.server.border.guard import Guard, refused
from quizzes.server.border.visits import begin_visit, visit_of
from quizzes.server.forking.keeper import NotForkedError
from quizzes.server.forking.provisioner import FirstCells

from .asking import ASKING, Asking
from .kept import KeptPage, KeptPages, Outputs, outputs_of
from .room import free_mb, wait_s
from .turns import Turns

PAGES_SHARE = "suite_pages_share"  # among a server's settings
CAME_BACK = "visit"  # in the address to which a browser comes back with its cookie
COOKIES = (
    "This page needs a cookie, and your browser does not keep it for this address. "
    "Allow cookies for it and load the page again."
)
CELL_S = 60.0  # s that one cell of a page may take
LONGEST_LINE = 16_000_000  # bytes that one cell may show
LONGEST_QUERY = 600  # characters of an address that a kernel is told
BROKEN: Outputs = [{"output_type": "error", "ename": "", "evalue": "", "traceback": []}]


@dataclass(frozen=True, slots=True)
class PagesShare:
    """What all pages share.

    Parameters
    ----------
    guard : Guard
        Who may ask for what.
    pages : KeptPages
        The pages as they stand.
    turns : Turns
        Who may have one made now.
    most : int
        How many may stand at once.
    """

    guard: Guard
    pages: KeptPages
    turns: Turns
    most: int


class FirstRun:
    """The server's end of a kernel's first run: what its cells show, one after the other."""

    def __init__(self) -> None:
        self._ours, self.theirs = os.pipe()
        self._lines = asyncio.StreamReader(limit=LONGEST_LINE)
        self._transport: asyncio.ReadTransport | None = None

    async def __aenter__(self) -> Self:
        loop = asyncio.get_running_loop()
        protocol = asyncio.StreamReaderProtocol(self._lines)
        pipe = os.fdopen(self._ours, "rb", 0)
        self._transport, _ = await loop.connect_read_pipe(lambda: protocol, pipe)
        return self

    async def __aexit__(self, *_raised: object) -> None:
        self.hand_over()
        if self._transport is not None:
            self._transport.close()

    def hand_over(self) -> None:
        """Let go of the kernel's end, so that this one hears when it is closed."""
        if self.theirs >= 0:
            os.close(self.theirs)
            self.theirs = -1

    async def shown(self) -> Outputs:
        """Return what the next cell shows; an error if there is no answer."""
        try:
            line = await asyncio.wait_for(self._lines.readline(), CELL_S)
        except (TimeoutError, ValueError):
            line = b""
        return outputs_of(line) if line else BROKEN


class SuitePage(TornadoVoilaHandler):  # type: ignore[misc]
    """A notebook as a page, with a forked kernel where there is a parent to fork from."""

    @authenticated
    async def get(self, path: str = "") -> None:
        """Send the page at a path, or say what is in the way of it."""
        share: PagesShare = self.settings[PAGES_SHARE]
        kept = await share.pages.page(path, self)
        if sentence := share.guard.objection_to_page(kept.name, self.request):
            raise refused(sentence)
        visit = visit_of(self.request)
        if not visit:
            self._begin_visit()
            return
        if wait := self._wait_s(share):
            self.say_later(wait)
            return
        self.set_header("Content-Type", "text/html; charset=UTF-8")
        self.set_header("Cache-Control", "no-store")
        visitor = share.guard.visitor(self.request)
        share.guard.note_page(visitor, kept.name)
        query = self.request.query[:LONGEST_QUERY]
        address = self.request.remote_ip or ""
        here = share.guard.is_here(self.request)
        asking = Asking(visit, visitor, query, "" if here else address)
        ASKING.set(asking)
        async with share.turns.turn(address):
            if self.request.connection.stream.closed():
                return
            if sentence := self.kernel_manager.objection(asking):
                raise refused(sentence)
            await self._make(kept, path)

    def say_later(self, wait_s: int) -> None:
        """Say that there is no room yet."""
        raise NotImplementedError

    def _begin_visit(self) -> None:
        """Ask the browser to come again with a cookie, which another site's page could not."""
        if self.get_query_argument(CAME_BACK, ""):
            raise refused(COOKIES)
        begin_visit(self)
        more = "&" if self.request.query else "?"
        self.redirect(f"{self.request.uri}{more}{CAME_BACK}=1")

    def _wait_s(self, share: PagesShare) -> int:
        pages = self.kernel_manager.in_use() + share.turns.waiting
        return wait_s(pages, share.most, share.turns.wait_s(), free_mb())

    async def _make(self, kept: KeptPage, path: str) -> None:
        if self.kernel_manager.keeper is None:
            await super().get(path)
            return
        try:
            async with FirstRun() as first:
                await self._send(kept, path, first)
        except NotForkedError as error:
            self.log.warning("a page is made the ordinary way: %s", error)
            self.clear()
            await super().get(path)

    async def _send(self, kept: KeptPage, path: str, first: FirstRun) -> None:
        async def begin() -> str:
            kernel_id: str = await self.kernel_manager.start_kernel(
                kernel_name="python3",
                path=os.path.dirname(path),  # noqa: PTH120 (a path of an address)
                first=FirstCells(kept.sources, first.theirs),
            )
            first.hand_over()
            return kernel_id

        async def shown() -> Outputs:
            self.flush()  # what stands already, while the next cell is worked out
            return await first.shown()

        async for piece in kept.pieces(begin, shown):
            self.write(piece)

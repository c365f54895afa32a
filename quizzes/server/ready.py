"""Kernels that wait, warm, for the next page: started and imported before anybody asks.

A page's kernel costs a second or two of starting and importing. A few stand ready; each is
handed to one page and to no other, and another is started once that page has had its start.
They have run none of a page's cells and know nothing of any visitor.
"""

import asyncio
import datetime as dt
import os
from collections import deque
from contextlib import suppress
from typing import Any

from jupyter_core.utils import ensure_async
from traitlets import Float, Int

from quizzes.desks.visitor import Visitor
from quizzes.server.pages.asking import ASKING

from .kernel_manager import PageKernels

WARM_FLAG = "GAL_WARM"  # in a ready kernel's environment: import what pages need before serving


class ReadyKernels(PageKernels):
    """Page kernels of which some are kept ready."""

    ready = Int(0, min=0, max=20, help="kernels that stand ready").tag(config=True)
    refill_s = Float(2.0, min=0.0, help="s from handing one out until the next is started").tag(
        config=True
    )

    def __init__(self, **settings: Any) -> None:  # noqa: ANN401 - as its base takes them
        super().__init__(**settings)
        self._waiting: deque[str] = deque()
        self._filling: asyncio.Task[None] | None = None

    def begin(self) -> None:
        """Start the parent of forked kernels, or kernels that wait where none can be forked."""
        super().begin()
        if self.keeper is not None:
            self.ready = 0
        self.fill()

    def fill(self) -> None:
        """Start kernels until as many are ready as should be; return at once."""
        if self.ready and (self._filling is None or self._filling.done()):
            self._filling = asyncio.ensure_future(self._fill())

    async def _fill(self) -> None:
        while len(self._waiting) < self.ready:
            try:
                kernel_id = await super()._async_start_kernel(
                    kernel_name="python3", path="", env={**os.environ, WARM_FLAG: "1"}
                )
            except Exception:
                self.log.exception("no kernel could be made ready")
                return
            self._waiting.append(kernel_id)

    async def _async_start_kernel(self, **options: Any) -> str:  # noqa: ANN401 - passed on as they come
        asking = ASKING.get()
        # One that waited knows nobody: who has a role of their own gets a kernel that is told.
        anyone = asking is None or asking.visitor == Visitor()
        kernel_id = await self._hand_out() if anyone else None
        if kernel_id and asking:
            self.give(kernel_id, asking)
        kernel_id = kernel_id or await super()._async_start_kernel(**options)
        if self.ready:
            asyncio.get_running_loop().call_later(self.refill_s, self.fill)
        return kernel_id

    start_kernel = _async_start_kernel  # as its base does

    def in_use(self) -> int:
        """Return how many kernels have a page: not those that wait."""
        return super().in_use() - len(self._waiting)

    async def _hand_out(self) -> str | None:
        """Return a ready kernel that is alive, and forget it; None if there is none."""
        while self._waiting:
            kernel_id = self._waiting.popleft()
            with suppress(Exception):  # one that died while it waited is no trouble of the page's
                kernel: Any = self.get_kernel(kernel_id)
                if await ensure_async(kernel.is_alive()):
                    kernel.last_activity = dt.datetime.now(dt.UTC)  # its idling begins now
                    self.log.info("handed out a ready kernel: %s", kernel_id)
                    return kernel_id
        return None

    async def cull_kernel_if_idle(self, kernel_id: str) -> None:
        """End a kernel that nobody uses; one that stands ready is not idle but waiting."""
        if kernel_id not in self._waiting:
            await super().cull_kernel_if_idle(kernel_id)  # type: ignore[no-untyped-call]

    async def shutdown_all(self, *, now: bool = False) -> None:  # type: ignore[override]
        """End every kernel, and start no other."""
        self.ready = 0
        if self._filling is not None:
            self._filling.cancel()
            with suppress(asyncio.CancelledError):
                await self._filling
        await ensure_async(super().shutdown_all(now=now))
        if self.keeper is not None:
            self.keeper.stop()

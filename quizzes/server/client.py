"""The server's own line to a page's kernel, which is ready when the kernel says so."""

import time
from contextlib import suppress
from queue import Empty

from jupyter_client.asynchronous.client import AsyncKernelClient

ANSWER_S = 1.0  # s to wait for an answer before asking again
HEARD_S = 0.2  # s for the kernel's broadcast to come through beside its answer


class PromptClient(AsyncKernelClient):
    """A client that does not wait two tenths of a second more for nothing.

    The library listens, once the kernel has answered, until nothing has come for so long;
    what may still come belongs to no cell, and is passed over by whoever runs one.
    """

    async def _async_wait_for_ready(self, timeout: float | None = None) -> None:  # noqa: ASYNC109 (the base's signature)
        """Return when the kernel has answered and its broadcasts are heard.

        Parameters
        ----------
        timeout : float, optional
            s to wait at most; as long as it takes, if not given.

        Raises
        ------
        RuntimeError
            If the kernel has died, or did not answer in time.
        """
        end = time.monotonic() + (float("inf") if timeout is None else timeout)
        while not await self._has_answered():
            if not await self._async_is_alive():
                raise RuntimeError("the kernel died before it answered")
            if time.monotonic() > end:
                raise RuntimeError(f"the kernel did not answer in {timeout:g} s")

    async def _has_answered(self) -> bool:
        self.kernel_info()
        with suppress(Empty):
            answer = await self.shell_channel.get_msg(timeout=ANSWER_S)
            if answer["msg_type"] == "kernel_info_reply":
                await self.iopub_channel.get_msg(timeout=HEARD_S)
                self._handle_kernel_info_reply(answer)
                return True
        return False

    wait_for_ready = _async_wait_for_ready

"""A page's line to its kernel: what goes through it, either way, and when it is cut."""

from asyncio import Future
from http import HTTPStatus
from typing import Any

from jupyter_client.session import DELIM
from jupyter_core.utils import ensure_async
from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection
from tornado.web import HTTPError

from quizzes.server.tracebacks import SENTENCE

from .frames import is_whole

UNSUPPORTED = 1003  # RFC 6455, 7.4.1
MOST_LINES = 12  # of one page: each takes nine descriptors, and the server has only so many


class PromptConnection(ZMQChannelsWebsocketConnection):
    """A page's line to its kernel that answers at once."""

    def connect(self) -> Any:  # noqa: ANN401 - whatever the base returns
        """Connect, with each small message sent as soon as it is there.

        Left alone, TCP holds a small answer back until the last one has been
        acknowledged, which the other end puts off for 40 ms.
        """
        self.websocket_handler.set_nodelay(True)
        return super().connect()

    async def prepare(self) -> None:
        """Prepare a line, or refuse it at once where its kernel has ended.

        The library waits a minute for an ended kernel to come back, and the page with it.

        Raises
        ------
        HTTPError
            410 if the kernel's process has ended; 429 if it has too many lines already.
        """
        lines = sum(key.startswith(f"{self.kernel_id}:") for key in self._open_sessions)
        if lines >= MOST_LINES:
            raise HTTPError(HTTPStatus.TOO_MANY_REQUESTS, "%d lines to one kernel", lines)
        if not await ensure_async(self.kernel_manager.is_alive()):
            self.log.warning("a page asked for kernel %s, which has ended", self.kernel_id)
            raise HTTPError(HTTPStatus.GONE, "kernel %s has ended", self.kernel_id)
        await super().prepare()  # type: ignore[no-untyped-call]

    def nudge(self) -> Future[None]:
        """Return what is done when the kernel's broadcasts are heard.

        The library does not wait for that where a kernel is at work, as one is whose page comes
        back after a break: what it showed before the line stood would be lost.
        """
        kernel: Any = self.kernel_manager
        state, kernel.execution_state = kernel.execution_state, "unknown"
        try:
            return super().nudge()
        finally:
            kernel.execution_state = state


class DiscreetConnection(PromptConnection):
    """One that also keeps to itself what is not for people, and takes in only what is whole."""

    def handle_incoming_message(self, incoming_msg: Any) -> None:  # noqa: ANN401 - bytes or str
        """Pass a browser's message on, or hang up if its frame is none."""
        try:
            if is_whole(incoming_msg, self.subprotocol):
                super().handle_incoming_message(incoming_msg)
                return
            reason = "it is not whole"
        except Exception as error:  # noqa: BLE001 (whatever the library stumbles over)
            reason = type(error).__name__
        self.log.warning("hung up on a page: a frame of %d bytes, %s", len(incoming_msg), reason)
        self.websocket_handler.close(UNSUPPORTED, "not a message of a page")

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

"""A page's line outwards: a frame is looked at by the rules of the form in which it is written."""

from typing import Any

from tornado.iostream import StreamBufferFullError
from voila.tornado.kernel_websocket_handler import VoilaKernelWebsocketHandler

from .frames import PROTOCOL

MOST_WAITING = 16_000_000  # bytes for one line; all that a page shows at once is a tenth of it


class PageLine(VoilaKernelWebsocketHandler):  # type: ignore[misc]  # untyped base
    """The library's line, which cannot be held up by a browser that asks for a file."""

    def write_message(self, message: bytes | dict[str, Any] | str, binary: bool = False) -> Any:  # noqa: ANN401, FBT001, FBT002 - the base's
        """Send a message to the page.

        The library looks for a header in every frame of bytes as the newer form has it. In one of
        the older form it takes four bytes for a count of parts beyond all measure, and counts until
        the memory is full, while everybody waits.
        """
        try:
            return self._written(message, binary)
        except StreamBufferFullError:
            self.log.warning("hung up on a page that asks and does not read")
            self.ws_connection.stream.close()
            return None

    async def open(self, kernel_id: str) -> None:
        """Begin, with a bound on what waits to be read: it stands in everybody's memory."""
        self.ws_connection.stream.max_write_buffer_size = MOST_WAITING
        await super().open(kernel_id)

    def _written(self, message: bytes | dict[str, Any] | str, binary: bool) -> Any:  # noqa: ANN401, FBT001 - the base's
        if isinstance(message, bytes) and self.selected_subprotocol != PROTOCOL:
            return super(VoilaKernelWebsocketHandler, self).write_message(message, binary)
        return super().write_message(message, binary)

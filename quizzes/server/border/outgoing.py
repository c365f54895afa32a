"""A page's line outwards: a frame is looked at by the rules of the form in which it is written."""

from typing import Any

from voila.tornado.kernel_websocket_handler import VoilaKernelWebsocketHandler

from .frames import PROTOCOL


class PageLine(VoilaKernelWebsocketHandler):  # type: ignore[misc]  # untyped base
    """The library's line, which cannot be held up by a browser that asks for a file."""

    def write_message(self, message: bytes | dict[str, Any] | str, binary: bool = False) -> Any:  # noqa: ANN401, FBT001, FBT002 - the base's
        """Send a message to the page.

        The library looks for a header in every frame of bytes as the newer form has it. In one of
        the older form it takes four bytes for a count of parts beyond all measure, and counts until
        the memory is full, while everybody waits.
        """
        if isinstance(message, bytes) and self.selected_subprotocol != PROTOCOL:
            return super(VoilaKernelWebsocketHandler, self).write_message(message, binary)
        return super().write_message(message, binary)

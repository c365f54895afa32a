"""A websocket's frame: what it claims of its parts is checked before it is split.

The library believes it, and splits a frame of four bytes into as many parts as it names.
"""

import json
import struct
from itertools import pairwise

PROTOCOL = "v1.kernel.websocket.jupyter.org"
MOST_PARTS = 64  # of one message: header, parent, metadata, content, and a widget's buffers
MOST_BYTES = 4_000_000  # of one frame; the largest thing a page sends is a trainer's own file
FEWEST_OFFSETS = 6  # channel, four parts, and where the last one ends
CHANNELS = ("shell", "control")  # a page has nothing to say to the others


def is_whole(frame: bytes | str, protocol: str | None) -> bool:
    """Return whether a frame is what it claims to be, and for a channel that takes messages.

    Parameters
    ----------
    frame : bytes or str
        As it came.
    protocol : str or None
        The websocket's subprotocol; None for the older form of messages.

    Returns
    -------
    bool
        False if it is to be thrown away, unread.

    Examples
    --------
    >>> is_whole(b"null", None)
    False
    >>> is_whole('{"channel": "shell", "header": {}}', None)
    True
    """
    if len(frame) > MOST_BYTES:
        return False
    if isinstance(frame, str):
        return protocol is None and _is_message(frame)
    return _is_new_form(frame) if protocol == PROTOCOL else _is_old_form(frame)


def _is_message(text: str | bytes) -> bool:
    try:
        said = json.loads(text)
    except (ValueError, RecursionError):
        return False
    return (
        isinstance(said, dict)
        and said.get("channel") in CHANNELS
        and all(isinstance(said.get(part, {}), dict) for part in ("header", "parent_header"))
    )


def _is_new_form(frame: bytes) -> bool:
    """Look at eight-byte numbers, the least significant byte first: count, then offsets."""
    count = int.from_bytes(frame[:8], "little")
    if not FEWEST_OFFSETS <= count <= MOST_PARTS or len(frame) < 8 * (count + 1):
        return False
    offsets = struct.unpack_from(f"<{count}Q", frame, 8)
    if not _rise(offsets, 8 * (count + 1), len(frame)):
        return False
    channel = frame[offsets[0] : offsets[1]]
    return channel.decode("ascii", "replace") in CHANNELS


def _is_old_form(frame: bytes) -> bool:
    """Look at four-byte numbers, the most significant byte first: count, then offsets."""
    if len(frame) < 8:
        return False
    (count,) = struct.unpack_from("!i", frame)
    if not 1 <= count <= MOST_PARTS or len(frame) < 4 * (count + 1):
        return False
    offsets = struct.unpack_from(f"!{count}I", frame, 4)
    end = offsets[1] if count > 1 else len(frame)
    return _rise(offsets, 4 * (count + 1), len(frame)) and _is_message(frame[offsets[0] : end])


def _rise(offsets: tuple[int, ...], first: int, length: int) -> bool:
    return (
        offsets[0] == first
        and offsets[-1] <= length
        and all(before <= after for before, after in pairwise(offsets))
    )

"""What the server asks of the forking parent, and how the two write to each other.

One packet is one order, as JSON, or one answer; an order carries two descriptors with it: the
log's, and that of a pipe for what the first cells show.
"""

import json
import socket
from dataclasses import asdict, dataclass

LONGEST_BYTES = 200_000  # an order holds an environment, in it the address that was asked for
FILES = 2  # descriptors that travel with an order
READY, NOT_FORKED = b"ready", b"0"


@dataclass(frozen=True, slots=True)
class Order:
    """One kernel to be forked.

    Parameters
    ----------
    connection_file : str
        Where the server has written how it will reach the kernel.
    environment : dict of str to str
        Its whole environment, already scrubbed, the visitor in it.
    folder : str
        The folder it runs in.
    cells : tuple of str
        What it runs first, before anybody asks it anything.
    """

    connection_file: str
    environment: dict[str, str]
    folder: str
    cells: tuple[str, ...] = ()

    def packet(self) -> bytes:
        """Return the order as it travels.

        Raises
        ------
        ValueError
            If it is longer than a packet may be.
        """
        packet = json.dumps(asdict(self)).encode()
        if len(packet) > LONGEST_BYTES:
            raise ValueError(f"an order has at most {LONGEST_BYTES} bytes, got {len(packet)}")
        return packet

    @classmethod
    def of(cls, packet: bytes) -> "Order":
        """Return the order that a packet holds."""
        said = json.loads(packet)
        said["cells"] = tuple(said["cells"])
        return cls(**said)


def line() -> tuple[socket.socket, socket.socket]:
    """Return the ends of a line that keeps packets apart, and tells when one end is gone."""
    ours, theirs = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
    for end in (ours, theirs):
        end.setsockopt(socket.SOL_SOCKET, socket.SO_SNDBUF, 2 * LONGEST_BYTES)
    return ours, theirs

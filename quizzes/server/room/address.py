"""Where the class finds the server: an address of this machine in the room's network."""

import ipaddress
import socket
from dataclasses import dataclass
from pathlib import Path

NOWHERE = ("192.0.2.1", 9)  # RFC 5737: an address that nobody has; nothing is sent to it


class NoAddressError(ValueError):
    """The room's address cannot be used; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class Classroom:
    """How other machines of the room reach the server.

    Parameters
    ----------
    address : str
        An address of this machine in the room's network.
    certificate, key : Path, optional
        Files in PEM form, for TLS; both or neither.
    for_a_day : bool
        Whether the certificate was made here for today, so that no browser knows it.
    """

    address: str
    certificate: Path | None = None
    key: Path | None = None
    for_a_day: bool = False

    @property
    def secure(self) -> bool:
        """Whether what travels through the room can be read by nobody in it."""
        return self.certificate is not None

    def front_door(self, port: int) -> str:
        """Return what a person types, or a camera reads.

        Examples
        --------
        >>> Classroom("192.0.2.7").front_door(8866)
        'http://192.0.2.7:8866/'
        """
        return f"{'https' if self.secure else 'http'}://{self.address}:{port}/"


def room_address(named: str) -> str:
    """Return the address at which the room reaches this machine.

    Parameters
    ----------
    named : str
        The address that the trainer named; empty to find it.

    Returns
    -------
    str
        An IPv4 address, of one machine.

    Raises
    ------
    NoAddressError
        If what was named is no such address, or none can be found.
    """
    try:
        address = ipaddress.IPv4Address(named or _found())
    except ValueError:
        raise NoAddressError(
            f"{named or 'The address that was found'!r} is not an address of this machine that a "
            "class can open. Expected four numbers, for example 192.168.1.20; your system’s "
            "network settings show it."
        ) from None
    if address.is_unspecified or address.is_multicast or str(address).endswith(".255"):
        raise NoAddressError(
            f"{address} is not the address of one machine. Give this machine’s own address."
        )
    return str(address)


def _found() -> str:
    """Return the address from which this machine would send into a network; '' without one."""
    try:
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as line:
            line.connect(NOWHERE)
            found = str(line.getsockname()[0])
    except OSError:
        return ""
    return "" if ipaddress.ip_address(found).is_loopback else found

"""By which names this server may be asked, and by whose pages."""

from dataclasses import dataclass
from urllib.parse import urlsplit

from tornado.httputil import HTTPServerRequest

LOOPBACK = ("127.0.0.1", "localhost", "[::1]")


@dataclass(frozen=True, slots=True)
class Announced:
    """What the server has said of where it is.

    Parameters
    ----------
    port : int
        Its port, 1 to 65535.
    names : tuple of str
        Names and addresses of this machine that were announced, beside its loopback address.
    secure : bool
        Whether it speaks TLS.
    """

    port: int
    names: tuple[str, ...] = ()
    secure: bool = False

    def knows_host(self, host: str) -> bool:
        """Return whether a `Host` header names this server.

        Parameters
        ----------
        host : str
            The header, with the port unless it is the scheme's own.

        Examples
        --------
        >>> Announced(8866).knows_host("127.0.0.1:8866"), Announced(8866).knows_host("a.example")
        (True, False)
        """
        try:
            parts = urlsplit(f"//{host}")
            port = parts.port or (443 if self.secure else 80)
        except ValueError:
            return False
        if parts.path or parts.query or parts.fragment or "@" in host:
            return False
        name = parts.hostname or ""
        name = f"[{name}]" if ":" in name else name
        return port == self.port and name in {*LOOPBACK, *map(str.lower, self.names)}

    def knows_origin(self, origin: str) -> bool:
        """Return whether an `Origin` header is that of a page of this server."""
        scheme, _, host = origin.partition("://")
        return scheme == ("https" if self.secure else "http") and self.knows_host(host)

    def sockets(self) -> tuple[str, ...]:
        """Return how a page's policy names the server's websockets."""
        scheme = "wss" if self.secure else "ws"
        names = (*LOOPBACK[:2], *self.names)
        return tuple(f"{scheme}://{name}:{self.port}" for name in names)


def is_from_elsewhere(request: HTTPServerRequest) -> bool:
    """Return whether another site's page asks for something to put into itself.

    Parameters
    ----------
    request : HTTPServerRequest
        As it came. A browser says so where it trusts the address; where it
        does not (plain HTTP in a room) it still says what it can show.

    Returns
    -------
    bool
        False for a person who follows a link, or types the address.
    """
    said = request.headers
    site = said.get("Sec-Fetch-Site", "none")
    if site in ("cross-site", "same-site"):
        goes_there = said.get("Sec-Fetch-Mode"), said.get("Sec-Fetch-Dest")
        return goes_there != ("navigate", "document")
    accepted = said.get("Accept", "")
    return accepted.startswith("image/") or said.get("Sec-Fetch-Dest", "document") not in (
        "document",
        "empty",
    )


def is_this_machine(address: str, names: tuple[str, ...] = ()) -> bool:
    """Return whether an address of a connection's other end is the serving machine's own.

    Parameters
    ----------
    address : str
        As the connection has it: nobody elsewhere can take it.
    names : tuple of str
        The machine's addresses that were announced.

    Examples
    --------
    >>> is_this_machine("127.0.0.1"), is_this_machine("192.0.2.7", ("192.0.2.7",))
    (True, True)
    >>> is_this_machine("192.0.2.8", ("192.0.2.7",))
    False
    """
    return address in {"127.0.0.1", "::1", *names}

"""The address that a class opens, and whether it is still one of this machine's."""

import os
import socket
from urllib.parse import urlsplit

DOOR = "GAL_DOOR"  # the address that the class opens, as the server told its kernels
HERE = "http://127.0.0.1/"


def door() -> str:
    """Return the address that the class opens."""
    return os.environ.get(DOOR, HERE)


def door_trouble(address: str) -> str:
    """Return what the trainer reads if the class can no longer reach this machine; else nothing.

    Parameters
    ----------
    address : str
        As the server announced it when it started.

    Examples
    --------
    >>> door_trouble("http://127.0.0.1:8866/"), door_trouble("http://192.0.2.1:8866/")[:41]
    ('', 'The address of this machine has changed: ')
    """
    host = urlsplit(address).hostname or ""
    try:
        with socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET) as probe:
            probe.bind((host, 0))
    except OSError:
        return (
            f"The address of this machine has changed: {host} is no longer its own, so no "
            "device of the class can reach it. Stop the server and start it again with "
            "--classroom; nothing is lost. Then free all places here, and everybody joins at the "
            "new address with the same code and number."
        )
    return ""

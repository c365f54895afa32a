"""How a server comes to know people: at the machine, by passphrase, or by a proxy before it."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class HowKnown:
    """How this server comes to know people.

    Parameters
    ----------
    demo : bool
        Whether one may look around as anybody.
    classroom : bool
        Whether other machines of the room reach it.
    header : str
        The header in which a proxy on this machine hands over an identity; empty for none.
    """

    demo: bool = False
    classroom: bool = False
    header: str = ""

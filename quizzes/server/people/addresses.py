"""Where the pages without a kernel are."""

from .joining import Hand, Join, Seen, Who
from .signing import People, SignIn, SignOut

ADDRESSES = {
    "join": Join,
    "sign-in": SignIn,
    "sign-out": SignOut,
    "people": People,
    "who": Who,
    "hand": Hand,
    "seen": Seen,
}

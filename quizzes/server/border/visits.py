"""Whose browser a kernel belongs to: a cookie that only the server reads, given with a first page.

A page's kernel answers nobody who does not send it. The cookie does not travel with what another
site's page asks for, so such a page starts no kernel either.
"""

import hashlib
import hmac
import re
import secrets
from collections.abc import Collection
from dataclasses import dataclass

from tornado.httputil import HTTPServerRequest
from tornado.web import RequestHandler

COOKIE = "gal_visit"
A_DAY = 1  # how long a browser keeps it, days
FORM = re.compile(r"[\w-]{22}")  # 128 bits


def visit_of(request: HTTPServerRequest) -> str:
    """Return the visit that a request belongs to.

    Parameters
    ----------
    request : HTTPServerRequest
        As it came.

    Returns
    -------
    str
        What the cookie says; empty without one, or if it is none of ours.
    """
    sent = request.cookies.get(COOKIE)
    return sent.value if sent is not None and FORM.fullmatch(sent.value) else ""


def begin_visit(handler: RequestHandler) -> str:
    """Give a browser a visit of its own.

    Parameters
    ----------
    handler : RequestHandler
        Whose answer carries the cookie.

    Returns
    -------
    str
        The visit.
    """
    visit = secrets.token_urlsafe(16)
    handler.set_cookie(
        COOKIE,
        visit,
        expires_days=A_DAY,
        path=handler.settings.get("base_url", "/"),
        httponly=True,
        samesite="Lax",
        secure=handler.request.protocol == "https",
    )
    return visit


def end_visit(handler: RequestHandler) -> None:
    """Take a browser's visit back."""
    handler.clear_cookie(COOKIE, path=handler.settings.get("base_url", "/"))


@dataclass(frozen=True, slots=True)
class _Owner:
    visit_sha256: bytes
    person: str
    address: str


class Owners:
    """Which visit each kernel was made for, for which person of a class, and from where."""

    def __init__(self) -> None:
        self._owners: dict[str, _Owner] = {}

    def note(self, kernel_id: str, visit: str, person: str = "", address: str = "") -> None:
        """Keep whose a kernel is."""
        self._owners[kernel_id] = _Owner(_digest(visit), person, address)

    def forget(self, kernel_id: str) -> None:
        """Forget a kernel that has ended."""
        self._owners.pop(kernel_id, None)

    def kernels_of(self, visits: Collection[str]) -> list[str]:
        """Return the kernels that were made for visits, of which only the hashes are known."""
        return [one for one, owner in self._owners.items() if owner.visit_sha256.hex() in visits]

    def kernels_of_visit(self, visit: str) -> list[str]:
        """Return the kernels that were made for a visit, the oldest first."""
        return [one for one in self._owners if self.owns(visit, one)]

    def kernels_of_person(self, person: str) -> list[str]:
        """Return the kernels that were made for a person of a class."""
        return [one for one, owner in self._owners.items() if person and owner.person == person]

    def count_at(self, address: str) -> int:
        """Return how many kernels were made for an address of the room."""
        return sum(owner.address == address for owner in self._owners.values())

    def owns(self, visit: str, kernel_id: str) -> bool:
        """Return whether a kernel was made for a visit; nobody owns one that is not known."""
        owner = self._owners.get(kernel_id)
        if not visit or owner is None:
            return False
        return hmac.compare_digest(owner.visit_sha256, _digest(visit))


def _digest(visit: str) -> bytes:
    return hashlib.sha256(visit.encode()).digest()

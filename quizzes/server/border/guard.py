"""The one gate that every request passes: by what name, from where, to whose kernel.

Whatever answers behind it, the library's own handlers among it, is reached by nobody else.
"""

import re
from http import HTTPStatus
from typing import Any, Protocol

from tornado.httputil import HTTPHeaders, HTTPServerRequest
from tornado.web import Application, HTTPError, OutputTransform

from quizzes.access.table import NotAllowedError, is_for_the_room, refuse_unless, thing_of
from quizzes.desks.visitor import Visitor
from quizzes.server.border.origins import Announced, is_from_elsewhere, is_this_machine
from quizzes.server.border.visits import Owners, visit_of

KERNEL = re.compile(r"/(?:api/kernels|voila/api/shutdown)/(?P<kernel>[^/]+)")
PAGE = re.compile(r"/voila/render/")

HOST = "The server does not use this address. Use the one that it shows when it starts."
ELSEWHERE = "This page cannot be shown inside another site."
NOT_YOURS = "This page belongs to another browser. Load your own page again."
HERE_ONLY = (
    "This page is for trainers and assessors. Over a connection that others in the room can read, "
    "it opens only on the machine that serves the pages."
)


class Known(Protocol):
    """Who says whose a request is."""

    def visitor(self, request: HTTPServerRequest, *, here: bool) -> Visitor:
        """Return for whom a request is."""

    def note_page(self, visitor: Visitor, page: str) -> None:
        """Note which page somebody has opened."""


class Guard:
    """Who may ask for what.

    Parameters
    ----------
    announced : Announced
        Where the server is.
    known : Known
        Says whose a request is.
    base_url : str
        Before each path; `/` at the end.
    """

    def __init__(self, announced: Announced, known: Known, base_url: str = "/") -> None:
        self.announced = announced
        self._known = known
        self.owners = Owners()
        self._before = base_url.rstrip("/")

    def objection(self, request: HTTPServerRequest) -> str:
        """Return why a request is refused.

        Parameters
        ----------
        request : HTTPServerRequest
            As it came, nothing of it believed.

        Returns
        -------
        str
            A sentence for the person; empty if there is nothing against it.
        """
        if not self.announced.knows_host(request.headers.get("Host", "")):
            return HOST
        origin = request.headers.get("Origin")
        if origin is not None and not self.announced.knows_origin(origin):
            return ELSEWHERE
        path = request.path.removeprefix(self._before)
        if kernel := KERNEL.match(path):
            return "" if self.owners.owns(visit_of(request), kernel["kernel"]) else NOT_YOURS
        return ELSEWHERE if PAGE.match(path) and is_from_elsewhere(request) else ""

    def objection_to_page(self, page: str, request: HTTPServerRequest) -> str:
        """Return why a page is not for this visitor.

        Parameters
        ----------
        page : str
            The notebook's name.
        request : HTTPServerRequest
            As it came.

        Returns
        -------
        str
            A sentence for the person; empty if there is nothing against it.
        """
        if not (self.announced.secure or self.is_here(request) or is_for_the_room(page)):
            return HERE_ONLY
        try:
            refuse_unless(self.visitor(request).role, thing_of(page))
        except NotAllowedError as error:
            return str(error)
        return ""

    def is_here(self, request: HTTPServerRequest) -> bool:
        """Return whether a request comes from the serving machine itself."""
        return is_this_machine(request.remote_ip or "", self.announced.names)

    def visitor(self, request: HTTPServerRequest) -> Visitor:
        """Return for whom a page is, as its kernel is to know it."""
        return self._known.visitor(request, here=self.is_here(request))

    def note_page(self, visitor: Visitor, page: str) -> None:
        """Note which page somebody has opened."""
        self._known.note_page(visitor, page)


class GuardedApplication(Application):
    """An application behind a guard.

    Parameters
    ----------
    guard : Guard
        Asked first.
    refusal : type
        The handler that answers instead; it is given `sentence`.
    **settings
        As for the base.
    """

    def __init__(self, guard: Guard, refusal: Any, **settings: Any) -> None:  # noqa: ANN401 - tornado's
        super().__init__(transforms=[Headers], **settings)
        self._guard = guard
        self._refusal = refusal

    def find_handler(self, request: HTTPServerRequest, **options: Any) -> Any:  # noqa: ANN401 - tornado's
        """Return what answers a request."""
        sentence = self._guard.objection(request)
        if sentence:
            return self.get_handler_delegate(request, self._refusal, {"sentence": sentence})
        return super().find_handler(request, **options)


class Headers(OutputTransform):
    """Says with every answer that it is what it says it is."""

    def transform_first_chunk(
        self,
        status_code: int,
        headers: HTTPHeaders,
        chunk: bytes,
        finishing: bool,  # noqa: ARG002, FBT001 - tornado's
    ) -> tuple[int, HTTPHeaders, bytes]:
        """Add to an answer's headers."""
        headers["X-Content-Type-Options"] = "nosniff"
        headers["Cross-Origin-Resource-Policy"] = "same-origin"
        headers["Server"] = "Gap and Lining"  # no version of anything
        return status_code, headers, chunk


class RefusedError(HTTPError):
    """A refusal with a sentence for the person."""

    def __init__(self, sentence: str) -> None:
        super().__init__(HTTPStatus.FORBIDDEN, "%s", sentence)
        self.sentence = sentence


def refused(sentence: str) -> RefusedError:
    """Return what a handler raises to refuse with a sentence of its own."""
    return RefusedError(sentence)

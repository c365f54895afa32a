"""Whose a request is: by the seat of its browser, or by what a proxy in front hands over."""

import datetime as dt
import hashlib
import logging

from tornado.httputil import HTTPServerRequest

from quizzes.access.table import Role
from quizzes.desks.visitor import Visitor
from quizzes.records import Records, RecordsError
from quizzes.records.room.rows import Seat
from quizzes.records.room.store import RoomStore
from quizzes.server.border.visits import visit_of

from .how_known import HowKnown

LONGEST_NAME = 80  # characters of an identity that is handed over
_LOG = logging.getLogger("gap_and_lining")


class Identities:
    """Who sits at which browser.

    Parameters
    ----------
    store : RoomStore
        Accounts, classes and seats.
    how : HowKnown
        How this server comes to know people.
    """

    def __init__(self, store: RoomStore, how: HowKnown) -> None:
        self.store = store
        self.how = how
        self._anybody = False
        self._records: Records | None = None

    @property
    def records(self) -> Records:
        """The sittings of the same store, opened when they are first asked for."""
        if self._records is None:
            self._records = Records(self.store.url)
        return self._records

    @property
    def guarded(self) -> bool:
        """Whether somebody has set a passphrase, so that being at the machine is not enough."""
        self._anybody = self._anybody or self.store.anybody_signs_in()
        return self._anybody and not self.how.demo

    @property
    def in_use(self) -> bool:
        """Whether pages show who is at the browser."""
        return bool(self.how.demo or self.how.classroom or self.how.header or self.guarded)

    def visitor(self, request: HTTPServerRequest, *, here: bool) -> Visitor:
        """Return for whom a request is.

        Parameters
        ----------
        request : HTTPServerRequest
            Its cookie names the seat; nothing else of it is believed.
        here : bool
            Whether it comes from the serving machine itself.

        Returns
        -------
        Visitor
            A guest, if the store cannot be asked.
        """
        place = "here" if here else "room"
        try:
            if self.how.header:
                return self._handed_over(request, here=here)
            visit = visit_of(request)
            seat = self.store.seat(digest(visit)) if visit else None
            return seated(seat, place) if seat else Visitor(self._unseated(here=here), place=place)
        except RecordsError as error:
            _LOG.error("nobody is known: %s", error)
            return Visitor(Role.GUEST, place=place)

    def _unseated(self, *, here: bool) -> Role:
        """Return the role of a browser at which nobody has signed in or joined."""
        if here and not self.guarded:
            return Role.ANYONE
        # One who learns alone on a machine of their own signs in nowhere.
        return Role.APPRENTICE if here and not self.how.classroom else Role.GUEST

    def _handed_over(self, request: HTTPServerRequest, *, here: bool) -> Visitor:
        """Return whom the proxy names; it stands on this machine, and nobody else is believed."""
        named = request.headers.get_list(self.how.header)
        name = named[0].strip() if here and len(named) == 1 else ""
        if not name or len(name) > LONGEST_NAME or not name.isprintable():
            return Visitor(Role.GUEST, place="room")
        account = self.store.account(name)
        if account is not None:
            return Visitor(account.role, account.id, place="here", name=account.name)
        return Visitor(Role.APPRENTICE, place="room", name=name)

    def note_page(self, visitor: Visitor, page: str) -> None:
        """Note which page a person of a class has opened, for the trainer's board."""
        if not visitor.class_id:
            return
        try:
            now = dt.datetime.now(dt.UTC)
            self.store.note_page(visitor.class_id, visitor.person_id, page, now)
        except RecordsError as error:
            _LOG.warning("a page was not noted: %s", error)


def digest(visit: str) -> str:
    """Return the hash by which a browser's visit is kept."""
    return hashlib.sha256(visit.encode()).hexdigest()


def seated(seat: Seat, place: str) -> Visitor:
    """Return for whom a page is, from the seat of its browser."""
    if seat.account is not None:
        account = seat.account
        return Visitor(account.role, account.id, place=place, name=account.name)
    member = seat.member
    assert member is not None
    shown = member.name or f"number {member.number}"
    return Visitor(Role.APPRENTICE, member.person_id, member.class_id, place, shown)

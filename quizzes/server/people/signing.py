"""Trainers, assessors and administrators sign in and out, and say who signs in here."""

import asyncio

from tornado.web import HTTPError

from quizzes.access.passphrases import fits, hashed
from quizzes.access.table import STAFF, Role, Thing, refuse_unless
from quizzes.records import RecordsError
from quizzes.records.room.rows import CLOSED, Account, Member
from quizzes.server.border.guard import HERE_ONLY, refused
from quizzes.server.border.visits import end_visit, visit_of
from quizzes.server.pages.handler import PAGES_SHARE

from .identities import digest
from .page import PeoplePage, now

WRONG_PASSPHRASE = "That name and that passphrase do not match."  # noqa: S105


def tries(name: str, address: str, *, here: bool) -> tuple[str, str]:
    """Return under what a try to sign in is counted.

    Whoever guesses from the room slows down the room, and not the trainer at this machine.
    """
    place = "here" if here else "in the room"
    return f"sign in {address}", f"sign in {place} as {name.casefold()}"


class SignIn(PeoplePage):
    """Trainers, assessors and administrators, by name and passphrase."""

    def prepare_page(self) -> None:
        """Refuse where the passphrase could be read on its way."""
        guard = self.settings[PAGES_SHARE].guard
        if not (guard.announced.secure or self.here):
            raise refused(HERE_ONLY)
        if self.people.how.header:
            raise refused(
                "This server uses your organisation’s own sign-in, not a passphrase of ours."
            )

    def get(self) -> None:
        """Ask."""
        self.prepare_page()
        self._ask("")

    def _ask(self, said: str, status: int = 200) -> None:
        demo = self._ready() if self.people.how.demo and self.here else ()
        anybody = self.people.store.anybody_signs_in()
        self.show("sign_in.html", status, said=said, demo=demo, anybody=anybody)

    async def post(self) -> None:
        """Let somebody in, or say no more than that it does not fit."""
        self.prepare_page()
        demo = self.typed("as")
        if demo and self.people.how.demo and self.here:
            self._look_around(demo)
            return
        name = self.typed("name")
        keys = tries(name, self.request.remote_ip or "", here=self.here)
        if said := self.slow_down(*keys):
            self._ask(said, 429)
            return
        passphrase = self.get_body_argument("passphrase", "", strip=False)
        account = self.people.store.account(name) if name else None
        async with self.one_at_a_time:
            kept = account.passphrase if account else None
            fitting = await asyncio.to_thread(fits, kept, passphrase)
        if account is None or not fitting:
            self.failed(*keys)
            self._ask(WRONG_PASSPHRASE, 403)
            return
        self.succeeded(*keys)
        self.take_seat(account)
        self.go()

    def _ready(self) -> list[tuple[str, str, str]]:
        """Return key, role and name of one person of each role, to look around as in a demo."""
        store = self.people.store
        open_ones = [one for one in store.classes() if one.state != CLOSED]
        people = [one for of in open_ones[:1] for one in store.members(of.id) if not one.joined]
        ready = [(one.label, str(Role.APPRENTICE), one.name or "") for one in people[:1]]
        return ready + [(one.id, one.role, one.name) for one in reversed(store.accounts())]

    def _look_around(self, key: str) -> None:
        store = self.people.store
        accounts = {one.id: one for one in store.accounts()}
        found: Account | Member | None = accounts.get(key) or store.labelled(key)
        if found is None:
            raise HTTPError(404)
        try:
            self.take_seat(found)
        except ValueError as error:  # somebody else was quicker
            self._ask(str(error), 409)
            return
        self.go()


class SignOut(PeoplePage):
    """Hand this device back: signed out everywhere, its pages ended, its memory emptied."""

    def post(self) -> None:
        """End it."""
        visit = visit_of(self.request)
        if visit:
            self.end({*self.people.store.leave(digest(visit)), digest(visit)})
        end_visit(self)
        self.set_header("Clear-Site-Data", '"storage"')
        self.go("?back=1")


class People(PeoplePage):
    """Who signs in here: the first administrator, then trainers and assessors."""

    def _refuse_others(self) -> None:
        if not (self.settings[PAGES_SHARE].guard.announced.secure or self.here):
            raise refused(HERE_ONLY)
        try:
            refuse_unless(self.visitor().role, Thing.PEOPLE)
        except ValueError as error:
            raise refused(str(error)) from None

    def get(self) -> None:
        """Show who there is."""
        self._refuse_others()
        self._list("")

    def _list(self, said: str, status: int = 200) -> None:
        accounts = self.people.store.accounts()
        roles = STAFF if accounts else (Role.ADMINISTRATOR,)
        self.show("people.html", status, said=said, accounts=accounts, roles=roles)

    async def post(self) -> None:
        """Add somebody, set a new passphrase, or take somebody away."""
        self._refuse_others()
        try:
            await self._change(self.typed("do"))
        except (RecordsError, ValueError) as error:
            self._list(f"{str(error).rstrip('.')}.", 400)
            return
        self.settings[PAGES_SHARE].pages.forget()
        self.go("people" if self.visitor().role == Role.ADMINISTRATOR else "sign-in")

    async def _change(self, wished: str) -> None:
        store = self.people.store
        if wished == "remove":
            self.end(store.remove_account(self.typed("id")))
            return
        passphrase, again = (
            self.get_body_argument(one, "", strip=False) for one in ("passphrase", "again")
        )
        async with self.one_at_a_time:
            kept = await asyncio.to_thread(hashed, passphrase, again)
        if wished == "passphrase":
            self.end(store.set_passphrase(self.typed("id"), kept, now()))
        elif wished == "add" and self.typed("role") in STAFF:
            store.add_account(self.typed("name"), self.typed("role"), kept, now())
        else:
            raise ValueError("Choose a role for this person.")

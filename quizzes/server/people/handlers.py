"""The pages without a kernel: join a class, sign in, sign out, and who signs in here."""

import asyncio
import datetime as dt
import time
from collections.abc import Iterable
from typing import Any
from urllib.parse import urlencode

from jupyter_server.base.handlers import JupyterHandler
from tornado.web import HTTPError
from voila.utils import create_include_assets_functions

from quizzes.access.passphrases import fits, hashed
from quizzes.access.table import PAGES, STAFF, Role, Thing, may, refuse_unless
from quizzes.access.throttle import Throttle
from quizzes.desks.visitor import Visitor
from quizzes.records import RecordsError
from quizzes.records.room.classes import typed_code
from quizzes.records.room.rows import PAUSED, Account, Member
from quizzes.server.border.guard import HERE_ONLY, refused
from quizzes.server.border.visits import begin_visit, end_visit, visit_of
from quizzes.server.navigation import PEOPLE, add_navigation
from quizzes.server.pages.handler import HOUSE
from quizzes.server.refusals import RefusalHandler

from .identities import Identities, digest

LONGEST_FIELD = 400  # characters of one field
NO_ORIGIN = "This was not sent by one of our pages. Load the page and send it again."
WRONG_CODE = "No class has this code today. Look at the board or the projector again."
WRONG_NUMBER = "Nobody on this class’s list has this number. Ask the trainer which is yours."
WRONG_LABEL = "No label has this code. Type its eight signs again, or ask the trainer."
WRONG_PASSPHRASE = "Name and passphrase do not belong together. Nothing else is told."  # noqa: S105


def now() -> dt.datetime:
    """Return the time, UTC."""
    return dt.datetime.now(dt.UTC)


class PeoplePage(RefusalHandler, JupyterHandler):
    """A page of this kind: who asks, what was typed, how it answers."""

    _throttle = Throttle()
    _one_at_a_time = asyncio.Lock()  # a passphrase takes 64 MiB to look at

    @property
    def people(self) -> Identities:
        """Who sits where."""
        found: Identities = self.settings[PEOPLE]
        return found

    def check_xsrf_cookie(self) -> None:
        """Let only our own pages send something: the guard has looked at whose page it was.

        A browser names the page's origin with everything that is sent, and no other site can.
        """
        if not self.request.headers.get("Origin"):
            raise refused(NO_ORIGIN)

    @property
    def here(self) -> bool:
        """Whether this is the serving machine itself."""
        return bool(self.settings[HOUSE].guard.is_here(self.request))

    def visitor(self) -> Visitor:
        """Return who asks."""
        return self.people.visitor(self.request, here=self.here)

    def typed(self, name: str) -> str:
        """Return what was typed into a field; empty if it is none of ours."""
        text = self.get_body_argument(name, "", strip=True)
        return text if len(text) <= LONGEST_FIELD else ""

    def show(self, page: str, status: int = 200, **words: Any) -> None:  # noqa: ANN401 - the template's
        """Answer with a page."""
        self.set_status(status)
        self.set_header("Cache-Control", "no-store")
        template = self.settings["voila_jinja2_env"].get_template(page)
        self.finish(
            template.render(
                base_url=self.base_url,
                page_config=add_navigation({}, notebook_path="none", settings=self.settings),
                visitor=self.visitor(),
                here=self.here,
                **words,
                **create_include_assets_functions("suite", self.base_url),
            )
        )

    def go(self, path: str = "") -> None:
        """Lead the browser to a page, with a new request."""
        self.redirect(f"{self.base_url}{path}", status=303)

    def take_seat(self, seat: Account | Member) -> None:
        """Let somebody sit here, under a new visit: whatever was open before ends."""
        before, visit = visit_of(self.request), begin_visit(self)
        if isinstance(seat, Account):
            self.people.store.sign_in(digest(visit), seat, now())
        else:
            self.people.store.join(digest(visit), seat, now())
        if before:
            self.end({*self.people.store.leave(digest(before)), digest(before)} - {digest(visit)})

    def end(self, visits: Iterable[str]) -> None:
        """End the pages of visits."""
        kernels: Any = self.kernel_manager
        kernels.end_of(set(visits))

    def slow_down(self, *keys: str) -> str:
        """Return the sentence for somebody who has erred too often; empty if they may try."""
        wait_s = self._throttle.wait_s(time.monotonic(), *keys)
        if not wait_s:
            return ""
        self.set_header("Retry-After", str(int(wait_s) + 1))
        return f"That was wrong several times. Wait {int(wait_s) + 1} seconds, then try again."

    def failed(self, *keys: str) -> None:
        """Count a failure."""
        self._throttle.failed(time.monotonic(), *keys)

    def succeeded(self, *keys: str) -> None:
        """Forgive."""
        self._throttle.succeeded(*keys)


class Join(PeoplePage):
    """A person of a class, by its code and their number, or by the code on their label."""

    def get(self) -> None:
        """Ask for them; a label's own code may stand in the address."""
        label = typed_code(self.get_query_argument("label", "")[:40])
        self.show("join.html", said="", typed={"label": label})

    def post(self) -> None:
        """Let somebody in, or say what does not fit."""
        typed = {name: self.typed(name) for name in ("code", "number", "label")}
        key = f"join {self.request.remote_ip}"
        said = self.slow_down(key)
        if said:
            self.show("join.html", 429, said=said, typed=typed)
            return
        try:
            member, said = self._found(**typed)
            if member is not None:
                self.take_seat(member)
        except (RecordsError, ValueError) as error:
            member, said = None, str(error)
        else:
            self.failed(key) if member is None else self.succeeded(key)
        if member is None:
            self.show("join.html", 403, said=said, typed=typed)
            return
        self.go()

    def _found(self, code: str, number: str, label: str) -> tuple[Member | None, str]:
        """Return whom it names, or why it names nobody."""
        store = self.people.store
        if label:
            member = store.labelled(label)
            return member, "" if member else WRONG_LABEL
        if not code or not number:
            return None, "Type the class code and your number, or the code on your label."
        joined = store.class_of_code(code)
        if joined is None:
            return None, WRONG_CODE
        same = [
            one
            for one in store.members(joined.id)
            if one.number.casefold() == " ".join(number.casefold().split())
        ]
        return (same[0], "") if len(same) == 1 else (None, WRONG_NUMBER)


class SignIn(PeoplePage):
    """Trainers, assessors and administrators, by name and passphrase."""

    def prepare_page(self) -> None:
        """Refuse where the passphrase could be read on its way."""
        guard = self.settings[HOUSE].guard
        if not (guard.announced.secure or self.here):
            raise refused(HERE_ONLY)
        if self.people.how.header:
            raise refused("Here the sign-in of the house counts, not a passphrase of ours.")

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
        keys = f"sign in {self.request.remote_ip}", f"sign in as {name.casefold()}"
        if said := self.slow_down(*keys):
            self._ask(said, 429)
            return
        passphrase = self.get_body_argument("passphrase", "", strip=False)
        account = self.people.store.account(name) if name else None
        async with self._one_at_a_time:
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
        people = [one for of in store.classes()[:1] for one in store.members(of.id)[:1]]
        ready = [(one.label, str(Role.APPRENTICE), one.name or "") for one in people]
        return ready + [(one.id, one.role, one.name) for one in reversed(store.accounts())]

    def _look_around(self, key: str) -> None:
        store = self.people.store
        accounts = {one.id: one for one in store.accounts()}
        found: Account | Member | None = accounts.get(key) or store.labelled(key)
        if found is None:
            raise HTTPError(404)
        self.take_seat(found)
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
        if not (self.settings[HOUSE].guard.announced.secure or self.here):
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
        """Add somebody, set a passphrase anew, or take somebody away."""
        self._refuse_others()
        try:
            await self._change(self.typed("do"))
        except (RecordsError, ValueError) as error:
            self._list(f"{str(error).rstrip('.')}.", 400)
            return
        self.settings[HOUSE].pages.forget()
        self.go("people" if self.visitor().role == Role.ADMINISTRATOR else "sign-in")

    async def _change(self, wished: str) -> None:
        store = self.people.store
        if wished == "remove":
            self.end(store.remove_account(self.typed("id")))
            return
        passphrase, again = (
            self.get_body_argument(one, "", strip=False) for one in ("passphrase", "again")
        )
        async with self._one_at_a_time:
            kept = await asyncio.to_thread(hashed, passphrase, again)
        if wished == "passphrase":
            self.end(store.set_passphrase(self.typed("id"), kept, now()))
        elif wished == "add" and self.typed("role") in STAFF:
            store.add_account(self.typed("name"), self.typed("role"), kept, now())
        else:
            raise ValueError("Choose what somebody signs in as.")


class Who(PeoplePage):
    """What a page's header shows: who is here, what the class is told."""

    def get(self) -> None:
        """Answer with a few facts of this browser's own person."""
        visitor = self.visitor()
        self.set_header("Cache-Control", "no-store")
        closed = [page for page, thing in PAGES.items() if not may(visitor.role, thing)]
        said: dict[str, Any] = {"role": visitor.role, "name": visitor.name, "closed": closed}
        school_class = visitor.class_id and self.people.store.school_class(visitor.class_id)
        if school_class:
            member = self.people.store.member(visitor.class_id, visitor.person_id)
            said |= {
                "class": school_class.name,
                "word": school_class.word,
                "paused": school_class.state == PAUSED,
                "hand": bool(member and member.hand_at),
            }
        self.finish(said)


class Hand(PeoplePage):
    """A hand up, or down again."""

    def post(self) -> None:
        """Note it for the trainer's board."""
        visitor = self.visitor()
        if not visitor.class_id:
            raise refused("A hand is for people who have joined a class.")
        up = now() if self.typed("up") == "yes" else None
        self.people.store.raise_hand(visitor.class_id, visitor.person_id, up)
        self.set_status(204)
        self.finish()


ADDRESSES = {
    "join": Join,
    "sign-in": SignIn,
    "sign-out": SignOut,
    "people": People,
    "who": Who,
    "hand": Hand,
}


def label_address(door: str, label: str) -> str:
    """Return what the code on a label leads to.

    Examples
    --------
    >>> label_address("http://192.0.2.7:8866/", "7K3MXQ2P")
    'http://192.0.2.7:8866/join?label=7K3MXQ2P'
    """
    return f"{door}join?{urlencode({'label': label})}"

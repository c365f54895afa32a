"""What the pages without a kernel share: who asks, what was typed, how they answer."""

import asyncio
import datetime as dt
import time
from collections.abc import Iterable
from typing import Any

from jupyter_server.base.handlers import JupyterHandler
from voila.utils import create_include_assets_functions

from quizzes.access.throttle import Pace, Throttle
from quizzes.desks.visitor import Visitor
from quizzes.records.room.rows import Account, Member
from quizzes.server.border.guard import refused
from quizzes.server.border.visits import begin_visit, visit_of
from quizzes.server.navigation import PEOPLE, add_navigation
from quizzes.server.pages.asking import person_word
from quizzes.server.pages.handler import PAGES_SHARE
from quizzes.server.refusals import RefusalHandler

from .identities import Identities, digest

LONGEST_FIELD = 400  # characters of one field
MOST_SENT, WITHIN_S = 20, 10.0  # of one browser: hands and answers, s
TOO_OFTEN = "This was sent many times within moments. Wait ten seconds, then try again."
NO_ORIGIN = "This was not sent by one of our pages. Load the page and send it again."


def now() -> dt.datetime:
    """Return the time, UTC."""
    return dt.datetime.now(dt.UTC)


class PeoplePage(RefusalHandler, JupyterHandler):
    """A page of this kind: who asks, what was typed, how it answers."""

    _throttle = Throttle()
    _pace = Pace(MOST_SENT, WITHIN_S)
    one_at_a_time = asyncio.Lock()  # a passphrase takes 64 MiB to look at

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
        return bool(self.settings[PAGES_SHARE].guard.is_here(self.request))

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
        if isinstance(seat, Member):
            # Left open on the device whose place the trainer has freed.
            kernels: Any = self.kernel_manager
            kernels.end_of_person(person_word(seat.class_id, seat.person_id))
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

    def refuse_if_too_often(self) -> None:
        """Refuse what one browser sends again and again: each takes a moment from everybody."""
        if not self._pace.may(time.monotonic(), visit_of(self.request)):
            self.set_header("Retry-After", str(int(WITHIN_S)))
            raise refused(TOO_OFTEN)

    def failed(self, *keys: str) -> None:
        """Count a failure."""
        self._throttle.failed(time.monotonic(), *keys)

    def succeeded(self, *keys: str) -> None:
        """Forgive."""
        self._throttle.succeeded(*keys)

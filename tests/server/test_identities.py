"""Who a proxy says somebody is: believed from this machine, in one header, and nowhere else."""

import datetime as dt

import pytest
from tornado.httputil import HTTPHeaders, HTTPServerRequest, RequestStartLine

from quizzes import records
from quizzes.records.room.store import RoomStore
from quizzes.server.people.how_known import HowKnown
from quizzes.server.people.identities import Identities

NOW = dt.datetime(2026, 11, 28, 8, 0, tzinfo=dt.UTC)
NAMED = "X-Remote-User"


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    """A store in which one administrator and one assessor sign in."""
    url = f"sqlite:///{tmp_path_factory.mktemp('identities')}/records.sqlite"
    records.create(url)
    with RoomStore(url) as opened:
        opened.add_account("Dee Marl", "administrator", "x", NOW)
        opened.add_account("Fay Tolland", "assessor", "x", NOW)
        yield opened


def asked(*pairs: tuple[str, str]) -> HTTPServerRequest:
    headers = HTTPHeaders({"Host": "127.0.0.1:8866"})
    for name, value in pairs:
        headers.add(name, value)
    start = RequestStartLine("GET", "/", "HTTP/1.1")
    return HTTPServerRequest(start_line=start, headers=headers)


@pytest.mark.parametrize(("pairs", "here", "role", "name"), [
    ([(NAMED, "fay tolland")], True, "assessor", "Fay Tolland"), ([(NAMED, "Gil Sedge")], True, "apprentice", "Gil Sedge"),
    ([(NAMED, "Fay Tolland")], False, "guest", ""), ([], True, "guest", ""), ([(NAMED, "")], True, "guest", ""),
    ([(NAMED, "Gil Sedge"), (NAMED, "Fay Tolland")], True, "guest", ""), ([(NAMED, "x" * 81)], True, "guest", ""),
    ([("X-Remote-Role", "assessor")], True, "guest", ""),
])  # fmt: skip
def test_a_proxy_on_this_machine_is_believed_and_nobody_else(room, pairs, here, role, name):
    """Two names are none, and whoever comes past the proxy is a guest."""
    known = Identities(room, HowKnown(header=NAMED)).visitor(asked(*pairs), here=here)

    assert (known.role, known.name) == (role, name)


def test_a_store_that_cannot_be_asked_knows_nobody(room, monkeypatch):
    """It closes the doors, and does not open them."""

    def broken(*_):
        raise records.RecordsError("away")

    monkeypatch.setattr(room, "seat", broken)
    request = asked(("Cookie", "gal_visit=" + "A" * 22))

    assert Identities(room, HowKnown()).visitor(request, here=True).role == "guest"

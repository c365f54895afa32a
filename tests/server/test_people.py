"""Who may what, tried over HTTP and over the kernel protocol, by people who know too much."""

import datetime as dt
import json
import re
from dataclasses import replace
from pathlib import Path
from urllib.parse import urlencode

import pytest
from tornado.httpclient import HTTPClientError

from quizzes import records
from quizzes.access.passphrases import hashed
from quizzes.access.table import PAGES, doors_of, may, thing_of
from quizzes.access.throttle import Throttle
from quizzes.records.room.rows import CLOSED, ClassPlan
from quizzes.records.room.store import RoomStore
from quizzes.server.people.page import MOST_SENT
from quizzes.server.people.signing import tries
from tests.server.house import House, kernel_id, messages, notebook, start, stop
from tests.waiting import comes_true

WORDS = "pallet thistle copper noon"
WHO = """
import ipywidgets as W
from quizzes.desks.visitor import visitor
print('ROLE', visitor().role, 'NAME', visitor().name)
W.Label('x')
"""
NOW = dt.datetime(2026, 11, 28, 8, 0, tzinfo=dt.UTC)
STAFF = {"administrator": "Dee Marl", "trainer": "Cal Orrin", "assessor": "Fay Tolland"}
FIRST = "01_how_the_brake_holds.ipynb"
LIST = (("Ann Fen", "1"), ("Ann Fen", "2"), ("Bo Reed", "3"), ("Gil Sedge", "4"))


def set_up(folder: Path) -> str:
    """Make pages, and a store in which somebody of each role signs in and a class is open."""
    lessons = folder / "lessons"
    lessons.mkdir()
    for name in (*PAGES, "01_first.ipynb"):
        notebook(lessons / name, name, f"# {name}", WHO)
    url = f"sqlite:///{folder}/records.sqlite"
    records.create(url)
    with RoomStore(url) as room:
        for role, name in STAFF.items():
            room.add_account(name, role, hashed(WORDS, WORDS), NOW)
        room.make_class(
            ClassPlan("Monday", NOW.date(), "class_exercise", (FIRST, "bench.ipynb"), LIST), NOW
        )
    return url


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    """A server where people sign in."""
    folder = tmp_path_factory.mktemp("people")
    url = set_up(folder)
    started = start(folder)
    with RoomStore(url) as room:
        started.room = room
        yield started
    stop(started)


def newcomer(house: House) -> House:
    """Return a browser that has been here never before."""
    other = replace(house, cookies={})
    other.get("/")
    return other


def post(browser: House, path: str, **fields: str) -> tuple[int, str]:
    """Send a form, as a page of ours does."""
    body = urlencode(fields).encode()
    return browser.ask(path, body, {"Origin": browser.base})[:2]


def signed_in(house: House, role: str) -> House:
    """Return a browser at which somebody of a role is."""
    browser = newcomer(house)
    if role in STAFF:
        status, _ = post(browser, "/sign-in", name=STAFF[role], passphrase=WORDS)
        assert status == 200
    return browser


def who(browser: House) -> dict:
    return json.loads(browser.get("/who")[1])


def a_class(house: House):
    return house.room.classes()[0]


class TestTable:
    @pytest.mark.parametrize("role", ["apprentice", "trainer", "assessor", "administrator"])
    def test_each_page_opens_for_those_it_is_for_over_http(self, house, role):
        """What the table refuses is refused with a sentence and starts no kernel; the rest opens.

        An apprentice who works alone at this machine signs in nowhere.
        """
        browser = signed_in(house, role)
        kernels = set(house.kernels())
        refused = [page for page, thing in PAGES.items() if not may(role, thing)]
        answers = [browser.get(f"/voila/render/{page}") for page in refused]

        assert who(browser)["role"] == role
        assert sorted(who(browser)["closed"]) == sorted(refused)
        assert {status for status, _, _ in answers} <= {403}
        assert all("Sign in as" in page or "Join it" in page for _, page, _ in answers)
        assert set(house.kernels()) <= kernels
        opened = next(page for page, thing in reversed(PAGES.items()) if may(role, thing))
        status, page, _ = browser.get(f"/voila/render/{opened}")
        assert (status, f"ROLE {role}" in page) == (200, True)

    @pytest.mark.parametrize("role", ["apprentice", *STAFF])
    def test_the_front_door_offers_each_role_its_own_cards_and_no_closed_page(self, house, role):
        """Another person may sit at the same browser next: the door is kept nowhere."""
        browser = signed_in(house, role)
        _, page, headers = browser.get("/")
        door = page[page.index("<main") : page.index("</main>")]
        offered = set(re.findall(r"/voila/render/([\w.]+)", door))

        assert re.findall("<h3>(.*?)</h3>", door) == [one.capitalize() for one in doors_of(role)]
        assert offered
        assert not [one for one in offered if not may(role, thing_of(one))]
        assert headers["Cache-Control"] == "no-store"

    def test_whoever_knows_anothers_kernel_key_and_page_gets_nothing(self, house):
        """Over the kernel protocol: an apprentice has the whole page that a trainer was sent."""
        trainer, apprentice = signed_in(house, "trainer"), newcomer(house)
        post(apprentice, "/join", code=a_class(house).code, number="3")
        page = trainer.get("/voila/render/results.ipynb")[1]
        with pytest.raises(HTTPClientError, match="403"):
            messages(apprentice, page)

        assert apprentice.get(f"/api/kernels/{kernel_id(page)}")[0] == 403
        assert apprentice.get(f"/voila/api/shutdown/{kernel_id(page)}")[0] == 403
        post(apprentice, "/sign-out")

    @pytest.mark.parametrize("cookie", ["gal_visit=" + "0" * 64, "gal_visit=trainer", "role=trainer", "gal_visit=x; role=assessor"])  # fmt: skip
    def test_nobody_is_somebody_by_saying_so(self, house, cookie):
        """Neither a hash from the store nor a role in a cookie, a header or the address counts."""
        browser = newcomer(house)
        said = browser.get("/who?role=trainer", Cookie=cookie, **{"X-Remote-User": STAFF["trainer"]})[1]  # fmt: skip

        assert json.loads(said)["role"] == "apprentice"
        assert json.loads(said)["name"] == ""


class TestGettingIn:
    @pytest.mark.parametrize(
        "headers", [{}, {"Origin": "http://quince.example"}, {"Origin": "null"}]
    )
    @pytest.mark.parametrize(
        "path", ["/sign-in", "/sign-out", "/join", "/people", "/hand", "/seen"]
    )
    def test_another_sites_page_sends_nothing(self, house, path, headers):
        """Whatever is sent has to come from a page of ours."""
        assert newcomer(house).ask(path, b"up=yes", headers)[0] == 403

    def test_a_freed_place_takes_its_old_page_along(self, house):
        """Whoever joins next works alone under that name, whatever still stands on the old device."""
        old, new, code = newcomer(house), newcomer(house), a_class(house).code
        post(old, "/join", code=code, number="3")
        old.get("/voila/render/assessment.ipynb")
        (member,) = (one for one in house.room.members(a_class(house).id) if one.number == "3")
        house.room.free(member.class_id, member.person_id)
        before = len(house.kernels())
        status, _ = post(new, "/join", code=code, number="3")

        assert status == 200
        assert comes_true(lambda: len(house.kernels()) == before - 1)
        post(new, "/sign-out")

    def test_a_flood_of_hands_holds_nobody_up(self, house):
        """Each is written to the disk, while all wait: a browser has so many within ten seconds."""
        browser = newcomer(house)
        post(browser, "/join", code=a_class(house).code, number="4")
        answers = [post(browser, "/hand", up="yes")[0] for _ in range(MOST_SENT + 3)]
        post(browser, "/sign-out")

        assert answers == [204] * MOST_SENT + [403] * 3

    def test_signing_out_ends_everywhere(self, house):
        """Both of a trainer's browsers are signed out, and the pages that were open end."""
        one, two = signed_in(house, "trainer"), signed_in(house, "trainer")
        page = two.get("/voila/render/stage.ipynb")[1]
        kept = dict(two.cookies)
        post(one, "/sign-out")
        two.cookies = kept

        assert who(two)["name"] == ""
        assert comes_true(lambda: two.get(f"/api/kernels/{kernel_id(page)}")[0] in (403, 404))
        assert two.get("/voila/render/stage.ipynb")[0] == 403

    def test_people_of_one_name_join_by_their_numbers(self, house):
        """Each as themselves; a place that is taken, and a number that nobody has, are refused."""
        one, two, three = newcomer(house), newcomer(house), newcomer(house)
        code = a_class(house).code.lower()
        assert post(one, "/join", code=code, number="1")[0] == 200
        assert post(two, "/join", code=code, number="2")[0] == 200
        members = {member.number: member for member in house.room.members(a_class(house).id)}

        assert who(one)["name"] == who(two)["name"] == "Ann Fen"
        assert members["1"].joined
        assert members["2"].joined
        status, page = post(three, "/join", code=code, number="2")
        assert (status, "at work on another device" in page) == (403, True)
        status, page = post(three, "/join", label=members["1"].label)
        assert (status, "at work on another device" in page) == (403, True)
        post(one, "/sign-out")
        assert post(three, "/join", label=members["1"].label)[0] == 200
        assert "ROLE apprentice NAME Ann Fen" in three.get("/voila/render/assessment.ipynb")[1]
        board = {one.number: one for one in house.room.members(a_class(house).id)}
        assert board["1"].page == "assessment.ipynb"

    def test_a_wrong_passphrase_says_nothing_and_slows_down(self, house):
        """The same sentence for a wrong name and a wrong passphrase; the fourth try waits."""
        browser = newcomer(house)
        said = [
            post(browser, "/sign-in", name=name, passphrase="wrong words here")
            for name in ("Nobody", STAFF["assessor"], "Nobody")
        ]
        waits = post(browser, "/sign-in", name="Nobody", passphrase=WORDS)

        assert [status for status, _ in said] == [403] * 3
        assert all("do not match" in page for _, page in said)
        assert waits[0] == 429
        assert "Wait 2 seconds" in waits[1]
        assert who(browser)["name"] == ""

    def test_wrong_codes_are_said_and_slow_down(self, house, monkeypatch):
        """Which of the two was wrong is said to a person, not to a guesser for long."""
        browser = newcomer(house)
        tries = [("ZZZZZZ", "1", "No class has this code"), (a_class(house).code, "77", "Nobody on this class"),
                 ("", "", "Type the class code"), ("x" * 300, "1", "several times")]  # fmt: skip
        for code, number, said in tries:
            assert said in post(browser, "/join", code=code, number=number)[1]

    def test_who_guesses_in_the_room_does_not_slow_down_this_machine(self):
        """Nor does one name wait for another: it is the room's own wait."""
        throttle = Throttle()
        for _ in range(9):
            throttle.failed(0.0, *tries("cal", "192.0.2.9", here=False))

        assert throttle.wait_s(1.0, *tries("cal", "192.0.2.8", here=False)) > 0
        assert throttle.wait_s(1.0, *tries("cal", "127.0.0.1", here=True)) == 0

    def test_a_hand_goes_up_and_the_class_hears_a_word(self, house):
        """A person of the class is told what the trainer says, and can ask for help."""
        browser = newcomer(house)
        school_class = house.room.classes()[0]
        member = house.room.members(school_class.id)[3]
        assert post(browser, "/hand", up="yes")[0] == 403
        comes_true(lambda: post(browser, "/join", label=member.label)[0] == 200, 20)
        house.room.say(school_class.id, "Break at ten.")
        post(browser, "/hand", up="yes")

        assert (who(browser)["hand"], who(browser)["word"]) == (True, "Break at ten.")
        assert who(browser)["minutes"] is None
        assert [page["state"] for page in who(browser)["pages"]] == ["not yet", "not yet"]
        browser.get("/voila/render/bench.ipynb")
        neighbour = house.room.members(school_class.id)[2]
        foreign = {
            "person": neighbour.person_id,
            "class": school_class.id,
            "number": neighbour.number,
        }
        tries = [{"page": FIRST, "right": "2", "of": "5"}, {"page": "results.ipynb", "right": "1", "of": "1"},
                 {"page": FIRST, "right": "1e9", "of": "5"}, {"page": FIRST},
                 {"page": FIRST, "right": "-1", "of": "5"}, {"page": FIRST, "right": "٣", "of": "٥"},
                 {"page": "../" + FIRST, "right": "1", "of": "1"},
                 {"page": FIRST, "right": "1", "of": "5", **foreign}]  # fmt: skip
        kept = [post(browser, "/seen", **fields)[0] for fields in tries]
        assert kept == [204, *[403] * 6, 204]
        assert house.room.members(school_class.id)[2].seen == neighbour.seen
        told = [(page["state"], page["right"], page["of"]) for page in who(browser)["pages"]]
        assert told == [("opened", 2, 5), ("done", 0, 0)]
        house.room.set_state(school_class.id, CLOSED, NOW)
        assert who(browser)["name"] == ""

"""Decision, hand-out, practical and files of who is due, wished for over a page's own line by all.

The pages are the real ones, on a server of their own; whoever asks knows every wish that a page of
an assessor can send.
"""

import datetime as dt
from dataclasses import replace

import pytest

from quizzes import records
from quizzes.access.passphrases import hashed
from quizzes.desks.assessor.decision_panel import DecisionPanel
from quizzes.desks.assessor.handing_out import OF_ALL
from quizzes.forms.offered import offers
from quizzes.records import Records
from quizzes.records.room.store import RoomStore
from quizzes.sittings.run import SittingRun, begin, the_sheet
from tests.server.house import House, alone, notebook, start, stop
from tests.server.test_people import STAFF, WORDS, newcomer, signed_in
from tests.server.virtual_class import FORM, Line

pytestmark = pytest.mark.overnight
PAGES = {
    "results.ipynb": "from quizzes.desks.assessor.results import results_page\nresults_page()",
    "due.ipynb": "from quizzes.desks.assessor.due_page import due_page\ndue_page()",
}
NOW = dt.datetime(2026, 11, 28, 8, 0, tzinfo=dt.UTC)
VALUES = {"verdict": "not yet competent", "reasons": "Seen.", "role": "assessor", "size": "Cedar-47"}  # fmt: skip
DECIDES = [{"send": wish, "values": VALUES} for wish in ("decide", *DecisionPanel._wishes)]
OBSERVES = [{"send": wish, "values": VALUES} for wish in ("observe", "print A4", "print Letter")]
OBSERVES += [{"piece": 0, "of": 1, "field": "photo", "name": "a.png", "text": "AAAA"}]
FILE = [{"send": "export", "values": {}}]
DUE = [{"send": wish, "values": {}} for wish in OF_ALL]


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    """A server of the assessor's pages and one finished sitting; nobody signs in there yet."""
    folder = tmp_path_factory.mktemp("roles")
    (folder / "lessons").mkdir()
    for name, code in PAGES.items():
        notebook(folder / "lessons" / name, name, f"# {name}", code)
    url = f"sqlite:///{folder}/records.sqlite"
    records.create(url)
    with Records(url) as store:
        begun = {"name": "Ann Fen", "owner": "0" * 64, "started_at": NOW, "place": "web"}
        run = SittingRun(store, begin(store, offers()["self_check"], the_sheet(), begun))
        for _ in run.cases:
            run.rehearse(lambda _: None)
        run.hand_in_questions()
        run.close()
        started = start(folder, warm=True)
        started.store, started.sitting = store, run.sitting.id
        yield started
        stop(started)


def tried(browser: House, page: str, *wishes: dict, opens: str = "") -> list[str]:
    """Send wishes to every panel of a page; return what was answered, frame by frame."""

    async def talk() -> list[str]:
        line = Line(f"{browser.base}/")
        line.cookies = dict(browser.cookies)
        await line.open(page)
        await line.until(lambda: FORM in line.models)
        if opens:
            await line.send_all(FORM, {"open": opens})
            await line.until(lambda: len(line.every[FORM]) >= 5)
        heard = await line.send_all(FORM, *wishes)
        await line.leave()
        return heard

    return alone(talk())


def files(frames: list[str]) -> int:
    """Return how many files came: they travel in frames of bytes."""
    return sum('"file"' in frame and frame.startswith("b") for frame in frames)


@pytest.mark.parametrize("role", ["anyone", "apprentice", "trainer", "administrator", "assessor"])
def test_only_an_assessor_decides_observes_and_takes_files_away(house, role):
    """In this order: the first comes while the machine knows nobody, then people sign in.

    Who is not let in gets a sentence and no kernel; who is let in to read gets a sentence for each
    wish; nothing is added to the ledger by either. Whoever uses the machine alone keeps its files.
    """
    if role == "apprentice":
        with RoomStore(f"sqlite:///{house.state.parent}/records.sqlite") as room:
            for known, name in STAFF.items():
                room.add_account(name, known, hashed(WORDS, WORDS), NOW)
    browser = newcomer(replace(house, cookies={})) if role == "anyone" else signed_in(house, role)
    before = house.store.ledger()[1]
    if role in ("apprentice", "administrator"):
        kernels = set(house.kernels())
        for page in PAGES:
            status, said, _ = browser.get(f"/voila/render/{page}")
            assert (status, "trainers and assessors" in said) == (403, True)
        assert set(house.kernels()) <= kernels
        assert house.store.ledger()[1] == before
        return
    acts = tried(browser, "results.ipynb", *DECIDES, *OBSERVES, *FILE, opens=house.sitting)
    added = b"".join(house.store.ledger()[1][len(before) :])
    due = tried(browser, "due.ipynb", *DUE)
    if role == "assessor":
        assert all(kind in added for kind in (b"decision", b"appeal", b"circumstances"))
        assert files(acts) >= 4  # two empty sheets of a practical, the record, the sitting's file
    else:
        assert not added
        assert files(acts) == (role == "anyone")  # the sitting's file
        # A press that another form answers frees the keys of its own by a reply without words.
        refusals = [frame for frame in acts if '"reply"' in frame and '"words": ""' not in frame]
        assert len(refusals) >= len(DECIDES)
        assert all("ssessor" in frame for frame in refusals)
    assert files(due) == (0 if role == "trainer" else len(OF_ALL))
    assert role != "trainer" or sum("for assessors" in frame for frame in due) == len(OF_ALL)

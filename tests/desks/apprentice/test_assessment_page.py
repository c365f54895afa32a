"""The three people's pages, answered as a browser would answer them, over a store of their own."""

import html
import itertools
import logging

import pytest

from quizzes import records
from quizzes.candidates.worker import CAREFUL, work
from quizzes.desks.apprentice.assessment import Assessment, assessment_page
from quizzes.desks.apprentice.practice import Practice, practice_page
from quizzes.desks.assessor.results import Results, results_page
from quizzes.records import Records
from quizzes.server.demo_class import people, sittings
from quizzes.sittings.run import SittingRun, the_sheet
from tests.desks.pages import (
    HOSTILE,
    KEY,
    OWN_SHEET,
    SCRIPT,
    begun,
    bench_of,
    spoil,
    started,
    tell,
    words_of,
)
from tests.short_form import BRAKES, offered
from widgets.bench import actions as do
from widgets.bench.actions import codec as form
from widgets.bench.words import said

# ---- the invented class ----


def test_the_demo_class_is_judged_by_how_it_worked(demo_class, store):
    """The word is the form's; who works carefully earns the good one, who stopped has none."""
    found = {row.name: row.outcome for row in store.results(limit=50)}
    words = {"full": ("competent", "not yet competent"), "class_exercise": ("passed", "not passed")}

    assert found.keys() == {
        *(name for name, *_ in people.CLASS),
        sittings.ALONE[0],
        sittings.UNFINISHED,
    }
    for name, habit, sat in people.CLASS:
        good, bad = words[sat]
        assert found[name] in {good, bad}
        assert habit != "careful" or found[name] == good
        assert habit == "careful" or sat != "full" or found[name] == bad
    assert found[sittings.ALONE[0]] == "passed"
    assert found[sittings.UNFINISHED] is None


# ---- a sitting ----


class _DroppedError(Exception):
    """The line to the page is gone."""


def worked(session):
    """Have the careful candidate do a job as its work order says."""
    work(session.act, the_sheet(), order=session.setup.order)


def test_a_dropped_sitting_is_taken_up_and_ends_in_one_outcome(store_file, store):
    """After any action the log alone brings the same state back; the rest can be worked from it."""
    sheet, sitting = the_sheet(), begun(store)
    first = SittingRun(store, sitting).session()
    left = itertools.count(40, -1)

    def until_dropped(action):
        if next(left) == 0:
            raise _DroppedError
        return first.act(action)

    with pytest.raises(_DroppedError):
        work(until_dropped, sheet, order=first.setup.order)
    with Records(records.default_url()) as again:
        run = SittingRun(again, again.sitting(sitting.id))
        second = run.session()
        same = second.state == first.state and len(second.events) == len(first.events) == 40
        work(second.act, sheet, order=second.setup.order)
        run.hand_in(second)
        while not run.finished:
            run.rehearse(lambda one: work(one.act, sheet, CAREFUL, one.setup.order))
        run.close()

    assert same
    assert len(store.grades(sitting.id)) == BRAKES
    assert len(store.outcomes(sitting.id)) == 1  # closing twice keeps one
    assert store.sitting(sitting.id).finished_at is not None
    assert store.verify(sitting.id).sound


def test_what_the_store_cannot_keep_has_not_happened(store_file, store):
    """A store that becomes unreadable in mid-case costs a sentence, not the job."""
    session = SittingRun(store, begun(store)).session()
    session.wish(form.to_json(do.LandLoad()))
    state, log = session.state, len(session.events)
    spoil(store_file, store)

    answer = session.wish(form.to_json(do.Isolate()))

    assert not answer.done
    assert said(answer).endswith("has not happened.")
    assert str(store_file) in said(answer)
    assert session.state is state
    assert len(session.events) == log


def test_a_sitting_is_gone_on_with_on_the_sheet_that_it_began_with(
    store_file, store, tmp_path, monkeypatch
):
    """Another sheet in force since then makes no difference to it."""
    sitting = begun(store)
    before = SittingRun(store, sitting)
    own = tmp_path / "own.toml"
    own.write_text(OWN_SHEET, encoding="utf-8")
    monkeypatch.setenv("GAL_LIMITS", str(own))
    after = SittingRun(store, sitting)

    assert after.kept == before.kept
    assert after.kept.sheet != the_sheet()


# ---- the assessment page ----


@pytest.fixture
def assessment(store_file, sent, monkeypatch) -> Assessment:
    """An assessment just opened in a browser that has no sitting; a short form is offered."""
    offered(monkeypatch)
    page = Assessment()
    tell(page, {"ask": "form", "browser_key": KEY, "at_work": False})
    return page


def test_a_name_begins_a_sitting_and_is_given_a_return_code(assessment, sent, store):
    """The bench stands on the page, the sitting in the store, the code on the form."""
    tell(assessment, started("Ada Quern"))
    (row,) = store.results()
    code = sent[-1]["form"]["code"][1]

    assert row.name == "Ada Quern"
    assert row.place == "web"
    assert store.by_return_code(code).id == row.sitting_id
    assert bench_of(assessment).state.step == 0


@pytest.mark.parametrize("name", ["", "   ", "\t\n", None, 7, ["Ada"]])
def test_no_sitting_begins_without_a_name(assessment, sent, store, name):
    """An empty name, or something that is not text, gets a sentence and no record."""
    tell(assessment, started(name))

    assert words_of(sent[-1]).startswith("Type your name first")
    assert store.results() == ()


@pytest.mark.parametrize("content", HOSTILE, ids=lambda content: repr(content)[:40])
@pytest.mark.parametrize("kind", [Assessment, Results, Practice], ids=lambda kind: kind.__name__)
def test_nothing_that_arrives_breaks_a_page(sent, store, caplog, kind, content):
    """Wrong types, torn text and ten megabytes raise nothing, not even inside, and begin nothing."""
    page = kind()
    if not (isinstance(content, dict) and "ask" in content):  # a question comes first of all
        tell(page, {"ask": "form", "browser_key": KEY, "at_work": False})
    with caplog.at_level(logging.WARNING):
        tell(page, content)
    broken = [record for record in caplog.records if record.exc_info]

    assert not broken
    assert store.results() == ()
    assert len(repr(sent)) < 100_000  # what was sent in is not sent back


def test_a_whole_sitting_on_the_page_ends_with_an_escaped_outcome(assessment, sent, store):
    """Three brakes one after the other; a name that is markup stays text on every sheet."""
    tell(assessment, started(SCRIPT))
    for _ in range(BRAKES - 1):
        worked(bench_of(assessment))
        tell(assessment, {"send": "next"})
    worked(bench_of(assessment))
    outcome = assessment.page.children[0].value
    results = Results()
    (row,) = store.results()
    tell(results, {"open": row.sitting_id})

    assert row.outcome == "competent"
    assert {"forget": True} in sent
    for sheet_of_results in (outcome, results._evidence.value):
        assert "<script" not in sheet_of_results
        assert html.escape(SCRIPT, quote=False).split(" O")[0] in sheet_of_results
    # First the rings of each job, then what went well; the table comes after both.
    places = [
        outcome.index(words)
        for words in ('class="rings"', "What went well", '<table class="whole-words judged">')
    ]
    assert places == sorted(places)
    assert outcome.count('class="rings"') == BRAKES


def test_no_grade_is_shown_before_the_last_case(assessment, sent):
    """Between cases the page says that it is kept, and nothing of how it went."""
    tell(assessment, started("Ada Quern"))
    worked(bench_of(assessment))
    said = words_of(sent[-1])

    assert "Case 1 of 3 is handed over" in said
    assert "competent" not in said
    assert len(assessment.page.children) == 1


def test_a_page_opened_again_goes_on_at_the_same_step(assessment, sent):
    """The same browser finds its sitting; what was done is done."""
    tell(assessment, started("Ada Quern"))
    bench_of(assessment).act(do.LandLoad())
    again = Assessment()
    tell(again, {"ask": "form", "browser_key": KEY, "at_work": False})
    asked = words_of(sent[-1])
    tell(again, {"send": "mine"})

    assert "Ada Quern is at case 1 of 3" in asked
    assert bench_of(again).state == bench_of(assessment).state
    assert bench_of(again).state.load_landed


def test_another_browser_does_not_find_the_sitting(assessment, sent):
    """Another key is another person: it is asked for a name, and told of nobody."""
    tell(assessment, started("Ada Quern"))
    other = Assessment()
    tell(other, {"ask": "form", "browser_key": "ef" * 32, "at_work": True})

    assert "Ada" not in words_of(sent[-1])
    assert [button for button, _ in sent[-1]["form"]["buttons"]] == ["start", "take up"]


def test_a_wrong_return_code_opens_nothing(assessment, sent):
    """A code that nobody was given gets a sentence."""
    tell(assessment, {"send": "take up", "values": {"code": "WRONG-CODE-2345"}})

    assert words_of(sent[-1]).startswith("No open sitting has this return code")


def test_an_open_sitting_that_cannot_be_read_says_so_and_leaves_a_way_on(
    assessment, sent, monkeypatch
):
    """The page says why it cannot go on, and the same browser can still begin again."""
    tell(assessment, started("Ada Quern"))
    monkeypatch.setattr("quizzes.records.kept_sitting.FORMAT", 0)  # it is of a newer format
    sent.clear()
    again = Assessment()
    tell(again, {"ask": "form", "browser_key": KEY, "at_work": False})
    said = " ".join(words_of(message) for message in sent)
    forms = [message["form"] for message in sent if "form" in message]

    assert "cannot be read, at format" in said
    assert forms, "no form is drawn: the person has nothing to press"
    assert "start" in [button for button, _ in forms[-1]["buttons"]]


def test_a_store_lost_in_mid_sitting_is_said_on_the_page(assessment, sent, store_file):
    """A name typed into a page whose store is gone gets the store's own sentence."""
    spoil(store_file, assessment._store)
    tell(assessment, started("Ada Quern"))

    assert "record store" in words_of(sent[-1])
    assert "Traceback" not in words_of(sent[-1])


# ---- practice ----


def test_practice_keeps_nothing_and_explains_afterwards(store_file, sent, store):
    """Truth and grade stand there after the hand-over, not before, and nowhere in the store."""
    page = Practice(seed=bytes(range(32)))
    tell(page, {"send": "start", "values": {"size": "any"}})
    bench = page.page.children[0]
    before = len(page.page.children)
    worked(bench.children[0]._table.session)
    explained = page.page.children[1].value

    assert before == 1  # the bench, with the coach in it
    assert "As found it needed" in explained
    assert store.results() == ()


# ---- what a page says when it cannot open ----

PAGES = [assessment_page, practice_page]  # results need no sheet


@pytest.mark.parametrize(
    "text",
    [
        None,
        "not toml [",
        'title = "x"\n',
        OWN_SHEET.replace("1.0", "0.1"),
        OWN_SHEET + "colour = 3",
    ],
    ids=["no file", "no TOML", "no size", "largest below setting", "unknown field"],
)
@pytest.mark.parametrize("open_it", PAGES, ids=lambda page: page.__name__)
def test_a_bad_limits_sheet_is_a_page_with_sentences(
    store_file, tmp_path, monkeypatch, open_it, text
):
    """The file is named with what was expected; no page raises."""
    own = tmp_path / "own.toml"
    if text is not None:
        own.write_text(text, encoding="utf-8")
    monkeypatch.setenv("GAL_LIMITS", str(own))
    page = open_it()

    assert "own.toml" in page.value
    assert "expected" in page.value
    assert "Traceback" not in page.value


@pytest.mark.parametrize("open_it", [assessment_page, results_page], ids=lambda page: page.__name__)
def test_a_spoilt_store_is_a_page_with_a_sentence(store_file, open_it):
    """The store is named, and what to do; no page raises."""
    spoil(store_file)
    page = open_it()
    shown = html.unescape(getattr(page, "value", ""))

    assert str(store_file) in shown
    assert "Traceback" not in shown

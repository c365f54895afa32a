"""The assessor's list: who sat, and one sitting laid open, however long it was."""

import dataclasses
import datetime as dt
import html
import itertools
import json
import math
import shutil

import pytest

from quizzes import records
from quizzes.analysis.people.mastery import Mastery
from quizzes.candidates.worker import work
from quizzes.commands import export_command
from quizzes.desks import visitor as desk
from quizzes.desks.apprentice.question_round import question_round
from quizzes.desks.assessor.evidence_sheet import calibration_words
from quizzes.desks.assessor.results import Results
from quizzes.desks.visitor import Visitor
from quizzes.forms.blueprint import READY, load_blueprint
from quizzes.forms.offered import offers
from quizzes.grading.editions import EDITIONS
from quizzes.grading.evidence.gathering import AlteredLogError, gather
from quizzes.records import Records, Start
from quizzes.records.heads.keeping import HEADS
from quizzes.records.room.rows import ClassPlan
from quizzes.records.room.store import RoomStore, owner_in_class
from quizzes.server.demo_class import people, sittings
from quizzes.sittings.export import exported
from quizzes.sittings.replay import BadExportError, replay_export
from quizzes.sittings.run import QUESTIONS_SLOT, SittingRun, begin, now, the_sheet
from quizzes.sittings.standing import UNTRUSTED, Standing, Standings
from quizzes.sittings.what_now import over_sittings
from tests.desks.pages import (
    OWN_SHEET,
    OWNER,
    begun,
    right_answers,
    tell,
    tell_panel,
    words_of,
)
from tests.records.auditing.bending import bend
from widgets.bench.unlike import Notice

FULL, CHECK, EXERCISE = (
    load_blueprint(READY[name]) for name in ("full", "self_check", "class_exercise")
)
CASES, QUESTIONS = FULL.case_count(), FULL.question_count
DECISIONS = CASES + 2 * CHECK.case_count()  # of Ada's three sittings


def test_the_list_holds_everybody_and_opens_evidence(demo_class, sent):
    """A finished sitting opens with its cases, its log and what grading again gives."""
    page = Results()
    rows = {row["cells"][0]: row["id"] for row in sent[-1]["form"]["list"]["rows"]}
    (careful,) = (
        name for name, habit, form in people.CLASS if (habit, form) == ("careful", "full")
    )
    tell(page, {"open": rows[careful]})
    evidence = page._evidence.value

    assert rows.keys() == {
        sittings.UNFINISHED,
        sittings.ALONE[0],
        *(name for name, *_ in people.CLASS),
    }
    assert f"{careful}: evidence" in evidence
    assert "the same, line by line" in evidence
    assert evidence.count("<details") == 2 * CASES + 1  # each case and its log; the questions


def test_an_unfinished_sitting_shows_no_cases(store_file, sent, store):
    """What its cases are would help whoever still has to work them."""
    sheet, sitting = the_sheet(), begun(store)
    run = SittingRun(store, sitting)
    run.rehearse(lambda one: work(one.act, sheet, order=one.setup.order))
    page = Results()
    tell(page, {"open": sitting.id})
    evidence = page._evidence.value

    assert "not finished" in evidence
    assert "<details" not in evidence
    assert not [case.size.name for case in run.cases if case.size.name in evidence]


@pytest.mark.parametrize(
    ("asked", "named"),
    [
        ({"name": "torvane", "outcome": "all"}, {"Ilka Torvane"}),
        ({"name": "", "outcome": "open"}, {sittings.UNFINISHED}),
        ({"name": "torvane", "outcome": "not yet competent"}, set()),
    ],
)
def test_the_list_can_be_narrowed(demo_class, sent, asked, named):
    """By part of a name, and by outcome, unfinished attempts among them."""
    page = Results()
    tell(page, {"send": "look", "values": asked})

    assert {row["cells"][0] for row in sent[-1]["form"]["list"]["rows"]} == named


def made_competent(store):
    """Return somebody not yet competent, and the statement that makes them competent."""
    victim = next(row for row in store.results() if row.outcome == "not yet competent")
    return victim, (
        "UPDATE entry SET outcome = 'competent', body = replace(body, 'not yet ', '')"
        f" WHERE kind = 'outcome' AND sitting_id = '{victim.sitting_id}'"
    )


def test_a_forged_outcome_is_red_wherever_it_shows_and_never_good(
    demo_class, store_file, sent, store, no_keys
):
    """Set to competent, chain and triggers remade, heads and keys gone: its log still tells."""
    victim, better = made_competent(store)
    bend(store_file, better, "DELETE FROM entry WHERE kind = 'head'")
    page = Results()
    rows = {row["id"]: row for row in sent[-1]["form"]["list"]["rows"]}
    tell(page, {"open": victim.sitting_id})
    evidence = page._evidence.value
    again = replay_export(exported(store, victim.sitting_id))

    assert rows[victim.sitting_id]["cells"][1] == "not to be trusted"
    assert [one["id"] for one in rows.values() if one["alarm"]] == [victim.sitting_id]
    assert 'class="critical" role="alert"' in evidence
    assert "follows from the log" in evidence
    assert "verdict good" not in evidence.split("<h3>")[0]
    assert not again.same
    assert "follows from the log" in again.outcome[0]


@pytest.mark.usefixtures("demo_class")
@pytest.mark.parametrize("beside_the_keys", [True, False], ids=["heads there", "heads deleted"])
def test_a_forged_outcome_is_no_better_where_the_keys_are(store_file, store, beside_the_keys):
    """Chain remade, heads in the ledger deleted: the others find it, or its log does."""
    victim, better = made_competent(store)
    bend(store_file, better, "DELETE FROM entry WHERE kind = 'head'")
    if not beside_the_keys:
        (store_file.parent / "keys" / HEADS).unlink()
    found = Standings(store).of(
        next(r for r in store.results() if r.sitting_id == victim.sitting_id)
    )

    assert found.word == UNTRUSTED
    assert ("signed head" if beside_the_keys else "follows from the log") in found.trouble


@pytest.fixture
def no_keys(tmp_path, monkeypatch) -> None:
    """No key was made yet."""
    monkeypatch.setenv("GAL_KEYS", str(tmp_path / "none"))


def test_an_unknown_sitting_is_answered_with_a_sentence(store_file, sent):
    """A row that is not there is said, and the list stays."""
    page = Results()
    tell(page, {"open": "no-such-sitting"})

    assert "reply" in sent[-1]
    assert "no-such-sitting" in words_of(sent[-1])


# ---- a long sitting laid open ----


@pytest.fixture(scope="module")
def long_file(tmp_path_factory, dice):
    """A store in which Ada has sat the self-check twice and the full form once, all of it right."""
    path = tmp_path_factory.mktemp("long") / "records.sqlite"
    records.create(f"sqlite:///{path}")
    with Records(f"sqlite:///{path}") as store:
        for form in ("self_check", "self_check", "full"):
            sit(store, form, "Ada Quern")
    return path


def sit(store: Records, form: str, name: str) -> None:
    """Sit a whole form by the careful candidate, every question answered correctly."""
    sheet = the_sheet()
    start = {"name": name, "place": "web", "owner": OWNER, "started_at": now()}
    run = SittingRun(store, begin(store, offers()[form], sheet, start))
    for case in run.cases:
        run.rehearse(lambda session, order=case.order: work(session.act, sheet, order=order))
    panel = question_round(run, lambda: None)
    for content in right_answers(panel):
        tell_panel(panel, content)
    tell_panel(panel, {"hand_in": True})


@pytest.fixture
def long_sittings(long_file, store_file) -> None:
    """The store in force holds Ada's three sittings."""
    shutil.copyfile(long_file, store_file)


@pytest.fixture
def opened(long_sittings, sent, store, monkeypatch) -> Results:
    """The list with Ada's full form laid open for an assessor."""
    monkeypatch.setattr(desk, "visitor", lambda: Visitor("assessor"))
    page = Results()
    tell(page, {"open": next(row.sitting_id for row in store.results() if row.form_id == "full")})
    return page


def test_the_longest_sitting_is_folded_case_by_case(opened):
    """No case is open, each says how it ended; its log is folded once more inside it."""
    evidence = opened._evidence.value

    assert evidence.count("<details><summary>Case ") == CASES
    assert evidence.count("<details><summary>The log of case ") == CASES
    assert "<details open" not in evidence
    assert "the same, line by line" in evidence


def test_each_sitting_is_listed_with_the_word_of_its_form(opened, sent):
    """A self-check ends in practice, however right it was: it never says competent or passed."""
    rows = [row["cells"] for row in sent[-1]["form"]["list"]["rows"]]

    assert sorted((row[3], row[1]) for row in rows) == [
        (FULL.title, "competent"),
        *[(CHECK.title, "practised")] * 2,
    ]


def test_the_evidence_holds_channels_questions_and_what_all_sittings_show(opened):
    """Every channel that came up, the questions with their reasons, three sittings together."""
    evidence = opened._evidence.value

    assert "Reached, on average" in evidence
    assert f"The questions: {QUESTIONS} of {QUESTIONS} points" in evidence
    assert "All finished sittings of this person: 3" in evidence
    assert f"{DECISIONS} of {DECISIONS} decisions right" in evidence


def test_the_questions_stand_with_what_was_asked_and_how_sure_the_person_was(opened, store):
    """Each with its text, mark, right answer and reason, so that nobody has to look it up."""
    grade = next(one for one in store.grades(opened._open) if one.slot == QUESTIONS_SLOT).content
    evidence = html.unescape(opened._evidence.value)

    assert len(grade["questions"]) == QUESTIONS
    for one in grade["questions"]:
        assert {one["text"], one["answer"], one["why"]} <= {
            part for part in (one["text"], one["answer"], one["why"]) if part in evidence
        }
    assert evidence.count("100 %, sure") == sum(
        bool(one["confidence"]) for one in grade["questions"]
    )


def test_the_mastery_of_a_person_is_the_sum_of_their_sittings(long_sittings, store):
    """The decisions of all three, each of them right; capitals make no other person."""
    found = over_sittings(store, store.person_of("ADA quern").id)

    assert found.sittings == 3
    mastery = found.mastery
    assert (mastery.rights, mastery.cases, mastery.misses) == (DECISIONS, DECISIONS, 0)
    assert over_sittings(store, "nobody").mastery == Mastery(0, 0)


def test_a_sitting_that_is_not_finished_adds_nothing(long_sittings, store):
    """An attempt that was broken off shows nothing of its cases, in the sum neither."""
    sheet = the_sheet()
    sitting = begun(store)
    run = SittingRun(store, sitting)
    run.rehearse(lambda one: work(one.act, sheet, order=one.setup.order))

    assert over_sittings(store, sitting.person_id).sittings == 3


def test_the_saved_file_is_graded_again_the_same(opened, monkeypatch):
    """Its bytes are what the replay command reads; the questions are in it with their answers."""
    files = []
    monkeypatch.setattr(type(opened._tools), "hand_over", lambda _, *file: files.append(file))
    tell_panel(opened._tools, {"send": "export"})
    ((name, kind, content),) = files
    export = json.loads(content)

    assert name.endswith(".json")
    assert kind == "application/json"
    again = replay_export(export)
    assert again.same
    assert again.questions == ()
    assert len(export["cases"]) == CASES
    assert len(export["questions"]["answers"]) == QUESTIONS


def test_points_of_questions_that_were_edited_are_found(opened, monkeypatch):
    """They are marked again from the answers; so is an answer that was put right afterwards."""
    files = []
    monkeypatch.setattr(type(opened._tools), "hand_over", lambda _, *file: files.append(file))
    tell_panel(opened._tools, {"send": "export"})
    export = json.loads(files[0][2])
    export["questions"]["grade"]["points"] = 12.5
    points = replay_export(export)
    export = json.loads(files[0][2])
    export["questions"]["answers"][3]["answer"] = {}
    answer = replay_export(export)
    export["questions"]["answers"][3] = 7

    assert not points.same
    assert f"points 12.5 kept, {QUESTIONS}" in " ".join(points.sentences())
    assert not answer.same
    with pytest.raises(BadExportError, match=r"Questions: they cannot be marked"):
        replay_export(export)


@pytest.mark.parametrize("wish", ["export", "editions"])
def test_an_unfinished_sitting_gives_away_neither_key_nor_grade(store_file, sent, store, wish):
    """A sentence, and no file: who has the key can draw the cases that are still open."""
    sitting = begun(store)
    page = Results()
    tell(page, {"open": sitting.id})
    tell_panel(page._tools, {"send": wish})

    assert "not finished" in words_of(sent[-1])
    assert not [message for message in sent if "file" in message]
    assert sitting.key.hex() not in repr(sent)
    assert len(page.page.children) == 6  # list, tools, evidence, practical, decision, around it


@pytest.mark.parametrize(
    "content",
    [None, {}, {"send": "export"}, {"send": ["export"]}, {"send": "editions", "open": "x"}, {"send": math.nan}],
    ids=repr,
)  # fmt: skip
def test_nothing_can_be_asked_of_a_sitting_before_one_is_open(store_file, sent, caplog, content):
    """The keys of the open sitting do nothing while there is none."""
    page = Results()
    tell_panel(page._tools, content)

    assert not [record for record in caplog.records if record.exc_info]
    assert not [message for message in sent if "file" in message]


def test_confidence_that_the_answers_contradict_is_said():
    """Twelve sure answers, half of them wrong, is over-confident; half a point is not right."""
    answers = [{"confidence": "sure", "share": 1.0 if at % 2 else 0.5} for at in range(12)]

    to_them = calibration_words({"questions": answers}, to_candidate=True)
    of_them = calibration_words({"questions": answers}, to_candidate=False)
    assert to_them.startswith("Over-confident: of 12 answers you were sure of")
    assert of_them.startswith("The candidate was over-confident: of 12 answers the candidate was")
    assert not {"you", "your"} & set(of_them.casefold().split())
    assert (
        calibration_words({"questions": [{"confidence": "", "share": 1.0}]}, to_candidate=True)
        == ""
    )
    assert calibration_words(None, to_candidate=True) == ""


def test_another_sheet_in_force_changes_nothing_of_the_evidence(opened, tmp_path, monkeypatch):
    """Each sitting is shown and graded again from what was kept with it."""
    own = tmp_path / "own.toml"
    own.write_text(OWN_SHEET, encoding="utf-8")
    before = opened._evidence.value
    monkeypatch.setenv("GAL_LIMITS", str(own))
    page = Results()
    tell(page, {"open": opened._open})

    assert page._evidence.value == before


def test_a_sitting_that_cannot_be_read_is_shown_as_its_grades_were_kept(opened, sent, monkeypatch):
    """The reason stands there, and every kept grade below it; the other sittings are as ever."""
    monkeypatch.setattr("quizzes.records.kept_sitting.FORMAT", 0)
    page = Results()
    tell(page, {"open": opened._open})
    evidence = html.unescape(page._evidence.value)

    assert f"Sitting {opened._open} cannot be read, at format: it is kept in format 1" in evidence
    assert evidence.count("<details><summary>Case ") == CASES
    assert f"The questions: {QUESTIONS} of {QUESTIONS} points" in evidence
    assert len(sent[-1]["form"]["list"]["rows"]) == 3


@pytest.fixture
def crowded(store_file, store):
    """A store with 223 sittings, one of them open, on three days; two of them in a class."""
    day = dt.datetime(2026, 11, 28, 9, 0).astimezone()
    with RoomStore(records.default_url()) as room:
        people = (("Ada Class", "1"), ("Bo Class", "2"))
        one = room.make_class(ClassPlan("Monday", day.date(), "class_exercise", (), people), day)
        owners = [owner_in_class(one.id, member.person_id) for member in room.members(one.id)]
    store.begin_sitting(Start("Aa First", "self_check", "1", "web", OWNER, "x", "1", day - dt.timedelta(days=2)))  # fmt: skip
    for number in range(222):
        name = ("Ada Class", "Bo Class")[number] if number < 2 else f"Done {number:03}"
        start = Start(name, "full" if number < 30 else "self_check", "1", "test" if number == 2 else "web",
                      owners[number] if number < 2 else OWNER, "x", "1", day + dt.timedelta(minutes=number))  # fmt: skip
        sitting = store.begin_sitting(start)
        word = "competent" if number % 3 else "not yet competent"
        store.finish_sitting(sitting.id, {"outcome": word}, day + dt.timedelta(minutes=number + 5))
    return one


def listed(sent, column: int = 0) -> list[str]:
    return [row["cells"][column] for row in sent[-1]["form"]["list"]["rows"]]


def look(page, **values: str) -> None:
    tell(page, {"send": "look", "values": values})


def test_a_long_list_is_turned_page_by_page_and_loses_nobody(crowded, sent, monkeypatch):
    """223 sittings on five pages, each once; past the end there is nothing to turn to."""
    monkeypatch.setattr("quizzes.desks.assessor.results.Standings", QuickStandings)
    page, seen = Results(), []
    while True:
        seen += [row["id"] for row in sent[-1]["form"]["list"]["rows"]]
        if "further" not in dict(sent[-1]["form"]["buttons"]):
            break
        tell(page, {"send": "further"})

    assert (len(seen), len(set(seen))) == (223, 223)
    assert sent[-1]["form"]["list"]["caption"] == "sittings 201 to 223 of 223, newest first"
    tell(page, {"send": "further"})
    assert listed(sent)[-1] == "Aa First"
    look(page, order="name")
    assert listed(sent)[:3] == ["Aa First", "Ada Class", "Bo Class"]


def test_the_list_is_narrowed_by_day_form_and_class(crowded, sent, monkeypatch):
    """Open sittings are found beyond the first page; what is none of the choices finds nothing."""
    monkeypatch.setattr("quizzes.desks.assessor.results.Standings", QuickStandings)
    page = Results()
    for values, count, first in (
        ({"outcome": "open"}, 1, "Aa First"),
        ({"form": "full"}, 30, "Done 029"),
        ({"class": crowded.id}, 2, "Bo Class"),
        ({"until": "2026-11-26"}, 1, "Aa First"),
        ({"since": "2026-11-27", "form": "full"}, 30, "Done 029"),
        ({"since": "2026-11-29"}, 0, ""),
        ({"order": "oldest", "form": "full"}, 30, "Ada Class"),
        ({"form": "no such form"}, 0, ""),
        ({"class": "no such class"}, 0, ""),
        ({"order": "; drop table"}, 50, "Done 221"),
    ):
        look(page, **values)
        assert (len(listed(sent)), (listed(sent) or [""])[0]) == (count, first), values


@pytest.mark.parametrize(("values", "said"), [
    ({"since": "28.11.2026"}, "expected a day like 2026-11-28"), ({"until": "soon"}, "Until: expected a day"),
    ({"since": "2026-11-29", "until": "2026-11-28"}, "the earlier day first"),
])  # fmt: skip
def test_a_day_that_is_none_is_said_and_the_list_stays(store_file, sent, values, said):
    """What was typed, and what was expected."""
    page = Results()
    look(page, **values)

    assert said in sent[-1]["reply"]["words"]
    assert page._wanted.since == ""


def test_work_of_a_program_is_marked_as_a_demonstration(demo_class, sent):
    """Wherever invented people stand on the list."""
    Results()

    assert set(listed(sent, 5)) == {"demo, worked by a program"}
    assert set(listed(sent, 3)) == {FULL.title, EXERCISE.title}


class QuickStandings(Standings):
    """Grades nothing again: these sittings hold no work."""

    def of(self, sitting, *, again=False):
        return Standing(sitting.outcome)


def test_two_editions_are_offered_only_where_there_are_two(opened, sent, monkeypatch):
    """With the one edition that is in use there is nothing to lay side by side."""
    tell(opened, {"open": opened._open})
    alone = "Grade by two editions" in repr(sent)
    two = {
        **EDITIONS,
        "made for a test": dataclasses.replace(EDITIONS["1"], edition="made for a test"),
    }
    monkeypatch.setattr("quizzes.desks.assessor.evidence_sheet.EDITIONS", two)
    tell(opened, {"open": opened._open})

    assert not alone
    assert "Grade by two editions" in repr(sent)


def test_a_log_that_does_not_come_out_again_is_named_with_its_case(opened, store, monkeypatch):
    """One case whose replay fails is named; the others, and that one's kept grade, still stand.

    Where today's model shows another value, both are shown, and nothing is said to differ.
    """
    count = itertools.count(1)

    def altered(case, events):
        number = next(count)
        if number == 7:
            raise AlteredLogError("log.no-action", 3)
        notices = (Notice(4, "facts.shown_mm", 10.5, 10.6),) if number == 8 else ()
        return dataclasses.replace(gather(case, events), notices=notices)

    monkeypatch.setattr("quizzes.desks.assessor.evidence_sheet.gather", altered)
    tell(opened, {"open": opened._open})
    evidence = opened._evidence.value

    assert "differs: case 7 (line 3 of the log is not an action)" in evidence
    assert "case 8" not in evidence.split("Graded again now")[1].split("</tr>")[0]
    assert html.unescape(evidence).count("line 4, facts.shown_mm: kept 10.5, today’s model") == 1
    assert evidence.count("<details><summary>Case ") == CASES


@pytest.mark.usefixtures("demo_class")
def test_a_sitting_that_does_not_hold_leaves_the_house_with_a_warning(
    store_file, store, sent, handed, capsys
):
    """The file is evidence of the forgery; page and command say that its outcome counts nothing."""
    victim, better = made_competent(store)
    bend(store_file, better)
    page = Results()
    tell(page, {"open": victim.sitting_id})
    page._tools.heard({"send": "export"})
    code = export_command({"sitting": victim.sitting_id, "to": None, "records": None})
    out, err = capsys.readouterr()

    assert len(handed) == 1
    assert sent[-1]["reply"]["words"].startswith("The outcome in this file counts for nothing.")
    assert code == 1
    assert err.startswith("The outcome in this file counts for nothing. The record was changed")
    assert json.loads(out)["ledger"]["sound"] is False

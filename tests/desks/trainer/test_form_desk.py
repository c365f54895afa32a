"""The forms desk: a form typed row by row, checked, tried and kept; and where judges cut."""

import logging
import math
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.cases.groups import GROUPS
from quizzes.desks.trainer.form_desk import BLANK, FormDesk, form_desk_page
from quizzes.forms.blueprint import READY, load_blueprint
from quizzes.forms.draft import (
    MOST_TROUBLES,
    DraftError,
    as_toml,
    blueprint_of,
    draft_of,
    on_the_desk,
    read_draft,
)
from quizzes.forms.keeping import keep
from quizzes.forms.offered import offers, own_folder
from quizzes.forms.preview import DRAWN, check, preview
from quizzes.sittings.in_force import the_sheet
from tests.desks.pages import OWN_SHEET, tell_panel
from widgets.brake.sizes.readable import Fault

GOOD = {
    **BLANK,
    "id": "tuesday",
    "title": "Tuesday's “class” \\ #1",
    "cases": [
        ["reading", "3", "normal gap", ""],
        ["reading", "2", "", "warped; oiled"],
        ["bench", "1", "", "oiled"],
    ],
    "questions": [["K3; D2", "2", "0.3", "0.9"]],
}


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    """A trainer's folder that is not there yet, in force."""
    monkeypatch.delenv("GAL_LIMITS", raising=False)
    monkeypatch.setenv("GAL_BLUEPRINTS", str(tmp_path / "forms"))
    return tmp_path / "forms"


@pytest.fixture
def told(monkeypatch) -> list[dict]:
    """Messages that the desk sends to the page, in order."""
    messages = []
    monkeypatch.setattr(FormDesk, "send", lambda _, content, **__: messages.append(content))
    return messages


@pytest.fixture
def desk(told) -> FormDesk:
    return FormDesk(the_sheet())


def troubles_of(draft: object) -> tuple[str, ...]:
    with pytest.raises(DraftError) as refused:
        blueprint_of(read_draft(draft))
    return refused.value.troubles


# ---- reading and writing ----


def test_what_was_typed_is_what_stands_in_the_file():
    """Outside check: the standard library's own TOML reader gives back every text and number."""
    table = read_draft(GOOD)
    again = tomllib.loads(as_toml(table))

    assert again["title"] == GOOD["title"]
    assert again["cases"][1] == {"depth": "reading", "count": 2, "families": ["warped", "oiled"]}
    assert again["questions"] == [{"elements": ["K3", "D2"], "count": 2, "difficulty": [0.3, 0.9]}]
    assert again == table
    named = read_draft(GOOD | {"questions": [["K3", "2", "0.3", "0.9", "own-a; own-b"]]})
    assert tomllib.loads(as_toml(named))["questions"][0]["always"] == ["own-a", "own-b"]
    assert draft_of(blueprint_of(named))["questions"] == [["K3", "2", "0.3", "0.9", "own-a; own-b"]]


@pytest.mark.parametrize("name", READY)
def test_a_ready_form_opened_and_written_again_is_the_same_form(name):
    """Only its name is another: those of the suite are taken."""
    ready = load_blueprint(READY[name])
    draft = draft_of(ready) | {"id": "mine"}
    written = blueprint_of(read_draft(draft))

    assert (written.cases, written.questions) == (ready.cases, ready.questions)
    assert (written.minutes, written.elements) == (ready.minutes, ready.elements)
    assert written.ends == ready.ends


@given(title=st.text(max_size=90))
def test_no_title_breaks_the_file_or_gets_lost(title):
    """Quotes, backslashes, line ends, half signs: kept as typed, or refused with the word Title."""
    draft = GOOD | {"title": title}
    try:
        table = read_draft(draft)
    except DraftError as refused:
        table, troubles = {}, refused.troubles
    else:
        troubles = ()

    assert all(one.startswith("Title: expected") for one in troubles)
    assert troubles or tomllib.loads(as_toml(table))["title"] == title.strip()


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"id": "../etc"}, "Name of the file: expected small letters"),
        ({"id": "self_check"}, "comes with the suite"),
        ({"id": "three-cases"}, "Name of the file"),
        ({"title": "two\nlines"}, "Title: expected"),
        ({"title": "\ud800"}, "Title: expected"),
        ({"edition": "1.2"}, "Edition: expected a whole number from 1 to 9999"),
        ({"minutes": "3o"}, "Minutes: expected a whole number from 1 to 600, got '3o'"),
        ({"minutes": "2"}, "Minutes: expected"),
        ({"break_minutes": "-5"}, "Break: expected"),
        ({"sizes": 7}, "Sizes: expected names"),
        ({"elements": "K3, X9"}, "Elements: expected one of K1, K2"),
        ({"elements": "T2"}, "Elements: expected only elements that its cases or questions show"),
        ({"cases": []}, "Cases: expected"),
        ({"cases": "many"}, "Cases: expected at most 40 rows"),
        ({"cases": [["reading", "1", "sound", ""]] * 41}, "Cases: expected at most 40 rows"),
        ({"cases": [["reading", "1"]]}, "Cases, row 1: expected 4 cells"),
        ({"cases": [["reading", "4", "sound", ""], ["bench", "0", "sound", ""]]},
         "Cases, row 2, how many: expected a whole number from 1 to 100"),
        ({"cases": [["deep", "1", "sound", ""]]}, "Cases, row 1, depth: expected one of"),
        ({"cases": [["reading", "1", "nice", ""]]}, "Cases, row 1, group: expected one of"),
        ({"cases": [["reading", "1", "", ""]]}, "Cases, row 1, families: expected families"),
        ({"cases": [["reading", "1", "", "warped; melted"]]}, "Cases, row 1, families: expected"),
        ({"questions": [["K3", "1", "0,3", "0.9"]]},
         "Questions, row 1, difficulty from: expected a number from 0 to 1, with a point"),
        ({"questions": [["K3", "1", "0.9", "0.3"]]}, "Questions, row 1, difficulty: expected two"),
        ({"questions": [["", "1", "0.3", "0.9"]]}, "Questions, row 1, elements: expected"),
    ],
)  # fmt: skip
def test_a_form_that_cannot_be_is_refused_with_its_row_and_reason(change, said):
    """One sentence at least, which starts with the place as the page names it."""
    troubles = troubles_of(GOOD | change)

    assert any(said in one for one in troubles), troubles


def test_all_that_is_wrong_is_told_at_once_and_no_more_than_a_page_of_it():
    """Three slips are three sentences; a thousand are a dozen."""
    three = GOOD | {"title": "", "minutes": "x", "edition": ""}
    many = GOOD | {"cases": [["reading", "x", "y" * 200, "z"]] * 20}

    assert len(troubles_of(three)) == 3
    assert len(troubles_of(many)) == MOST_TROUBLES


def test_every_fault_of_a_file_is_a_sentence_in_words_of_the_desk():
    """The row in place of the line, no key of the file, and all faults at once."""
    rows = {"cases": [["deep", "1", "sound", ""], ["reading", "1", "nice", ""]]}

    assert [one.partition(": expected one of")[0] for one in troubles_of(GOOD | rows)] == [
        "Cases, row 1, depth",
        "Cases, row 2, group",
    ]
    assert on_the_desk(Fault(("cases", 0), "a table", "3")) == "Cases: expected a table, got 3."


def test_a_form_in_which_the_gap_gives_the_faults_away_names_the_rows(desk, told):
    """Half and more of the faults must have a normal gap, a rule of the house; row 2 breaks it."""
    cases = [["reading", "1", "normal gap", ""], ["reading", "4", "seen in the gap", ""]]
    tell_panel(desk, {"check": GOOD | {"cases": cases}})

    assert told[-1]["troubles"][0].startswith("Cases, row 2: the gap alone gives away 4.0 of 5.0")


def test_a_form_whose_cases_take_too_unlike_times_names_the_row(desk, told):
    """Two families at the bench, one of which takes much longer: no two forms would be alike."""
    cases = [["reading", "3", "normal gap", ""], ["bench", "1", "", "warped; oiled"]]
    tell_panel(desk, {"check": GOOD | {"cases": cases}})

    assert told[-1]["troubles"][0].startswith("Cases, row 2: forms would not come out alike")


@pytest.mark.parametrize("number", range(5))
def test_the_form_that_the_desk_begins_with_can_be_drawn(number):
    """Nobody should meet a refusal before they have changed anything but the name."""
    blank = blueprint_of(read_draft(BLANK | {"id": "new", "title": "New"}))

    assert len(check(blank, the_sheet()).cases) == 6


def test_a_bank_that_is_too_small_names_the_row(desk, told):
    """A hundred questions on one element are not there."""
    questions = [["K3", "1", "0", "1"], ["S4", "100", "0", "1"]]
    tell_panel(desk, {"check": GOOD | {"questions": questions, "minutes": "300"}})

    assert told[-1]["troubles"][0].startswith("Questions, row 2: the bank has no question left on")


def test_a_size_that_the_sheet_does_not_have_is_named(desk, told):
    """The limits sheet in force decides."""
    tell_panel(desk, {"check": GOOD | {"sizes": "Nowhere-1"}})

    assert "Nowhere-1" in told[-1]["troubles"][0]


# ---- trying ----


def test_a_preview_is_what_twenty_drawn_forms_are_like():
    """Minutes within the blueprint's, families only of its rows, the elements its cases show."""
    blueprint = blueprint_of(read_draft(GOOD))
    found = preview(blueprint, the_sheet())
    named = {"warped", "oiled", *GROUPS["normal gap"]}

    assert found.minutes.least <= found.minutes.mean <= found.minutes.most <= blueprint.minutes
    assert found.score.most - found.score.least <= 2 * 0.3  # the drawing's own tolerance
    assert 0 < found.score.mean < found.cases == 6
    assert set(found.families) <= named
    assert all(1 <= many <= DRAWN for many in found.families.values())
    assert {"K3", "D1", "D2", "M2"} <= found.elements.keys()
    assert sum(asked for _, asked in found.elements.values()) == found.questions == 2


# ---- keeping ----


def test_a_kept_form_is_offered_and_can_be_drawn(desk, told, folder):
    """The file stands under its name, the list has it at once, the assessment too."""
    tell_panel(desk, {"keep": GOOD})
    offer = offers()["tuesday"]

    assert load_blueprint(folder / "tuesday.toml") == offer.blueprint
    assert "tuesday" in [row["id"] for row in told[-1]["desk"]["offered"]]
    assert len(offer.draw(the_sheet(), bytes(32)).cases) == 6
    assert [path.name for path in folder.iterdir()] == ["tuesday.toml"]


@pytest.mark.parametrize("edition", ["1", "2"])
def test_nothing_is_written_over_until_the_edition_is_raised(desk, told, folder, edition):
    """The same or a lower edition is refused, and the file stays as it was, to the letter."""
    tell_panel(desk, {"keep": GOOD | {"edition": "2"}})
    before = (folder / "tuesday.toml").read_bytes()
    tell_panel(desk, {"keep": GOOD | {"edition": edition, "minutes": "40"}})

    assert told[-1]["troubles"][0].startswith("Edition: tuesday.toml is kept with edition 2")
    assert (folder / "tuesday.toml").read_bytes() == before


def test_a_raised_edition_takes_the_place_of_the_lower_one(desk, folder):
    """And leaves nothing beside it: a sitting that was begun with the lower one keeps it whole."""
    tell_panel(desk, {"keep": GOOD})
    tell_panel(desk, {"keep": GOOD | {"edition": "2", "minutes": "40"}})

    assert offers()["tuesday"].blueprint.minutes == 40
    assert [path.name for path in folder.iterdir()] == ["tuesday.toml"]


def test_a_file_that_is_no_form_is_listed_with_its_sentence_and_not_written_over(
    desk, told, folder
):
    """Whatever somebody put there by hand is theirs; the good ones are offered beside it."""
    folder.mkdir()
    (folder / "tuesday.toml").write_text("this is not a form", encoding="utf-8")
    tell_panel(desk, {"keep": GOOD})
    refused = told[-1]["troubles"][0]
    tell_panel(desk, {"keep": GOOD | {"id": "wednesday"}})
    tell_panel(desk, {"ask": "desk"})

    assert "not a valid form" in refused
    assert (folder / "tuesday.toml").read_text(encoding="utf-8") == "this is not a form"
    assert told[-1]["desk"]["bad"][0].startswith("tuesday.toml, line 1, column 6: expected TOML")
    assert "wednesday" in offers()


def test_two_files_do_not_hold_the_same_form(desk, told, folder):
    """A name that another file gives its form is taken."""
    tell_panel(desk, {"keep": GOOD})
    (folder / "tuesday.toml").rename(folder / "other.toml")
    tell_panel(desk, {"keep": GOOD})

    assert told[-1]["troubles"] == ["other.toml holds a form 'tuesday' already."]


def test_a_file_cannot_take_the_name_of_a_ready_form(folder):
    """Whoever writes `full` into a file does not change the full assessment."""
    folder.mkdir()
    text = READY["self_check"].read_text(encoding="utf-8").replace('"self_check"', '"full"')
    (folder / "own.toml").write_text(text, encoding="utf-8")

    assert offers()["full"].blueprint == load_blueprint(READY["full"])


def test_a_folder_that_cannot_be_made_is_said(desk, told, tmp_path, monkeypatch):
    """A file in its place: a sentence, nothing half done."""
    (tmp_path / "file").write_text("x")
    monkeypatch.setenv("GAL_BLUEPRINTS", str(tmp_path / "file" / "forms"))
    tell_panel(desk, {"keep": GOOD})

    assert told[-1]["troubles"][0].startswith("The form could not be kept in")


def test_without_a_name_the_folder_is_this_users_own(monkeypatch, tmp_path):
    """Outside check: the XDG base directory specification puts settings under XDG_CONFIG_HOME."""
    monkeypatch.delenv("GAL_BLUEPRINTS")
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))

    assert own_folder().is_relative_to(tmp_path / "settings")
    keep(read_draft(GOOD))
    assert "tuesday" in offers()


# ---- the page ----


def test_the_desk_says_what_is_offered_and_what_it_holds(desk, told):
    """Each form with its cases by depth, its questions, its time and where it is from."""
    tell_panel(desk, {"ask": "desk"})
    rows = {row["id"]: row["cells"] for row in told[-1]["desk"]["offered"]}

    assert rows.keys() == {*READY}
    assert rows["full"][1] == "32 reading, 10 bench, 4 work order; 22 questions"
    assert rows["full"][2] == "150 min"


def test_a_form_of_ones_own_is_opened_with_its_edition_raised(desk, told):
    """What is opened to be changed is a new edition; a ready form needs a name of its own."""
    tell_panel(desk, {"keep": GOOD})
    tell_panel(desk, {"open": "tuesday"})
    own = told[-1]["draft"]
    tell_panel(desk, {"open": "full"})

    assert (own["id"], own["edition"]) == ("tuesday", "2")
    assert own["cases"][0] == ["reading", "3", "normal gap", "", {}]
    assert told[-1]["draft"]["id"] == ""


HOSTILE = [
    None,
    7,
    [],
    {},
    {"open": 7},
    {"open": "\ud800"},
    {"open": ["full"]},
    {"check": None},
    {"check": []},
    {"check": {"cases": {"0": []}}},
    {"check": GOOD | {"id": "a/../../b"}},
    {"check": GOOD | {"id": "x" * 19_000}},
    {"check": GOOD | {"minutes": 10**400}},
    {"check": GOOD | {"minutes": True}},
    {"check": GOOD | {"minutes": math.nan}},
    {"check": GOOD | {"cases": [[[], {}, None, 7]]}},
    {"check": GOOD | {"cases": [["reading", "٣", "sound", ""]]}},
    {"check": GOOD | {"questions": [[None, None, None, None]]}},
    {"preview": GOOD | {"sizes": '"] \n evil = ["'}},
    {"keep": GOOD | {"id": "..\\x"}},
    {"keep": GOOD | {"id": "a\x00b"}},
    {"keep": "keep"},
    {"cut": 7},
    {"cut": "judge,a\nA,\ud800\nB,1"},
    {"cut": "x" * 10_000_000},
    {"cut": '"' * 1000},
]


@pytest.mark.parametrize("content", HOSTILE, ids=lambda content: repr(content)[:50])
def test_nothing_that_arrives_breaks_the_desk_or_writes_a_file(desk, told, folder, caplog, content):
    """A short answer in sentences, or none; no error inside, no folder made."""
    with caplog.at_level(logging.WARNING):
        tell_panel(desk, content)

    assert not [record for record in caplog.records if record.exc_info]
    assert not folder.exists()
    assert len(repr(told)) < 20_000


def test_a_bad_limits_sheet_is_a_page_with_sentences(tmp_path, monkeypatch):
    """The desk cannot draw a form from it, and says which file is to be corrected."""
    own = tmp_path / "own.toml"
    own.write_text(OWN_SHEET + "colour = 3", encoding="utf-8")
    monkeypatch.setenv("GAL_LIMITS", str(own))

    assert "own.toml" in form_desk_page().value


# ---- cut scores ----


def test_judges_agree_on_a_cut(desk, told):
    """Worked by hand: means 0.85 and 0.65 of two items make 1.5; the judges differ by 0.2.

    Standard error with the items fixed: the standard deviation of 1.6 and 1.4, over root two: 0.10.
    """
    tell_panel(desk, {"cut": "judge,gap,disc\nA,0.9,0.7\nB,0.8,0.6\n"})
    rows = dict(told[-1]["cut"]["rows"])

    assert rows["Cut, mean of the judges, items"] == "1.50"
    assert rows["Standard error, just these items"] == "0.10"
    assert (rows["Cut of A"], rows["Cut of B"]) == ("1.60", "1.40")
    assert told[-1]["said"].startswith("2 of 2 items must be right")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("judge,gap,disc\nA,0.9,0.7\nB,0.8,sixty", "Line 3, column 'disc'"),
        ("judge,gap\nA,0.9\nB,1.2", "Line 3, column 'gap'"),
        ("judge,gap\nA,0.9\nB,", "Line 3, column 'gap'"),
        ("judge,gap\nA,0.9", "least number of judges is 2"),
        ("", "needs a head"),
    ],
)
def test_a_bad_cell_is_named_by_line_and_column(desk, told, text, said):
    """The sentence is that of the reader of judgements; no table comes with it."""
    tell_panel(desk, {"cut": text})

    assert said in told[-1]["troubles"][0]
    assert "cut" not in told[-1]

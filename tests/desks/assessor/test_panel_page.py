"""The judges' panel on its page: looked at, kept, ended; refused in a sentence; empty forms."""

import tomllib

import pytest

from quizzes.analysis.quality.panel_file import PanelError, read_panel
from quizzes.desks import visitor as desk
from quizzes.desks.assessor import panel_page as page_module
from quizzes.desks.assessor.panel_page import PanelPage
from quizzes.desks.visitor import Visitor
from quizzes.forms.for_judges import empty_form, may_ask
from quizzes.forms.offered import offers
from quizzes.questions.bank import the_bank
from quizzes.sittings.cut import panel_acts, panel_in_force
from quizzes.sittings.run import the_sheet
from tests.analysis.panels import ITEMS, SECOND, panel_text
from tests.desks.pages import HOSTILE, SCRIPT, tell_panel
from tests.page.test_upload import pieces


@pytest.fixture
def at_the_desk(monkeypatch):
    """Ann Okoro has signed in as an assessor; call it with a role for somebody else."""

    def sign_in(role="assessor"):
        for module in (desk, page_module):
            monkeypatch.setattr(module, "visitor", lambda: Visitor(role, name="Ann Okoro"))

    sign_in()
    return sign_in


@pytest.fixture
def page(store_file, sent, at_the_desk):
    return PanelPage()


def hand_in(page, content, name="panel.toml"):
    for one in pieces(content if isinstance(content, bytes) else content.encode(), name):
        page._bring.heard(one)


def last_said(sent):
    """Return the last sentence under a form: an answer, or what a form was drawn again with."""
    return next(
        one["reply"]["words"] if "reply" in one else one["form"]["said"]
        for one in reversed(sent)
        if "reply" in one or one.get("form", {}).get("said")
    )


def test_a_panel_is_looked_at_before_it_is_kept_and_then_ended(page, sent, store):
    """Nothing is kept by looking; keeping puts it in force with who kept it; the end has a reason."""
    hand_in(page, panel_text())
    looked_at, before = page._looked_at.value, panel_in_force(store)
    page._decide.heard({"send": "keep"})
    kept, shown = panel_in_force(store), page._in_force.value
    page._end.heard({"send": "end", "values": {"reason": "A demonstration."}})

    assert before is None
    assert kept == read_panel("panel.toml", panel_text().encode(), ITEMS)
    assert "Looked at, not kept: Invented panel" in looked_at
    assert "none judged" in looked_at
    assert "no panel</td>" not in looked_at
    for value in (looked_at, shown):
        assert "Invented people and numbers" in value
        assert "67.5&nbsp;%" in value  # the mean of the second round by hand, over four questions
        assert "Cy</th><td>yes" in value
    assert "the invented panel “Invented panel” of 3 judges on 4 questions" in shown
    assert [(one.by, bool(one.ended)) for one in panel_acts(store)] == [
        ("Ann Okoro", True), ("Ann Okoro", False),
    ]  # fmt: skip
    assert panel_in_force(store) is None
    assert "no panel of judges is in force" in page._in_force.value
    assert b"Ann Okoro" not in b"".join(store.ledger()[1])
    assert store.check().sound


@pytest.mark.parametrize(
    ("bad", "said"),
    [
        (panel_text(judges=("Ada",)), "expected 3 judges or more, got 1"),
        (panel_text(second={**SECOND, "Ben": (0.5, 1.2, 0.5, 0.5)}), "from 0 to 1, got 1.2"),
        (panel_text(items=("gone-long-ago", *ITEMS[1:])), "is called 'gone-long-ago'"),
        (b"\xff\xfe\x00", "expected text in UTF-8"),
        (b"", "expected 3 judges or more, got 0"),
        (f'title = "{SCRIPT}"', "expected 3 judges or more, got 0"),
    ],
)
def test_a_file_that_cannot_be_used_is_one_sentence_and_offers_nothing(
    page, sent, store, bad, said
):
    """And what was looked at before can no longer be kept by mistake."""
    hand_in(page, panel_text())
    hand_in(page, bad, "own.toml")
    refused = last_said(sent)
    page._decide.heard({"send": "keep"})

    assert refused.startswith("own.toml")
    assert said in refused
    assert "Choose the panel’s file first" in last_said(sent)
    assert not panel_acts(store)


def test_a_file_too_large_is_refused_at_its_first_piece(page, sent):
    """Nothing of it is kept in memory."""
    page._bring.heard({"piece": 0, "of": 10**6, "field": "panel", "name": "x", "text": "QQ=="})

    assert "larger than 1,000,000 bytes" in last_said(sent)


def test_nothing_that_arrives_at_any_of_its_forms_breaks_the_page(page, caplog):
    """Wrong types, torn text, half a file, a reason of ten megabytes: nothing is raised or kept."""
    hand_in(page, panel_text())
    page._decide.heard({"send": "keep"})
    own = [
        {"send": wish, "values": {"reason": "\ud800", "form": ["full"]}} for wish in page._wishes
    ]
    own += [{"send": "end", "values": {"reason": "x" * 10_000}}, {"piece": -1, "of": 1, "text": 7}]
    for form in (page._bring, page._decide, page._empty, page._end):
        for content in (*HOSTILE, *own):
            tell_panel(form, content)

    assert not [record for record in caplog.records if record.exc_info]
    assert len(panel_acts(page._store)) == 1


def test_a_name_that_is_markup_stays_text(page):
    """Judges, title and file are escaped wherever they are shown."""
    hand_in(page, panel_text().replace('"Ben"', '"<script>alert(1)</script>"'))

    assert "<script" not in page._looked_at.value
    assert "&lt;script&gt;alert(1)" in page._looked_at.value


@pytest.mark.parametrize("role", ["anyone", "trainer", "apprentice", "administrator"])
def test_who_is_no_assessor_brings_in_keeps_ends_and_takes_away_nothing(
    page, sent, handed, at_the_desk, role
):
    """Asked for again at every wish, on a page that an assessor opened."""
    hand_in(page, panel_text())
    at_the_desk(role)
    sent.clear()
    hand_in(page, panel_text())
    for form, wish in (("decide", "keep"), ("decide", "away"), ("end", "end"), ("empty", "empty")):
        getattr(page, f"_{form}").heard({"send": wish, "values": {"form": "full", "reason": "x"}})

    assert len(sent) == 5
    assert all("Only an assessor" in one["reply"]["words"] for one in sent)
    assert not handed
    assert not panel_acts(page._store)
    assert PanelPage()._bring._form["fields"] == []


def test_an_empty_form_names_each_question_and_is_refused_until_it_is_filled_in(page, sent, handed):
    """Every question that the form may draw and no other; no right answer; filled in it is good."""
    page._empty.heard({"send": "empty", "values": {"form": "full"}})
    page._empty.heard({"send": "empty", "values": {"form": "no such form"}})
    ((name, _, content),) = handed
    text, bank = content.decode(), the_bank().items
    asked = {item.id for item in may_ask(offers()["full"].blueprint, the_sheet())}
    filled = text.replace('name = ""', 'name = "judge {}"').replace('= ""', "= 0.6")
    for number in range(3):
        filled = filled.replace("judge {}", f"Judge {number}", 1)
    panel = read_panel(name, filled.encode(), bank)

    assert "Choose a form" in last_said(sent)
    with pytest.raises(PanelError, match="judge 1, name: expected 1 to 80"):
        read_panel(name, content, bank)
    with pytest.raises(PanelError, match="no estimate yet"):
        read_panel(name, filled.replace("= 0.6", '= ""', 1).encode(), bank)
    assert set(panel.second.items) == asked
    assert len(asked) > 50
    assert tomllib.loads(text)["invented"] is False
    assert all(f". {item}, on element " in text for item in asked)
    assert max(map(len, text.splitlines())) <= 102


def test_the_empty_form_holds_what_each_candidate_is_sure_to_be_given(store_file):
    """Questions drawn for three sittings are among those that the judges have."""
    full, sheet = offers()["full"], the_sheet()
    judged = {item.id for item in may_ask(full.blueprint, sheet)}
    drawn = {item.id for key in range(3) for item in full.draw(sheet, bytes([key]) * 32).items}

    assert drawn <= judged
    assert empty_form(full.blueprint, sheet) == empty_form(full.blueprint, sheet)

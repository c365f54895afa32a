"""A panel of judges: its file, the cut it sets with its error, and what is refused in a sentence."""

from datetime import UTC, datetime

import numpy as np
import pytest

from quizzes.__main__ import main
from quizzes.analysis.quality.panel import cut_of
from quizzes.analysis.quality.panel_file import PanelError, load_panel
from quizzes.forms.offered import offers
from quizzes.grading.cut import BANK, PANEL
from quizzes.questions.bank import the_bank
from quizzes.records import Records, create
from quizzes.sittings.cut import cut_for, panel_in_force
from quizzes.sittings.export import exported
from quizzes.sittings.replay import replay_export
from quizzes.sittings.run import SittingRun, begin
from tests.analysis.panels import FIRST, ITEMS, SECOND, panel_text
from widgets.brake.sizes.sheet import INVENTED, load_sheet


@pytest.fixture
def path(tmp_path):
    found = tmp_path / "panel.toml"
    found.write_text(panel_text(), encoding="utf-8")
    return found


def test_the_cut_is_the_judges_mean_and_its_error_that_of_other_judges(path):
    """Outside check by numpy: mean over judges, SD of their own cuts over the root of three."""
    found = cut_of(load_panel(path, ITEMS), ITEMS[:3])
    own = np.array([row[:3] for row in SECOND.values()]).mean(axis=1)

    assert found.judged == 3
    assert found.share == pytest.approx(own.mean())
    assert found.error == pytest.approx(own.std(ddof=1) / np.sqrt(3))
    assert found.in_use == pytest.approx(found.share + found.error)


def test_the_cut_in_force_says_whose_it_is(path):
    """The panel's with its error; without one the bank's own estimates, with the sentence."""
    items = [the_bank().item(name) for name in ITEMS]
    judged, own = cut_for(items, load_panel(path, ITEMS)), cut_for(items)

    assert (judged.by, own.by) == (PANEL, BANK)
    assert "an invented panel “Invented panel” of 3 judges" in judged.words
    assert "no panel of judges" in own.words
    assert own.share == pytest.approx(np.mean([one.difficulty for one in items]), abs=1e-4)
    assert judged.error > 0
    assert own.error is None


@pytest.mark.parametrize(
    ("bad", "said"),
    [
        (panel_text(judges=("Ada",)), "expected 3 judges or more, got 1"),
        (
            panel_text(second={**SECOND, "Ben": (1.2, 0.5, 0.5, 0.5)}),
            "a chance from 0 to 1, got 1.2",
        ),
        (
            panel_text(items=("gone-long-ago", *ITEMS[1:])),
            "no question of the bank is called 'gone-long",
        ),
        (panel_text().replace("invented = true", "invnted = true"), "'invnted': expected one of"),
        ("title = ", "expected TOML, got"),
        ("\ufeff" + panel_text(), "a byte order mark"),
        ("x = " + "[" * 100_000, "numbers and lists of a usual length"),
        (panel_text().replace("= 0.7,", "= 0,7,", 1), "line 6, column 76: expected TOML"),
        (panel_text().replace("= 0.9,", "= nan,", 1), "a chance from 0 to 1, got nan"),
        (panel_text().replace("= 0.9,", '= "",', 1), "no estimate yet"),
        (panel_text().replace("invented = true", 'invented = "no"'), "true or false, got 'no'"),
        (panel_text().replace('"Ben"', '"ADA"'), "than that of judge 1, got 'ADA'; tell"),
        (panel_text().replace('"Ben"', '"Be\\u202en"'), "characters that print"),
        (panel_text().replace('"Invented panel"', f'"{"x" * 81}"'), "title: expected 1 to 80"),
        (panel_text(judges=("Ada",) * 51), "at most 50 judges, got 51"),
    ],
)
def test_a_file_that_cannot_be_used_is_refused_in_a_sentence(tmp_path, capsys, bad, said):
    """File, place and what was expected; no traceback, and the command ends with an error."""
    path = tmp_path / "panel.toml"
    path.write_text(bad, encoding="utf-8")

    with pytest.raises(PanelError, match=r"panel\.toml") as refused:
        load_panel(path, the_bank().items)
    assert said in str(refused.value)
    assert main(["panel", str(path)]) != 0
    assert said in capsys.readouterr().err


@pytest.fixture
def url(tmp_path):
    address = f"sqlite:///{tmp_path / 'records.sqlite'}"
    create(address)
    return address


def test_the_command_looks_at_a_file_without_entering_it(path, url, capsys):
    """Marked as invented, with both rounds."""
    assert main(["panel", str(path), "--check", "--records", url]) == 0
    out = capsys.readouterr().out

    assert out.startswith("INVENTED")
    assert "Cut 67.5%" in out
    assert "Cy, teaches" in out
    assert "Agreement, second round: judge with judge 0." in out
    with Records(url) as store:
        assert panel_in_force(store) is None


def test_a_panel_is_kept_in_the_ledger_comes_back_whole_and_is_ended(path, url, capsys):
    """What was read is what is in force; no judge's name is in the ledger; the end has a reason."""
    assert main(["panel", str(path), "--records", url]) == 0
    with Records(url) as store:
        kept, ledger = panel_in_force(store), b"".join(store.ledger()[1])
        assert kept == load_panel(path, ITEMS)
        assert not any(name.encode() in ledger for name in FIRST)
        assert b'"kind":"head"' in store.ledger()[1][-1]  # signed, so that no cut is bent unseen
        store.erase_name(store.person_of("Ben").id)
        assert panel_in_force(store).second.judges == ("Ada", "judge 2", "Cy")
        assert store.check().sound
    assert main(["panel", "--records", url]) == 0
    assert "“Invented panel” of 3 judges on 4 questions" in capsys.readouterr().out
    assert main(["panel", "--end", "a demonstration", "--records", url]) == 0
    assert "no panel of judges is in force" in capsys.readouterr().out
    assert main(["panel", "--end", "again", "--records", url]) == 2


def test_a_sitting_keeps_the_cut_that_it_began_with(path, url):
    """A panel entered in the middle changes nothing, and a cut bent in the kept marks is found."""
    noon = datetime(2026, 11, 28, 12, tzinfo=UTC)
    start = {"name": "Ada", "owner": "0" * 64, "started_at": noon, "place": "test"}
    with Records(url) as store:
        sitting = begin(store, offers()["class_exercise"], load_sheet(INVENTED), start)
        main(["panel", str(path), "--records", url])
        run = SittingRun(store, sitting)
        run.hand_in_questions()
        export = exported(store, sitting.id)
    honest = replay_export(export)
    export["questions"]["grade"]["cut"]["share"] = 0.0
    bent = replay_export(export)

    assert run.questions_grade["cut"]["by"] == BANK
    assert not honest.questions
    assert bent.questions == ("the cut",)

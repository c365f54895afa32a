"""A panel of judges: its file, the cut it sets with its error, and what is refused in a sentence."""

import numpy as np
import pytest

from quizzes.__main__ import main
from quizzes.analysis.quality.panel import PanelError, cut_of, load_panel
from quizzes.questions.bank import the_bank
from quizzes.sittings.cut import BANK, PANEL, cut_for

ITEMS = tuple(the_bank().items)[:4]
# Invented judges and numbers.
FIRST = {"Ada": (0.9, 0.5, 0.7, 0.6), "Ben": (0.7, 0.6, 0.8, 0.5), "Cy": (0.8, 0.7, 0.6, 0.7)}
SECOND = {
    "Ada": (0.85, 0.55, 0.7, 0.6),
    "Ben": (0.75, 0.6, 0.75, 0.55),
    "Cy": (0.8, 0.65, 0.65, 0.65),
}


def text(judges=tuple(FIRST), items=ITEMS, second=SECOND) -> str:
    lines = ['title = "Invented panel"', "invented = true"]
    for name in judges:
        lines += ["[[judge]]", f'name = "{name}"', f"trainer = {str(name == 'Cy').lower()}"]
        for which, rows in (("first", FIRST), ("second", second)):
            cells = ", ".join(f'"{i}" = {c}' for i, c in zip(items, rows[name], strict=True))
            lines.append(f"{which} = {{ {cells} }}")
    return "\n".join(lines)


@pytest.fixture
def path(tmp_path):
    found = tmp_path / "panel.toml"
    found.write_text(text(), encoding="utf-8")
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
    assert "an invented panel of 3 judges" in judged.words
    assert "no panel of judges" in own.words
    assert own.share == pytest.approx(np.mean([one.difficulty for one in items]), abs=1e-4)
    assert judged.error > 0
    assert own.error is None


@pytest.mark.parametrize(
    ("bad", "said"),
    [
        (text(judges=("Ada",)), "expected 3 judges or more, got 1"),
        (text(second={**SECOND, "Ben": (1.2, 0.5, 0.5, 0.5)}), "a chance from 0 to 1, got 1.2"),
        (text(items=("gone-long-ago", *ITEMS[1:])), "no question of the bank is called 'gone-long"),
        (text().replace("invented = true", "invnted = true"), "invnted: expected one of"),
        ("title = ", "not good TOML"),
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


def test_the_command_prints_judges_agreement_and_cut(path, capsys):
    """Marked as invented, with both rounds."""
    assert main(["panel", str(path)]) == 0
    out = capsys.readouterr().out

    assert out.startswith("INVENTED")
    assert "Cut 67.5%" in out
    assert "Cy, teaches" in out

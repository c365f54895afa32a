"""The linter finds each kind of fault, and none in the suite's own bank."""

import pytest

from quizzes.questions.bank import the_bank
from quizzes.questions.lint import DRAWS_PER_SIZE, lint, lint_command, report
from quizzes.questions.models import MODELS
from quizzes.questions.models.drawn import Model
from tests.questions.bank_texts import (
    DECIDE,
    EVERY_KIND,
    MARK,
    NUMERIC,
    ORDER,
    OWN_SHEET,
    SCALE,
    SHEET,
    SINGLE,
    TURN,
    item_of,
    items_of,
)
from widgets.brake.sizes.sheet import LimitsSheet, load_sheet

CHOICE = TURN.split('kind = "numeric"')[0] + (
    'kind = "single"\nmodel = "even_turn"\n'
    "draw.gap_share = { from = 0.4, to = 1.2, step = 0.1 }\n"
    '[[question.option]]\ntext = "About {turn_deg:.0f}°"\nright = true\n'
    '[[question.option]]\ntext = "About {whole_gap_deg:.0f}°"\ncatches = "Too much."\n'
)
FAULTS = {
    "two options say the same": (SINGLE, '"The load"', '"the  springs."', "say the same"),
    "a step twice": (ORDER, '"Prove dead"', '"Lock off"', "say the same"),
    "a reason of two words": (SINGLE, "Because the brake is built so.", "So be it", "too short"),
    "nobody could be right": (SINGLE, "= 0.5", "= 0", "nobody or everybody"),
    "a placeholder without a model": (SINGLE, "The springs", "The {force_n:.0f}", "there is no model"),
    "a number that the model did not compute": (TURN, "{gap_mm:.2f} mm", "0.55 mm", "'0.55 mm'"),
    "a typed torque in the reason": (
        TURN, "Because the brake is built so.", "Because 9.5 N·m are at {gap_mm} mm.", "'9.5 N·m'",
    ),
    "a model whose numbers are not shown": (
        TURN, "at {gap_mm:.2f} mm, size {size}", "today", "no text shows one",
    ),
    "a name that the model does not give": (TURN, '"turn_deg"', '"turned_deg"', "turned_deg"),
    "a reason with a name that is not given": (
        TURN, "Because the brake is built so.", "Because of {nothing_mm} there.", "nothing_mm",
    ),
    "a range that only some sizes can be drawn from": (
        TURN, "from = 0.4, to = 1.2", "from = 0.01, to = 0.02", "cannot be drawn",
    ),
    "a wrong number within the tolerance": (TURN, "tolerance = 4", "tolerance = 900", "could be right"),
    "a wrong number that is the right one": (
        TURN, 'value = "whole_gap_deg"', 'value = "turn_deg"', "could be right",
    ),
    "an answer told too coarsely": (NUMERIC, "decimals = 1\ntolerance = 0.2", "decimals = 0\ntolerance = 0.2", "not right itself"),
    "a wrong option that is the right one": (
        CHOICE, "{whole_gap_deg:.0f}", "{turn_deg:.0f}", "read alike",
    ),
    "a wrong option next to the right one": (
        CHOICE, "{whole_gap_deg:.0f}", "{turn_deg:.2f}", "could be right",
    ),
    "a scale between its marks": (SCALE, "8.35", "8.333", "does not stand on a mark"),
    "a scale read anyhow": (SCALE, "tolerance = 0.05", "tolerance = 0.5", "wider than a step"),
    "every place is right": (
        MARK, '["air-gap"]', '["air-gap", "fan-gap", "disc-plate-side", "disc-motor-side"]',
        "every place is right",
    ),
    "a right place that catches a mistake": (MARK, 'ids = ["fan-gap"]', 'ids = ["air-gap"]', "is right and"),
    "a decision that no draw comes to": (
        DECIDE, 'draw.wanted = ["adjust"]', 'draw.wanted = ["refer"]', "cannot be drawn",
    ),
}  # fmt: skip


@pytest.fixture
def own_sheet(tmp_path) -> LimitsSheet:
    """Three columns of a chart, everything else estimated."""
    path = tmp_path / "own.toml"
    path.write_text(OWN_SHEET, encoding="utf-8")
    return load_sheet(path)


@pytest.mark.parametrize("draws", [20, pytest.param(DRAWS_PER_SIZE, marks=pytest.mark.overnight)])
def test_the_bank_is_clean_on_both_sheets(own_sheet, draws):
    """Many draws on each of five invented sizes and on each of three that are estimated."""
    assert [str(finding) for finding in lint(the_bank(), [SHEET, own_sheet], draws)] == []


@pytest.mark.parametrize("kind", EVERY_KIND)
def test_a_good_question_has_no_finding(kind, tmp_path):
    """The linter is not so strict that nothing passes."""
    assert lint(items_of(EVERY_KIND[kind], tmp_path), SHEET, draws=10) == []


def test_the_questions_that_are_spoilt_below_are_good(tmp_path):
    """A fault found below is the one that was put in."""
    assert lint(items_of(CHOICE, tmp_path), SHEET) == []
    assert lint(items_of(TURN, tmp_path), SHEET) == []


@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_is_found_and_said_with_its_place(fault, tmp_path):
    """Each fault of the list is found, by one finding at least."""
    text, good, bad, words = FAULTS[fault]
    assert good in text
    found = lint(items_of(text.replace(good, bad), tmp_path), SHEET, draws=20)

    assert found
    assert any(words in one.words for one in found), [str(one) for one in found]
    assert str(found[0]).startswith("some.toml, question 1, the-item: ")


def test_an_answer_that_is_right_by_chance_is_found_over_many_draws(tmp_path, monkeypatch):
    """A wrong number that meets the right one in one draw of twenty is found with fifty draws."""

    def seldom(drawn, _):
        right = 10.0
        meets = drawn.draws.uniform("seldom") < 1 / 20
        return {"turn_deg": right, "whole_gap_deg": right if meets else 30.0, "gap_mm": 0.5}

    monkeypatch.setitem(MODELS, "even_turn", Model("even_turn", ("gap_share",), seldom))
    found = lint([item_of(TURN, tmp_path)], SHEET)

    # On five sizes: the chance of no meeting in 250 draws is 0.95 ** 250, 3 in a million.
    assert any("could be right" in one.words for one in found)


@pytest.mark.parametrize(
    ("inside_u", "arguable"), [(1.5, False), (1.7, True), (1.95, True), (2.1, False)]
)
def test_a_readings_decision_that_can_be_argued_is_found(tmp_path, monkeypatch, inside_u, arguable):
    """A model that lets a reading near its limit through gets a finding, not a question.

    ISO 14253-1:2017 passes it from 1.645 u inside, JCGM 106:2012 with its factor of 2 acts up to 2 u.
    """
    from widgets.brake.judgement.rules import Reading

    def near(drawn, _):
        size = drawn.size
        gaps = tuple(
            Reading(float(place), size.gap.max_mm - 0.01 * inside_u, 0.01)
            for place in range(0, 360, 45)
        )
        discs = tuple(Reading(float(p), size.disc.new_mm, 0.03) for p in (0, 90, 180, 270))
        words = "It is near the limit indeed."
        return {"gaps": gaps, "discs": discs, "outcome": "refer", "reasons": words}

    parameters = MODELS["brake_readings"].parameters
    monkeypatch.setitem(MODELS, "brake_readings", Model("brake_readings", parameters, near))
    found = lint([item_of(DECIDE, tmp_path)], SHEET, draws=2)

    assert any("can be argued" in one.words for one in found) is arguable
    assert any("the model gives refer, the rule" in one.words for one in found)


def test_a_command_line_gets_a_code_and_a_text(tmp_path):
    """No fault is code 0 and a count; a fault is code 1 and a line each."""
    spoilt = items_of(SINGLE.replace('"The load"', '"The springs"'), tmp_path)
    code, text = report(lint(spoilt, SHEET), 1)

    assert report([], 30) == (0, "30 questions: no fault found.")
    assert code == 1
    assert text.splitlines()[-1].endswith("faults in 1 questions.")
    assert lint_command([SHEET], draws=2)[0] == 0


def test_a_bank_that_cannot_be_loaded_is_the_commands_finding(monkeypatch):
    """The sentence of the loader is what the command prints."""
    from quizzes.questions import bank

    def torn():
        raise bank.BankError("some.toml", "x", "kind", "y", "one of the kinds")

    monkeypatch.setattr(bank, "the_bank", torn)

    code, text = lint_command([SHEET])

    assert code == 1
    assert text.startswith("some.toml, question 'x', field 'kind'")

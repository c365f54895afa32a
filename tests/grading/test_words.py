"""Codes and words of grading: each code has words, no words are without a code, none are kept."""

import ast
import re
import string
from pathlib import Path

import pytest

from quizzes.candidates.habits import SLIPS
from quizzes.cases.case import Depth
from quizzes.grading.elements.scoring import ELEMENTS
from quizzes.grading.evidence.log import BEYOND_ADJUSTING
from quizzes.grading.grade import Standing, grade_evidence
from quizzes.grading.misconceptions.catalogue import NAMES
from quizzes.grading.outcome import judge_sitting
from quizzes.grading.words import SAYS, STANDINGS, TITLES, WORDS, called, sentence, sentences
from tests.bench.test_words import literals
from tests.grading.jobs import bench_case, bench_job, brake, do_all, safe_and_open, work_order
from widgets.bench import actions as do
from widgets.bench.symptoms import SYMPTOMS
from widgets.bench.words.log import ALTERED
from widgets.brake.judgement.remark import Remark, remark
from widgets.brake.judgement.signs import SYMPTOM_SIGNS, Finding
from widgets.brake.judgement.words import FINDINGS

ROOT = Path(__file__).parents[2]
GRADING, JUDGEMENT = ROOT / "quizzes" / "grading", ROOT / "widgets" / "brake" / "judgement"
GRADERS = [
    *(GRADING / "elements").glob("*.py"),
    *(GRADING / "evidence").glob("*.py"),
    *(GRADING / "misconceptions").glob("*.py"),
    *(
        GRADING / name
        for name in (
            "again.py",
            "critical.py",
            "faults.py",
            "grade.py",
            "outcome.py",
            "question_rule.py",
        )
    ),
]
SOURCES = [*GRADERS, *(JUDGEMENT / f"{name}.py" for name in ("rules", "by_design", "signs"))]
CODE = re.compile(r"[a-z]+(-[a-z]+)*\.[a-z]+(-[a-z]+)*")
IDENTIFIERS_WITH_SPACES = {*(one.value for one in Standing), *(one.value for one in Depth)} | {
    "not yet competent"
}
IN_A_MESSAGE = {"gathering.py", "outcome.py", "catalogue.py", "editions.py"}


def test_each_code_has_words_and_no_words_are_without_a_code():
    """What the modules name, and what the words know, are the same."""
    named = {text for path in SOURCES for text in literals(path) if CODE.fullmatch(text)}

    # What the bench shows is put in words by the bench.
    assert named - BEYOND_ADJUSTING == set(WORDS) | set(ALTERED)


def test_names_have_words_and_no_words_are_left_over():
    """Elements, misunderstandings, standings, findings."""
    assert set(TITLES) == set(ELEMENTS)
    assert set(SAYS) == set(NAMES) == set(SLIPS)
    assert set(STANDINGS) == {one.value for one in Standing}
    assert set(FINDINGS) == {one.value for one in Finding}
    assert all(re.fullmatch(r"[a-z]+(-[a-z]+)*", name) for name in (*NAMES, *FINDINGS))
    assert called("mean-disc-not-least") == "mean disc, not least"


@pytest.mark.parametrize(
    ("code", "facts", "one"),
    [
        ("gap.written-after", {"places": 1, "step": 9}, "at 1 place after"),
        ("due.date", {"next_days": 1, "allowed_days": 1}, "in 1 day;"),
        ("sitting.false-alarms", {"count": 1}, "1 brake was given"),
        ("shows.wrong", {"wrong": 1, "cases": 1}, "1 of 1 case not"),
        ("shows.none-wrong", {"cases": 1, "bound": 0.95}, "1 case without a miss is still"),
        ("screws.turned", {"times": 1, "step": 4}, "changed at step 4."),
        ("disc.written", {"places": 1, "from_step": 69, "to_step": 69}, "1 place before deciding, step 69."),
    ],
)  # fmt: skip
def test_one_is_said_in_the_singular(code, facts, one):
    """“1 place”, never “1 places”; and three are several again."""
    assert one in sentence(remark(code, **facts))
    assert "3 places" in sentence(remark("gap.written-after", places=3, step=9))


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.stem)
def test_no_grading_module_holds_a_sentence(path):
    """No capital before a space and a full stop at the end; messages of an exception apart."""
    tree = ast.parse(path.read_text())
    raised = {
        id(inner)
        for node in ast.walk(tree)
        if isinstance(node, ast.Raise)
        for inner in ast.walk(node)
    }
    docs = set(literals(path))
    for node in ast.walk(tree):
        if (
            isinstance(node, ast.Constant)
            and isinstance(node.value, str)
            and id(node) not in raised
        ):
            text = node.value
            assert text not in docs or not re.search(r"[A-Z].* .*[.:]$|, .* ", text), text


def strings(value: object) -> list[str]:
    """Return every text inside plain JSON."""
    if isinstance(value, dict):
        return [text for one in value.values() for text in strings(one)]
    if isinstance(value, list):
        return [text for one in value for text in strings(one)]
    return [value] if isinstance(value, str) else []


def grades():
    """Return grades that say much: a careless job, a passed danger, a careful bench case."""
    careless = do_all(
        work_order(brake(0.95, 8.7, springs_intact=7), "spring-broken"),
        [*safe_and_open()[4:], do.Clean("air_blast"), do.WriteGap(0.0, 0.5, 0.52),
         do.TurnScrew(1, 30.0), do.Decide("fit", "Alder-11", "", ("oil",)), do.HandOver(into_service=False)],
    )  # fmt: skip
    yield grade_evidence(careless)
    yield bench_job(bench_case(brake(springs_intact=7), "spring-broken"), "fit", "nothing")
    yield bench_job(bench_case(brake()), "fit", "nothing")


def test_a_kept_grade_and_outcome_hold_codes_and_numbers_and_are_said_in_words():
    """No text with a space but the names of a standing, a depth and an outcome."""
    kept = [grade.to_json() for grade in grades()]
    for one in (*kept, judge_sitting(kept, 4)):
        for text in strings(one):
            assert " " not in text or text in IDENTIFIERS_WITH_SPACES, text
    for grade in kept:
        remarks = [line for element in grade["elements"] for line in element["lines"]]
        remarks += [one["what"] for one in (*grade["critical"], *grade["faults"])]
        remarks += [*grade["left_wrong"], *grade["overlooked"]]
        for words in sentences(remarks):
            assert words[-1] in ".?"
            assert "{" not in words
            assert "(" not in words or "step" in words or "luck" in words, words
    outcome = judge_sitting(kept, 4)
    assert all(words.endswith(".") for words in sentences(outcome["reasons"]))
    assert sentence(outcome["shows"]).endswith(".")


def test_a_remark_and_its_json_form_say_the_same():
    """With a remark inside."""
    sign = SYMPTOM_SIGNS["wet-trace"].what
    one = remark("overlooked.sign", places=("outside", "hub"), sign=sign)

    assert sentence(one) == sentence(one.to_json())
    assert sentence(one) == (
        "Not looked at: the closed brake all round or hub and spline. "
        "Oil comes out at the shaft: cure the leak first, then fit a new disc."
    )


@pytest.mark.parametrize("kept", [Remark("no.such"), {"code": "gap.tilt", "facts": {}}])
def test_an_unknown_code_or_a_missing_fact_is_an_error_and_no_sentence(kept):
    """Never half a sentence."""
    with pytest.raises(KeyError):
        sentence(kept)


def test_every_sentence_takes_no_fact_that_is_not_a_plain_name():
    """A sentence is filled in by the names of its facts, never by what is inside one."""
    for words in WORDS.values():
        if isinstance(words, str):
            fields = [field for _, field, _, _ in string.Formatter().parse(words) if field]
            assert all(field.isidentifier() for field in fields)


def test_every_sight_with_a_sign_says_something():
    """Each sign of a symptom has a sentence."""
    assert {symptom.code for symptom in SYMPTOMS} >= set(SYMPTOM_SIGNS)
    assert all(sentence(sign.what).endswith(".") for sign in SYMPTOM_SIGNS.values())

"""Golden sittings: one log for each misunderstanding, read by a person, who wrote what it earns."""

import json
from pathlib import Path

import pytest
from pydantic import BaseModel

from quizzes.cases.case import Case
from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.grade import Standing, grade_evidence
from quizzes.grading.misconceptions.catalogue import NAMES
from quizzes.records.kept_sitting import KeptSitting
from widgets.bench.actions import codec as form

GOLDEN = sorted((Path(__file__).parent / "golden").glob("*.json"))


class Kept(BaseModel):
    """A case as a sitting keeps it, whole: what is drawn by today's families does not matter."""

    model_config = KeptSitting.model_config
    case: Case


def read(path: Path) -> dict:
    return json.loads(path.read_text(encoding="utf-8"))


def graded(kept: dict):
    """Return the grade of the kept acts on the kept brake."""
    recorder = Recorder(Kept.model_validate_json(json.dumps({"case": kept["case"]})).case)
    for action in kept["actions"]:
        recorder.act(form.from_json(action))
    return grade_evidence(recorder.evidence(), kept["edition"])


def test_there_is_a_golden_sitting_for_each_misunderstanding():
    """By its name, and each says in words what a person saw in the log."""
    assert sorted(read(path)["name"] for path in GOLDEN) == sorted(NAMES)
    assert all(len(read(path)["why"]) > 40 for path in GOLDEN)


@pytest.mark.parametrize("path", GOLDEN, ids=lambda path: path.stem)
def test_a_golden_sitting_earns_what_its_reader_wrote(path):
    """Standing, critical errors and misunderstandings, written by hand after reading the log."""
    kept = read(path)
    grade, expected = graded(kept), kept["expected"]

    assert grade.standing == expected["standing"]
    assert {error.code for error in grade.critical} == set(expected["critical"])
    assert [one.name for one in grade.misconceptions] == expected["misconceptions"]


@pytest.mark.parametrize("path", GOLDEN, ids=lambda path: path.stem)
def test_the_marks_beside_a_verdict_never_say_more_than_it_does(path):
    """Nobody reads 93 of 100 beside "practise this": of each of these, its parts come to 38 to 93."""
    grade = graded(read(path))
    failed_by = [one.score for one in grade.elements if one.needed and not one.reached]

    assert grade.standing is Standing.NOT_YET
    assert grade.marks < 60
    assert grade.marks <= 100 * min(failed_by, default=1) + 0.5
    assert grade.marks == 0 or not grade.critical

"""An exported sitting graded again: the same, or a sentence that names the place."""

import copy
import json
from functools import cache
from hashlib import sha256

import pytest

from quizzes.cases.case import Depth
from quizzes.cases.drawing import draw_case
from quizzes.grading.editions import EDITION
from quizzes.grading.grade import grade_case
from quizzes.records.kept_sitting import KeptSitting
from quizzes.sittings.replay import (
    KIND,
    VERSION,
    BadExportError,
    replay_export,
)
from tests import strategies as any_
from tests.short_form import THREE_BRAKES

SHEET = any_.SHEET
PLAN = (
    ("in limits", Depth.READING, "careful"),
    ("spring-broken", Depth.BENCH, "normal-gap-means-good-brake"),
    ("gap too large", Depth.WORK_ORDER, "careful"),
)


@cache
def _exported() -> str:
    cases, worked = [], []
    for place, (family, depth, habit) in enumerate(PLAN):
        size, seed = SHEET.sizes[place], sha256(b"replay %d" % place).digest()
        case = draw_case(family, size, seed, depth)
        session = any_.worked(case, habit)
        cases.append(case)
        worked.append(
            {
                "events": [
                    {"action": dict(e.action), "observation": dict(e.observation)}
                    for e in session.events
                ],
                "grade": grade_case(case, session.events).to_json(),
            }
        )
    kept = KeptSitting(
        software="made here",
        grading_edition=EDITION,
        case_edition="1",
        sheet=SHEET,
        blueprint=THREE_BRAKES.blueprint,
        cases=tuple(cases),
    )
    export = {
        "kind": KIND,
        "version": VERSION,
        "sitting": "made",
        "ledger": {"head_sha256": "00" * 32, "sound": True, "position": None, "reason": ""},
        "kept": kept.to_json(),
        "cases": worked,
        "questions": {"answers": [], "grade": None},
        "outcome": None,
    }
    return json.dumps(export)


def exported() -> dict:
    return json.loads(_exported())


def test_an_export_graded_again_gives_the_same_grades():
    """Through text, line by line, and says so for each case."""
    replayed = replay_export(exported())

    assert replayed.same
    assert [case.same for case in replayed.cases] == [True, True, True]
    assert (
        list(replayed.sentences())[-1]
        == f"Every grade is the same, by edition {EDITION} of the rules."
    )
    json.dumps(replayed.to_json(), allow_nan=False)


def test_a_kept_grade_that_was_bettered_is_found_with_what_differs():
    """Standing and marks raised by hand."""
    export = exported()
    export["cases"][1]["grade"]["standing"] = "right"
    export["cases"][1]["grade"]["marks"] = 100
    export["cases"][1]["grade"]["critical"] = []
    replayed = replay_export(export)
    said = replayed.cases[1].lines

    assert not replayed.same
    assert "Standing: right; not yet." in said
    assert any(line.startswith(("Critical, by the second only:", "Marks:")) for line in said)
    assert "1 grade differs" in list(replayed.sentences())[-1]


def test_an_export_is_graded_by_another_edition_when_asked(second_edition):
    """The differences are those of the editions."""
    replayed = replay_export(exported(), second_edition)

    assert replayed.edition == second_edition
    assert not replayed.same


def test_a_case_without_a_kept_grade_has_nothing_to_differ_from():
    """It is graded, and the whole is not called different."""
    export = exported()
    export["cases"][0]["grade"] = None
    replayed = replay_export(export)

    assert replayed.cases[0].same is None
    assert replayed.same


def edited(change) -> dict:
    export = copy.deepcopy(exported())
    change(export)
    return export


def _action(export):
    export["cases"][1]["events"][0]["action"] = {"kind": "wish"}


def _not_seen(export):
    export["cases"][1]["events"][0]["observation"] = {"heard": "a click"}


def kept(name, value):
    return lambda export: export["kept"].update({name: value})


@pytest.mark.parametrize(
    ("change", "place"),
    [
        (_action, "Case 2: line 1 of the log is not an action"),
        (_not_seen, "Case 2: line 1 of the log is not an observation"),
        (lambda e: e["kept"]["cases"][0].pop("condition"), "at cases.0.condition: field required"),
        (lambda e: e["kept"]["cases"][0].update(seed="xyz"), "at cases.0.seed"),
        (lambda e: e["kept"]["cases"][0].update(depth="deep"), "at cases.0.depth"),
        (kept("format", 2), "it is kept in format 2, and this software reads formats up to 1"),
        (kept("format", None), "at format"),
        (kept("grading_edition", "9"), "grading_edition: known are"),
        (kept("colour", "red"), "at colour"),
        (lambda e: e.update(kept=[]), "kept: it is not an object"),
        (lambda e: e["cases"][0].update(events="none"), "Case 1: it has no list of events"),
        (lambda e: e["cases"][0]["events"].append(7), "Case 1: line 2 of the log has no action"),
        (lambda e: e["cases"][0].update(grade=[]), "Case 1: its kept grade is not an object"),
        (lambda e: e["cases"][0].update(grade={"elements": 3}), "Case 1: its kept grade is no"),
        (lambda e: e["cases"].append("x"), "Case 4: it is not an object"),
        (lambda e: e["cases"].pop(), "cases: the form has 3, the export holds 2"),
        (lambda e: e.update(cases=[]), "cases: there are none"),
        (lambda e: e.update(kind="letter"), "not an export of a sitting"),
        (lambda e: e.update(version=1), "version: this program reads 2"),
        (lambda e: e.update(ledger=None), "ledger: expected the head"),
        (lambda e: e["cases"][0].update(events=[{}] * 5001), "at most 5000 events"),
    ],
)
def test_an_export_that_cannot_be_read_is_refused_with_the_place(change, place):
    """One thing changed at a time; nothing is graded by half."""
    with pytest.raises(BadExportError) as refused:
        replay_export(edited(change))

    assert place in str(refused.value)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize("nothing", [None, 3, "text", [], {}, {"kind": KIND}])
def test_what_is_no_export_is_refused(nothing):
    """Whatever it is."""
    with pytest.raises(BadExportError):
        replay_export(nothing)

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
from quizzes.sittings.replay import (
    KIND,
    VERSION,
    BadExportError,
    replay_export,
    sheet_mark,
)
from tests import strategies as any_
from widgets.brake.sizes.sheet import LimitsSheet

SHEET = any_.SHEET
PLAN = (
    ("in limits", Depth.READING, "careful"),
    ("spring-broken", Depth.BENCH, "normal gap means good brake"),
    ("gap too large", Depth.WORK_ORDER, "careful"),
)


@cache
def _exported() -> str:
    cases = []
    for place, (family, depth, habit) in enumerate(PLAN):
        size, seed = SHEET.sizes[place], sha256(b"replay %d" % place).digest()
        case = draw_case(family, size, seed, depth)
        session = any_.worked(case, habit)
        cases.append(
            {
                "family": family,
                "size": size.name,
                "depth": depth.value,
                "seed": seed.hex(),
                "events": [
                    {"action": dict(e.action), "observation": dict(e.observation)}
                    for e in session.events
                ],
                "grade": grade_case(case, session.events).to_json(),
            }
        )
    export = {
        "kind": KIND,
        "version": VERSION,
        "rules_edition": EDITION,
        "sheet_mark": sheet_mark(SHEET),
        "form": {"id": "made", "edition": "made/2", "key": None},
        "cases": cases,
    }
    return json.dumps(export)


def exported() -> dict:
    return json.loads(_exported())


def test_an_export_graded_again_gives_the_same_grades():
    """Through text, line by line, and says so for each case."""
    replayed = replay_export(exported(), SHEET)

    assert replayed.same
    assert [case.same for case in replayed.cases] == [True, True, True]
    assert list(replayed.sentences())[-1] == "Every grade is the same, by edition 3 of the rules."
    json.dumps(replayed.to_json(), allow_nan=False)


def test_a_kept_grade_that_was_bettered_is_found_with_what_differs():
    """Standing and marks raised by hand."""
    export = exported()
    export["cases"][1]["grade"]["standing"] = "right"
    export["cases"][1]["grade"]["marks"] = 100
    export["cases"][1]["grade"]["critical"] = []
    replayed = replay_export(export, SHEET)
    said = replayed.cases[1].lines

    assert not replayed.same
    assert "Standing: right; not yet." in said
    assert any(line.startswith("Critical, by the second only:") for line in said)
    assert "1 grade differs" in list(replayed.sentences())[-1]


def test_an_export_is_graded_by_another_edition_when_asked():
    """The differences are those of the editions."""
    replayed = replay_export(exported(), SHEET, edition="1")

    assert replayed.edition == "1"
    assert not replayed.same


def test_a_case_without_a_kept_grade_has_nothing_to_differ_from():
    """It is graded, and the whole is not called different."""
    export = exported()
    export["cases"][0]["grade"] = None
    replayed = replay_export(export, SHEET)

    assert replayed.cases[0].same is None
    assert replayed.same


def edited(change) -> dict:
    export = copy.deepcopy(exported())
    change(export)
    return export


def _words(export):
    export["cases"][2]["events"][4]["observation"]["code"] = "load.landed"


def _shown(export):
    event = next(e for e in export["cases"][2]["events"] if e["action"]["kind"] == "measure_disc")
    event["observation"]["facts"]["shown_mm"] = 11.0


def _action(export):
    export["cases"][1]["events"][0]["action"] = {"kind": "wish"}


def _left_out(export):
    del export["cases"][2]["events"][3]


@pytest.mark.parametrize(
    ("change", "place"),
    [
        (_words, "Case 3: line 5 of the log"),
        (_shown, "Case 3: line"),
        (_action, "Case 2: line 1 of the log is no action"),
        (_left_out, "Case 3: line 4"),
        (lambda e: e["cases"][0].update(family="none such"), "Case 1: it cannot be drawn"),
        (lambda e: e["cases"][0].update(seed="xyz"), "Case 1: it cannot be drawn"),
        (lambda e: e["cases"][0].update(depth="deep"), "Case 1: it cannot be drawn"),
        (lambda e: e["cases"][0].update(events="none"), "Case 1: it has no list of events"),
        (lambda e: e["cases"][0]["events"].append(7), "Case 1: line 2 of the log has no action"),
        (lambda e: e["cases"][0].update(grade=[]), "Case 1: its kept grade is no object"),
        (lambda e: e["cases"][0].update(grade={"elements": 3}), "Case 1: its kept grade is no"),
        (lambda e: e["cases"].append("x"), "Case 4: it is no object"),
        (lambda e: e.update(cases=[]), "cases: there are none"),
        (lambda e: e.update(kind="letter"), "no export of a sitting"),
        (lambda e: e.update(version=2), "version: this program reads 1"),
        (lambda e: e.update(rules_edition="9"), "rules_edition: known are 1, 2"),
        (lambda e: e.update(sheet_mark="0" * 12), "sheet_mark: the sitting was made on sheet"),
        (lambda e: e["cases"][0].update(events=[{}] * 5001), "at most 5000 events"),
    ],
)
def test_an_edited_export_is_refused_with_the_place(change, place):
    """One thing changed at a time; nothing is graded by half."""
    with pytest.raises(BadExportError) as refused:
        replay_export(edited(change), SHEET)

    assert place in str(refused.value)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize("nothing", [None, 3, "text", [], {}, {"kind": KIND}])
def test_what_is_no_export_is_refused(nothing):
    """Whatever it is."""
    with pytest.raises(BadExportError):
        replay_export(nothing, SHEET)


def test_another_sheet_has_another_mark():
    """Other limits would draw other brakes under the same log."""
    other = LimitsSheet(SHEET.title, SHEET.invented, SHEET.sizes[:-1])

    assert sheet_mark(other) != sheet_mark(SHEET)
    assert len(sheet_mark(SHEET)) == 12

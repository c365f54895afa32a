"""xAPI statements against a schema written from the public rules, and against what it cannot say."""

import copy
import datetime as dt
import json
import re
import uuid
from pathlib import Path

import jsonschema
import pytest

from quizzes.records.exports.learning import Item, SittingDone, statements, voiding

SOURCES = Path(__file__).parents[2] / "sources"
# Written for this project from the public text of the xAPI 1.0.3 rules (ADL, 2016), apart from
# this code; its five examples are valid by it (ASSESS.md, 4.1).
SCHEMA = json.loads((SOURCES / "xapi_statement_subset.schema.json").read_text())
EXAMPLES = json.loads((SOURCES / "example_xapi_statements.json").read_text())
BEGAN = dt.datetime(2026, 11, 28, 9, 0, tzinfo=dt.UTC)


def sitting(**changes):
    """Return a sitting of two cases and a question."""
    parts = {
        "sitting_id": "9a1e3c70-1111-4222-8333-444455556666",
        "person_id": "00000000-0000-4000-8000-000000000001",
        "form_id": "full",
        "form_edition": "2026-11",
        "scheme": "Hoist brakes, level 1",
        "started_at": BEGAN,
        "finished_at": BEGAN + dt.timedelta(minutes=50),
        "items": (
            Item("case", 1, 93, True, BEGAN + dt.timedelta(minutes=20), 1200),
            Item("case", 2, 0, False, BEGAN + dt.timedelta(minutes=40), 1100),
            Item("question", 1, 100, True, BEGAN + dt.timedelta(minutes=45), 60, "0.35"),
        ),
        "marks": 64,
        "competent": False,
        "assessor_id": "00000000-0000-4000-8000-000000000002",
    }
    return SittingDone(**(parts | changes))


def wrongs(statement):
    """Return what is wrong with a statement by the schema, and by the rules that no schema says."""
    found = [
        error.message for error in jsonschema.Draft202012Validator(SCHEMA).iter_errors(statement)
    ]
    score = statement.get("result", {}).get("score", {})
    score = {name: part for name, part in score.items() if isinstance(part, (int, float))}
    if "min" in score and "max" in score and not score["min"] < score["max"]:
        found.append("min is not below max")
    if "raw" in score and not score.get("min", score["raw"]) <= score["raw"] <= score.get(
        "max", score["raw"]
    ):
        found.append("raw is not within min and max")
    if "null" in re.findall(r"[:\[,] ?(null)", json.dumps(statement)):
        found.append("null")
    voids = statement.get("verb", {}).get("id", "").endswith("/voided")
    if voids != (statement.get("object", {}).get("objectType") == "StatementRef"):
        found.append("voided goes with a reference to a statement")
    if not re.search(r"\.\d{3}", statement.get("timestamp", "")):
        found.append("timestamp without milliseconds")
    return found


@pytest.mark.parametrize("number", range(len(EXAMPLES)))
def test_the_rules_take_the_examples(number):
    """The checker itself: five statements made apart from this code are good by it."""
    assert wrongs(EXAMPLES[number]) == []


@pytest.mark.parametrize("version", ["1.0.3", "2.0.0"])
@pytest.mark.parametrize("competent", [True, False])
def test_a_sitting_is_told_in_good_statements(version, competent):
    """Attempted, each item, passed or failed: all by the rules, each with an identity of its own."""
    told = statements(sitting(competent=competent), version=version)

    assert [one["verb"]["display"]["en"] for one in told] == [
        "attempted",
        "completed",
        "completed",
        "answered",
        "passed" if competent else "failed",
    ]
    assert [wrongs(one) for one in told] == [[]] * 5
    assert len({one["id"] for one in told}) == 5
    assert {one["version"] for one in told} == {version}


def test_an_attempt_that_was_not_finished_is_told_as_an_attempt():
    """No outcome is made up for it; the attempt shows all the same."""
    told = statements(sitting(finished_at=None, items=()))

    assert [one["verb"]["display"]["en"] for one in told] == ["attempted"]


def test_nobodys_name_or_address_is_in_it():
    """The person is an account with a pseudonym, one identifier and no other."""
    for one in statements(sitting()):
        assert set(one["actor"]) == {"objectType", "account"}
        assert one["actor"]["account"]["name"] == "00000000-0000-4000-8000-000000000001"
    assert "mbox" not in json.dumps(statements(sitting()))


def test_the_same_sitting_gives_the_same_statements():
    """A store that gets them twice keeps them once."""
    assert statements(sitting()) == statements(sitting())


def test_a_correction_takes_the_old_outcome_back():
    """Voided by a reference; nothing is changed."""
    old = statements(sitting())[-1]
    taken = voiding(old, "00000000-0000-4000-8000-000000000002", BEGAN)

    assert wrongs(taken) == []
    assert taken["object"]["id"] == old["id"] != taken["id"]
    assert uuid.UUID(taken["id"])


MUTANTS = {
    "two identifiers": lambda one: one["actor"].update(mbox="mailto:robin@else.example"),
    "no verb": lambda one: one.pop("verb"),
    "text for a number": lambda one: one["result"]["score"].update(raw="93"),
    "scaled above 1": lambda one: one["result"]["score"].update(scaled=1.2),
    "min above max": lambda one: one["result"]["score"].update(min=200),
    "raw outside": lambda one: one["result"]["score"].update(raw=101),
    "null": lambda one: one["result"].update(success=None),
    "unknown key": lambda one: one.update(note="more"),
    "bad duration": lambda one: one["result"].update(duration="20 minutes"),
    "bad moment": lambda one: one.update(timestamp="28.11.2026"),
    "another version": lambda one: one.update(version="3.0"),
    "no identity": lambda one: one.update(id="17"),
}


@pytest.mark.parametrize("kind", MUTANTS)
def test_the_rules_refuse_a_bent_statement(kind):
    """The checker itself can fail: twelve ways to spoil one of ours."""
    bent = copy.deepcopy(statements(sitting())[1])
    MUTANTS[kind](bent)

    assert wrongs(bent)


@pytest.mark.parametrize(
    "make",
    [
        lambda: Item("case", 1, 101, True, BEGAN, 1),
        lambda: Item("else", 1, 1, True, BEGAN, 1),
        lambda: Item("case", 1, 1, True, BEGAN.replace(tzinfo=None), 1),
        lambda: sitting(finished_at=BEGAN - dt.timedelta(minutes=1)),
        lambda: sitting(person_id="Robin"),
        lambda: statements(sitting(), version="0.9"),
    ],
)
def test_a_sitting_that_cannot_be_is_refused(make):
    """Too many marks, no such kind, no zone, an end before the begin, a name for a pseudonym."""
    with pytest.raises(ValueError):
        make()

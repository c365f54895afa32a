"""Codes and words: each code that the bench can give has words, and no words are without a code."""

import ast
import importlib
import re
import string
from pathlib import Path

import pytest
from hypothesis import given, settings

from tests import strategies as any_
from widgets.bench.observed import REFUSALS
from widgets.bench.session import Session
from widgets.bench.symptoms import SYMPTOMS
from widgets.bench.words import ALARMS, DONE, REFUSED, SYMPTOM_WORDS, WISHES, reply, said, words_of
from widgets.instruments.feeler import Feel

BENCH = Path(__file__).parents[2] / "widgets" / "bench"
HANDLERS = sorted((BENCH / "handlers").glob("*.py"))
SOURCES = [*HANDLERS, BENCH / "machine.py", BENCH / "session.py", BENCH / "actions" / "codec.py"]
CODE = re.compile(r"[a-z]+(-[a-z]+)*\.[a-z]+(-[a-z]+)*")


def literals(path: Path) -> list[str]:
    """Return every text in a module but for the docstrings."""
    tree = ast.parse(path.read_text())
    docs = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, (ast.Module, ast.FunctionDef, ast.ClassDef))
        and ast.get_docstring(node) is not None
    }
    return [
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docs
    ]


def test_each_code_has_words_and_no_words_are_without_a_code():
    """What the modules of the bench name, and what the words know, are the same."""
    given_ = {text for path in SOURCES for text in literals(path) if CODE.fullmatch(text)}

    assert given_ == set(DONE) | set(REFUSED) | set(WISHES)
    assert set(DONE).isdisjoint(REFUSED)


def test_each_alarm_has_words_and_no_alarm_is_without_a_use():
    """Third argument of `harmed`, everywhere."""
    alarms = set()
    for path in HANDLERS:
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "harmed":
                alarms.add(
                    ast.literal_eval(node.args[2])
                    if isinstance(node.args[2], ast.Constant)
                    else getattr(
                        importlib.import_module(f"widgets.bench.handlers.{path.stem}"),
                        node.args[2].id,
                    )
                )

    assert alarms == set(ALARMS)


@pytest.mark.parametrize("path", HANDLERS, ids=lambda path: path.stem)
def test_no_handler_holds_a_sentence(path):
    """No capital before a space, no full stop at the end, nothing longer than the name of a draw."""
    for text in literals(path):
        assert not re.search(r"[A-Z].* |\.$|[:;,] ", text), text
        assert len(text.split()) <= 3, text


def test_each_sight_and_each_feel_has_words():
    """And no words are left over."""
    assert {symptom.code for symptom in SYMPTOMS} == set(SYMPTOM_WORDS)
    assert all(re.fullmatch(r"[a-z]+(-[a-z]+)*", feel.value) for feel in Feel)


def _flat(value: object) -> bool:
    if isinstance(value, list):
        return all(isinstance(one, (str, int, float)) for one in value)
    return value is None or isinstance(value, (str, int, float, bool))


@given(any_.setups(), any_.action_lists())
@settings(max_examples=150)
def test_whatever_is_done_has_a_code_flat_facts_and_words(setup, actions):
    """Facts hold identifiers and numbers, no sentences; a refusal has its class, nothing else has."""
    session = Session(setup)
    for action in actions:
        seen = session.act(action)
        assert CODE.fullmatch(seen.code)
        assert (seen.refusal in REFUSALS) is not seen.done
        for name, value in seen.facts.items():
            assert _flat(value), (seen.code, name)
            texts = value if isinstance(value, list) else [value]
            typed = name in {"row", "size"}  # what the person typed, or the name of a size
            assert typed or not any(isinstance(one, str) and "." in one for one in texts), seen
        words = said(seen)
        assert words[-1] in ".?"
        assert "{" not in words
        assert reply(seen)["words"] == words


def test_every_sentence_takes_no_fact_that_is_not_a_plain_name():
    """A sentence is filled in by the names of its facts, never by what is inside one."""
    for table in (DONE, REFUSED, WISHES):
        for words in table.values():
            if isinstance(words, str):
                fields = [field for _, field, _, _ in string.Formatter().parse(words) if field]
                assert all(field.isidentifier() for field in fields)


@pytest.mark.parametrize("field", ["torque_nm", "turn_deg", "leaves_mm.0", "nobody_knows"])
def test_a_person_reads_no_name_of_a_field(field):
    """A number that cannot be is refused in words: what, and what was expected."""
    words = words_of("wish.bad-field", {"field": field, "expected": "greater than 0"})

    assert "_" not in words
    assert words.endswith("must be greater than 0.")

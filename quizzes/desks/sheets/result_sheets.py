"""Sheets of results: static HTML from escaped text, for the page and the assessor."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from ipywidgets import HTML
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from quizzes.grading.cut import Cut
from quizzes.grading.grade import Standing
from quizzes.grading.words import FAULT_KINDS, SAYS, STANDINGS, TITLES, called, sentence
from quizzes.questions.scheme import ELEMENTS
from widgets.bench.words import DECISION_WORDS
from widgets.brake.days import day_words

TO_PRACTISE = "Practise this"
PLACE_WORDS = {
    "web": "in the web app",
    "lab": "in a notebook whose kernel its user controls: self-check only",
    "binder": "on Binder, where the kernel is free: self-check only",
    "test": "by a program",
}


def cut_words(kept: Mapping[str, Any]) -> str:
    """Return which cut a sitting's questions had, from what was kept of it."""
    try:
        return Cut(**kept).words
    except (TypeError, ValueError):
        return "The pass mark that is kept cannot be read."


def _standing_of(standing: str, to_practise: bool) -> str:  # noqa: FBT001 (by the templates)
    """Return how a case stands; where nobody is judged, what is not right is to be practised."""
    return TO_PRACTISE if to_practise and standing == Standing.NOT_YET else STANDINGS[standing]


def _capital(words: str) -> str:
    """Return words with a capital in front, and nothing else changed."""
    return words[:1].upper() + words[1:]


@cache
def _environment() -> Environment:
    made = Environment(
        loader=FileSystemLoader(Path(__file__).parent / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
    )
    made.globals.update(
        decision_words=DECISION_WORDS,
        standing_words=STANDINGS,
        standing_of=_standing_of,
        asked_of=ELEMENTS,
        fault_words=FAULT_KINDS,
        called=called,
        day_words=day_words,
        cut_words=cut_words,
        says=SAYS,
        titles=TITLES,
        place_words=PLACE_WORDS,
    )
    made.filters["sentence"] = sentence
    made.filters["capital"] = _capital
    return made


def sheet_html(sheet: str, /, **facts: Any) -> str:  # noqa: ANN401 (facts of a template)
    """Return a result sheet as HTML; every text in it is escaped."""
    return _environment().get_template(f"{sheet}.html.j2").render(**facts)


def shown(html: str) -> HTML:
    """Return HTML of `sheet_html` as a widget."""
    return HTML(html).add_class("gal-result")

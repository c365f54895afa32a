"""One sitting of a virtual candidate through a whole form, graded: pure, from plan and number."""

import math
import time
from dataclasses import dataclass
from functools import lru_cache
from hashlib import blake2b
from pathlib import Path

from quizzes.analysis.quality.enough import enough
from quizzes.candidates.habits import SLIPS, mixed
from quizzes.candidates.worker import HABITS, Habits, work
from quizzes.cases.case import Case
from quizzes.forms.blueprint import Blueprint, load_blueprint
from quizzes.forms.drawing import Form, draw_form
from quizzes.grading.evidence.gathering import Recorder
from quizzes.grading.grade import grade_evidence
from quizzes.grading.misconceptions.catalogue import shows
from quizzes.grading.outcome import COMPETENT, Questions, judge_sitting
from quizzes.grading.words import sentences
from quizzes.questions.answers import right_json
from quizzes.questions.bank import the_bank
from quizzes.questions.choosing import choose_all
from quizzes.questions.marking import mark
from quizzes.questions.posing import draw_question
from widgets.brake.draws import Draws
from widgets.brake.sizes.sheet import LimitsSheet, load_sheet

CAREFUL = "careful"
CAREFUL_SHARE = 0.4  # of the sittings: as many careful people as it takes to bound their failures
MIXED_SHARE = 0.1  # of the sittings: people of skill between
SKILLS = (0.5, 0.7, 0.8, 0.9, 0.95)
KNOWS = 0.97  # chance that a virtual candidate knows an answer, safety apart: that they know


@dataclass(frozen=True, slots=True)
class Plan:
    """What is rehearsed: a blueprint's file, a limits sheet's file, and the dice."""

    blueprint: Path
    sheet: Path
    seed: bytes

    def key(self, number: int) -> bytes:
        """Return the key of one sitting, 32 bytes."""
        return blake2b(b"sitting %d" % number, key=self.seed[:64], digest_size=32).digest()


@dataclass(frozen=True, slots=True)
class Sat:
    """What came of one sitting.

    Attributes
    ----------
    candidate : str
        "careful", the name of a misconception, or "skill 0.8".
    shown : tuple of str
        Misconceptions of the candidate that the sitting's logs show.
    named : tuple of str
        Misconceptions that the grading named.
    critical : int
        Critical errors over all cases.
    expected_score, minutes : float
        Of the form: cases that a borderline candidate gets right, careful person's minutes.
    """

    number: int
    candidate: str
    competent: bool
    shown: tuple[str, ...]
    named: tuple[str, ...]
    right: int
    made: int
    critical: int
    expected_score: float
    minutes: float
    seconds: float
    reasons: tuple[str, ...]


def candidate_of(number: int) -> str:
    """Return who sits: two of five careful, one of ten of mixed skill, each slip in its turn."""
    place, turn = number % 10, number // 10
    if place < 10 * CAREFUL_SHARE:
        return CAREFUL
    if place < 10 * (CAREFUL_SHARE + MIXED_SHARE):
        return f"skill {SKILLS[turn % len(SKILLS)]:g}"
    names = tuple(SLIPS)
    slips_a_turn = 10 - round(10 * (CAREFUL_SHARE + MIXED_SHARE))
    return names[(turn * slips_a_turn + place - (10 - slips_a_turn)) % len(names)]


def sit(plan: Plan, number: int) -> Sat:
    """Return one sitting, worked and graded; the same for the same plan and number, anywhere."""
    began = time.perf_counter()
    blueprint, sheet = _blueprint(plan.blueprint), _sheet(plan.sheet)
    key, candidate = plan.key(number), candidate_of(number)
    form = draw_form(blueprint, sheet, key)
    recorders = [
        _worked(case, sheet, _habits(candidate, key, place))
        for place, case in enumerate(form.cases)
    ]
    evidence = [recorder.evidence() for recorder in recorders]
    grades = [grade_evidence(one).to_json() for one in evidence]
    outcome = judge_sitting(
        grades, len(form.cases), enough=enough, questions=_answered(form, sheet, key)
    )
    own = [candidate] if candidate in SLIPS else []
    return Sat(
        number=number,
        candidate=candidate,
        competent=outcome["outcome"] == COMPETENT,
        shown=tuple(name for name in own if any(shows(name, one) for one in evidence)),
        named=tuple(one["name"] for one in outcome["misconceptions"]),
        right=outcome["decisions"]["right"],
        made=outcome["decisions"]["made"],
        critical=outcome["critical"],
        expected_score=form.expected_score,
        minutes=form.minutes,
        seconds=time.perf_counter() - began,
        reasons=sentences(outcome["reasons"]),
    )


def _worked(case: Case, sheet: LimitsSheet, habits: Habits) -> Recorder:
    recorder = Recorder(case)
    work(recorder.act, sheet, habits, case.order)
    return recorder


def _habits(candidate: str, key: bytes, place: int) -> Habits:
    if candidate in HABITS:
        return HABITS[candidate]
    return mixed(float(candidate.removeprefix("skill ")), Draws(key).child("slips", place))


def _answered(form: Form, sheet: LimitsSheet, key: bytes) -> Questions | None:
    """Return how the questions went: known with a chance of `KNOWS`, else left to the wrong."""
    if not form.questions:
        return None
    dice = Draws(key).child("answers")
    points, safety_missed = 0.0, 0
    places = [(slot.element, slot.difficulty, slot.key) for slot in form.questions]
    for place, (item, own) in enumerate(choose_all(the_bank(), places, sheet)):
        hidden = draw_question(item, own, sheet).hidden
        knows = item.element.startswith("S") or dice.uniform("knows", place) < KNOWS
        marked = mark(hidden, right_json(hidden) if knows else {})
        points += marked.share
        safety_missed += item.element.startswith("S") and not marked.right
    return Questions(len(form.questions), points, safety_missed)


@lru_cache(maxsize=8)
def _blueprint(path: Path) -> Blueprint:
    return load_blueprint(path)


@lru_cache(maxsize=8)
def _sheet(path: Path) -> LimitsSheet:
    return load_sheet(path)


def sem_of(expected_score: float, cases: int) -> float:
    """Return the standard error of measurement of a form for a borderline candidate, in cases.

    Notes
    -----
    Binomial, at the mean chance: the square root of n p (1 - p).
    """
    chance = min(1.0, max(0.0, expected_score / cases))
    return math.sqrt(cases * chance * (1 - chance))

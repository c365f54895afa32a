"""One sitting of a virtual candidate through a whole form, graded: pure, from plan and number."""

import math
import time
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from hashlib import blake2b
from pathlib import Path
from typing import Any

from quizzes.analysis.quality.enough import enough
from quizzes.candidates.habits import changes_of, slips_drawn
from quizzes.candidates.people.everybody import ALL_HABITS, HONEST
from quizzes.candidates.people.stranger import Stranger
from quizzes.candidates.shared import SharedForm
from quizzes.cases.case import Case
from quizzes.forms.blueprint import Blueprint, load_blueprint
from quizzes.forms.drawing import draw_form
from quizzes.forms.ending import Ending
from quizzes.grading.outcome import judge_sitting
from quizzes.grading.question_rule import Questions
from quizzes.grading.words import sentences
from quizzes.questions.answers import right_json
from quizzes.questions.marking import mark
from widgets.brake.draws import Draws
from widgets.brake.sizes.sheet import LimitsSheet, load_sheet

CAREFUL = "careful"
# Of every twenty sittings: careful people, other honest ways, people of skill between (in pairs
# that sit one form), and habits.
CAREFUL_OF_20, HONEST_OF_20, SKILLED_OF_20 = 3, 3, 4
# They sit three forms, so that what several do alike at a brake is worked out once. Fewer would
# seat two careful people, or two of one honest way, before the same brakes.
FORMS_OF_20 = 3
_FORM_AT = (0, 1, 2, 0, 1, 2, 0, 0, 1, 1, 2, 0, 1, 2, 0, 1, 2, 0, 1, 2)
# Reasons that ask for more cases and say nothing against the person.
_MORE = frozenset({"case.no-verdict", "sitting.too-few-cases"})
SKILLS = (0.0, 0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 1.0)
KNOWS = 0.97  # chance that a virtual candidate knows an answer; invented


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
    """Result of one sitting.

    Attributes
    ----------
    candidate : str
        The name of a habit, of an honest way of working, or "skill 0.8".
    shown : tuple of str
        The candidate's own habit, if it made them do something that the careful one would not do.
    unsafe : tuple of str
        How the sitting endangered somebody, from the true brakes.
    passed, competent : bool
        Whether the grading found enough; and whether the form may say "competent" of that.
    more : bool
        Whether nothing but too little evidence stood against "competent".
    named : tuple of str
        Misconceptions that the grading named.
    told : tuple of str
        Codes of everything that the grading said against the candidate.
    critical : int
        Critical errors over all cases.
    expected_score, minutes : float
        Of the form: cases that a borderline candidate gets right, careful person's minutes.
    """

    number: int
    candidate: str
    passed: bool
    competent: bool
    more: bool
    shown: tuple[str, ...]
    unsafe: tuple[str, ...]
    named: tuple[str, ...]
    told: tuple[str, ...]
    right: int
    made: int
    critical: int
    expected_score: float
    minutes: float
    seconds: float
    reasons: tuple[str, ...]


def candidate_of(number: int) -> str:
    """Return who sits: of every twenty so many careful, honest and skilled, the rest with habits.

    Each honest way, skill and habit has its turn.
    """
    turn, place = divmod(number, 20)
    if place < CAREFUL_OF_20:
        return CAREFUL
    place -= CAREFUL_OF_20
    if place < HONEST_OF_20:
        ways = tuple(name for name in HONEST if name != CAREFUL)
        return ways[(turn * HONEST_OF_20 + place) % len(ways)]
    place -= HONEST_OF_20
    if place < SKILLED_OF_20:
        # Two in a row are of one skill, and sit the same form.
        return f"skill {SKILLS[(turn * SKILLED_OF_20 + place) // 2 % len(SKILLS)]:g}"
    place -= SKILLED_OF_20
    names, habits_of_20 = tuple(ALL_HABITS), 20 - CAREFUL_OF_20 - HONEST_OF_20 - SKILLED_OF_20
    return names[(turn * habits_of_20 + place) % len(names)]


def form_of(number: int) -> int:
    """Return the number of the form that a sitting is of: of every twenty sittings so many forms.

    Two people of one skill in a row sit the same one; no two careful people do, nor two of one
    habit.
    """
    turn, place = divmod(number, 20)
    return turn * 20 + _FORM_AT[place]


def sit(plan: Plan, number: int) -> Sat:
    """Return one sitting, worked and graded; the same for the same plan and number, anywhere."""
    return sit_as(candidate_of(number), plan, number, form_of(number))


def sit_as(candidate: str, plan: Plan, number: int, form_number: int) -> Sat:
    """Return one sitting of a habit, an honest way or "skill 0.8", through a form of a number."""
    began = time.perf_counter()
    blueprint, sheet = _blueprint(plan.blueprint), _sheet(plan.sheet)
    key = plan.key(number)
    shared = _form(plan, form_number)
    form = shared.form
    worked = [
        brake.worked(sheet, _stranger(candidate, key, place, brake.case))
        for place, brake in enumerate(shared.brakes)
    ]
    grades = [one.ended.grade for one in worked]
    outcome = judge_sitting(
        grades,
        len(form.cases),
        enough=enough,
        questions=_answered(shared, key),
        promised=blueprint.elements,
    )
    otherwise = any(one.otherwise for one in worked)
    return Sat(
        number=number,
        candidate=candidate,
        passed=outcome["passed"],
        competent=outcome["passed"] and blueprint.ends is Ending.COMPETENT,
        more=all(one["code"] in _MORE for one in outcome["reasons"]),
        shown=(candidate,) if candidate in ALL_HABITS and otherwise else (),
        unsafe=tuple(dict.fromkeys(end for one in worked for end in one.ended.unsafe)),
        named=tuple(one["name"] for one in outcome["misconceptions"]),
        told=tuple(_told(grades)),
        right=outcome["decisions"]["right"],
        made=outcome["decisions"]["made"],
        critical=outcome["critical"],
        expected_score=form.expected_score,
        minutes=form.minutes,
        seconds=time.perf_counter() - began,
        reasons=sentences(outcome["reasons"]),
    )


def _told(grades: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    """Yield what the candidate was told of each case: misconceptions, critical errors, faults."""
    for number, grade in enumerate(grades, start=1):
        said = [*grade["misconceptions"], *(error["code"] for error in grade["critical"])]
        said += [f"{fault['kind']} {fault['what']['code']}" for fault in grade["faults"]]
        yield from (f"case {number}: {one}" for one in said)


def _stranger(candidate: str, key: bytes, place: int, case: Case) -> Stranger:
    """Return how a candidate works at one case of the form."""
    found = ALL_HABITS.get(candidate) or HONEST.get(candidate)
    if found is None:
        skill = float(candidate.removeprefix("skill "))
        return Stranger(changes_of(*slips_drawn(skill, Draws(key).child("slips", place))))
    if found.depths and case.depth not in found.depths:
        return HONEST[CAREFUL]
    if found.where and not found.where(case):
        return HONEST[CAREFUL]
    if found.share < 1 and Draws(key).uniform("shows", place) >= found.share:
        return HONEST[CAREFUL]
    return found


def _answered(shared: SharedForm, key: bytes) -> Questions | None:
    """Return how the questions went: known with a chance of `KNOWS`, else left out."""
    if not shared.asked:
        return None
    dice = Draws(key).child("answers")
    points, safety_missed = 0.0, 0
    for place, one in enumerate(shared.asked):
        knows = dice.uniform("knows", place) < KNOWS
        marked = mark(one.hidden, right_json(one.hidden) if knows else {})
        points += marked.share
        safety_missed += one.on_safety and not marked.right
    safety_asked = sum(one.on_safety for one in shared.asked)
    cut = math.fsum(one.difficulty for one in shared.asked) / len(shared.asked)
    return Questions(len(shared.asked), points, safety_missed, safety_asked, cut)


@lru_cache(maxsize=FORMS_OF_20 + 1)
def _form(plan: Plan, number: int) -> SharedForm:
    sheet = _sheet(plan.sheet)
    return SharedForm(draw_form(_blueprint(plan.blueprint), sheet, plan.key(number)), sheet)


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

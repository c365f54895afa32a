"""The outcome of a whole sitting, and what it does and does not show."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from quizzes.forms.ending import Ending
from widgets.brake.judgement.remark import Remark, remark

from .again import Grades, carelessly_written, habits, never_looked, never_shown
from .editions import CHANNELS, EDITION, EDITIONS, PASS, Rules
from .elements.scoring import ELEMENTS
from .grade import Standing
from .misconceptions.catalogue import ALWAYS, EXPLAINS, NAMES
from .question_rule import Questions, against_questions

__all__ = [
    "COMPETENT", "NOT_YET", "Grades", "channels", "decisions_made", "elements_over",
    "judge_sitting", "named_over", "standings", "what_it_shows",
]  # fmt: skip

MOST_FALSE_ALARMS = 1
COMPETENT = Ending.COMPETENT.word(passed=True)
NOT_YET = Ending.COMPETENT.word(passed=False)
WORK_ORDER, ON_NOTES = "work order", "reading"
# Right decisions and decisions made, to: enough to pass, enough to fail, or not decided yet.
Enough = Callable[[int, int], bool | None]


def judge_sitting(
    grades: Grades,
    cases_asked: int,
    *,
    enough: Enough | None = None,
    questions: Questions | None = None,
    promised: Sequence[str] = (),
    ending: Ending = Ending.COMPETENT,
) -> dict[str, Any]:
    """Return the outcome of a sitting from the kept grades of its cases, as plain JSON.

    Parameters
    ----------
    grades : sequence of mapping
        `CaseGrade.to_json()` of each case, in order, of any depth.
    cases_asked : int
        Cases of the form, 1 or more.
    enough : callable, optional
        From right decisions and decisions made: True where they are enough to
        pass, False where they are enough to fail, None where more are needed. It
        judges reading and bench cases; without it every case has to be right.
    questions : Questions, optional
        How the questions went.
    promised : sequence of str
        Elements that the form promises: those that only a brake can show must be shown once.
    ending : Ending
        With which word the form ends; what it takes is the same for each.

    Notes
    -----
    Competent needs every case of the form done, no critical error, every work
    order right or a false alarm, at most one false alarm among them, decisions
    enough, each channel reached on the mean, each element that came up often enough, and each
    element promised shown at least once. No mark makes up for any of it.
    """
    reasons = _against(grades, cases_asked, enough)
    reasons += never_shown(grades, promised)
    reasons += habits(grades)
    reasons += never_looked(grades)
    reasons += carelessly_written(grades)
    reasons += against_questions(questions)
    passed = not reasons
    done = len(grades)
    right, decisions = decisions_made(grades)
    return {
        "outcome": ending.word(passed=passed),
        "passed": passed,
        "reasons": [one.to_json() for one in reasons or [_for_it(right, decisions)]],
        "marks": round(sum(grade["marks"] for grade in grades) / done) if done else 0,
        "cases": done,
        "cases_asked": cases_asked,
        "critical": sum(len(grade["critical"]) for grade in grades),
        "shows": what_it_shows(done, _wrong_cases(grades)).to_json(),
        "standings": standings(grades),
        "decisions": {"right": right, "made": decisions},
        "decided": enough(right, decisions) if enough else None,
        "channels": channels(grades),
        "elements": _elements_shown(grades),
        "questions": None if questions is None else round(questions.share, 4),
        "misconceptions": named_over(grades),
    }


def _for_it(right: int, made: int) -> Remark:
    """Return the reason of who is competent: all right, or enough of it."""
    if right == made:
        return remark("sitting.all-right")
    return remark("sitting.enough-right", right=right, made=made)


def _elements_shown(grades: Grades) -> dict[str, dict[str, float]]:
    """Return in how many cases each element came up, and its mean share, 0 to 1."""
    scores: dict[str, list[float]] = {}
    for grade in grades:
        for element in grade["elements"]:
            scores.setdefault(element["id"], []).append(element["score"])
    return {
        name: {"cases": len(scores[name]), "share": round(_mean(scores[name]), 4)}
        for name in ELEMENTS
        if name in scores
    }


def what_it_shows(cases: int, wrong: int) -> Remark:
    """Return what so many cases say about the rate of wrong ones.

    Notes
    -----
    With none wrong in n the one-sided 95 % bound on the rate is 1 - 0.05^(1/n)
    (Clopper and Pearson, 1934).
    """
    if cases == 0:
        return remark("shows.nothing")
    if wrong:
        return remark("shows.wrong", wrong=wrong, cases=cases)
    return remark("shows.none-wrong", cases=cases, bound=1 - 0.05 ** (1 / cases))


def standings(grades: Grades) -> dict[str, int]:
    """Return how many cases ended right, as a false alarm, without a verdict, not yet."""
    return {one.value: sum(grade["standing"] == one for grade in grades) for one in Standing}


def decisions_made(grades: Grades) -> tuple[int, int]:
    """Return how many decisions were right, and how many count; without a verdict counts not."""
    counted = [grade for grade in grades if grade["standing"] != Standing.NO_VERDICT]
    return sum(grade["standing"] == Standing.RIGHT for grade in counted), len(counted)


def channels(grades: Grades) -> dict[str, float]:
    """Return the share reached in each channel, 0 to 1: the mean over elements, each over cases."""
    scores: dict[str, dict[str, list[float]]] = {}
    for grade in grades:
        for element in grade["elements"]:
            channel = scores.setdefault(element["channel"], {})
            channel.setdefault(element["id"], []).append(element["score"])
    return {
        channel: round(_mean([_mean(values) for values in scores[channel].values()]), 4)
        for channel in CHANNELS
        if channel in scores
    }


def elements_over(grades: Grades) -> dict[str, float]:
    """Return the mean score of each element that came up, weakest first, 0 to 1."""
    scores: dict[str, list[float]] = {}
    for grade in grades:
        for element in grade["elements"]:
            scores.setdefault(element["id"], []).append(element["score"])
    return dict(sorted(((name, _mean(v)) for name, v in scores.items()), key=lambda item: item[1]))


def named_over(grades: Grades) -> list[dict[str, Any]]:
    """Return the misunderstandings of a sitting, each with its cases from 1.

    A general habit that shows in one case explains what looks like a special
    misunderstanding in another: then only the habit is named. "Nothing is ever wrong" is said of
    nobody who decided otherwise in a quarter of the cases.
    """
    cases: dict[str, list[int]] = {}
    for number, grade in enumerate(grades, start=1):
        for one in grade["misconceptions"]:
            cases.setdefault(one, []).append(number)
    decided = [grade.get("decided") for grade in grades]
    for name, always in ALWAYS.items():
        if name in cases and 4 * decided.count(always) < 3 * len(decided):
            del cases[name]
    explained = {other for name in cases for other in EXPLAINS.get(name, ())}
    order = {name: place for place, name in enumerate(NAMES)}
    kept = sorted(set(cases) - explained, key=lambda name: order.get(name, len(order)))
    return [{"name": name, "cases": cases[name]} for name in kept]


def _mean(values: Sequence[float]) -> float:
    return sum(values) / len(values) if values else 0.0


def _wrong_cases(grades: Grades) -> int:
    return sum(grade["standing"] != Standing.RIGHT for grade in grades)


def _against(grades: Grades, cases_asked: int, enough: Enough | None) -> list[Remark]:
    reasons: list[Remark] = []
    for number, grade in enumerate(grades, start=1):
        reasons.extend(
            remark("case.critical", case=number, what=_kept(error["what"]))
            for error in grade["critical"]
        )
        if enough is None or _depth(grade) == WORK_ORDER:
            reasons.extend(_against_case(number, grade))
    strict = [grade for grade in grades if enough is None or _depth(grade) == WORK_ORDER]
    alarms = sum(grade["standing"] == Standing.FALSE_ALARM for grade in strict)
    if alarms > MOST_FALSE_ALARMS:
        reasons.append(remark("sitting.false-alarms", count=alarms))
    if enough is not None:
        reasons.extend(_not_enough(grades, enough))
    reasons.extend(_channels_missed(grades))
    reasons.extend(_elements_missed(grades))
    if len(grades) < cases_asked:
        reasons.append(remark("sitting.unfinished", done=len(grades), asked=cases_asked))
    return reasons


def _depth(grade: Mapping[str, Any]) -> str:
    return str(grade.get("depth", WORK_ORDER))


def _against_case(number: int, grade: Mapping[str, Any]) -> Iterable[Remark]:
    if grade["standing"] == Standing.NOT_YET and not grade["critical"]:
        why = [fault["what"] for fault in grade.get("faults", ())] or grade.get("left_wrong")
        because = {"why": _kept(why[0])} if why else {}
        yield remark("case.not-right", case=number, **because)
    if grade["standing"] == Standing.NO_VERDICT:
        yield remark("case.no-verdict", case=number)


def _not_enough(grades: Grades, enough: Enough) -> Iterable[Remark]:
    right, made = decisions_made(grades)
    verdict = enough(right, made)
    if verdict is None:
        yield remark("sitting.too-few-cases", right=right, made=made)
    elif not verdict:
        yield remark("sitting.too-few-right", right=right, made=made)


def _channels_missed(grades: Grades) -> Iterable[Remark]:
    for channel, share in channels(grades).items():
        if share < PASS:
            yield remark("sitting.channel", channel=channel, share=share, asked=PASS)


def _kept(told: Mapping[str, Any]) -> Remark:
    """Return a remark from its JSON form, to stand inside another."""
    return Remark(told["code"], tuple(told["facts"].items()))


def _rules(grade: Mapping[str, Any]) -> Rules:
    """Return the rules that a kept grade is of; those in force where it does not say."""
    return EDITIONS.get(str(grade.get("edition", "")), EDITIONS[EDITION])


def _elements_missed(grades: Grades) -> Iterable[Remark]:
    """Say which element was missed on average over the cases in which it came up.

    What is shown on a colleague's notes is not shown at a brake: by hand it counts by itself too.
    """
    missed = _below(grades)
    by_hand = _below([grade for grade in grades if _depth(grade) != ON_NOTES])
    for name, (share, cases) in sorted((by_hand | missed).items()):
        facts = {"share": share, "asked": PASS, "cases": cases}
        by_itself = {} if name in missed else {"by_hand": True}
        yield remark("sitting.element", element=name, **facts, **by_itself)


def _below(grades: Grades) -> dict[str, tuple[float, int]]:
    """Return mean share and number of cases of each element that was asked for and not reached."""
    scores: dict[str, list[float]] = {}
    asked: dict[str, int] = {}
    for grade in grades:
        least = _rules(grade).element_cases
        for element in grade["elements"] if least else ():
            name = element["id"]
            scores.setdefault(name, []).append(element["score"])
            asked[name] = max(least, asked.get(name, 0))
    return {
        name: (_mean(some), len(some))
        for name, some in scores.items()
        if len(some) >= asked[name] and _mean(some) < PASS
    }

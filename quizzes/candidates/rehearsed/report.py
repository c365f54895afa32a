"""What many rehearsed sittings say about the form and its grading, with intervals."""

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from statistics import fmean
from typing import Any

import numpy as np

from quizzes.analysis.rates import exact_rate, upper_bound
from quizzes.candidates.habits import SLIPS
from quizzes.candidates.people.everybody import ALL_HABITS, HONEST
from quizzes.candidates.rehearsal import CAREFUL, Sat, form_of, sem_of

# Of this skill and above a person slips less than once in five sittings: they deserve to pass.
DESERVES = 0.9
MIDDLING = (0.3, 0.9)  # skills from and to which people tell forms apart; a choice of this scheme
UNSAFE = tuple(name for name, habit in ALL_HABITS.items() if habit.unsafe)
_Names = Mapping[str, Sequence[Sat]]


def report(sittings: Sequence[Sat], cases: int, seconds: float) -> dict[str, Any]:
    """Return the report of a rehearsal as plain JSON.

    Parameters
    ----------
    sittings : sequence of Sat
        At least one.
    cases : int
        Cases of a form, 1 or more.
    seconds : float
        How long it took on the clock.
    """
    by_name: dict[str, list[Sat]] = defaultdict(list)
    for one in sittings:
        by_name[one.candidate].append(one)
    skilled = [one for one in sittings if one.candidate.startswith("skill ")]
    return {
        "sittings": len(sittings),
        "unsafe_competent": _unsafe(
            [one for one in sittings if one.candidate in UNSAFE and _sat(one)]
        ),
        "careful_competent": _careful(by_name[CAREFUL]),
        "misconceptions": {name: _named(name, sittings) for name in SLIPS},
        "mixed_competent": _mixed(by_name),
        "habits": {name: _habit(name, by_name[name]) for name in ALL_HABITS if by_name[name]},
        "false": _false([one for one in sittings if one.candidate in HONEST]),
        "honest": {name: _honest(by_name[name]) for name in HONEST if by_name[name]},
        "skill": _skill(by_name),
        "consistency": _consistency(skilled),
        "accuracy": _accuracy(skilled),
        "form_spread_sem": _spread(skilled, sittings, cases),
        "minutes": _minutes(sittings),
        "seconds": round(seconds, 3),
        "seconds_each": round(float(np.mean([one.seconds for one in sittings])), 4),
    }


def _sat(one: Sat) -> bool:
    """Return whether a habit was there to be judged: one of now and then or here and there, if so.

    Whoever did all that the careful one would have done was careful, that day.
    """
    habit = ALL_HABITS[one.candidate]
    return (habit.share == 1 and habit.where is None) or bool(one.shown)


def _passed(sittings: Sequence[Sat]) -> int:
    return sum(one.passed for one in sittings)


def _unsafe(sittings: Sequence[Sat]) -> dict[str, Any]:
    count = sum(one.competent for one in sittings)
    upper = upper_bound(count, len(sittings)) if sittings else 1.0
    who = sorted({one.candidate for one in sittings if one.competent})
    return {
        "n": len(sittings),
        "count": count,
        "passed": _passed(sittings),
        "upper95": round(upper, 5),
        "who": who,
    }


def _careful(sittings: Sequence[Sat]) -> dict[str, Any]:
    count, n = sum(one.competent for one in sittings), len(sittings)
    if n == 0:
        return {"n": 0, "count": 0, "passed": 0, "rate": None, "interval95": None, "why_not": []}
    rate = exact_rate(count, n)
    why_not = [[one.number, *one.reasons[:3]] for one in sittings if not one.passed]
    interval = [round(rate.low, 4), round(rate.high, 4)]
    return {
        "n": n,
        "count": count,
        "passed": _passed(sittings),
        "rate": round(count / n, 4),
        "interval95": interval,
        "why_not": why_not[:10],
    }


def _habit(name: str, all_sittings: Sequence[Sat]) -> dict[str, Any]:
    """Return how often a habit came out competent, and whether it is one that can end unsafe."""
    sittings = [one for one in all_sittings if _sat(one)]
    count = sum(one.competent for one in sittings)
    return {
        "n": len(sittings),
        "competent": count,
        "passed": _passed(sittings),
        "upper95": round(upper_bound(count, len(sittings)), 5) if sittings else 1.0,
        "unsafe": ALL_HABITS[name].unsafe,
        "ended_unsafe": sum(bool(one.unsafe) for one in sittings),
    }


def _honest(sittings: Sequence[Sat]) -> dict[str, Any]:
    """Return how an honest way of working came out, and how often it was told something false."""
    count = sum(one.competent for one in sittings)
    return {
        "n": len(sittings),
        "competent": count,
        "passed": _passed(sittings),
        "rate": round(count / len(sittings), 4),
        "falsely_named": sum(bool(one.told) for one in sittings),
    }


def _false(honest: Sequence[Sat]) -> dict[str, Any]:
    """Return how many honest sittings were told something false, over all honest ways."""
    if not honest:
        return {"n": 0, "count": 0, "rate": None, "interval95": None, "what": []}
    told = [one for one in honest if one.told]
    rate = exact_rate(len(told), len(honest))
    return {
        "n": len(honest),
        "count": len(told),
        "rate": round(len(told) / len(honest), 4),
        "interval95": [round(rate.low, 4), round(rate.high, 4)],
        "what": [[one.number, one.candidate, *one.told[:3]] for one in told[:20]],
    }


def _named(name: str, sittings: Sequence[Sat]) -> dict[str, Any]:
    """Return how often a misconception was named where it showed, and where nobody had it.

    It showed where the habit made somebody do what the careful one would not have done; nobody
    has it among the honest, and among those whose slip is another one.
    """
    showed = [one for one in sittings if name in one.shown]
    others = [
        one
        for one in sittings
        if one.candidate != name and (one.candidate in HONEST or one.candidate in SLIPS)
    ]
    hits = sum(name in one.named for one in showed)
    false = sum(name in one.named for one in others)
    return {
        "sat": sum(one.candidate == name for one in sittings),
        "shown": len(showed),
        "recall": round(hits / len(showed), 4) if showed else None,
        "false_rate": round(false / len(others), 4) if others else None,
    }


def _mixed(by_name: _Names) -> Mapping[str, Any]:
    return {
        name: {"n": len(some), "count": sum(one.competent for one in some)}
        for name, some in sorted(by_name.items())
        if name.startswith("skill ")
    }


def _level(one: Sat) -> float:
    return float(one.candidate.removeprefix("skill "))


def _skill(by_name: _Names) -> list[dict[str, Any]]:
    """Return the chance of each outcome for each level of skill, lowest first."""
    levels = sorted(float(name[6:]) for name in by_name if name.startswith("skill "))
    rows = []
    for level in levels:
        some = by_name[f"skill {level:g}"]
        n, passed = len(some), _passed(some)
        more = sum(one.more and not one.passed for one in some)
        rate = exact_rate(passed, n)
        rows.append(
            {
                "level": level,
                "n": n,
                "competent": round(sum(one.competent for one in some) / n, 4),
                "passed": round(passed / n, 4),
                "interval95": [round(rate.low, 4), round(rate.high, 4)],
                "not_yet": round((n - passed - more) / n, 4),
                "more": round(more / n, 4),
            }
        )
    return rows


def _consistency(skilled: Sequence[Sat]) -> dict[str, Any]:
    """Return how often two sittings of one skill, on different forms, end alike.

    Notes
    -----
    Every pair of one level counts once, each level by its people. The interval is that of so
    many sittings in pairs: half of them (Clopper and Pearson, 1934).
    """
    alike = pairs = 0
    by_level: dict[float, list[Sat]] = defaultdict(list)
    for one in skilled:
        by_level[_level(one)].append(one)
    for some in by_level.values():
        for at, one in enumerate(some):
            for other in some[at + 1 :]:
                if form_of(one.number) != form_of(other.number):
                    pairs += 1
                    alike += one.passed == other.passed
    if not pairs:
        return {"pairs": 0, "share": None, "interval95": None}
    half = max(1, len(skilled) // 2)
    rate = exact_rate(round(half * alike / pairs), half)
    interval = [round(rate.low, 4), round(rate.high, 4)]
    return {"pairs": pairs, "share": round(alike / pairs, 4), "interval95": interval}


def _accuracy(skilled: Sequence[Sat]) -> dict[str, Any]:
    """Return how often the outcome is the one that the skill deserves; `DESERVES` is the line."""
    if not skilled:
        return {"n": 0, "share": None, "interval95": None, "line": DESERVES}
    right = sum(one.passed == (_level(one) >= DESERVES) for one in skilled)
    rate = exact_rate(right, len(skilled))
    return {
        "n": len(skilled),
        "share": round(right / len(skilled), 4),
        "interval95": [round(rate.low, 4), round(rate.high, 4)],
        "line": DESERVES,
        "false_competent": sum(one.passed and _level(one) < DESERVES for one in skilled),
        "false_not_yet": sum(not one.passed and _level(one) >= DESERVES for one in skilled),
    }


def _spread(skilled: Sequence[Sat], sittings: Sequence[Sat], cases: int) -> float:
    """Return the spread between forms over the standard error of measurement of one.

    Notes
    -----
    Two people of one middling skill sit each form: what their graded scores have in common
    beyond their skill is the form's. The covariance of the two, each less the mean of its
    level, is the variance between forms (Lord and Novick, *Statistical Theories of Mental Test
    Scores*, 1968, from memory); below zero it counts as zero.
    """
    middling = [one for one in skilled if MIDDLING[0] <= _level(one) <= MIDDLING[1]]
    means: dict[float, list[float]] = defaultdict(list)
    pairs: dict[int, list[Sat]] = defaultdict(list)
    for one in middling:
        means[_level(one)].append(_score(one, cases))
        pairs[form_of(one.number)].append(one)
    products = [
        (_score(one, cases) - fmean(means[_level(one)]))
        * (_score(other, cases) - fmean(means[_level(other)]))
        for one, other in (pair for pair in pairs.values() if len(pair) == 2)
    ]
    sem = sem_of(float(np.mean([one.expected_score for one in sittings])), cases)
    if len(products) < 2 or sem <= 0:
        return 0.0
    return round(math.sqrt(max(0.0, fmean(products))) / sem, 4)


def _score(one: Sat, cases: int) -> float:
    """Return the right decisions of a sitting, scaled to all of its cases."""
    return cases * one.right / one.made if one.made else 0.0


def _minutes(sittings: Sequence[Sat]) -> dict[str, float]:
    minutes = np.array([one.minutes for one in sittings])
    return {
        "mean": round(float(minutes.mean()), 2),
        "sd": round(float(minutes.std(ddof=1)), 2) if len(minutes) > 1 else 0.0,
        "least": round(float(minutes.min()), 2),
        "most": round(float(minutes.max()), 2),
    }

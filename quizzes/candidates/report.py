"""What many rehearsed sittings say about the form and its grading, with intervals."""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from quizzes.analysis.quality.parallel import form_spread
from quizzes.analysis.rates import exact_rate, upper_bound
from quizzes.candidates.habits import SLIPS

from .rehearsal import CAREFUL, Sat, sem_of

# Slips that can leave a brake, or a person, in danger: nobody who has one may be competent. The
# others cost marks, time or needless parts, and are named.
UNSAFE = (
    "one-place-only",
    "mean-disc-not-least",
    "wrong-row",
    "not-measured-again",
    "gap-judged-without-the-disc",
    "measured-energised",
    "dust-blown-out",
    "normal-gap-means-good-brake",
    "isolation-skipped",
    "load-left-hanging",
    "not-proved-dead",
    "readings-made-up",
    "parts-in-the-wrong-order",
    "lock-not-to-torque",
    "tests-skipped",
    "left-open",
    "worn-disc-kept",
    "nothing-is-ever-wrong",
    "every-brake-is-adjusted",
    "solvent-on-the-lining",
)


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
    careful = [one for one in sittings if one.candidate == CAREFUL]
    unsafe = [one for one in sittings if one.candidate in UNSAFE]
    return {
        "sittings": len(sittings),
        "unsafe_competent": _unsafe(unsafe),
        "careful_competent": _careful(careful),
        "misconceptions": {name: _named(name, sittings) for name in SLIPS},
        "mixed_competent": _mixed(sittings),
        "form_spread_sem": _spread(sittings, cases),
        "minutes": _minutes(sittings),
        "seconds": round(seconds, 3),
        "seconds_each": round(float(np.mean([one.seconds for one in sittings])), 4),
    }


def _unsafe(sittings: Sequence[Sat]) -> dict[str, Any]:
    count = sum(one.competent for one in sittings)
    upper = upper_bound(count, len(sittings)) if sittings else 1.0
    who = sorted({one.candidate for one in sittings if one.competent})
    return {"n": len(sittings), "count": count, "upper95": round(upper, 5), "who": who}


def _careful(sittings: Sequence[Sat]) -> dict[str, Any]:
    count, n = sum(one.competent for one in sittings), len(sittings)
    if n == 0:
        return {"n": 0, "count": 0, "rate": None, "interval95": None, "why_not": []}
    rate = exact_rate(count, n)
    why_not = [[one.number, *one.reasons[:3]] for one in sittings if not one.competent]
    interval = [round(rate.low, 4), round(rate.high, 4)]
    return {
        "n": n,
        "count": count,
        "rate": round(count / n, 4),
        "interval95": interval,
        "why_not": why_not[:10],
    }


def _named(name: str, sittings: Sequence[Sat]) -> dict[str, Any]:
    """Return how often a misconception was named where it showed, and where nobody had it.

    Those of mixed skill are left out of the second: any slip may really be theirs.
    """
    showed = [one for one in sittings if name in one.shown]
    others = [
        one
        for one in sittings
        if one.candidate != name and (one.candidate == CAREFUL or one.candidate in SLIPS)
    ]
    hits = sum(name in one.named for one in showed)
    false = sum(name in one.named for one in others)
    return {
        "sat": sum(one.candidate == name for one in sittings),
        "shown": len(showed),
        "recall": round(hits / len(showed), 4) if showed else None,
        "false_rate": round(false / len(others), 4) if others else None,
    }


def _mixed(sittings: Sequence[Sat]) -> Mapping[str, Any]:
    names = sorted({one.candidate for one in sittings if one.candidate.startswith("skill ")})
    by_name = {name: [one for one in sittings if one.candidate == name] for name in names}
    return {
        name: {"n": len(some), "count": sum(one.competent for one in some)}
        for name, some in by_name.items()
    }


def _spread(sittings: Sequence[Sat], cases: int) -> float:
    """Return the spread between forms over the standard error of measurement of one."""
    scores = [one.expected_score for one in sittings]
    sem = sem_of(float(np.mean(scores)), cases)
    return round(form_spread(scores, sem).ratio, 4) if len(scores) > 1 and sem > 0 else 0.0


def _minutes(sittings: Sequence[Sat]) -> dict[str, float]:
    minutes = np.array([one.minutes for one in sittings])
    return {
        "mean": round(float(minutes.mean()), 2),
        "sd": round(float(minutes.std(ddof=1)), 2) if len(minutes) > 1 else 0.0,
        "least": round(float(minutes.min()), 2),
        "most": round(float(minutes.max()), 2),
    }

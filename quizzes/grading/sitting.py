"""The outcome of a whole sitting, and the plain sentence of what it does and does not show."""

from collections.abc import Mapping, Sequence
from typing import Any

from .elements import PASS
from .grade import Standing

MOST_FALSE_ALARMS = 1
COMPETENT = "competent"
NOT_YET = "not yet competent"


def judge_sitting(grades: Sequence[Mapping[str, Any]], cases_asked: int) -> dict[str, Any]:
    """Return the outcome of a sitting from the kept grades of its cases, as plain JSON.

    Parameters
    ----------
    grades : sequence of mapping
        `CaseGrade.to_json()` of each case, in order.
    cases_asked : int
        Cases of the form, 1 or more.

    Notes
    -----
    Competent needs every case of the form done, none of them "not yet" or
    without a verdict, no critical error, at most one false alarm, and every
    element that came up reached on the mean. No mark makes up for any of it.
    """
    reasons = _against(grades, cases_asked)
    passed = not reasons
    done = len(grades)
    return {
        "outcome": COMPETENT if passed else NOT_YET,
        "reasons": reasons or ["Every case right, every element shown, no critical error."],
        "marks": round(sum(grade["marks"] for grade in grades) / done) if done else 0,
        "cases": done,
        "cases_asked": cases_asked,
        "critical": sum(len(grade["critical"]) for grade in grades),
        "shows": what_it_shows(done, _wrong_cases(grades)),
    }


def what_it_shows(cases: int, wrong: int) -> str:
    """Return what so many cases say about the rate of wrong ones, in a plain sentence.

    Notes
    -----
    With none wrong in n the one-sided 95 % bound on the rate is 1 - 0.05^(1/n)
    (Clopper and Pearson, 1934).
    """
    if cases == 0:
        return "No case was finished: this shows nothing."
    if wrong:
        return f"{wrong} of {cases} cases not right. Practise, then sit a new form."
    bound = 1 - 0.05 ** (1 / cases)
    return (
        f"{cases} cases without a miss are still consistent with missing up to "
        f"{100 * bound:.0f} % of such brakes (95 % bound). It takes 59 to bring that to 5 %. "
        "Read this as a first check, not as proof."
    )


def _wrong_cases(grades: Sequence[Mapping[str, Any]]) -> int:
    fine = {Standing.RIGHT.value}
    return sum(grade["standing"] not in fine for grade in grades)


def _against(grades: Sequence[Mapping[str, Any]], cases_asked: int) -> list[str]:
    reasons: list[str] = []
    for number, grade in enumerate(grades, start=1):
        reasons.extend(f"Case {number}: {error['words']}" for error in grade["critical"])
        if grade["standing"] == Standing.NOT_YET and not grade["critical"]:
            reasons.append(f"Case {number}: not yet right.")
        if grade["standing"] == Standing.NO_VERDICT:
            reasons.append(
                f"Case {number} gives no verdict: fair readings, an unlucky brake. Sit one more."
            )
    alarms = sum(grade["standing"] == Standing.FALSE_ALARM for grade in grades)
    if alarms > MOST_FALSE_ALARMS:
        reasons.append(f"{alarms} brakes were given more than they needed.")
    reasons.extend(_elements_not_shown(grades))
    if len(grades) < cases_asked:
        reasons.append(f"{len(grades)} of {cases_asked} cases handed over.")
    return reasons


def _elements_not_shown(grades: Sequence[Mapping[str, Any]]) -> list[str]:
    scores: dict[str, list[float]] = {}
    for grade in grades:
        for element in grade["elements"]:
            scores.setdefault(f"{element['id']} {element['title']}", []).append(element["score"])
    return [
        f"{title}: {100 * mean:.0f} % reached on the mean, {100 * PASS:.0f} % asked."
        for title, mean in ((title, sum(v) / len(v)) for title, v in scores.items())
        if mean < PASS
    ]

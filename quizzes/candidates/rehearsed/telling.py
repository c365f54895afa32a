"""A rehearsal's report as lines for a person."""

from collections.abc import Iterator, Mapping
from typing import Any

from quizzes.forms.ending import Ending


def told(said: Mapping[str, Any]) -> list[str]:
    """Return a report as lines for a person."""
    ending = Ending(said["ends"])
    lines = [f"Form {said['form']}, {said['sittings']} sittings, seed {said['seed']}."]
    if ending is not Ending.COMPETENT:
        lines.append(ending.said_before)
    lines += [
        *(() if ending is Ending.PRACTICE else _passes(said, ending)),
        *_false(said),
        (
            f"Spread between forms: {said['form_spread_sem']:.2f} standard errors of measurement; "
            f"minutes {said['minutes']['least']:.0f} to {said['minutes']['most']:.0f}."
        ),
        "Misconceptions: name, sittings in which it showed, named then, named falsely:",
    ]
    for name, one in said["misconceptions"].items():
        recall = "-" if one["recall"] is None else f"{one['recall']:.0%}"
        false = "-" if one["false_rate"] is None else f"{one['false_rate']:.1%}"
        lines.append(f"  {name:32} {one['shown']:4} {recall:>5} {false:>6}")
    lines.append(f"{said['seconds']:.1f} s, {1000 * said['seconds_each']:.0f} ms a sitting.")
    return lines


def _passes(said: Mapping[str, Any], ending: Ending) -> Iterator[str]:
    """Yield who passed, and the chance of each outcome from beginner to expert."""
    unsafe, careful, honest = said["unsafe_competent"], said["careful_competent"], said["honest"]
    word, otherwise = ending.word(passed=True), ending.word(passed=False)
    bound = ""
    if ending is Ending.COMPETENT:
        bound = f" (at most {unsafe['upper95']:.1%}, 95 % sure)"
    yield f"Unsafe habits graded {word}: {unsafe['passed']} of {unsafe['n']}{bound}."
    yield f"Careful candidates graded {word}: {careful['passed']} of {careful['n']}."
    if honest:
        passed, sat = (sum(one[key] for one in honest.values()) for key in ("passed", "n"))
        yield f"Honest ways of working graded {word}: {passed} of {sat}."
    for row in said["skill"]:
        low, high = row["interval95"]
        yield (
            f"Skill {row['level']:g}: {word} {row['passed']:.0%} ({low:.0%} to {high:.0%}), "
            f"{otherwise} {row['not_yet']:.0%}, "
            f"more cases {row['more']:.0%}, of {row['n']}."
        )
    for name, words in (("consistency", "Two sittings end alike"), ("accuracy", "Ended correctly")):
        one = said[name]
        if one["share"] is not None:
            low, high = one["interval95"]
            yield f"{words}: {one['share']:.0%} ({low:.0%} to {high:.0%})."


def _false(said: Mapping[str, Any]) -> Iterator[str]:
    false = said["false"]
    if false["n"]:
        yield f"Honest sittings told something false: {false['count']} of {false['n']}."

"""A rehearsal's report as lines for a person."""

from collections.abc import Iterator, Mapping
from typing import Any


def told(said: Mapping[str, Any]) -> list[str]:
    """Return a report as lines for a person."""
    unsafe, careful = said["unsafe_competent"], said["careful_competent"]
    lines = [
        f"Form {said['form']}, {said['sittings']} sittings, seed {said['seed']}.",
        (
            f"Unsafe habits graded competent: {unsafe['count']} of {unsafe['n']} "
            f"(at most {unsafe['upper95']:.1%}, 95 % sure)."
        ),
        f"Careful candidates graded competent: {careful['count']} of {careful['n']}.",
        *_honest_and_near_the_line(said),
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


def _honest_and_near_the_line(said: Mapping[str, Any]) -> Iterator[str]:
    """Yield what honest ways came to, and the chance of each outcome from beginner to expert."""
    honest, false = said["honest"].values(), said["false"]
    if false["n"]:
        passed, sat = sum(one["competent"] for one in honest), sum(one["n"] for one in honest)
        yield f"Honest ways of working graded competent: {passed} of {sat}."
        yield f"Honest sittings told something false: {false['count']} of {false['n']}."
    for row in said["skill"]:
        low, high = row["interval95"]
        yield (
            f"Skill {row['level']:g}: competent {row['competent']:.0%} ({low:.0%} to {high:.0%}), "
            f"not yet {row['not_yet']:.0%}, more cases {row['more']:.0%}, of {row['n']}."
        )
    for name, words in (("consistency", "Two sittings end alike"), ("accuracy", "Ended correctly")):
        one = said[name]
        if one["share"] is not None:
            low, high = one["interval95"]
            yield f"{words}: {one['share']:.0%} ({low:.0%} to {high:.0%})."

"""The misunderstanding behind an error, where the log shows one."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from quizzes.grading.evidence.gathering import Evidence

from . import handling, thinking


@dataclass(frozen=True, slots=True)
class Misconception:
    """A misunderstanding by its name; `grading.words` has what a good trainer would say."""

    name: str


_SHOWN: Mapping[str, Callable[[Evidence], bool]] = {
    "one-place-only": thinking.one_place,
    "mean-disc-not-least": thinking.by_mean_disc,
    "wrong-row": thinking.wrong_row,
    "not-measured-again": handling.not_measured_again,
    "equal-turns-on-a-tilted-gap": handling.equal_turns,
    "gap-judged-without-the-disc": thinking.without_the_disc,
    "measured-energised": handling.energised,
    "step-taken-as-exact": thinking.step_exact,
    "leaf-forced": handling.forced,
    "measured-through-dust": handling.through_dust,
    "dust-blown-out": handling.cleaned_by("air_blast", "dry_brush"),
    "good-disc-replaced": thinking.good_disc_replaced,
    "normal-gap-means-good-brake": thinking.normal_gap,
    "isolation-skipped": handling.isolation_skipped,
    "load-left-hanging": handling.load_left,
    "not-proved-dead": handling.not_proved,
    "readings-made-up": handling.made_up,
    "parts-in-the-wrong-order": handling.wrong_order,
    "lock-not-to-torque": handling.lock_wrong,
    "tests-skipped": handling.tests_skipped,
    "left-open": handling.left_open,
    "rule-for-the-disc": thinking.rule_for_the_disc,
    "worn-disc-kept": thinking.worn_disc_adjusted,
    "nothing-is-ever-wrong": thinking.never_wrong_at_all,
    "every-brake-is-adjusted": thinking.always_adjusted,
    "solvent-on-the-lining": handling.cleaned_by("solvent"),
}
NAMES = tuple(_SHOWN)
# Habits of one decision for every brake: which it is.
ALWAYS: Mapping[str, str] = {"nothing-is-ever-wrong": "fit", "every-brake-is-adjusted": "adjust"}
# As it was until the second edition: who passed a disc under its least was told about adjusting.
# Over a whole sitting a general habit explains what looks like a special one in a single case.
EXPLAINS: Mapping[str, frozenset[str]] = {
    "nothing-is-ever-wrong": frozenset(
        {
            "normal-gap-means-good-brake",
            "worn-disc-kept",
            "step-taken-as-exact",
            "mean-disc-not-least",
        }
    ),
    "every-brake-is-adjusted": frozenset(
        {
            "normal-gap-means-good-brake",
            "worn-disc-kept",
            "step-taken-as-exact",
            "mean-disc-not-least",
        }
    ),
    "good-disc-replaced": frozenset({"normal-gap-means-good-brake"}),
    "one-place-only": frozenset({"every-brake-is-adjusted", "step-taken-as-exact"}),
    "gap-judged-without-the-disc": frozenset(
        {"worn-disc-kept", "mean-disc-not-least", "step-taken-as-exact", "nothing-is-ever-wrong"}
    ),
    "worn-disc-kept": frozenset({"normal-gap-means-good-brake", "mean-disc-not-least"}),
}


def shows(name: str, evidence: Evidence) -> bool:
    """Return whether a log shows the misunderstanding of a name."""
    return _SHOWN[name](evidence)


def find_misconceptions(evidence: Evidence) -> tuple[Misconception, ...]:
    """Return the misunderstandings that the log of a job shows."""
    return tuple(Misconception(name) for name, shown in _SHOWN.items() if shown(evidence))

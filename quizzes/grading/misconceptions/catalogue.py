"""The misunderstanding behind an error, where the log shows one, and what a trainer would say."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from quizzes.grading.editions import EDITION, EDITIONS, Rules
from quizzes.grading.evidence.gathering import Evidence

from . import handling, thinking


@dataclass(frozen=True, slots=True)
class Misconception:
    """A named misunderstanding and the sentence that a good trainer would say."""

    name: str
    says: str


# fmt: off
_SHOWN: Mapping[str, tuple[Callable[[Evidence], bool], str]] = {
    "one place only": (thinking.one_place,
        "One place tells you the gap at one place. The plate can be tilted: go all the way round."),
    "mean disc, not least": (thinking.by_mean_disc,
        "Metal meets metal at the thinnest place, and the mean does not know it. Take the least."),
    "wrong row": (thinking.wrong_row,
        "The limits belong to a size. Read the plate, put a finger on that row, then compare."),
    "not measured again": (handling.not_measured_again,
        ("Locking takes up the play in the thread and moves what you have set. "
        "What counts is the gap after the last screw is tight.")),
    "equal turns on a tilted gap": (handling.equal_turns,
        ("Equal turns move the whole ring and leave it as crooked as it was. "
        "Turn most where it is widest.")),
    "gap judged without the disc": (thinking.without_the_disc,
        ("A perfect gap can sit on a finished disc: somebody may have set it last week. "
        "Measure the disc before you touch a screw.")),
    "measured energised": (handling.energised,
        ("With the coil on, the plate lies on the magnet. "
        "The gap is there only with the coil off.")),
    "step taken as exact": (thinking.step_exact,
        ("The leaf that went in is the least the gap can be. Between it and the next leaf you know "
        "nothing: near a limit take finer leaves, or the safe side.")),
    "leaf forced": (handling.forced,
        ("A leaf that you push makes its own room. Let it find its way, straight and softly; "
        "a light drag is the reading.")),
    "measured through dust": (handling.through_dust,
        "The leaf pushes dust ahead of it and stops early: the gap is wider than you read."),
    "dust blown out": (handling.cleaned_by("air_blast", "dry_brush"),
        ("What you blow out of the brake you breathe, and so does everybody in the bay. "
        "Draw it off or take it up damp.")),
    "good disc replaced": (thinking.good_disc_replaced,
        ("A new disc cures a worn disc and nothing else. "
        "Compare its thickness with the least one first, then ask what really is the matter.")),
    "normal gap means good brake": (thinking.normal_gap,
        ("Half of what goes wrong with a brake leaves its gap alone: springs, oil, spline, coil. "
        "Look and listen first; the gap is one finding among many.")),
    "isolation skipped": (handling.isolation_skipped,
        "A controller that is off is not a supply locked off: somebody else can press a button."),
    "load left hanging": (handling.load_left,
        "This brake is what holds the load. Land it before you open the thing that keeps it up."),
    "not proved dead": (handling.not_proved,
        ("A lock says which switch is off, not that this coil is dead. Test the tester, test both "
        "sides, test the tester again; then put your hand in.")),
    "readings made up": (handling.made_up,
        ("A number that nobody read is worse than an empty line: the next person builds on it. "
        "Leave the line empty, or go back and measure.")),
    "parts in the wrong order": (handling.wrong_order,
        ("Each part stands in the way of the next. Lay them out as they came off, hold the weight, "
        "and put them back in the opposite order; the lever's play comes after the gap.")),
    "lock not to torque": (handling.lock_wrong,
        ("The three screws carry what the brake takes up. Below their torque they walk, and the "
        "gap with them: all three, in turn, to the figure of this size.")),
    "tests skipped": (handling.tests_skipped,
        ("You do not know that it holds, you hope so. Hear it release, feel it free, "
        "and see it hold before you sign.")),
    "left open": (handling.left_open,
        ("Without seal, fan and cover the dust comes in and the heat stays. "
        "A job ends when nothing of it lies on the bench.")),
    "rule for the disc": (thinking.rule_for_the_disc,
        ("A rule tells half a millimetre, and the whole wear allowed is a millimetre or two. "
        "Take the caliper.")),
    "worn disc kept": (thinking.worn_disc_adjusted,
        ("Adjusting gives the gap back, not the lining. "
        "What is worn, oiled or glazed comes out.")),
    "nothing is ever wrong": (thinking.never_wrong_at_all,
        ("You wrote down yourself that it is out of its limits. Believe your own readings: "
        "if it is out, it is not fit.")),
    "every brake is adjusted": (thinking.always_adjusted,
        ("Nothing in your readings asks for it. Each setting costs thread and time, and it "
        "wipes out the evidence of what is really the matter.")),
    "solvent on the lining": (handling.cleaned_by("solvent"),
        ("Solvent soaks in and carries grease with it. "
        "A lining that got wet is finished: vacuum, or a damp cloth on the metal.")),
}
# fmt: on
NAMES = tuple(_SHOWN)
# As it was until the second edition: who passed a disc under its least was told about adjusting.
_UNTIL_2: Mapping[str, Callable[[Evidence], bool]] = {
    "worn disc kept": thinking.worn_disc_kept,
    "nothing is ever wrong": thinking.never_wrong,
}
# Over a whole sitting a general habit explains what looks like a special one in a single case.
EXPLAINS: Mapping[str, frozenset[str]] = {
    "nothing is ever wrong": frozenset(
        {
            "normal gap means good brake",
            "worn disc kept",
            "step taken as exact",
            "mean disc, not least",
        }
    ),
    "every brake is adjusted": frozenset(
        {
            "normal gap means good brake",
            "worn disc kept",
            "step taken as exact",
            "mean disc, not least",
        }
    ),
    "good disc replaced": frozenset({"normal gap means good brake"}),
    "one place only": frozenset({"every brake is adjusted", "step taken as exact"}),
    "gap judged without the disc": frozenset(
        {"worn disc kept", "mean disc, not least", "step taken as exact", "nothing is ever wrong"}
    ),
    "worn disc kept": frozenset({"normal gap means good brake", "mean disc, not least"}),
}


def shows(name: str, evidence: Evidence) -> bool:
    """Return whether a log shows the misunderstanding of a name."""
    return _SHOWN[name][0](evidence)


def sentence(name: str) -> str:
    """Return what a good trainer would say to it."""
    return _SHOWN[name][1]


def find_misconceptions(
    evidence: Evidence, rules: Rules = EDITIONS[EDITION]
) -> tuple[Misconception, ...]:
    """Return the misunderstandings that the log of a job shows, by the rules of an edition."""
    return tuple(_find(evidence, rules))


def _find(evidence: Evidence, rules: Rules) -> Iterator[Misconception]:
    before = {} if rules.passing_is_no_adjusting else _UNTIL_2
    for name, (shown, says) in _SHOWN.items():
        if before.get(name, shown)(evidence):
            yield Misconception(name, says)

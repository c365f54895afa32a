"""The misunderstanding behind an error, where the log shows one, and what a trainer would say."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from widgets.bench import actions as do
from widgets.brake.gap import fit_plane
from widgets.brake.rules import Outcome

from .evidence import Evidence, places_apart

EQUAL_WITHIN_DEG = 3.0  # turns that differ by less were meant to be equal


@dataclass(frozen=True, slots=True)
class Misconception:
    """A named misunderstanding and the sentence that a good trainer would say."""

    name: str
    says: str


def _one_place(evidence: Evidence) -> bool:
    return bool(evidence.gaps_as_found) and places_apart(evidence.gaps_as_found) < 3


def _wrong_row(evidence: Evidence) -> bool:
    decided = evidence.decision
    return decided is not None and decided.after.decision_row != evidence.case.size.name


def _not_measured_again(evidence: Evidence) -> bool:
    worked = evidence.did("turn_screw", "tighten_lock")
    return bool(worked) and places_apart(evidence.gaps_as_left) == 0


def _disc_not_measured(evidence: Evidence) -> bool:
    return evidence.decision is not None and not evidence.discs_as_found


def _through_dust(evidence: Evidence) -> bool:
    return any(one.dusty for one in evidence.gaps)


def _energised(evidence: Evidence) -> bool:
    return any(one.energised for one in evidence.gaps)


def _adjusted_worn_disc(evidence: Evidence) -> bool:
    decided, own = evidence.decision, evidence.own_conclusion
    worn = own.outcome is Outcome.REPLACE
    return decided is not None and worn and decided.after.decision in {"adjust", "fit"}


def _replaced_good_disc(evidence: Evidence) -> bool:
    decided, own = evidence.decision, evidence.own_conclusion
    good = own.outcome in {Outcome.FIT, Outcome.ADJUST}
    return decided is not None and good and decided.after.decision == "replace"


def _equal_turns(evidence: Evidence) -> bool:
    """Whether all three screws were turned alike although the readings show a tilt."""
    turned = [0.0, 0.0, 0.0]
    for step in evidence.did("turn_screw"):
        if isinstance(step.action, do.TurnScrew):
            turned[step.action.screw - 1] += step.action.turn_deg
    if not any(turned) or max(turned) - min(turned) > EQUAL_WITHIN_DEG:
        return False
    readings = [one.reading for one in evidence.gaps_as_found]
    if places_apart(evidence.gaps_as_found) < 3:
        return False
    plane = fit_plane([r.angle_deg for r in readings], [r.value_mm for r in readings]).plane
    return 2 * plane.tilt_mm > evidence.case.size.gap.evenness_mm


def _isolation_skipped(evidence: Evidence) -> bool:
    return bool(evidence.did("remove_cover")) and not evidence.did("isolate")


def _load_left_hanging(evidence: Evidence) -> bool:
    return bool(evidence.did("remove_cover")) and not evidence.did("land_load")


_SHOWN: Mapping[str, tuple[Callable[[Evidence], bool], str]] = {
    "one place only": (
        _one_place,
        "One place tells you the gap at one place. The plate can be tilted: go all the way round.",
    ),
    "wrong row": (
        _wrong_row,
        "The limits belong to a size. Read the plate, put a finger on that row, then compare.",
    ),
    "not measured again": (
        _not_measured_again,
        (
            "Locking takes up the play in the thread and moves what you have set. "
            "What counts is the gap after the last screw is tight."
        ),
    ),
    "gap judged without the disc": (
        _disc_not_measured,
        (
            "A perfect gap can sit on a finished disc: somebody may have set it last week. "
            "Measure the disc before you touch a screw."
        ),
    ),
    "worn disc kept": (
        _adjusted_worn_disc,
        "Adjusting gives the gap back, not the lining. At its least thickness the disc comes out.",
    ),
    "good disc replaced": (
        _replaced_good_disc,
        (
            "A large gap alone says that the disc has worn since it was last set, not that it is "
            "finished. Compare its thickness with the least one first."
        ),
    ),
    "measured through dust": (
        _through_dust,
        "The leaf pushes dust ahead of it and stops early: the gap is wider than you read.",
    ),
    "measured energised": (
        _energised,
        "With the coil on, the plate lies on the magnet. The gap is there only with the coil off.",
    ),
    "equal turns on a tilted gap": (
        _equal_turns,
        (
            "Equal turns move the whole ring and leave it as crooked as it was. "
            "Turn most where it is widest."
        ),
    ),
    "isolation skipped": (
        _isolation_skipped,
        "A controller that is off is not a supply locked off: somebody else can press a button.",
    ),
    "load left hanging": (
        _load_left_hanging,
        "This brake is what holds the load. Land it before you open the thing that keeps it up.",
    ),
}
NAMES = tuple(_SHOWN)


def find_misconceptions(evidence: Evidence) -> tuple[Misconception, ...]:
    """Return the misunderstandings that the log of a job shows."""
    return tuple(_find(evidence))


def _find(evidence: Evidence) -> Iterator[Misconception]:
    for name, (shown, says) in _SHOWN.items():
        if shown(evidence):
            yield Misconception(name, says)

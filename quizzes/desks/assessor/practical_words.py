"""Sheets of an observed practical in words: what each says, and how two observers agree."""

from collections.abc import Callable, Mapping, Sequence

from quizzes.grading.words import TITLES
from quizzes.records.decisions.practical import Photo, Practical, Seen, agreement
from quizzes.records.decisions.state import State
from quizzes.records.kept_sitting import KeptSitting
from widgets.bench.words import DECISION_WORDS

from .decided_words import ERASED, UNSEEN

LOST = "this photograph was taken out of the store, or is not the one that was handed in."
_ALONE = (
    "Nobody else can read your sheet until a second observer has kept one. If nobody can, keep "
    "yours again and ask for no second."
)


def sheets_told(
    state: State,
    kept: KeptSitting,
    names: Mapping[str, str],
    looks: str,
    lost: Callable[[Photo], bool],
) -> list[str]:
    """Return what the sheets that are kept say, as far as whoever looks may read them.

    Parameters
    ----------
    state : State
        Where the sitting stands.
    kept : KeptSitting
        What the sitting holds, with its limits.
    names : mapping
        Names of people by pseudonym, as far as they are kept.
    looks : str
        Pseudonym of whoever looks; empty if they have none yet.
    lost : callable
        Tells whether a photograph is gone, or is not the one that was handed in.
    """
    sheets = _readable(state, looks)
    if sheets is None:
        return [UNSEEN]
    first, second = state.observers.first, state.observers.second
    lines = [line for one in sheets for line in _sheet(one, kept, names, lost)]
    if state.observers.awaited:
        lines.append(_ALONE)
    if first is not None and second is not None:
        blind = state.observers.pair is not None
        said = "neither of whom knew the other’s sheet" if blind else "not counted below"
        lines.append(f"The two observers, {said}: {agreement(first, second).words}")
        if not blind:
            lines.append("The second could read the first’s sheet before keeping one.")
    return lines or ["No practical has been observed yet."]


def _readable(state: State, looks: str) -> list[Practical] | None:
    """Return the sheets that somebody may read; None where they may read none yet."""
    first = state.observers.first
    if first is not None and state.observers.awaited and looks != first.person_id:
        return None
    return [one.act for one in state.practicals if isinstance(one.act, Practical)]


def photographs_shown(state: State, looks: str) -> dict[str, Photo]:
    """Return the photographs that somebody may look at, each under the name of its button."""
    sheets = _readable(state, looks) or []
    found = dict.fromkeys(photo for sheet in sheets for photo in sheet.photographs)
    return {f"photograph {number}": photo for number, photo in enumerate(found, start=1)}


def photographs(those: Sequence[Photo]) -> str:
    """Return how many photographs there are, in words."""
    return f"{len(those)} photograph{'' if len(those) == 1 else 's'}"


def _sheet(
    sheet: Practical,
    kept: KeptSitting,
    names: Mapping[str, str],
    lost: Callable[[Photo], bool],
) -> list[str]:
    who = f"{names.get(sheet.person_id, ERASED)}, {sheet.role}"
    lines = [f"{who}, on {sheet.size_name}, {sheet.hoist}. {_marks(sheet)}"]
    lines.append(f"Instruments: {sheet.instruments}.")
    if sheet.gaps or sheet.discs:
        lines += _typed(sheet)
        conclusion = sheet.concluded(kept.sheet.size(sheet.size_name)).outcome
        asked = DECISION_WORDS[conclusion] if conclusion else "nothing yet, too few"
        lines.append(f"The readings typed there support: {asked}.")
    if sheet.photographs:
        lines.append(f"{photographs(sheet.photographs)} kept, with digest.")
    if sheet.notes:
        lines.append(f"Notes: {sheet.notes}")
    return [*lines, *(f"{photo.name}: {LOST}" for photo in sheet.photographs if lost(photo))]


def _marks(sheet: Practical) -> str:
    """Return how many elements were shown, and by name those that were not or are missing."""
    shown = sum(seen is Seen.SHOWN for seen in sheet.seen.values())
    parts = [f"{shown} of {len(TITLES)} elements shown."]
    critical = [name for name in sheet.missed if name not in sheet.seen]
    for label, those in (
        ("Not shown", [name for name in sheet.missed if name in sheet.seen]),
        ("Critical and not asked", critical),
        ("Not asked", [name for name in TITLES if name not in {*sheet.seen, *critical}]),
    ):
        if those:
            parts.append(f"{label}: {'; '.join(TITLES[name] for name in those)}.")
    return " ".join(parts)


def _typed(sheet: Practical) -> list[str]:
    """Return the readings as the observer typed them, by angle."""
    gaps = "; ".join(
        f"at {angle:g}° {go_mm:.2f} goes, {no_go_mm:.2f} does not"
        for angle, go_mm, no_go_mm in sheet.gaps
    )
    discs = "; ".join(f"at {angle:g}° {value_mm:.2f}" for angle, value_mm in sheet.discs)
    told = (("Gap, leaves in mm", gaps), ("Disc over both linings, mm", discs))
    return [f"{label}: {said}." for label, said in told if said]

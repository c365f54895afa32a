"""From a blueprint and a sitting's key to a form: equal in weight and time, other brakes.

A draft settles which family, band, part and size each place of the form gets. Drafts that a
borderline candidate would find easier or harder than the blueprint's usual one, or that take
longer or less long, are thrown away; then the brakes are drawn.
"""

import hashlib
import hmac
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from statistics import fmean
from typing import NamedTuple

from quizzes.cases.case import EDITION, Case, Depth, case_seed
from quizzes.cases.drawing import draw_case
from quizzes.cases.families import FAMILIES
from quizzes.cases.strata import MOST_PARTS, STRATA, WHOLE, Part, quotas
from widgets.brake.draws import Draws
from widgets.brake.sizes.sheet import LimitsSheet
from widgets.brake.sizes.size import BrakeSize

from .blueprint import Blueprint, BlueprintError, CaseLine
from .difficulty import QUESTION_MINUTES, borderline_chance, expected_minutes
from .for_sheet import able_sizes, for_sizes, size_in_turn, sizes_of

SCORE_TOLERANCE = 0.3  # cases of expected score, either way; a choice of the scheme
TIME_TOLERANCE = 0.08  # of the minutes, either way; a choice of this scheme
NORMAL_GAP_SHARE = 0.5  # of the faulty cases, at least: somebody who judges by the gap cannot pass
MOST_DRAFTS = 300
MOST_BRAKES = 60  # tries at a case that the person has not had
_REFERENCE_DRAFTS = 40
_REFERENCE_KEY = bytes(range(32))


class Slot(NamedTuple):
    """One place of a form before its brake is drawn."""

    depth: Depth
    family: str
    size: BrakeSize
    stratum: int | None
    part: Part
    may: tuple[str, ...] | None = None


@dataclass(frozen=True, slots=True)
class QuestionSlot:
    """One question to be drawn from the bank: element, difficulty from low to high, dice.

    With `item` it is that question, whatever its element and difficulty.
    """

    element: str
    difficulty: tuple[float, float]
    key: bytes = field(repr=False)
    item: str = ""


@dataclass(frozen=True, slots=True)
class Form:
    """What one person gets in one sitting.

    Attributes
    ----------
    id, edition : str
        Of the blueprint; the edition holds that of the case families too.
    break_after : int
        Number of cases after which the break falls; 0 for none.
    minutes : float
        Expected time of a careful person, without the break.
    expected_score : float
        Cases that a borderline candidate is expected to get right.
    """

    id: str
    edition: str
    cases: tuple[Case, ...]
    questions: tuple[QuestionSlot, ...]
    break_after: int
    minutes: float
    expected_score: float

    @property
    def fingerprints(self) -> frozenset[str]:
        """What the person has had with this form; the next form's `avoid`."""
        return frozenset(case.fingerprint for case in self.cases)


class Weight(NamedTuple):
    """What a draft weighs: expected score in cases, minutes, share of faulty with a normal gap."""

    score: float
    minutes: float
    normal_gap: float


def form_edition(blueprint: Blueprint) -> str:
    """Return the edition of the forms of a blueprint: its own, and that of the case families."""
    return f"{blueprint.id}/{blueprint.edition}/{EDITION}"


def draw_form(
    blueprint: Blueprint, sheet: LimitsSheet, key: bytes, avoid: frozenset[str] = frozenset()
) -> Form:
    """Return the form of one sitting.

    Parameters
    ----------
    blueprint : Blueprint
        What it must hold.
    sheet : LimitsSheet
        The sizes to draw from.
    key : bytes
        The sitting's key, 16 bytes or more.
    avoid : frozenset of str
        Fingerprints of cases that the person has had too recently.

    Raises
    ------
    BlueprintError
        If no form of this blueprint can be drawn from this sheet, or none without a case the
        person has had; the sentence says which line and why.
    """
    sizes = sizes_of(blueprint, sheet)
    blueprint = for_sizes(blueprint, sizes)
    edition = form_edition(blueprint)
    dice = Draws(case_seed(key, edition, -1))
    slots, weight = _fair_draft(blueprint, sizes, dice)
    cases = _cases(slots, sizes, key, edition, avoid)
    in_order, break_after = _in_order(cases, blueprint, dice.child("order"))
    questions = tuple(_questions(blueprint, key, edition, dice.child("questions")))
    minutes = weight.minutes + len(questions) * QUESTION_MINUTES
    return Form(blueprint.id, edition, in_order, questions, break_after, minutes, weight.score)


def _fair_draft(
    blueprint: Blueprint, sizes: tuple[BrakeSize, ...], dice: Draws
) -> tuple[tuple[Slot, ...], Weight]:
    """Return the first draft whose weight is near enough to the blueprint's usual one."""
    target = usual_weight(blueprint, sizes)
    for number in range(MOST_DRAFTS):
        slots = tuple(_draft(blueprint, sizes, dice.child("draft", number)))
        weight = weigh(slots)
        if _is_fair(weight, target):
            return slots, weight
    raise BlueprintError(
        f"blueprint {blueprint.id}, cases: expected lines of which forms come out alike (within "
        f"{SCORE_TOLERANCE:g} cases and {TIME_TOLERANCE:.0%} of the time, half of the faults with "
        f"a normal gap), got none such in {MOST_DRAFTS} drafts."
    )


def _is_fair(weight: Weight, target: Weight) -> bool:
    return (
        abs(weight.score - target.score) <= SCORE_TOLERANCE
        and abs(weight.minutes - target.minutes) <= TIME_TOLERANCE * target.minutes
        and weight.normal_gap >= NORMAL_GAP_SHARE
    )


@lru_cache(maxsize=64)
def usual_weight(blueprint: Blueprint, sizes: tuple[BrakeSize, ...]) -> Weight:
    """Return the mean weight of drafts of a blueprint: what every form is held to."""
    dice = Draws(_REFERENCE_KEY).child(form_edition(blueprint))
    weights = [
        weigh(tuple(_draft(blueprint, sizes, dice.child(number))))
        for number in range(_REFERENCE_DRAFTS)
    ]
    return Weight(*(fmean(column) for column in zip(*weights, strict=True)))


def weigh(slots: Sequence[Slot]) -> Weight:
    """Return what a draft weighs."""
    score = sum(borderline_chance(slot.family, slot.stratum, slot.part) for slot in slots)
    minutes = sum(expected_minutes(slot.family, slot.depth) for slot in slots)
    faulty = [FAMILIES[slot.family] for slot in slots if FAMILIES[slot.family].faults]
    normal = sum(family.gap_normal for family in faulty)
    return Weight(score, minutes, normal / len(faulty) if faulty else 1.0)


def _draft(blueprint: Blueprint, sizes: Sequence[BrakeSize], dice: Draws) -> Iterator[Slot]:
    """Return the places of a form: families and sizes in turn, bands by their shares."""
    turn = dice.child("sizes").shuffled(sizes)
    place = 0
    for number, line in enumerate(blueprint.cases):
        own = dice.child("line", number)
        for family, (stratum, part) in zip(_families(line, own), _bands(line, own), strict=True):
            near = bool(FAMILIES[family].near)
            yield Slot(
                line.depth, family, size_in_turn(family, turn, place),
                stratum if near else None, part if near else WHOLE, _may(line),
            )  # fmt: skip
            place += 1


def _families(line: CaseLine, dice: Draws) -> tuple[str, ...]:
    """Return a family for each case of a line, each as often as any other, or once more."""
    rounds = -(-line.count // len(line.families))
    dealt = [
        family
        for number in range(rounds)
        for family in dice.child("families", number).shuffled(line.families)
    ]
    return tuple(dealt[: line.count])


def _bands(line: CaseLine, dice: Draws) -> tuple[tuple[int, Part], ...]:
    """Return band and part for each case of a line: the same bands for every form, shuffled."""
    bands = []
    dealt = [line.bands.count(at) for at in range(len(STRATA))] if line.bands else None
    for stratum, count in enumerate(dealt or quotas(line.count)):
        parts = min(count, MOST_PARTS)
        bands += [(stratum, Part(number % parts, parts)) for number in range(count)]
    return dice.child("bands").shuffled(bands)


def _cases(
    slots: Sequence[Slot],
    sizes: Sequence[BrakeSize],
    key: bytes,
    edition: str,
    avoid: frozenset[str],
) -> list[Case]:
    had = set(avoid)
    cases = []
    for place, slot in enumerate(slots):
        case = _new_case(slot, sizes, key, f"{edition}/{place}", had)
        had.add(case.fingerprint)
        cases.append(case)
    return cases


def _new_case(
    slot: Slot, sizes: Sequence[BrakeSize], key: bytes, edition: str, had: set[str]
) -> Case:
    """Return a case of a place of the form that the person has not had: other dice, other size."""
    able = able_sizes(slot.family, sizes)
    start, why = able.index(slot.size), "has been had in the last sittings"
    for attempt in range(MOST_BRAKES):
        # Three throws on one size, then the next one has its turn.
        size = able[(start + attempt // 3) % len(able)]
        seed = case_seed(key, edition, attempt)
        try:
            case = draw_case(
                slot.family, size, seed, slot.depth, stratum=slot.stratum, part=slot.part
            )
        except ValueError as error:
            why = f"was tried and not found ({error})"
            continue
        if case.fingerprint not in had:
            own = case.order
            said = own if slot.may is None else replace(own, may=slot.may, ends_with="static")
            return replace(case, order=said)
    raise BlueprintError(
        f"form {edition.split('/', maxsplit=1)[0]}: every case of {slot.family!r} as "
        f"{slot.depth.value!r} {why}; name more families or sizes, "
        "or lower avoid_last."
    )


def _may(line: CaseLine) -> tuple[str, ...] | None:
    """Return what the work orders of a line leave to the candidate; None as it is drawn."""
    if line.own_test:
        return ("load-test",)
    return ("terminals",) if line.others_test else None


def _in_order(
    cases: Sequence[Case], blueprint: Blueprint, dice: Draws
) -> tuple[tuple[Case, ...], int]:
    """Return the cases as they are worked, work orders in the middle and at the end."""
    short = dice.shuffled([one for one in cases if one.depth is not Depth.WORK_ORDER])
    long = dice.child("long").shuffled([one for one in cases if one.depth is Depth.WORK_ORDER])
    half = (len(short) + 1) // 2
    first = (*short[:half], *long[: (len(long) + 1) // 2])
    second = (*short[half:], *long[(len(long) + 1) // 2 :])
    return (*first, *second), len(first) if blueprint.break_minutes else 0


def _questions(
    blueprint: Blueprint, key: bytes, edition: str, dice: Draws
) -> Iterator[QuestionSlot]:
    place = 0
    for number, line in enumerate(blueprint.questions):
        turn = dice.child(number).shuffled(line.elements)
        for asked in range(line.count):
            own = question_key(key, edition, place)
            item = line.always[asked] if asked < len(line.always) else ""
            yield QuestionSlot(turn[asked % len(turn)], line.difficulty, own, item)
            place += 1


def question_key(key: bytes, edition: str, place: int) -> bytes:
    """Return the 256-bit key of one question of one sitting. HMAC-SHA-256 (FIPS 198-1)."""
    message = f"gap-and-lining question {EDITION}\n{edition}\n{place}".encode()
    return hmac.new(key, message, hashlib.sha256).digest()

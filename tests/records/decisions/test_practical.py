"""An observer's sheet of a practical: what it takes, what it lacks, how two observers agree."""

import pytest

from quizzes.grading.words import TITLES
from quizzes.records.decisions.observing import observers_of
from quizzes.records.decisions.practical import (
    CRITICAL,
    Practical,
    Seen,
    agreement,
    practical_of,
    typed_discs,
    typed_gaps,
)
from tests import strategies as any_
from widgets.brake.judgement.rules import Outcome

WHO = "00000000-0000-4000-8000-000000000001"
SIZE = any_.SHEET.sizes[0]


def sheet(seen, **changes):
    parts = {
        "size_name": SIZE.name,
        "hoist": "hoist 3, north hall",
        "instruments": "leaves and caliper, calibrated in May",
        "notes": "",
        "gaps": (),
        "discs": (),
        "person_id": WHO,
        "role": "observer",
    }
    return Practical(seen=seen, **(parts | changes))


def test_what_is_critical_may_not_be_left_out():
    """An element that nobody asked for lacks only where it is critical."""
    whole = sheet(dict.fromkeys(CRITICAL, "shown"))
    one_not = sheet(dict.fromkeys(CRITICAL, "shown") | {"M2": "not shown"})
    unasked = sheet({"M2": "shown"})

    assert set(CRITICAL) <= set(TITLES)
    assert whole.missed == ()
    assert one_not.missed == ("M2",)
    assert set(unasked.missed) == set(CRITICAL)


def test_real_readings_are_judged_by_the_rules_of_everywhere():
    """A gap well over its limit asks for an adjustment, a worn disc for a new one."""
    wide = SIZE.gap.max_mm + 0.2
    thick = SIZE.disc.new_mm
    gaps = tuple((angle, wide - 0.025, wide + 0.025) for angle in (0.0, 90.0, 180.0, 270.0))
    discs = tuple((angle, thick) for angle in (0.0, 120.0, 240.0))
    worn = tuple((angle, SIZE.disc.min_mm - 0.5) for angle in (0.0, 120.0, 240.0))

    assert sheet({"M2": "shown"}, gaps=gaps, discs=discs).concluded(SIZE).outcome is Outcome.ADJUST
    assert sheet({"M2": "shown"}, gaps=gaps, discs=worn).concluded(SIZE).outcome is Outcome.REPLACE


def test_a_sheet_comes_back_from_what_the_ledger_keeps():
    """Readings, notes and marks."""
    full = sheet(
        {"M2": Seen.SHOWN}, gaps=typed_gaps("0 0.35 0.40\n\n90 0,40 0,45"), notes="calm and tidy"
    )

    assert practical_of(full.body()) == full
    assert full.gaps[1] == (90.0, 0.40, 0.45)


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: sheet({}), "mark at least one"),
        (lambda: sheet({"Z9": "shown"}), "no element 'Z9'"),
        (lambda: sheet({"M2": "perhaps"}), "perhaps"),
        (lambda: sheet({"M2": "shown"}, hoist=" "), "hoist must be"),
        (lambda: sheet({"M2": "shown"}, gaps=((0.0, 0.5, 0.4),)), "no_go_mm"),
        (lambda: typed_gaps("0 0.35"), "line 1: expected 3 numbers"),
        (lambda: typed_gaps("0 0.35 0.40\n400 0.3 0.4"), "line 2: an angle"),
        (lambda: typed_discs("north 9.8"), "line 1: expected 2 numbers"),
        (lambda: sheet({"M2": "shown"}, discs=typed_discs("0 nan")), "value_mm"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(make, words):
    """Where it stands and what was expected."""
    with pytest.raises(ValueError, match=words):
        make()


def test_two_observers_are_compared_on_what_both_marked():
    """Three elements in common, one of them seen otherwise."""
    first = sheet({"S1": "shown", "S2": "shown", "M2": "not shown", "M4": "shown"})
    second = sheet({"S1": "shown", "S2": "not shown", "M2": "not shown", "T1": "shown"})
    found = agreement(first, second)

    assert (found.both_shown, found.both_not, found.first_only, found.second_only) == (1, 1, 1, 0)
    assert found.share == pytest.approx(2 / 3)


OTHER = "00000000-0000-4000-8000-000000000002"
SHOWN = {"S1": "shown"}


@pytest.mark.parametrize(
    ("sheets", "awaited", "blind"),
    [
        ([(WHO, False)], False, False),
        ([(WHO, True)], True, False),
        ([(WHO, True), (WHO, True)], True, False),
        ([(WHO, True), (WHO, False)], False, False),
        ([(WHO, True), (OTHER, False)], False, True),
        ([(WHO, False), (OTHER, True)], False, False),
        # The first sheet stood open for a while before it was hidden.
        ([(WHO, False), (WHO, True), (OTHER, False)], False, False),
        # Kept again after both could read both.
        ([(WHO, True), (OTHER, False), (WHO, True)], False, True),
    ],
)
def test_two_observers_are_blind_only_if_the_first_sheet_never_stood_open(sheets, awaited, blind):
    """From the first sheet to the second observer's, each time it was kept."""
    found = observers_of(sheet(SHOWN, person_id=who, second_wanted=want) for who, want in sheets)

    assert found.awaited is awaited
    assert (found.pair is not None) is blind


def test_what_is_kept_after_both_could_read_both_changes_no_agreement():
    """The first observer comes round to the second's view."""
    found = observers_of(
        sheet({"S1": seen}, person_id=who, second_wanted=who == WHO)
        for who, seen in ((WHO, "not shown"), (OTHER, "shown"), (WHO, "shown"))
    )

    assert found.pair is not None
    assert agreement(*found.pair).share == 0

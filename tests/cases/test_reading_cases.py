"""Reading cases: a careful colleague's notes, as the brake and the instruments made them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.cases.case import Depth
from quizzes.cases.drawing import draw_case
from quizzes.cases.families import FAMILIES
from quizzes.cases.given import NO_END, signs_given, size_given
from quizzes.cases.strata import BINS, STRATA, Part, bin_of, draw_stratum, stratum_of
from tests import strategies as any_
from widgets.bench.machine import Bench
from widgets.bench.standing import gap_now
from widgets.bench.starts import at_start
from widgets.brake.draws import Draws
from widgets.brake.judgement.signs import SYMPTOM_SIGNS, Finding
from widgets.instruments import caliper
from widgets.instruments.feeler import GapReading, marks_for

SIZES = any_.SHEET.sizes
BANDS = st.integers(0, len(STRATA) - 1)
# The sign that each fault is told by; common practice, no source.
TOLD_BY = {
    "oiled": Finding.OIL,
    "glazed": Finding.GLAZE,
    "heat-cracks": Finding.HEAT_CRACKS,
    "spring-broken": Finding.SPRINGS,
    "springs-weak": Finding.SPRINGS,
    "spline-worn": Finding.SPLINE,
    "disc-swollen": Finding.DISC_SWOLLEN,
    "hub-reversed": Finding.REVERSED,
    "wear-plate-missing": Finding.NO_WEAR_PLATE,
    "wrong-disc": Finding.WRONG_DISC,
    "coil-high-or-open": Finding.COIL,
    "coil-shorted-turns": Finding.COIL,
    "rectifier-half": Finding.RECTIFIER,
    "switched-on-ac-side": Finding.AC_SIDE,
    "seal-missing": Finding.SEAL,
    "lever-tight": Finding.HAND_RELEASE,
    "lever-stays": Finding.HAND_RELEASE,
    "fan-missing": Finding.FAN,
    "sticks": Finding.STICKS,
    "measured-live": Finding.SECOND_SUPPLY,
    "screw-not-locked": Finding.LOCK_LOOSE,
}


def reading(family, size, seed=bytes(range(16)), **asked):
    return draw_case(family, size, seed, Depth.READING, **asked)


@pytest.mark.parametrize("fault_id", TOLD_BY)
def test_the_notes_hold_what_there_was_to_be_found(fault_id):
    """On every size, in words of the bench or on the meter; a sound brake's notes hold none."""
    for size in SIZES:
        found = {sign.finding for sign in signs_given(size, reading(fault_id, size).order)}
        assert TOLD_BY[fault_id] in found
        assert not signs_given(size, reading("in limits", size).order)


READABLE = sorted(name for name, one in FAMILIES.items() if Depth.READING in one.depths)


@given(st.sampled_from(READABLE), any_.SIZES, any_.SEEDS)
def test_the_notes_are_readings_of_this_brake(family, size, seed):
    """Eight gaps and four discs, each within a few hundredths of the truth, and its own plate."""
    case = reading(family, size, seed)
    setup, order = case.setup(), case.order
    gap = gap_now(setup, at_start(setup))

    assert size_given(order, any_.SHEET) == size
    assert len(order.disc_notes) == 4
    drawn = not case.condition.release_lever_returns
    assert len(order.gap_notes) == (0 if drawn else 8)
    for note in order.gap_notes:
        assert note.no_go_mm - note.go_mm <= 0.051
        middle_mm = (note.go_mm + note.no_go_mm) / 2
        assert middle_mm == pytest.approx(min(gap.at_mm(note.angle_deg), 2.03), abs=0.06)
    for note in order.disc_notes:
        truth_mm = case.condition.disc.at_mm(note.angle_deg)
        assert note.value_mm == pytest.approx(truth_mm, abs=0.15)


@given(any_.SIZES, any_.SEEDS, BANDS)
def test_the_worst_gap_that_was_read_lies_in_the_planned_band(size, seed, stratum):
    """What counts is the evidence: (largest - widest reading) / its uncertainty."""
    case = reading("near the largest gap", size, seed, stratum=stratum)
    distances = []
    for note in case.order.gap_notes:
        read = GapReading(note.go_mm, note.no_go_mm, len(marks_for(note.no_go_mm)))
        distances.append((size.gap.max_mm - read.middle_mm) / read.uncertainty_mm)

    assert STRATA[stratum].low <= min(distances) < STRATA[stratum].high


@given(any_.SIZES, any_.SEEDS, BANDS)
def test_the_thinnest_disc_that_was_read_lies_in_the_planned_band(size, seed, stratum):
    """(Thinnest reading - least) / its uncertainty, over a gap that is in limits."""
    case = reading("near the least disc", size, seed, stratum=stratum)
    thinnest_mm = min(note.value_mm for note in case.order.disc_notes)
    distance = (thinnest_mm - size.disc.min_mm) / caliper.budget().combined

    assert STRATA[stratum].low <= distance < STRATA[stratum].high
    assert max(note.go_mm for note in case.order.gap_notes) < size.gap.max_mm


def test_an_open_coil_is_noted_though_the_meter_shows_no_number():
    """Some coils of the family are open; then a line says so in place of a value."""
    drawn = [reading("coil-high-or-open", SIZES[2], bytes([n]) * 16) for n in range(40)]
    broken = [case for case in drawn if case.condition.coil_open]

    assert 0 < len(broken) < 40
    for case in drawn:
        measured = {note.what for note in case.order.value_notes}
        assert (NO_END in case.order.lines) == (case in broken)
        assert ("coil_ohm" in measured) == (case not in broken)


def test_at_a_brake_of_notes_nothing_but_paper_can_be_worked():
    """A leaf, a look, a screw: the brake is not there."""
    from widgets.bench import actions as do

    case = reading("glazed", SIZES[1])
    bench = Bench(case.size, case.condition, case.seed, case.order)

    for wish in (do.Look("edge"), do.GaugeGap(0.0, (0.3,)), do.LoosenLock(1), do.ReadPlate()):
        assert not bench.act(wish).done
    assert bench.act(do.Decide("replace", case.size.name)).done
    assert bench.state.handed_over


def test_every_line_of_the_notes_can_be_understood():
    """The size, a symptom of the bench's own, or one of two other codes; each has its words."""
    from quizzes.cases.given import NOTHING, SIZE, SYMPTOM
    from widgets.bench.symptoms import SYMPTOMS
    from widgets.bench.words import line_words

    codes = {symptom.code for symptom in SYMPTOMS}

    for family in READABLE:
        for line in reading(family, SIZES[4]).order.lines:
            symptom = line.code == SYMPTOM and line.name in codes
            known = line.code == SIZE or line in {NOTHING, NO_END} or symptom
            assert known, line
            assert line_words(line).endswith(".")
    assert set(SYMPTOM_SIGNS) <= codes


def test_bands_are_drawn_by_their_shares():
    """Outside check: 2, 3, 4, 3, 2, 1 of 15, the profile of the scheme's parallel forms."""
    dice = Draws(bytes(16))
    counts = [0] * len(STRATA)
    for number in range(3000):
        counts[draw_stratum(dice.child(number))] += 1

    for count, share in zip(counts, (2, 3, 4, 3, 2, 1), strict=True):
        assert count / 3000 == pytest.approx(share / 15, abs=0.03)  # 3.5 standard deviations
    edges = [(-3.0, -1.0), (-1.0, 1.2), (1.2, 2.2), (2.2, 4.0)]
    assert [(one.low, one.high) for one in STRATA[1:5]] == edges


def test_a_part_keeps_to_its_own_share_of_a_range():
    """Parts of one range meet and do not overlap; too many or none are refused."""
    dice = [Draws(bytes([n]) * 16) for n in range(50)]
    for number in range(BINS):
        shares = [Part(number, BINS).share(one, "x") for one in dice]
        assert number / BINS <= min(shares) < max(shares) < (number + 1) / BINS
        assert {bin_of(share) for share in shares} == {number}
    for wrong in ((BINS, BINS), (0, 0), (0, 99)):
        with pytest.raises(ValueError, match="part"):
            Part(*wrong)
    assert stratum_of(0.0) == 2
    assert stratum_of(99.0) is None

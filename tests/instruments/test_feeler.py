"""The feeler gauge: leaves, feel, brackets."""

import math
import pickle
import statistics
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from widgets.brake.draws import Draws
from widgets.instruments.feeler import (
    ALL_LEAVES_MM,
    COMMON_LEAVES_MM,
    PERFECT_HAND,
    Entry,
    Feel,
    GapReading,
    Hand,
    Leaf,
    LeafSet,
    blade_angles_deg,
    budget,
    fit_brackets,
    ideal_leaf_set,
    insert,
    insertion,
    leaf_set,
    leaf_tolerance_mm,
    marks_for,
    read_gap,
)

DRAWS = Draws(bytes(range(32)))
IDEAL = ideal_leaf_set()
ORDER = list(Feel)  # from most room to least
STACKS = st.lists(st.sampled_from(ALL_LEAVES_MM), min_size=1, max_size=3, unique=True)
GAPS_MM = st.floats(0.0, 1.5)


def feel(marks_mm, gap_mm, *, gauge=IDEAL, hand=PERFECT_HAND, **how):
    return insert(gauge.stack(marks_mm), gap_mm, DRAWS, hand=hand, **how).feel


@pytest.mark.parametrize(
    ("gap_mm", "expected"),
    [
        (0.50, Feel.SLIDES),
        (0.362, Feel.SLIDES),
        (0.358, Feel.DRAGS),
        (0.352, Feel.DRAGS),
        (0.35, Feel.DRAGS),
        (0.348, Feel.WILL_NOT_ENTER),
        (0.0, Feel.WILL_NOT_ENTER),
    ],
)
def test_a_leaf_drags_in_the_last_hundredth(gap_mm, expected):
    """More than 0.010 mm to spare slides, less drags, none refuses: common practice, no source."""
    assert feel((0.35,), gap_mm) is expected


@given(STACKS, STACKS, GAPS_MM)
def test_a_thicker_stack_never_enters_where_a_thinner_will_not(one, other, gap_mm):
    """With a perfect hand, feel only ever worsens with thickness."""
    thin, thick = sorted((one, other), key=sum)

    assert ORDER.index(feel(thin, gap_mm)) <= ORDER.index(feel(thick, gap_mm))


@given(STACKS, GAPS_MM, GAPS_MM, st.integers(0, 99))
def test_feel_only_improves_as_the_gap_opens(marks_mm, one_mm, other_mm, visit):
    """The same try at a wider gap feels no tighter, whatever the hand's error."""
    narrow_mm, wide_mm = sorted((one_mm, other_mm))
    tight = feel(marks_mm, narrow_mm, hand=Hand(), visit=visit)
    loose = feel(marks_mm, wide_mm, hand=Hand(), visit=visit)

    assert ORDER.index(loose) <= ORDER.index(tight)


@given(st.floats(0.0, 1.99), st.sampled_from([0.01, 0.05, 0.1]))
def test_a_bracket_of_ideal_leaves_holds_the_gap(gap_mm, step_mm):
    """The thickest stack that goes in is no thicker than the gap, the next one is thicker."""
    reading = read_gap(IDEAL, gap_mm, DRAWS, step_mm=step_mm, hand=PERFECT_HAND)

    assert reading.go_mm <= gap_mm + 1e-8
    assert gap_mm < reading.no_go_mm + 1e-8


@given(STACKS, st.lists(st.floats(0.0, 1.0), min_size=1, max_size=9))
def test_the_leaf_rides_on_the_smallest_gap_under_it(marks_mm, gaps_mm):
    """A row of gaps feels like the smallest of them."""
    assert feel(marks_mm, np.array(gaps_mm)) is feel(marks_mm, min(gaps_mm))
    assert feel(marks_mm, gaps_mm) is feel(marks_mm, min(gaps_mm))


@given(
    STACKS, GAPS_MM, st.integers(0, 99), st.sampled_from([Hand(), PERFECT_HAND, Hand(0.02, 0.01)])
)
def test_what_no_dice_could_change_is_told_without_them(marks_mm, gap_mm, visit, hand):
    """Far from the gap's size a try feels as it would with the dice thrown."""
    quick = feel(marks_mm, gap_mm, hand=hand, visit=visit)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(insertion, "MOST_NORMAL", math.inf)  # then nothing is sure
        assert feel(marks_mm, gap_mm, hand=hand, visit=visit) is quick


def test_leaves_that_add_up_to_another_feel_like_it():
    """0.10 and 0.20 in 0.31 and 0.30 mm feel like 0.30, although the floats differ."""
    assert feel((0.10, 0.20), 0.31) is feel((0.30,), 0.31) is Feel.DRAGS
    assert feel((0.10, 0.20), 0.30) is feel((0.30,), 0.30) is Feel.DRAGS


def test_a_gap_may_be_given_across_the_blade():
    """A gap that narrows by 0.02 mm from edge to edge is felt at its narrow edge."""

    def sloping(offset_mm):
        return 0.36 + 0.02 * offset_mm / 13.0

    assert feel((0.35,), sloping) is Feel.DRAGS
    assert feel((0.30, 0.05), sloping) is Feel.DRAGS
    assert feel((0.30, 0.06), sloping) is Feel.WILL_NOT_ENTER


@given(STACKS, GAPS_MM, st.floats(0, 30), st.floats(0, 30))
def test_a_more_skewed_leaf_never_enters_better(marks_mm, gap_mm, one_deg, other_deg):
    """A leaf pushed in askew needs more room."""
    straight, skewed = sorted((one_deg, other_deg))
    better = feel(marks_mm, gap_mm, entry=Entry(skew_deg=straight))
    worse = feel(marks_mm, gap_mm, entry=Entry(skew_deg=skewed))

    assert ORDER.index(better) <= ORDER.index(worse)


@pytest.mark.parametrize(
    ("entry", "expected"),
    [
        (Entry(), Feel.SLIDES),
        (Entry(skew_deg=5), Feel.WILL_NOT_ENTER),
        (Entry(dust_mm=0.1), Feel.WILL_NOT_ENTER),
        (Entry(burr_mm=0.05), Feel.WILL_NOT_ENTER),
        (Entry(depth_mm=5), Feel.SLIDES),
    ],
)
def test_what_is_in_the_way_makes_the_gap_read_low(entry, expected):
    """Skew, dust and a burr each keep a 0.35 mm leaf out of 0.38 mm: common practice, no source."""
    assert feel((0.35,), 0.38, entry=entry) is expected


def test_a_leaf_on_the_broken_edge_reads_high():
    """Half a millimetre in, a leaf of 0.60 mm sits in the chamfer of a gap of 0.30 mm."""
    assert feel((0.60,), 0.30) is Feel.WILL_NOT_ENTER
    assert feel((0.60,), 0.30, entry=Entry(depth_mm=0.5)) is Feel.SLIDES


def test_a_kinked_leaf_reads_low_and_a_worn_one_high():
    """A kink of 0.03 mm keeps the 0.35 mm leaf out of 0.37 mm; wear lets it into 0.335 mm."""
    kinked, worn = IDEAL.with_kink(0.35, 0.03), IDEAL.with_wear(0.35, 0.02)

    assert feel((0.35,), 0.37, gauge=kinked) is Feel.WILL_NOT_ENTER
    assert feel((0.35,), 0.335, gauge=worn) is Feel.DRAGS
    assert feel((0.30, 0.05), 0.35, gauge=kinked) is Feel.DRAGS  # the other leaves are sound


def test_each_film_between_leaves_takes_room():
    """Three leaves that mark 0.35 mm need two films more than one leaf does."""
    oily = Hand(0.0, 0.0, 0.0, film_low_mm=0.004, film_high_mm=0.004)

    assert feel((0.35,), 0.3575, hand=oily) is Feel.DRAGS
    assert feel((0.30, 0.05), 0.3538, hand=oily) is Feel.WILL_NOT_ENTER
    assert feel((0.25, 0.06, 0.04), 0.3575, hand=oily) is Feel.WILL_NOT_ENTER


def test_a_firm_hand_forces_a_leaf_in():
    """A push of 0.003 mm gets a leaf into a gap 0.002 mm too small."""
    assert feel((0.35,), 0.348) is Feel.WILL_NOT_ENTER
    assert feel((0.35,), 0.348, hand=Hand(0.0, 0.0, push_mm=0.003)) is Feel.DRAGS


def test_a_hand_tells_at_most_four_things():
    """However fine the gap is varied, the drag has four strengths: no gap can be read from it."""
    drags = {
        insert(IDEAL.stack((0.35,)), 0.30 + i / 20_000, DRAWS, attempt=i).drag for i in range(2000)
    }

    assert drags == {0.0, 1 / 3, 2 / 3, 1.0}


def test_the_hand_scatters_as_it_says():
    """The gap at which a 0.35 mm leaf is refused scatters by the hand's own figure.

    5000 visits: the standard error of a standard deviation is 1 %; four of them allowed.
    """
    hand = Hand()
    refused = [
        feel((0.35,), 0.35 + hand.noise_mm, hand=hand, visit=i) is Feel.WILL_NOT_ENTER
        for i in range(5000)
    ]
    expected = statistics.NormalDist().cdf(-1.0)  # one standard deviation to spare

    assert hand.noise_mm == pytest.approx(0.007, abs=1e-4)  # 0.004 to 0.008, common practice
    assert statistics.fmean(refused) == pytest.approx(
        expected, abs=4 * math.sqrt(0.16 * 0.84 / 5000)
    )


def test_trying_again_at_once_tells_little_new():
    """Two tries at one visit agree far more often than two visits do."""
    gap_mm = 0.35  # an even chance for a leaf of 0.35 mm
    feels = [
        [feel((0.35,), gap_mm, hand=Hand(), visit=v, attempt=a) for a in (0, 1)]
        for v in range(2000)
    ]
    tries = statistics.fmean(a is b for a, b in feels)
    visits = statistics.fmean(a[0] is b[0] for a, b in pairwise(feels))

    assert tries > visits + 0.1


def test_the_same_try_feels_the_same():
    """A replayed log gives the same feel, bit for bit."""
    marks = (0.30, 0.04)
    one = [insert(IDEAL.stack(marks), 0.345, DRAWS, visit=i, attempt=i) for i in range(50)]

    assert one == [insert(IDEAL.stack(marks), 0.345, DRAWS, visit=i, attempt=i) for i in range(50)]
    assert len(set(one)) > 1


def test_bought_leaves_are_within_their_tolerance():
    """Each leaf keeps its own deviation, the same each time the same gauge is taken up."""
    gauge = leaf_set(DRAWS.child("gauge"))

    assert gauge == leaf_set(DRAWS.child("gauge"))
    assert gauge != leaf_set(DRAWS.child("another"))
    assert all(abs(x.deviation_mm) <= leaf_tolerance_mm(x.nominal_mm) for x in gauge.leaves)
    assert len({x.deviation_mm for x in gauge.leaves}) == len(gauge.leaves)


def test_each_hundredth_can_be_stacked():
    """With the thin leaves every 0.01 mm from 0.03 to 2.00 mm is at most three leaves."""
    for hundredths in range(3, 201):
        marks = marks_for(hundredths / 100)
        assert sum(marks) == pytest.approx(hundredths / 100)
        assert len(IDEAL.stack(marks)) <= (2 if hundredths <= 100 else 3)


def test_the_fewest_leaves_are_taken():
    """0.34 is 0.30 and 0.04, and 0.35 has a leaf of its own."""
    assert marks_for(0.34) == (0.30, 0.04)
    assert marks_for(0.35) == (0.35,)


def test_a_leaf_set_survives_copying():
    """A set can be pickled with its bent leaf, as a saved case is."""
    bent = IDEAL.with_kink(0.5, 0.03)

    assert pickle.loads(pickle.dumps(bent)) == bent
    assert pickle.loads(pickle.dumps(bent)).stack((0.5,)) == bent.stack((0.5,))


def test_the_blade_covers_its_width_of_the_rim():
    """Outside check: the chord between the outer angles is 13 mm, by the law of cosines."""
    angles = np.radians(blade_angles_deg(90.0, 152.0))
    chord = math.sqrt(2 * 76**2 * (1 - math.cos(angles[-1] - angles[0])))

    assert chord == pytest.approx(13.0)
    assert np.degrees(angles.mean()) == pytest.approx(90.0)


@pytest.mark.parametrize(("step_mm", "leaves", "worse"), [(0.05, 1, 1.04), (0.01, 2, 1.04)])
def test_readings_scatter_as_the_budget_says(step_mm, leaves, worse):
    """3000 gauges, hands and gaps: the errors have the standard deviation of the budget.

    A standard deviation of 3000 has a standard error of 1.3 %, two of which and
    the gaps between stacks made up of different leaves give the 4 %.
    """
    errors = []
    for number in range(3000):
        draws = DRAWS.child("budget", number)
        gap_mm = 0.2 + 0.6 * draws.uniform("gap")
        reading = read_gap(leaf_set(draws.child("leaves")), gap_mm, draws, step_mm=step_mm)
        errors.append(reading.estimate_mm - gap_mm)
    stated = budget(step_mm, leaves).combined

    assert math.hypot(statistics.fmean(errors), statistics.pstdev(errors)) == pytest.approx(
        stated, rel=worse - 1
    )
    assert abs(statistics.fmean(errors)) < 0.1 * stated


def test_a_reading_states_its_own_uncertainty():
    """A bracket of 0.05 mm and one leaf has the budget of just that."""
    reading = GapReading(0.30, 0.35)

    assert reading.middle_mm == pytest.approx(0.325)
    assert reading.uncertainty_mm == pytest.approx(budget(0.05, 1).combined, rel=0.01)
    assert GapReading(0.34, 0.35, leaves=2).uncertainty_mm < reading.uncertainty_mm


def test_brackets_that_share_a_value_show_no_scatter():
    """Six times the same bracket says where the gap is, not how it scatters."""
    same = fit_brackets([GapReading(0.30, 0.35)] * 6)

    assert same.mean_mm == pytest.approx(0.325)
    assert not same.is_resolved
    assert not fit_brackets([GapReading(0.30, 0.35), GapReading(0.35, 0.40)]).is_resolved
    assert fit_brackets([GapReading(0.30, 0.35), GapReading(0.40, 0.45)]).is_resolved


@given(st.lists(st.integers(0, 12), min_size=2, max_size=8), st.integers(-3, 3))
@example([1, 0], 1)  # brackets that touch, but for the rounding of floats
def test_shifting_all_brackets_shifts_their_mean(steps, by):
    """A gap wider by whole steps all round is as much larger in the mean, and scatters alike."""
    here = fit_brackets([GapReading(0.2 + s * 0.05, 0.25 + s * 0.05) for s in steps])
    there = fit_brackets([GapReading(0.2 + (s + by) * 0.05, 0.25 + (s + by) * 0.05) for s in steps])

    assert there.mean_mm - here.mean_mm == pytest.approx(by * 0.05, abs=1e-7)
    assert there.sigma_mm == pytest.approx(here.sigma_mm, abs=1e-7)


def test_one_odd_bracket_counts_alike_on_either_side():
    """200 brackets and one 14 standard deviations above are the mirror of one as far below."""
    many = [GapReading(0.60, 0.61)] * 100 + [GapReading(0.59, 0.60)] * 100
    above, below = (fit_brackets([*many, GapReading(go, go + 0.01)]) for go in (0.99, 0.20))

    assert above.mean_mm - 0.60 == pytest.approx(0.60 - below.mean_mm, abs=1e-9)
    assert above.sigma_mm == pytest.approx(below.sigma_mm, abs=1e-9)
    assert above.mean_mm > 0.60


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: IDEAL.stack((0.37,)), "leaves of this set, got 0.37"),
        (lambda: IDEAL.stack((0.30, 0.30)), "0.3 mm twice"),
        (lambda: IDEAL.stack((0.1, 0.2, 0.3, 0.4)), "1 to 3 leaves, got 4"),
        (lambda: IDEAL.stack(()), "1 to 3 leaves, got 0"),
        (lambda: IDEAL.stack((math.nan,)), "must be a number of mm, got nan"),
        (lambda: IDEAL.stack(("0.3",)), "must be a number of mm"),
        (lambda: IDEAL.with_kink(0.37, 0.03), "leaves of this set"),
        (lambda: IDEAL.with_kink(0.35, -0.03), "kink_mm must be >= 0"),
        (lambda: IDEAL.with_wear(0.05, 0.06), "worn_mm must be >= 0 and < 0.05"),
        (lambda: LeafSet(()), "at least one"),
        (lambda: LeafSet((Leaf(0.1), Leaf(0.1, 0.001))), "each mark once"),
        (lambda: Leaf(0.0), "nominal_mm must be > 0"),
        (lambda: Leaf(0.05, -0.06), "deviation_mm must be > -0.05"),
        (lambda: marks_for(0.015), "stack of 1 to 3 leaves, got 0.015"),
        (lambda: marks_for(-1.0), "thickness_mm must be > 0"),
        (lambda: marks_for(0.34, COMMON_LEAVES_MM), "stack of 1 to 3 leaves, got 0.34"),
        (lambda: insert((), 0.3, DRAWS), "1 to 3, got 0"),
        (lambda: feel((0.3,), -0.1), "gap_mm must be >= 0"),
        (lambda: feel((0.3,), math.nan), "gap_mm must be >= 0"),
        (lambda: feel((0.3,), [0.3, math.nan]), r"gap_mm\[1\] must be >= 0"),
        (lambda: feel((0.3,), np.array([0.3, 0.3, -0.2])), r"gap_mm\[2\] must be >= 0"),
        (lambda: feel((0.3,), []), "at least one value"),
        (lambda: feel((0.3,), lambda offset_mm: offset_mm), r"gap_mm\[0\] must be >= 0"),
        (lambda: Entry(skew_deg=31), "skew_deg must be >= 0 and <= 30"),
        (lambda: Entry(depth_mm=0), "depth_mm must be > 0"),
        (lambda: Entry(dust_mm=-1), "dust_mm must be >= 0"),
        (lambda: Entry(burr_mm=math.inf), "burr_mm must be >= 0"),
        (lambda: Hand(visit_mm=-1), "visit_mm must be >= 0"),
        (lambda: Hand(push_mm=0.01), "push_mm must be >= 0 and <= 0.003"),
        (lambda: Hand(film_low_mm=0.01), "film_high_mm must be >= 0.01"),
        (lambda: GapReading(0.35, 0.35), "no_go_mm must be > 0.35"),
        (lambda: GapReading(0.30, math.inf), "no_go_mm must be > 0.3"),
        (lambda: GapReading(-0.1, 0.35), "go_mm must be >= 0"),
        (lambda: GapReading(0.30, 0.35, leaves=4), "leaves must be >= 1 and <= 3"),
        (lambda: budget(0.0), "step_mm must be > 0"),
        (lambda: read_gap(IDEAL, 0.3, DRAWS, step_mm=0.0), "step_mm must be >= 0.01"),
        (lambda: read_gap(IDEAL, 3.0, DRAWS), "gap_mm must be < 2"),
        (lambda: fit_brackets([]), "at least one bracket"),
        (lambda: blade_angles_deg(0.0, 5.0), "gauging_circle_mm must be >= 13"),
        (lambda: blade_angles_deg(math.inf, 152.0), "angle_deg must be a finite number"),
    ],
)
def test_impossible_input_is_refused_by_name(call, words):
    """The sentence names the argument and what it may be."""
    with pytest.raises(ValueError, match=words):
        call()

"""Cases: drawn from a seed, the same every time, and of the kind their family says."""

import hashlib
import hmac
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quizzes.cases.carrying import carried
from quizzes.cases.case import Case, Depth, case_seed
from quizzes.cases.drawing import draw_case
from quizzes.cases.families import FAMILIES, MEANT
from quizzes.cases.practice import draw_drill, draw_practice
from quizzes.cases.sound_brakes import draw_sound
from quizzes.cases.strata import BINS, STRATA, Part
from tests import strategies as any_
from widgets.bench import actions as do
from widgets.bench.session import Session
from widgets.bench.setup import Start
from widgets.bench.standing import gap_now
from widgets.brake.condition import gap_field
from widgets.brake.draws import Draws
from widgets.brake.faults import FAULTS, fault
from widgets.brake.judgement.rules import Outcome
from widgets.brake.sizes.estimate import complete
from widgets.brake.sizes.sheet import four_designs
from widgets.instruments import caliper, feeler

KEYS = st.binary(min_size=16, max_size=64)
ADJUSTS = frozenset({Outcome.ADJUST})


def truth(case: Case) -> tuple[float, float, float]:
    """Return widest and narrowest gap, and thinnest disc, mm."""
    setup = case.setup()
    gap = gap_now(setup, Session(setup).state).round_mm(720)
    return max(gap), min(gap), case.condition.disc.thinnest_mm


@given(any_.SIZES, any_.SEEDS)
def test_in_limits_is_in_limits(size, seed):
    """Gap between least and largest all the way round, even, disc above its least."""
    widest_mm, narrowest_mm, disc_mm = truth(draw_case("in limits", size, seed))

    assert size.gap.min_mm < narrowest_mm <= widest_mm < size.gap.max_mm
    assert widest_mm - narrowest_mm < size.gap.evenness_mm
    assert size.disc.min_mm < disc_mm <= size.disc.new_mm


@given(any_.SIZES, any_.SEEDS)
def test_a_sound_brake_of_any_wear_has_nothing_wrong(size, seed):
    """What faults are laid on has whole springs, its plate, a dry lining and a tight lock."""
    sound = draw_sound(Draws(seed), size)

    assert sound.springs_intact == size.springs.count
    assert sound.wear_plate_mm == size.wear_plate_mm
    assert (sound.surface, sound.lock_share, sound.marks) == ("bedded", (1, 1, 1), frozenset())


@given(any_.SIZES, any_.SEEDS)
def test_a_gap_too_large_on_one_side_is_in_limits_on_the_mean(size, seed):
    """Nobody who judges by the mean sees it; no place is tight, and the disc is good."""
    condition = draw_case("gap too large on one side", size, seed).condition
    gap, limits = gap_field(size, condition), size.gap
    round_mm, u_mm = gap.round_mm(72), feeler.budget(0.01, leaves=2).combined

    assert max(round_mm) > limits.max_mm + 4 * u_mm
    assert gap.plane.mean_mm < limits.max_mm - 4 * u_mm
    assert min(round_mm) > limits.min_mm + 4 * u_mm
    assert condition.disc.thinnest_mm > size.disc.min_mm + 4 * caliper.budget().combined


@given(any_.SIZES, any_.SEEDS)
def test_gap_too_large_is_too_large_over_a_good_disc(size, seed):
    """Beyond the largest at every place; the disc is good."""
    _, narrowest_mm, disc_mm = truth(draw_case("gap too large", size, seed))

    assert narrowest_mm > size.gap.max_mm
    assert disc_mm > size.disc.min_mm


@given(any_.SIZES, any_.SEEDS)
def test_disc_worn_is_worn(size, seed):
    """Below its least even at the thickest place."""
    disc = draw_case("disc worn", size, seed).condition.disc
    assert disc.thickness_mm + disc.taper_mm < size.disc.min_mm


def test_a_worn_disc_cannot_be_told_from_the_gap():
    """Of 200 worn brakes some have a perfect gap and some too large a one."""
    size = any_.SHEET.size("Cedar-47")
    drawn = [draw_case("disc worn", size, number.to_bytes(16)) for number in range(200)]
    perfect = sum(truth(case)[0] < size.gap.max_mm for case in drawn)

    assert 60 < perfect < 140  # 100 expected, 7 is one standard deviation


# Of the others the wear decides, or the band that is drawn.
HIDDEN = [
    name
    for name, family in FAMILIES.items()
    if family.faults and family.gap_normal and not family.near
]


@pytest.mark.parametrize("family", HIDDEN)
def test_a_gap_that_is_said_to_be_normal_is_normal(family):
    """A whole round of it lies in its limits, on every size: it tells nothing of the fault."""
    for number, size in enumerate(any_.SHEET.sizes):
        widest_mm, narrowest_mm, _ = truth(draw_case(family, size, number.to_bytes(16)))
        assert size.gap.min_mm <= narrowest_mm, size.name
        assert widest_mm <= size.gap.max_mm, size.name


def test_at_least_half_of_the_fault_families_have_a_normal_gap():
    """Somebody who decides from the gap alone must fail; a wish of the scheme."""
    faulty = [family for family in FAMILIES.values() if family.faults]

    assert sum(family.gap_normal for family in faulty) >= len(faulty) / 2


def test_every_fault_of_the_catalogue_lies_on_some_family():
    """All thirty, and pairs of two."""
    drawn = {one for family in FAMILIES.values() for one in family.faults}

    assert drawn == {row.id for row in FAULTS}
    assert sum(len(family.faults) == 2 for family in FAMILIES.values()) >= 6


def test_what_a_family_is_meant_to_need_is_what_the_catalogue_holds_right():
    """Outside check: the rows' `right`; where a row lists a cure in passing, one of those."""
    for family in FAMILIES.values():
        if len(family.faults) == 1 and not family.near and not family.beside:
            right = fault(family.faults[0]).right or (Outcome.FIT,)
            assert family.meant <= set(right), family.name
    assert set(MEANT) == set(FAMILIES) >= {"in limits", "gap too large", "disc worn"}
    assert MEANT["gap too large"] == ADJUSTS


@given(st.sampled_from(sorted(FAMILIES)), any_.SIZES, any_.SEEDS, st.sampled_from(Depth))
def test_a_seed_draws_the_same_case_again(family, size, seed, depth):
    """Condition, order, notes and work order, to the last bit, at every depth it has."""
    if depth not in FAMILIES[family].depths:
        with pytest.raises(ValueError, match="cannot be asked"):
            draw_case(family, size, seed, depth)
        return
    case = draw_case(family, size, seed, depth)

    assert case == draw_case(family, size, seed, depth)
    assert case.depth is depth
    assert case.order.ends_at_decision == (depth is not Depth.WORK_ORDER)
    starts = {Depth.READING: Start.NOTES, Depth.BENCH: Start.OPEN}
    assert case.order.start is starts.get(depth, Start.WORK_ORDER)


_PRINT = """
import hashlib
from dataclasses import replace
from quizzes.cases.case import Depth
from quizzes.cases.drawing import draw_case
from quizzes.cases.families import FAMILIES
from widgets.brake.sizes.sheet import load_sheet
told = hashlib.sha256()
for family, kind in FAMILIES.items():
    depth = Depth.READING if Depth.READING in kind.depths else Depth.WORK_ORDER
    case = draw_case(family, load_sheet().sizes[2], bytes(range(16)), depth)
    marks = sorted(case.condition.marks)
    bare = replace(case.condition, marks=frozenset())
    told.update(repr((bare, marks, case.order, case.work_order, case.fingerprint)).encode())
print(told.hexdigest())
"""


def test_another_interpreter_draws_the_same_cases():
    """Whatever the order of its sets: hash seeds differ, cases do not."""
    said = {
        subprocess.run(
            [sys.executable, "-c", _PRINT],
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": "."},
            check=True,
            capture_output=True,
            text=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(said) == 1


@given(any_.SIZES, any_.SEEDS)
def test_the_work_order_gives_nothing_away(size, seed):
    """It is the same for every family that the seed draws, and so are duty and interval.

    Where the time to come decides, all families say the same of it; so do all that are hot, wet,
    worn too fast, said to slip, or that have two brakes. That a load hangs is told in any case:
    nobody could miss it; and a record says what it says.
    """
    hot, hangs = {"hot, in limits", "hot, gap too large"}, {"load that cannot be landed"}
    ahead = {name for name, family in FAMILIES.items() if family.ahead}
    pressed = {"pressed for time, in limits", "pressed for time, spring broken"}
    two, water, fast, slips = (
        {name for name in FAMILIES if name.startswith(words)}
        for words in ("two brakes", "water", "worn too fast", "said to slip")
    )
    told = hot | hangs | ahead | pressed | {n for n, family in FAMILIES.items() if family.beside}
    for names in (set(FAMILIES) - told, ahead, hot, pressed, two, water, fast, slips):
        drawn = [draw_case(family, size, seed) for family in names]

        assert len({(case.work_order, case.order) for case in drawn}) == 1


def test_a_case_does_not_print_what_is_hidden():
    """Neither condition, seed, faults nor distance appears when a case lands in a log."""
    case = draw_case("disc worn", any_.SHEET.sizes[0], bytes(16))

    for hidden in ("condition", "seed", "faults", "stratum", "dose_bin"):
        assert hidden not in repr(case)


@given(any_.SIZES, any_.SEEDS, st.integers(0, len(STRATA) - 1), st.integers(0, 3))
def test_a_bench_case_near_a_limit_lies_in_its_band(size, seed, stratum, number):
    """The true widest gap, in uncertainties of a competent reading, in the part that was asked.

    Waves of the faces (1.5 µm each) move the widest place by half an uncertainty at most.
    """
    part = Part(number, 4)
    case = draw_case("near the largest gap", size, seed, Depth.BENCH, stratum=stratum, part=part)
    band = STRATA[stratum]
    low = band.low + number / 4 * (band.high - band.low)
    u_mm = feeler.budget(0.01, leaves=2).combined
    distance = (size.gap.max_mm - truth(case)[0]) / u_mm

    assert low - 0.6 <= distance <= low + (band.high - band.low) / 4 + 0.6
    assert case.stratum == stratum


@given(any_.SIZES, any_.SEEDS, st.integers(0, len(STRATA) - 1))
def test_the_thinnest_disc_lies_in_its_band(size, seed, stratum):
    """To rounding, over a gap that is within its limits."""
    case = draw_case("near the least disc", size, seed, Depth.BENCH, stratum=stratum)
    widest_mm, _, disc_mm = truth(case)
    distance = (disc_mm - size.disc.min_mm) / caliper.budget().combined

    assert STRATA[stratum].low - 1e-6 <= distance <= STRATA[stratum].high + 1e-6
    assert widest_mm < size.gap.max_mm


@given(any_.SIZES, any_.SEEDS)
def test_a_wedge_is_under_its_least_though_its_mean_is_not(size, seed):
    """Its thin side lies within a hand's breadth of a usual place, clearly under the least."""
    disc = draw_case("taper", size, seed).condition.disc
    read_mm = [disc.at_mm(angle) for angle in (0.0, 90.0, 180.0, 270.0)]
    u_mm = caliper.budget().combined

    assert min(read_mm) < size.disc.min_mm - 3 * u_mm
    assert sum(read_mm) / 4 > size.disc.min_mm + 2 * u_mm


SMALL = complete(
    {
        "name": "Small",
        "torque_nm": 5.0,
        "gap_setting_mm": 0.15,
        "gap_max_mm": 0.35,
        "gap_evenness_mm": 0.05,
        "disc_new_mm": 6.0,
        "disc_min_mm": 4.5,
        "gauging_circle_mm": 72.0,
    }
)


@given(any_.SEEDS)
def test_on_a_small_circle_the_gap_over_a_wedge_is_even_till_the_shaft_turns(seed):
    """A leaf of 13 mm spans 21 degrees of it: it would read so steep a tilt as two lobes.

    0.25 mm of tilt falls by 0.25 x 6.5 / 36 = 0.045 mm under half a leaf, as much as evenness.
    """
    case = draw_case("taper", SMALL, seed, Depth.BENCH)
    widest_mm, narrowest_mm, disc_mm = truth(case)
    disc = case.condition.disc
    turned = gap_field(SMALL, case.condition, shaft_deg=180.0).plane

    assert disc.taper_mm * 6.5 / 36.0 > 0.6 * SMALL.gap.evenness_mm
    assert widest_mm - narrowest_mm < 0.2 * SMALL.gap.evenness_mm
    assert disc_mm < SMALL.disc.min_mm < disc.thickness_mm
    assert turned.tilt_mm == pytest.approx(2 * disc.taper_mm, rel=0.05)


@given(any_.SEEDS)
def test_on_a_large_circle_a_wedge_tilts_the_gap(seed):
    """Leaves tell it from a warp there, and the body was not tilted to suit it."""
    size = any_.SHEET.size("Cedar-47")
    case = draw_case("taper", size, seed, Depth.BENCH)
    widest_mm, narrowest_mm, _ = truth(case)

    assert widest_mm - narrowest_mm > size.gap.evenness_mm


def test_a_new_seal_goes_on_after_the_gap_was_measured():
    """What the catalogue orders can be done: under a seal band no leaf reaches the gap."""
    ordered = fault("seal-missing").do.lower()
    session = Session(
        draw_case("seal-missing", any_.SHEET.sizes[2], bytes(16), Depth.BENCH).setup()
    )
    leaf = do.GaugeGap(0.0, (0.05,))

    assert ordered.index("clean") < ordered.index("measure") < ordered.index("seal")
    assert session.act(leaf).done
    session.act(do.RefitSeal("new"))
    assert not session.act(leaf).done


def test_two_cases_are_the_same_only_in_family_size_band_and_part():
    """A fingerprint tells these four and nothing of the dice."""
    sizes = any_.SHEET.sizes
    base = draw_case("near the least disc", sizes[0], bytes(16), stratum=2, part=Part(0, BINS))
    again = draw_case(
        "near the least disc", sizes[0], bytes(range(16)), stratum=2, part=Part(0, BINS)
    )
    others = [
        draw_case("near the largest gap", sizes[0], bytes(16), stratum=2, part=Part(0, BINS)),
        draw_case("near the least disc", sizes[1], bytes(16), stratum=2, part=Part(0, BINS)),
        draw_case("near the least disc", sizes[0], bytes(16), stratum=3, part=Part(0, BINS)),
        draw_case("near the least disc", sizes[0], bytes(16), stratum=2, part=Part(3, BINS)),
    ]

    assert again.fingerprint == base.fingerprint
    assert len({base.fingerprint, *(case.fingerprint for case in others)}) == 5


def test_an_unknown_family_and_a_size_too_narrow_are_refused():
    """The second with the size and the reason."""
    row = {"gap_setting_mm": 0.3, "gap_max_mm": 0.32, "disc_min_mm": 9.0}
    with pytest.raises(KeyError):
        draw_case("on fire", any_.SHEET.sizes[0], bytes(16))
    with pytest.raises(ValueError, match="size Slim cannot carry a case 'in limits'"):
        draw_case("in limits", complete({"name": "Slim", **row}), bytes(16))


def test_a_fault_that_a_size_cannot_show_is_refused():
    """No wear plate, none missing; 0.2 mm of thread play over a least gap that is 0.3 mm lower."""
    row = {"name": "Odd", "gap_setting_mm": 0.6, "gap_min_mm": 0.3, "gap_max_mm": 1.2}
    more = {"disc_min_mm": 9.0, "gap_evenness_mm": 0.2, "wear_plate_mm": 0.0}
    size = complete(row | more)

    with pytest.raises(
        ValueError, match=r"size Odd cannot .* 'wear-plate-missing': .* no wear plate"
    ):
        draw_case("wear-plate-missing", size, bytes(16))
    with pytest.raises(
        ValueError, match=r"size Odd cannot .* 'not-remeasured': .* within its limits"
    ):
        draw_case("not-remeasured", size, bytes(16))
    assert set(FAMILIES) - set(carried(tuple(FAMILIES), [size])) == {
        "wear-plate-missing", "not-remeasured",
    }  # fmt: skip


@given(KEYS, st.integers(-1, 20))
def test_a_case_seed_is_an_hmac_of_form_and_slot(key, slot):
    """Outside check: FIPS 198-1 HMAC as Python's hmac has it, 256 bits."""
    message = f"gap-and-lining case 1\nf/1\n{slot}".encode()
    assert case_seed(key, "f/1", slot) == hmac.digest(key, message, hashlib.sha256)


def test_a_short_key_is_refused():
    """Fifteen bytes could be guessed sooner."""
    with pytest.raises(ValueError, match="16 bytes or more, got 15"):
        case_seed(bytes(15), "f", 0)


def test_practice_keeps_to_the_size_asked_for():
    """Many families on the named size; an unknown size is refused."""
    drawn = [draw_practice(any_.SHEET, n.to_bytes(16), "Birch-23") for n in range(100)]

    assert {case.size.name for case in drawn} == {"Birch-23"}
    assert len({case.family for case in drawn}) > len(FAMILIES) / 2
    assert len({draw_practice(any_.SHEET, n.to_bytes(16)).size.name for n in range(60)}) == 5
    with pytest.raises(KeyError):
        draw_practice(any_.SHEET, bytes(16), "Birch-24")


@pytest.mark.parametrize("start", [Start.WORK_ORDER, Start.OPEN])
def test_practice_begins_where_it_is_to(start):
    """Setting one out never fails; where the body is open, nobody says that a load hangs."""
    drawn = [draw_practice(any_.SHEET, n.to_bytes(16), None, start) for n in range(400)]
    hanging = [case.family for case in drawn if case.order.load_hangs]

    assert {case.order.start for case in drawn} == {start}
    assert bool(hanging) == (start is Start.WORK_ORDER)


@pytest.mark.parametrize("size", four_designs().sizes, ids=lambda size: size.design.value)
def test_a_drill_can_be_drawn_on_every_design(size):
    """A gap that cannot be set leaves fewer kinds of drill, and always one."""
    drawn = {draw_drill(four_designs(), n.to_bytes(16), size.name).family for n in range(40)}

    assert len(drawn) >= (3 if size.design.adjusts else 1)


@given(any_.SEEDS)
def test_a_drill_begins_with_the_body_off_and_ends_with_a_new_disc(seed):
    """The careful one is never refused more than a few things, and hands it back to work."""
    case = draw_drill(any_.SHEET, seed)
    session = any_.worked(case)
    refused = [event for event in session.events if not event.observation["done"]]

    assert case.order.start is Start.BODY_OFF
    assert session.state.disc_part == case.size.name
    assert session.state.into_service
    assert len(refused) <= 3

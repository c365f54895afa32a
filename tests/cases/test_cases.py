"""Cases: drawn from a seed, the same every time, and of the kind their family says."""

import hashlib
import hmac

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quizzes.cases.candidates import HABITS
from quizzes.cases.case import Case, case_seed
from quizzes.cases.families import FAMILIES, MEANT, draw_case
from quizzes.cases.forms import FORMS, THREE_CASES, draw_form, draw_practice
from tests import strategies as any_
from widgets.bench.session import Session
from widgets.bench.standing import gap_now

KEYS = st.binary(min_size=16, max_size=64)


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


@given(st.sampled_from(sorted(FAMILIES)), any_.SIZES, any_.SEEDS)
def test_a_seed_draws_the_same_case_again(family, size, seed):
    """Condition and work order, to the last bit."""
    assert draw_case(family, size, seed) == draw_case(family, size, seed)


@given(any_.SIZES, any_.SEEDS)
def test_the_work_order_gives_nothing_away(size, seed):
    """It is the same for every family that the seed draws."""
    assert len({draw_case(family, size, seed).work_order for family in FAMILIES}) == 1


def test_a_case_does_not_print_what_is_hidden():
    """Neither condition nor seed appears when a case lands in a log."""
    case = draw_case("disc worn", any_.SHEET.sizes[0], bytes(16))

    assert "condition" not in repr(case)
    assert "seed" not in repr(case)


def test_every_family_has_its_meaning():
    """The three of the scheme and no other."""
    assert set(MEANT) == set(FAMILIES) >= {"in limits", "gap too large", "disc worn"}


def test_an_unknown_family_and_a_size_too_narrow_are_refused(tmp_path):
    """The second with the size and the reason."""
    from widgets.brake.sheet import load_sheet

    path = tmp_path / "narrow.toml"
    path.write_text(
        'title = "Narrow"\n[[size]]\nname = "Slim"\n'
        "gap_setting_mm = 0.3\ngap_max_mm = 0.32\ndisc_min_mm = 9.0\n"
    )
    with pytest.raises(KeyError):
        draw_case("on fire", any_.SHEET.sizes[0], bytes(16))
    with pytest.raises(ValueError, match="size Slim cannot carry a case 'in limits'"):
        draw_case("in limits", load_sheet(path).sizes[0], bytes(16))


@given(KEYS, st.integers(-1, 20))
def test_a_case_seed_is_an_hmac_of_form_and_slot(key, slot):
    """Outside check: FIPS 198-1 HMAC as Python's hmac has it, 256 bits."""
    message = f"gap-and-lining case 1\nf/1\n{slot}".encode()
    assert case_seed(key, "f/1", slot) == hmac.digest(key, message, hashlib.sha256)


def test_a_short_key_is_refused():
    """Fifteen bytes could be guessed sooner."""
    with pytest.raises(ValueError, match="16 bytes or more, got 15"):
        case_seed(bytes(15), "f", 0)


@settings(max_examples=40)
@given(KEYS)
def test_a_form_holds_one_case_of_each_of_its_families(key):
    """On different sizes while there are enough, the same for the same key."""
    drawn = draw_form(THREE_CASES, any_.SHEET, key)

    assert sorted(case.family for case in drawn) == sorted(THREE_CASES.families)
    assert len({case.size.name for case in drawn}) == len(drawn)
    assert len({case.seed for case in drawn}) == len(drawn)
    assert draw_form(THREE_CASES, any_.SHEET, key) == drawn


def test_another_key_is_another_sitting():
    """Of 60 sittings all are different, and every order of families comes up."""
    drawn = [draw_form(THREE_CASES, any_.SHEET, number.to_bytes(16)) for number in range(60)]

    assert len({tuple(case.seed for case in one) for one in drawn}) == 60
    assert len({tuple(case.family for case in one) for one in drawn}) == 6
    assert FORMS[THREE_CASES.id] is THREE_CASES


def test_practice_keeps_to_the_size_asked_for():
    """Any family on the named size; an unknown size is refused."""
    drawn = [draw_practice(any_.SHEET, n.to_bytes(16), "Birch-23") for n in range(40)]

    assert {case.size.name for case in drawn} == {"Birch-23"}
    assert {case.family for case in drawn} == set(FAMILIES)
    assert len({draw_practice(any_.SHEET, n.to_bytes(16)).size.name for n in range(60)}) == 5
    with pytest.raises(KeyError):
        draw_practice(any_.SHEET, bytes(16), "Birch-24")


@pytest.mark.parametrize("habit", HABITS)
@pytest.mark.parametrize("family", FAMILIES)
def test_every_candidate_finishes_every_family(habit, family):
    """On every size the job ends in a signed record, within 2000 acts."""
    for size in any_.SHEET.sizes:
        session = any_.worked(draw_case(family, size, bytes(range(16))), habit)

        assert session.state.handed_over
        assert len(session.events) < 2000

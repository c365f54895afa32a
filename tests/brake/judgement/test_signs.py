"""Signs: what a thing noticed points to, and what readings and signs together ask for."""

from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import strategies as any_
from widgets.bench.actions import fields
from widgets.bench.symptoms import SYMPTOMS
from widgets.brake.faults import FAULTS, fault
from widgets.brake.judgement import signs
from widgets.brake.judgement.rules import Outcome, Reading, conclude
from widgets.brake.judgement.signs import (
    SYMPTOM_SIGNS,
    Finding,
    Sign,
    conclude_all,
    signs_of_symptoms,
)
from widgets.brake.judgement.words import FINDINGS
from widgets.brake.magnet.coil import coil_resistance_ohm

CEDAR = any_.SHEET.size("Cedar-47")
GRAVITY = [Outcome.FIT, Outcome.ADJUST, Outcome.REPLACE, Outcome.REFER]


def gaps(mm: float, u_mm: float = 0.009) -> list[Reading]:
    return [Reading(45.0 * place, mm, u_mm) for place in range(8)]


def discs(mm: float) -> list[Reading]:
    return [Reading(90.0 * place, mm, 0.03) for place in range(4)]


GOOD = (gaps(0.5), discs(10.5))
ANY_SIGNS = st.lists(st.sampled_from(sorted(SYMPTOM_SIGNS)), max_size=4).map(signs_of_symptoms)


def test_the_findings_of_the_bench_are_those_of_the_signs():
    """What a decision may name is what a sign may point to: codes, each with its words."""
    assert set(get_args(fields.Finding)) == {finding.value for finding in Finding} == set(FINDINGS)
    assert not [finding for finding in Finding if " " in finding]


def test_every_sign_belongs_to_a_symptom():
    """No sign for what nobody can see."""
    assert set(SYMPTOM_SIGNS) <= {symptom.code for symptom in SYMPTOMS}


# Common practice, no source: the fault catalogue, and which of its faults let a load fall when
# the brake is passed as it is. A loose retaining screw is critical among the trainee errors.
CRITICAL = (11, 12, 13, 14, 15, 16, 18, 19, 21, 24, 26, 27, 29, 5)
NOT_CRITICAL = (17, 20, 22, 23, 25, 28, 30)
CODES = {symptom.code for symptom in SYMPTOMS}


@pytest.mark.parametrize("row", FAULTS, ids=lambda row: row.id)
def test_a_sign_is_dangerous_where_its_fault_lets_a_load_fall(row):
    """The marks of each fault, by the catalogue; marks that say nothing by themselves apart."""
    codes = [mark for mark in row.marks if mark in CODES]
    asking = [sign for sign in signs_of_symptoms(codes) if sign.needs is not None]
    for sign in asking:
        assert sign.dangerous is (row.number in CRITICAL), sign
    if asking:
        assert row.number in (*CRITICAL, *NOT_CRITICAL)


@pytest.mark.parametrize("row", FAULTS, ids=lambda row: row.id)
def test_a_sign_asks_for_what_the_catalogue_calls_right(row):
    """On a brake whose gap and disc are good, by the marks of the fault alone."""
    codes = [mark for mark in row.marks if mark in CODES]
    found = signs_of_symptoms(codes)
    if not any(sign.needs for sign in found):
        return
    concluded = conclude_all(CEDAR, *GOOD, found)

    assert concluded.outcome in {*row.right, *concluded.arguable}
    assert concluded.outcome in row.right or row.id == "oiled"
    assert (Outcome.FIT in row.critical) <= (Outcome.FIT in concluded.unsafe)


def test_while_the_oil_still_comes_a_new_disc_is_wrong():
    """The leak first, by whoever may; a new disc in the same oil is oiled within the week.

    Common practice, no source.
    """
    found = conclude_all(CEDAR, *GOOD, signs_of_symptoms(["wet-trace", "dark-shiny-edge"]))

    assert found.outcome is Outcome.REFER
    assert found.arguable == frozenset()


def test_a_new_disc_cannot_be_argued_when_a_spring_is_broken_too():
    """What one sign grants, another takes away."""
    found = conclude_all(CEDAR, *GOOD, signs_of_symptoms(["wet-trace", "spring-splinter"]))

    assert found.outcome is Outcome.REFER
    assert found.arguable == frozenset()


def test_a_loose_screw_on_a_wide_gap_may_still_be_referred():
    """Adjust and lock, or refer if the thread is spoilt: row 5 of the catalogue."""
    found = conclude_all(CEDAR, gaps(0.95), discs(10.5), signs_of_symptoms(["screw-turns-by-hand"]))

    assert found.outcome is Outcome.ADJUST
    assert Outcome.REFER in found.arguable
    assert set(fault("screw-not-locked").right) == {Outcome.ADJUST, Outcome.REFER}


def test_a_missing_seal_changes_nothing_of_the_conclusion():
    """It is put right in passing; gap and disc decide."""
    found = conclude_all(CEDAR, *GOOD, signs_of_symptoms(["seal-missing"]))

    assert found.outcome is conclude(CEDAR, *GOOD).outcome is Outcome.FIT


def test_nobody_has_to_gauge_a_brake_with_a_broken_spring():
    """A sign that refers is enough without a reading; one that asks for a disc is not."""
    assert conclude_all(CEDAR, [], [], signs_of_symptoms(["spring-splinter"])).outcome == "refer"
    assert conclude_all(CEDAR, [], [], signs_of_symptoms(["glassy-brown-edge"])).outcome is None


@given(gap=st.floats(0.1, 1.2), disc=st.floats(8.0, 11.0), found=ANY_SIGNS, more=ANY_SIGNS)
def test_one_sign_more_never_makes_a_brake_better(gap, disc, found, more):
    """The gravest counts, so the conclusion never gets lighter, nor a decision safer."""
    few = conclude_all(CEDAR, gaps(gap), discs(disc), found)
    many = conclude_all(CEDAR, gaps(gap), discs(disc), (*found, *more))

    assert GRAVITY.index(many.outcome) >= GRAVITY.index(few.outcome)
    assert many.unsafe >= few.unsafe


@given(found=ANY_SIGNS)
def test_the_conclusion_is_never_among_what_could_be_argued_beside_it(found):
    """Nor is passing it, when a sign asks for something."""
    concluded = conclude_all(CEDAR, *GOOD, found)

    assert concluded.outcome not in concluded.arguable
    if any(sign.needs for sign in found):
        assert Outcome.FIT not in concluded.arguable


@pytest.mark.parametrize(
    ("share", "dangerous"), [(1.0, None), (1.05, None), (0.95, None), (1.15, True), (0.8, False)]
)
def test_a_coil_is_judged_against_copper_at_its_temperature(share, dangerous):
    """IEC 60028: 0.393 % a kelvin, here 60 °C. Too much may not hold off; too little burns out."""
    warm_ohm = CEDAR.coil.resistance_20_ohm * (1 + 0.00393 * 40)
    sign = signs.coil_sign(CEDAR, share * warm_ohm, 60.0)

    assert coil_resistance_ohm(CEDAR.coil, 60.0) == pytest.approx(warm_ohm, rel=1e-9)
    assert (sign.dangerous if sign else None) is dangerous


def test_an_open_coil_and_poor_insulation_are_referred():
    """At least 1 MΩ at 500 V: IEC 60204-1 clause 18.3, from memory."""
    assert signs.coil_sign(CEDAR, None, 20.0).needs is Outcome.REFER
    assert signs.insulation_sign(0.99).needs is Outcome.REFER
    assert signs.insulation_sign(1.0) is None


def test_half_the_voltage_is_the_rectifier():
    """One open diode of a bridge leaves half: 90 V of 180 V."""
    assert signs.supply_sign(CEDAR, 90.0).finding is Finding.RECTIFIER
    assert signs.supply_sign(CEDAR, 178.0) is None


@pytest.mark.parametrize(
    "bad", [lambda: signs.coil_sign(CEDAR, -1.0, 20.0), lambda: signs.insulation_sign(-0.1)]
)
def test_a_reading_that_cannot_be_is_refused(bad):
    """In a sentence with the allowed range."""
    with pytest.raises(ValueError, match="must be"):
        bad()


def test_findings_are_named_once_in_order():
    """Two signs of one thing are one finding."""
    found = signs_of_symptoms(["rust-red-dust", "wet-trace", "disc-rocks"])

    assert signs.findings_of(found) == (Finding.SPLINE, Finding.OIL)
    assert all(isinstance(sign, Sign) for sign in found)

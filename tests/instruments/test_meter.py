"""The multimeter and the insulation tester at the coil."""

import math
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from widgets.brake.draws import Draws
from widgets.instruments.meter import (
    COUNTS,
    OHM_SCALES,
    VOLT_SCALES,
    InsulationReading,
    Meter,
    insulation_budget,
    meter,
    ohm_budget,
    read_insulation,
    step_of,
    volt_budget,
)

DRAWS = Draws(bytes(range(32)))
MANY = 10_000  # a standard deviation of so many has a standard error of 0.7 %; four are allowed
SPREAD = 0.028


def scatter(read, true):
    errors = []
    for number in range(MANY):
        draws = DRAWS.child("budget", number)
        here = true * (0.98 + 0.04 * draws.uniform("true"))
        errors.append(read(draws, here) - here)
    return statistics.pstdev(errors)


@pytest.mark.parametrize("ohm", [21.3, 300.0, 623.0, 5000.0])
def test_resistances_scatter_as_the_budget_says(ohm):
    """With the leads nulled, at four coils."""
    got = scatter(lambda draws, true: meter(draws).nulled().read_ohm(true, draws), ohm)

    assert got == pytest.approx(ohm_budget(ohm).combined, rel=SPREAD)


def test_leads_not_nulled_scatter_as_the_budget_says():
    """With 0.2 ohm taken off by hand, at a coil of 21.3 ohm."""
    got = scatter(lambda draws, true: meter(draws).read_ohm(true, draws) - 0.2, 21.3)

    assert got == pytest.approx(ohm_budget(21.3, leads_nulled=False).combined, rel=SPREAD)


@pytest.mark.parametrize("volt", [24.0, 104.0, 180.0])
def test_voltages_scatter_as_the_budget_says(volt):
    """At three coil voltages."""
    got = scatter(lambda draws, true: meter(draws).read_volt(true, draws), volt)

    assert got == pytest.approx(volt_budget(volt).combined, rel=SPREAD)


@pytest.mark.parametrize("mohm", [3.0, 40.0])
def test_insulation_scatters_as_the_budget_says(mohm):
    """Below and above 10 megohm, where the step of the display changes."""
    got = scatter(lambda draws, true: read_insulation(true, draws).resistance_mohm, mohm)

    assert got == pytest.approx(insulation_budget(mohm).combined, rel=SPREAD)


@given(st.floats(0, 6e6))
def test_a_resistance_is_read_within_its_accuracy(ohm):
    """Gain 0.9 %, two digits and a half, leads and contact: no reading is further off."""
    shown = Meter(gain_share=1.0).read_ohm(ohm, DRAWS, "a")

    step = step_of(min(ohm * 1.01 + 0.3, 6e6), OHM_SCALES)
    assert shown is None or abs(shown - ohm) <= 0.009 * ohm + 2.5 * step + 0.25
    assert shown is not None or ohm > 5.9e6


def test_leads_add_to_a_small_resistance_until_they_are_nulled():
    """Leads of 0.3 ohm on a short circuit are shown, then taken off."""
    leads = Meter(leads_ohm=0.3)
    before = [leads.read_ohm(0.0, DRAWS, i) for i in range(20)]
    after = [leads.nulled().read_ohm(0.0, DRAWS, i) for i in range(20)]

    assert all(0.05 <= shown <= 0.55 for shown in before)
    assert statistics.fmean(after) < 0.12
    assert leads.nulled().nulled_ohm == pytest.approx(0.3)


def test_a_broken_coil_is_over_the_scale():
    """An open circuit shows no number."""
    assert Meter().read_ohm(math.inf, DRAWS) is None
    assert Meter().read_ohm(7e6, DRAWS) is None
    assert Meter().read_volt(1200.0, DRAWS) is None


def test_a_dead_coil_reads_a_digit_or_two():
    """Zero volt is shown as zero within the digits, of either sign."""
    shown = {Meter().read_volt(0.0, DRAWS, i) for i in range(100)}

    assert max(map(abs, shown)) <= 0.002
    assert len(shown) > 1


def test_voltages_have_a_sign():
    """Leads the wrong way round read minus."""
    assert Meter().read_volt(-180.0, DRAWS) == pytest.approx(-180.0, abs=0.3)


@given(st.floats(-1000, 1000))
def test_the_scale_is_the_lowest_that_holds_the_value(volt):
    """A step is the full scale over the counts, and the next lower scale is too small."""
    step = step_of(volt, VOLT_SCALES)
    lower = [top for top in VOLT_SCALES if top < step * COUNTS * (1 - 1e-9)]

    assert abs(volt) <= step * COUNTS * (1 + 1e-9)
    assert all(abs(volt) > top for top in lower)


@pytest.mark.parametrize(
    ("reading", "good"),
    [
        (InsulationReading(1.0, is_over_scale=False), True),
        (InsulationReading(0.99, is_over_scale=False), False),
        (InsulationReading(550.0, is_over_scale=True), True),
        (InsulationReading(50.0, is_over_scale=False, test_voltage_v=9.0), False),
    ],
)
def test_insulation_wants_one_megohm_at_five_hundred_volts(reading, good):
    """IEC 60204-1 clause 18.3, from memory; a multimeter's 9 V proves nothing."""
    assert reading.is_good is good


def test_sound_insulation_is_over_the_scale():
    """A clean coil reads "more than 550"."""
    assert read_insulation(math.inf, DRAWS) == InsulationReading(550.0, is_over_scale=True)
    assert read_insulation(2000.0, DRAWS).is_over_scale
    assert read_insulation(0.0, DRAWS).resistance_mohm == 0.0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: Meter().read_ohm(-1.0, DRAWS), "resistance_ohm must be >= 0"),
        (lambda: Meter().read_ohm(math.nan, DRAWS), "resistance_ohm must be >= 0"),
        (lambda: Meter().read_volt(math.inf, DRAWS), "voltage_v must be a finite number"),
        (lambda: Meter(gain_share=1.5), "gain_share must be >= -1"),
        (lambda: Meter(leads_ohm=-0.1), "leads_ohm must be >= 0"),
        (lambda: read_insulation(-1.0, DRAWS), "insulation_mohm must be >= 0"),
        (lambda: read_insulation(math.nan, DRAWS), "insulation_mohm must be >= 0"),
        (lambda: ohm_budget(-1.0), "resistance_ohm must be >= 0"),
        (lambda: volt_budget(2000.0), "voltage_v must be"),
        (lambda: insulation_budget(0.0), "insulation_mohm must be > 0"),
    ],
)
def test_impossible_input_is_refused_by_name(call, words):
    """The sentence names the argument and what it may be."""
    with pytest.raises(ValueError, match=words):
        call()

"""What is found by eye, ear, meter and lever follows from the brake, and every fault shows somewhere."""

from dataclasses import replace

import pytest

from tests import strategies as any_
from widgets.bench import actions as do
from widgets.bench.machine import HANDLERS, Bench
from widgets.bench.setup import Order, Start
from widgets.bench.symptoms import SYMPTOMS
from widgets.bench.words import LOOKS, said
from widgets.brake.condition import sound_condition
from widgets.brake.faults import FAULTS, apply, fault
from widgets.brake.gap.profile import Plane
from widgets.brake.judgement.signs import SYMPTOM_SIGNS, conclude_all, signs_of_symptoms
from widgets.instruments.steel_rule import budget as rule_budget

SEED = bytes(range(16))
CEDAR = any_.SHEET.size("Cedar-47")
SAFE = (do.LandLoad(), do.Isolate(), do.IsolateSecond(), do.OpenBox(), do.ProveDead())
# Faults that only a leaf, a caliper or a meter can tell: nothing shows to the eye.
BY_INSTRUMENT = {"gap-at-limit", "not-remeasured", "warped", "clamp-distortion"}


def looked(condition, size=CEDAR) -> set[str]:
    """Return every symptom of a brake that is opened and looked at all over."""
    one = Bench(size, condition, SEED)
    places = [place for place in LOOKS if place not in {"faces", "new_disc"}]
    steps = [do.Look(at="running"), do.Look(at="outside"), *SAFE, *any_.OPENED]
    steps += [do.Look(at=place) for place in places if place not in {"running", "outside"}]
    return {
        code for seen in one.replay(steps) if seen.done for code in seen.facts.get("symptoms", [])
    }


@pytest.mark.parametrize("size", any_.SHEET.sizes, ids=lambda size: size.name)
def test_a_sound_brake_shows_nothing_but_dust(size):
    """No symptom without a cause."""
    assert looked(sound_condition(size), size) <= {"dust"}


def test_a_run_says_what_is_on_the_hook_and_what_is_heard():
    """No empty hook while the load hangs; a run without a finding is described, not judged."""
    bench = Bench(CEDAR, sound_condition(CEDAR), SEED)
    loaded, _, empty = bench.replay([do.Look(at="running"), do.LandLoad(), do.Look(at="running")])

    assert "with the load on the hook" in said(loaded)
    assert said(empty).startswith("Up, down, stop, with the hook empty. It lifts at once.")


@pytest.mark.parametrize("size", any_.SHEET.sizes, ids=lambda size: size.name)
@pytest.mark.parametrize("row", FAULTS, ids=lambda row: row.id)
def test_every_fault_that_has_a_mark_can_be_seen_somewhere(row, size):
    """Outside check: the marks of the fault catalogue. Common practice, no source."""
    symptoms = looked(apply(row, size, sound_condition(size)), size)

    assert bool(symptoms) is (row.id not in BY_INSTRUMENT)


@pytest.mark.parametrize("row", FAULTS, ids=lambda row: row.id)
def test_what_is_seen_asks_for_nothing_that_the_catalogue_calls_wrong(row):
    """Outside check: the `right` column of the fault catalogue. Common practice, no source."""
    signs = signs_of_symptoms(looked(apply(row, CEDAR, sound_condition(CEDAR))))
    asked = {sign.needs for sign in signs if sign.needs} - {None}

    assert asked <= set(row.right)


def test_every_sign_belongs_to_a_symptom():
    """No sign waits for a symptom that nobody can have."""
    assert set(SYMPTOM_SIGNS) <= {symptom.code for symptom in SYMPTOMS}


def test_the_gravest_sign_counts():
    """Oil and a broken spring: refer. Source: order of precedence, common practice."""
    found = conclude_all(CEDAR, [], [], signs_of_symptoms(["glassy-brown-edge", "spring-splinter"]))

    assert found.outcome == "refer"


def test_a_second_feed_is_found_by_the_tester_and_ends_with_its_lock():
    """Isolated at the main switch the direct side is still live; nothing enters the gap."""
    live = apply(fault("measured-live"), CEDAR, sound_condition(CEDAR))
    one = Bench(CEDAR, live, SEED)
    one.replay([do.LandLoad(), do.Isolate(), do.OpenBox()])
    first = one.act(do.ProveDead())
    proved = one.state.proved_dead
    one.replay([do.IsolateSecond(), do.ProveDead(), *any_.OPENED])

    assert (first.facts["dc_live"], proved) == (True, False)
    assert one.state.proved_dead
    assert one.act(do.GaugeGap(angle_deg=0.0, leaves_mm=(0.2,))).facts["feel"] != "will-not-enter"


@pytest.mark.parametrize(
    ("fault_id", "low", "high"),
    [("coil-high-or-open", 1.10, 1.25), ("coil-shorted-turns", 0.75, 0.85), (None, 0.98, 1.02)],
)
def test_the_meter_shows_the_copper_that_is_there(fault_id, low, high):
    """Outside check: 623 ohm at 20 °C by the sheet, IEC 60028 copper; a fault changes its share."""
    sound = sound_condition(CEDAR)
    one = Bench(CEDAR, apply(fault(fault_id), CEDAR, sound) if fault_id else sound, SEED)
    one.replay([*SAFE, do.RemoveCover()])
    ohm = one.act(do.MeasureCoil(what="resistance"))

    assert low < ohm.facts["shown_ohm"] / 623 < high


def test_half_a_bridge_gives_half_the_voltage():
    """Outside check: one open diode passes every other half wave, 90 of 180 V (B3 of the physics)."""
    half = apply(fault("rectifier-half"), CEDAR, sound_condition(CEDAR))
    one = Bench(CEDAR, half, SEED, Order(start=Start.OPEN))
    one.replay([do.RestoreSupply(), do.Energise()])

    assert one.act(do.MeasureCoil(what="voltage")).facts["shown_v"] == pytest.approx(90, rel=0.02)


def test_ohms_across_a_live_coil_raise_an_alarm():
    """The supply is on: a flash, and it is on the record."""
    one = Bench(CEDAR, sound_condition(CEDAR), SEED)
    one.replay([do.LandLoad(), do.Isolate(), do.OpenBox(), do.RestoreSupply()])

    assert one.act(do.MeasureCoil(what="resistance")).alarm


def test_fewer_springs_are_drawn_in_at_less_voltage():
    """Outside check: the fault catalogue gives about 6 % less for one of eight."""
    shares = []
    for condition in (
        sound_condition(CEDAR),
        apply(fault("spring-broken"), CEDAR, sound_condition(CEDAR)),
    ):
        one = Bench(CEDAR, condition, SEED)
        one.replay([*SAFE, do.RemoveCover()])
        shares.append(one.act(do.FindRelease()).facts["percent"])

    assert 0.88 < shares[1] / shares[0] < 0.98


def test_the_words_of_a_scale_do_not_say_the_number():
    """The person reads it."""
    one = Bench(CEDAR, sound_condition(CEDAR), SEED, Order(start=Start.OPEN))
    for tool in ("caliper", "rule"):
        seen = one.act(do.MeasureDisc(angle_deg=90.0, tool=tool))
        assert f"{seen.facts['shown_mm']:.2f}" not in said(seen)
        assert f"{seen.facts['shown_mm']:.1f}" not in said(seen)


def test_a_rule_is_too_coarse_for_a_disc():
    """Its readings scatter more than ten times as much as those of the caliper (B7: U 0.42 to 0.06)."""
    spread = {}
    for tool in ("caliper", "rule"):
        one = Bench(CEDAR, sound_condition(CEDAR), SEED, Order(start=Start.OPEN))
        shown = [
            one.act(do.MeasureDisc(angle_deg=0.0, tool=tool)).facts["shown_mm"] for _ in range(60)
        ]
        spread[tool] = max(shown) - min(shown)

    assert spread["rule"] > 3 * spread["caliper"]
    assert rule_budget().combined > 5 * 0.03


def test_a_forced_leaf_reads_the_gap_too_wide():
    """A stack that will not go softly goes with force."""
    feels = []
    for hand in ("soft", "forced"):
        one = Bench(CEDAR, sound_condition(CEDAR, gap=Plane(0.40)), SEED, Order(start=Start.OPEN))
        leaf = do.GaugeGap(angle_deg=0.0, leaves_mm=(0.35, 0.07), hand=hand)
        feels.append(one.act(leaf).facts["feel"])

    assert feels[0] == "will-not-enter"
    assert feels[1] != "will-not-enter"


def test_a_lever_set_tight_takes_force_and_set_again_gives_it_back():
    """Outside check: the catalogue's third of the torque, for 0.1 mm of over-travel."""
    from widgets.bench.handlers.proving import holding_ratio_now

    tight = apply(fault("lever-tight"), CEDAR, sound_condition(CEDAR))
    one = Bench(CEDAR, tight, SEED, Order(start=Start.OPEN))
    before = one.act(do.WorkLever())
    held = holding_ratio_now(one.setup, one.state)
    one.act(do.SetLever(play_mm=1.0))

    assert before.facts["play"] == "none"
    assert one.act(do.WorkLever()).facts["play"] == "some"
    assert 1.2 < holding_ratio_now(one.setup, one.state) / held < 1.7


def test_a_struck_line_stays_and_cannot_be_struck_twice():
    """Nothing is rubbed out."""
    one = Bench(CEDAR, sound_condition(CEDAR), SEED, Order(start=Start.OPEN))
    one.act(do.WriteDisc(angle_deg=0.0, value_mm=9.0))
    first, again = (one.act(do.StrikeOut(sheet="disc", line=0)) for _ in range(2))

    assert (first.done, again.done) == (True, False)
    assert [(note.value_mm, note.struck) for note in one.state.disc_notes] == [(9.0, True)]


def test_running_the_hoist_with_its_fan_open_is_an_accident():
    """The cover goes on first."""
    one = Bench(CEDAR, sound_condition(CEDAR), SEED)
    one.replay([do.LandLoad(), do.RemoveCover()])

    assert one.act(do.Look(at="running")).alarm


def test_time_passes_with_the_work_and_not_with_a_refusal():
    """Seconds of the actions that were carried out, summed."""
    one = Bench(CEDAR, sound_condition(CEDAR), SEED)
    one.replay([do.LandLoad(), do.RemoveFan(), do.Isolate()])

    assert one.state.elapsed_s == HANDLERS["land_load"][1] + HANDLERS["isolate"][1]
    assert replace(one.setup.order).most_days > 0

"""Taking the brake apart and putting it together: what each order and each way round leads to."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import strategies as any_
from widgets.bench import actions as do
from widgets.bench.handlers.assembling import COLLAR_PROUD_MM, HEADS_PROUD_MM
from widgets.bench.handlers.proving import holding_ratio_now
from widgets.bench.machine import Bench
from widgets.bench.scene import scene
from widgets.bench.setup import Order, Start
from widgets.bench.standing import gap_now
from widgets.brake.condition import Disc, sound_condition
from widgets.brake.faults import apply, fault
from widgets.brake.gap.profile import Plane

SEED = bytes(range(16))
CEDAR = any_.SHEET.size("Cedar-47")
SAFE = (do.LandLoad(), do.Isolate(), do.OpenBox(), do.ProveDead())
SCREWS = (1, 2, 3)
WORN = Disc(9.2)


def bench(condition=None, start=Start.BODY_OFF, size=CEDAR) -> Bench:
    sound = sound_condition(size, gap=Plane(0.5), disc=WORN)
    return Bench(size, condition or sound, SEED, Order(start=start))


def put_together(
    one: Bench,
    *,
    part="Cedar-47",
    turned=False,
    plate=True,
    out_deg=0.0,
    first=1,
    held=True,
    side="dc",
):
    """Fit disc, body, screws, set them out and lock them in two stages; return what was seen."""
    torque = one.setup.size.screws.retaining_torque_nm
    starts = (first, *(screw for screw in SCREWS if screw != first))
    steps = [
        do.RemoveDisc(),
        *([] if plate else [do.RemoveWearPlate()]),
        do.CleanSpline(),
        do.FitDisc(part=part, reversed=turned),
        do.FitBody(),
        *([do.HoldBody()] if held else []),
        *(do.StartLock(screw=screw) for screw in starts),
        *(do.TurnScrew(screw=screw, turn_deg=out_deg) for screw in SCREWS if out_deg),
        *(do.TightenLock(screw=screw, torque_nm=torque / 2) for screw in SCREWS),
        *(do.TightenLock(screw=screw, torque_nm=torque) for screw in SCREWS),
        do.ConnectLeads(side=side),
    ]
    return [one.act(step) for step in steps]


def mean_gap_mm(one: Bench) -> float:
    return gap_now(one.setup, one.state).plane.mean_mm


def turn_for_deg(change_mm: float, size=CEDAR) -> float:
    return 360 * change_mm / size.screws.pitch_mm


# ---- in order ----


def test_a_new_disc_fitted_in_order_leaves_a_brake_that_holds_and_lets_go():
    """The whole replacement by hand: nothing refused, then release, free shaft, bedding, test load."""
    one = bench()
    seen = put_together(one, out_deg=turn_for_deg(1.8 - 0.2))
    assert [each.code for each in seen if not each.done] == []
    one.replay([do.RefitLever(), do.RestoreSupply()])
    released = one.act(do.Energise()).facts["released"]
    turns = one.act(do.TurnShaft(turn_deg=180.0)).facts["turns"]
    one.replay([do.DeEnergise(), do.BedIn()])

    assert (released, turns) == (True, "freely")
    assert one.state.brake.surface == "bedded"
    assert one.act(do.TestHold()).facts["holds"] is True


def test_a_new_disc_is_thicker_by_what_the_old_one_had_worn():
    """The gap closes by the thickness gained: 11.0 for 9.2 mm, within the scatter of new discs."""
    one = bench()
    before_mm = one.state.brake.disc.thickness_mm
    put_together(one, out_deg=turn_for_deg(2.0))

    assert one.state.brake.disc.thickness_mm - before_mm == pytest.approx(1.8, abs=0.1)


def test_with_the_screws_left_as_they_were_the_body_goes_solid_on_a_new_disc():
    """There is no room: locking is refused in words that say where to turn."""
    one = bench()
    seen = put_together(one)
    refusals = [each.code for each in seen if not each.done]

    assert len(refusals) == 6
    assert set(refusals) == {"lock.solid"}


@given(any_.SIZES)
def test_taken_off_and_put_back_nothing_has_changed(size):
    """The old disc goes back on: the gap is the one before, but for the scatter of thread play."""
    sound = sound_condition(size, gap=Plane(size.gap.setting_mm), disc=Disc(size.disc.new_mm))
    one = Bench(size, sound, SEED)
    before_mm = mean_gap_mm(one)
    refused = [seen.code for seen in one.replay([*SAFE, *any_.BODY_OFF]) if not seen.done]
    assert refused == []
    put_together(one, part="old")

    assert mean_gap_mm(one) == pytest.approx(before_mm, abs=0.02)
    assert one.state.body_on
    assert one.state.disc_on


def test_the_tray_holds_what_was_taken_off_in_order_and_loses_what_goes_back():
    """First off comes first; parts that are on again are not in it."""
    one = Bench(CEDAR, sound_condition(CEDAR), SEED)
    one.replay([*SAFE, *any_.BODY_OFF, do.RemoveDisc()])
    off = list(one.state.tray)
    one.replay([do.FitDisc(part="old"), do.FitBody()])

    assert off == ["cover", "ring", "fan", "seal band", "hand release", "magnet body", "disc"]
    assert list(one.state.tray) == off[:5]


# ---- parts the wrong way round, or left out ----


def test_a_disc_turned_round_carries_the_springs_on_the_hub():
    """The gap is low by what the collar stands proud, the shaft rubs, and next to nothing holds."""
    right, turned = bench(), bench()
    put_together(right, out_deg=turn_for_deg(2.6))
    put_together(turned, out_deg=turn_for_deg(2.6), turned=True)

    assert mean_gap_mm(right) - mean_gap_mm(turned) == pytest.approx(COLLAR_PROUD_MM, abs=0.02)
    assert holding_ratio_now(turned.setup, turned.state) == 0
    assert holding_ratio_now(right.setup, right.state) > 0.5


def test_a_wear_plate_left_off_opens_the_gap_by_its_thickness():
    """Worked example: 2.0 mm of plate missing under the same screws is 2.0 mm of gap."""
    with_plate, without = bench(), bench()
    put_together(with_plate, out_deg=turn_for_deg(2.0))
    put_together(without, out_deg=turn_for_deg(2.0), plate=False)

    wider_mm = mean_gap_mm(without) - mean_gap_mm(with_plate)
    assert wider_mm == pytest.approx(CEDAR.wear_plate_mm, abs=0.02)


def test_a_wear_plate_turned_round_stands_proud_and_rubs():
    """Its screw heads take room from the gap, and the released shaft is not free."""
    one = bench()
    one.replay([do.RemoveDisc(), do.RemoveWearPlate(), do.FitWearPlate(smooth_to_disc=False)])

    assert one.state.brake.wear_plate_mm == pytest.approx(CEDAR.wear_plate_mm + HEADS_PROUD_MM)
    assert not one.state.plate_smooth_to_disc


def test_a_disc_of_another_size_does_not_go_on():
    """The spline says so; nothing has changed."""
    one = bench()
    one.act(do.RemoveDisc())
    before = one.state
    seen = one.act(do.FitDisc(part="Elm-140"))

    assert not seen.done
    assert one.state is before


def test_leads_on_the_alternating_side_release_nothing():
    """It rattles and stays shut; on the direct side it opens."""
    released = {}
    for side in ("ac", "dc"):
        one = bench()
        put_together(one, out_deg=turn_for_deg(2.0), side=side)
        one.act(do.RestoreSupply())
        released[side] = one.act(do.Energise()).facts["released"]

    assert released == {"ac": False, "dc": True}


def test_a_body_pulled_off_with_its_leads_on_tears_one():
    """The coil is open from then on: the meter finds no end."""
    one = Bench(CEDAR, sound_condition(CEDAR), SEED)
    actions = [step for step in any_.BODY_OFF if step != do.DisconnectLeads()]
    one.replay([*SAFE, *actions])
    ohm = one.act(do.MeasureCoil(what="resistance"))

    assert one.state.leads == "torn"
    assert (ohm.facts["shown_ohm"], ohm.facts["over_scale"]) == (None, True)


def test_the_last_screw_drawn_with_nothing_under_the_body_is_an_accident():
    """With the sling it is none."""
    alarms = {}
    for held in (True, False):
        steps = [step for step in any_.BODY_OFF if held or step != do.HoldBody()]
        one = Bench(CEDAR, sound_condition(CEDAR), SEED)
        alarms[held] = [seen.alarm for seen in one.replay([*SAFE, *steps]) if seen.alarm]

    assert alarms[True] == []
    assert len(alarms[False]) == 1


def test_one_screw_drawn_while_the_others_are_tight_cocks_the_body():
    """Worked evenly it does not."""
    one = Bench(CEDAR, sound_condition(CEDAR), SEED)
    one.replay([*SAFE, *any_.OPENED, do.LoosenLock(screw=2), do.DrawLock(screw=2)])

    assert one.state.body_cocked


def test_a_body_started_at_the_bottom_hangs_askew_and_takes_up_more_when_locked():
    """Started at the top, or held in the sling, it does not tip."""
    gaps = {}
    for first in (1, 2):
        one = bench()
        put_together(one, out_deg=turn_for_deg(2.0), first=first, held=False)
        gaps[first] = gap_now(one.setup, one.state).plane.tilt_mm

    assert gaps[2] > gaps[1] + 0.05


def test_a_screw_started_with_the_wrench_crosses_its_thread():
    """It is still out afterwards."""
    one = bench()
    one.replay([do.FitBody()])
    seen = one.act(do.StartLock(screw=1, by="wrench"))

    assert seen.facts["crossed"]
    assert one.state.drawn[0]


def test_a_dirty_spline_makes_a_new_disc_catch():
    """The released shaft rubs."""
    one = bench()
    torque = CEDAR.screws.retaining_torque_nm
    one.replay([do.RemoveDisc(), do.FitDisc(part="Cedar-47"), do.FitBody()])
    one.replay([do.StartLock(screw=screw) for screw in SCREWS])
    one.replay([do.TurnScrew(screw=s, turn_deg=turn_for_deg(2.0)) for s in SCREWS])
    one.replay([do.TightenLock(screw=screw, torque_nm=torque) for screw in SCREWS])
    one.replay([do.ConnectLeads(), do.RestoreSupply(), do.Energise()])

    assert one.act(do.TurnShaft(turn_deg=90.0)).facts["turns"] == "rubs"


# ---- oil, glaze, clamp ----


@pytest.mark.parametrize(("wiped", "surface"), [(True, "unbedded"), (False, "oiled")])
def test_oil_left_on_the_faces_wets_a_new_lining(wiped, surface):
    """Wiped with the body off it does not."""
    condition = replace(sound_condition(CEDAR, disc=WORN), surface="oiled")
    one = bench(condition)
    one.act(do.RemoveDisc())
    if wiped:
        one.act(do.Clean(method="damp_wipe"))
    one.act(do.FitDisc(part="Cedar-47"))

    assert one.state.brake.surface == surface


def test_a_leak_that_was_not_stopped_oils_the_new_lining_too():
    """After bedding in it is wet again and the test load is not held."""
    oiled = apply(fault("oiled"), CEDAR, sound_condition(CEDAR, gap=Plane(0.5), disc=WORN))
    one = bench(oiled)
    one.act(do.Clean(method="damp_wipe"))
    put_together(one, out_deg=turn_for_deg(1.7))
    one.act(do.RestoreSupply())
    before = one.act(do.TestHold()).facts["holds"]
    one.act(do.BedIn())

    assert before is True
    assert one.act(do.TestHold()).facts["holds"] is False


def test_solvent_spoils_a_good_lining():
    """The dust is gone and so is the friction."""
    one = bench(start=Start.OPEN)
    before = holding_ratio_now(one.setup, one.state)
    one.act(do.Clean(method="solvent"))

    assert holding_ratio_now(one.setup, one.state) < 0.5 * before


def test_tightening_in_stages_leaves_less_of_the_clamp_wave_than_in_one_go():
    """A body that tight screws pull out of shape is nearly true again when it is done in stages."""
    bent = replace(sound_condition(CEDAR, gap=Plane(0.4)), clamp_wave_mm=0.05)
    torque = CEDAR.screws.retaining_torque_nm
    waves = {}
    for stages in ((1.0,), (0.5, 1.0)):
        one = bench(bent, Start.OPEN)
        one.replay([do.LoosenLock(screw=screw) for screw in SCREWS])
        for share in stages:
            one.replay([do.TightenLock(screw=s, torque_nm=share * torque) for s in SCREWS])
        waves[len(stages)] = gap_now(one.setup, one.state).clamp_wave_mm

    assert waves[2] < 0.25 * waves[1]


# ---- what the page may know ----


def test_what_a_part_covers_is_not_in_the_scene():
    """A missing wear plate cannot be told from one that is there until the disc is off."""
    bare = replace(sound_condition(CEDAR, gap=Plane(0.5), disc=WORN), wear_plate_mm=0.0)
    whole = sound_condition(CEDAR, gap=Plane(0.5), disc=WORN)
    both = [Bench(CEDAR, condition, SEED) for condition in (bare, whole)]
    steps = [*SAFE, *any_.BODY_OFF]
    for step in steps:
        scenes = [scene(one.setup, (one.act(step), one.state)[1]) for one in both]
        assert scenes[0] == scenes[1], step
    seen = [scene(one.setup, (one.act(do.RemoveDisc()), one.state)[1]) for one in both]

    assert [each["wear_plate_on"] for each in seen] == [False, True]


@given(st.sampled_from(list(Start)), any_.SIZES)
def test_a_job_can_begin_later(start, size):
    """Safe and open, or the body off: what then is left can be done at once."""
    one = Bench(size, sound_condition(size), SEED, Order(start=start))
    first = {
        Start.WORK_ORDER: do.LandLoad(),
        Start.OPEN: do.GaugeGap(angle_deg=0.0, leaves_mm=(0.1,)),
        Start.BODY_OFF: do.RemoveDisc(),
        Start.NOTES: do.Decide(outcome="fit", row=size.name),
    }[start]

    assert one.act(first).done
    assert one.state.isolated is (start is not Start.WORK_ORDER)


def test_with_a_colleagues_notes_only_paper_can_be_worked_on():
    """The brake is not there."""
    one = bench(start=Start.NOTES)

    assert not one.act(do.GaugeGap(angle_deg=0.0, leaves_mm=(0.1,))).done
    assert one.act(do.WriteDisc(angle_deg=0.0, value_mm=9.0)).done
